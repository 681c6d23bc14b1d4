"""What is known of a lot, a batch, and of a count that was written up later?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from easelside.units import Fields, count, day, flag, instant, noon_of, text, words

STAGES = ("gouged", "profiled", "shaped", "formed", "finished")
CANE_COMES = ("tube", "gouged", "profiled", "shaped")


@dataclass(frozen=True)
class Batch:
    id: str
    label: str | None
    lot: str | None
    pieces: int | None
    planned_day: date | None
    machine: str | None
    stages: tuple[str, ...]
    closed: bool


@dataclass(frozen=True)
class Tally:
    id: str
    batch: str | None
    stage: str | None
    machine: str | None
    at: datetime | None
    started: int | None
    good: int | None
    second: int
    lost_by: Mapping[str, int]
    opening: bool
    blade: str | None


def read_batch(id: str, fields: Fields) -> Batch:
    return Batch(
        id=id,
        label=text(fields, "label"),
        lot=text(fields, "lot"),
        pieces=count(fields, "pieces"),
        planned_day=day(fields, "planned_day"),
        machine=text(fields, "machine"),
        stages=words(fields, "stages"),
        closed=flag(fields, "closed"),
    )


def read_tally(id: str, fields: Fields, zone: ZoneInfo) -> Tally:
    """A tally; where only the day is known it stands at noon of that day in the workshop."""
    on = day(fields, "day")
    lost_by = fields.get("lost_by")
    return Tally(
        id=id,
        batch=text(fields, "batch"),
        stage=text(fields, "stage"),
        machine=text(fields, "machine"),
        at=instant(fields, "at") or (noon_of(on, zone) if on else None),
        started=count(fields, "started"),
        good=count(fields, "good"),
        second=count(fields, "second_count") or 0,
        lost_by={k: n for k in lost_by if (n := count(lost_by, k))} if isinstance(lost_by, dict) else {},
        opening=flag(fields, "opening"),
        blade=text(fields, "blade"),
    )
