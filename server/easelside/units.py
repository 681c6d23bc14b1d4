"""What does a written value mean: an instant, a calendar day, a number with its unit?

Instants are RFC 3339 text in UTC, days are ISO 8601 text, lengths are millimetres, times are seconds.
A value that cannot be read is "not said" (None): records keep odd values, and no count may fall over one.
"""

from collections.abc import Mapping
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

Fields = Mapping[str, object]

MM_PER_INCH = 25.4  # exact: NIST SP 811, appendix B.6
CLOCK_TOLERANCE = timedelta(minutes=10)  # a phone's clock within this is taken as it is


def zone_of(name: str | None) -> ZoneInfo:
    """The IANA zone of that name; UTC where there is none of that name."""
    try:
        return ZoneInfo(name or "UTC")
    except (ValueError, OSError, KeyError):
        return ZoneInfo("UTC")


def read_instant(written: object) -> datetime | None:
    """RFC 3339 text as an instant in UTC; None for what is not one or names no offset."""
    if not isinstance(written, str):
        return None
    try:
        at = datetime.fromisoformat(written)
        return None if at.tzinfo is None else at.astimezone(UTC)
    except (ValueError, OverflowError):
        return None


def write_instant(at: datetime) -> str:
    """An instant as RFC 3339 text in UTC with milliseconds: 2026-11-25T14:06:00.000Z."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def read_day(written: object) -> date | None:
    if not isinstance(written, str) or len(written) != 10:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError:
        return None


def day_of(at: datetime, zone: ZoneInfo) -> date:
    """The calendar day that the workshop's wall calendar shows at an instant."""
    try:
        return at.astimezone(zone).date()
    except OverflowError:
        return at.date()


def noon_of(day: date, zone: ZoneInfo) -> datetime:
    return datetime.combine(day, time(12), zone).astimezone(UTC)


def days_after(day: date, days: int) -> date:
    """The day so many days later; the calendar's last day where that lies beyond it."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        return date.max if days > 0 else date.min


def text(fields: Fields, name: str) -> str | None:
    value = fields.get(name)
    return value if isinstance(value, str) and value else None


def number(fields: Fields, name: str) -> float | None:
    value = fields.get(name)
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        return None
    return value if abs(value) < 1e15 else None


def count(fields: Fields, name: str) -> int | None:
    """A whole number from 0 up."""
    value = number(fields, name)
    return int(value) if value is not None and value >= 0 else None


def flag(fields: Fields, name: str) -> bool:
    return fields.get(name) is True


def instant(fields: Fields, name: str) -> datetime | None:
    return read_instant(fields.get(name))


def day(fields: Fields, name: str) -> date | None:
    return read_day(fields.get(name))


def words(fields: Fields, name: str) -> tuple[str, ...]:
    """A list of texts; what is no text in it is passed over."""
    value = fields.get(name)
    return tuple(v for v in value if isinstance(v, str)) if isinstance(value, (list, tuple)) else ()
