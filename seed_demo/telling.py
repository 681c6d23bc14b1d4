"""How is a fact of the story said? As a change, in the words that a phone would have sent."""

import random
from collections.abc import Callable, Mapping
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from easelside.units import write_instant
from seed_demo.ids import of_piece, time_ordered

Fields = Mapping[str, Any]
WORKSHOP = "00000000-0000-8000-8000-000000000001"


class Telling:
    """Collects the changes of a story that ends `now` (aware), told in the workshop's zone (an IANA name)."""

    def __init__(self, now: datetime, time_zone: str) -> None:
        self.now = now.astimezone(UTC).replace(microsecond=now.microsecond // 1000 * 1000)
        self.zone = ZoneInfo(time_zone)
        self.today = now.astimezone(self.zone).date()
        self.chance = random.Random("the workshop at Quillmere")
        self.changes: list[dict[str, Any]] = []
        self._stands: dict[tuple[str, str, str], str] = {}
        long_ago = self.at(400, "09:00")
        self.phone, self.laptop = (time_ordered(long_ago, self.chance) for _ in range(2))

    def day(self, days_ago: int) -> date:
        return self.today - timedelta(days=days_ago)

    def at(self, days_ago: int, clock: str, minutes: float = 0) -> datetime:
        """When the workshop's clock showed `clock` that many days ago, and so many minutes on."""
        local = datetime.combine(self.day(days_ago), time.fromisoformat(clock), tzinfo=self.zone)
        return local.astimezone(UTC) + timedelta(milliseconds=round(minutes * 60_000))

    def minutes_ago(self, minutes: float) -> datetime:
        return self.now - timedelta(minutes=minutes)

    def write(
        self,
        made: datetime,
        kind: str,
        fields: Fields | Callable[[str], Fields],
        *,
        record: str | None = None,
        device: str | None = None,
        unseen: bool = False,
    ) -> str:
        """Says that a record's fields became these; gives back the record's id.

        `unseen`: the device had not heard of what stood there (its edit saw nothing).
        """
        made = min(made, self.now)
        change = time_ordered(made, self.chance)
        record = record or time_ordered(made, self.chance)
        said = fields(change) if callable(fields) else fields
        saw = {name: None if unseen else self._stands.get((kind, record, name)) for name in said}
        for name in said:
            self._stands[kind, record, name] = change
        self.changes.append(
            {
                "id": change,
                "v": 1,
                "kind": kind,
                "record": record,
                "device": device or self.phone,
                "made": write_instant(made),
                "set": dict(said),
                "saw": saw,
                "back": False,
            }
        )
        return record

    def piece(self, session: str, number: int, at: datetime, outcome: str, fields: Fields) -> None:
        def said(change: str) -> Fields:
            return {
                "session": session,
                "number": number,
                **fields,
                "at": write_instant(at),
                f"outcome/{change}": outcome,
            }

        self.write(at, "piece", said, record=of_piece(session, number))

    def in_order(self) -> list[dict[str, Any]]:
        """All changes, oldest first, as they would have arrived."""
        return sorted(self.changes, key=lambda change: change["made"])
