"""What can call the maker back: a soak that is ready, care that is due, a session that is planned?"""

from dataclasses import dataclass
from datetime import date, datetime, time
from zoneinfo import ZoneInfo

from easelside.units import Fields, text


@dataclass(frozen=True)
class Soaking:
    """Cane in water that is ready at `at`; "five minutes more" lets it ring again at `again_at`.

    `goes_in`: it is the next group of a staggered row, dry yet, and goes into the water at `at`.
    """

    soak: str
    at: datetime
    put_in: datetime | None = None
    in_water: bool = True
    silenced: bool = False
    again_at: datetime | None = None
    jar: str | None = None
    pieces: int | None = None
    batch: str | None = None  # its label
    goes_in: bool = False


@dataclass(frozen=True)
class Caring:
    """Care that comes due about `day`; `last` names its turn: since when it counts, until when put off."""

    task: str
    last: str
    day: date
    is_due: bool
    what: str | None = None
    words: str | None = None
    machine: str | None = None  # its name
    tool: str | None = None


@dataclass(frozen=True)
class Planned:
    batch: str
    day: date
    label: str | None = None


@dataclass(frozen=True)
class Quiet:
    """The hours of the workshop's wall clock in which nobody is called; they may pass midnight."""

    begins: time
    ends: time


@dataclass(frozen=True)
class Facts:
    """All that may call, as it stands now."""

    soaks: tuple[Soaking, ...]
    care: tuple[Caring, ...]
    planned: tuple[Planned, ...]
    zone: ZoneInfo
    quiet: Quiet | None = None
    workshop: str | None = None  # its name


@dataclass(frozen=True)
class Asker:
    """Who asks, as the pairing knows it. `device`: its id there; None: a browser on the machine itself."""

    device: str | None
    is_maker: bool


@dataclass(frozen=True)
class Message:
    """Something to be said once: `key` is its own, and worth saying until `until`."""

    key: str
    about: Soaking | Caring
    until: datetime
    urgent: bool


def read_quiet(fields: Fields) -> Quiet | None:
    """From the workshop's `quiet_from` and `quiet_until`, each as 22:00; None where they say no hours."""
    begins, ends = (_time(text(fields, name)) for name in ("quiet_from", "quiet_until"))
    return None if begins is None or ends is None or begins == ends else Quiet(begins, ends)


def _time(written: str | None) -> time | None:
    if written is None or len(written) != 5:
        return None
    try:
        return time.fromisoformat(written)
    except ValueError:
        return None
