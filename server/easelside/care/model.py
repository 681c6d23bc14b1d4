"""What is known of a care task, and of each time it was done or put off?"""

from dataclasses import dataclass
from datetime import date, datetime

from easelside.units import Fields, count, day, instant, text

WHATS = ("oil", "clean", "look", "change", "grind", "other")
TOOLS = ("gouger", "shaper", "knife", "reamer", "mandrel", "other")
DONE_WHATS = ("done", "put_off")


@dataclass(frozen=True)
class CareTask:
    id: str
    what: str | None
    machine: str | None
    tool: str | None
    every_pieces: int | None
    every_sessions: int | None
    every_days: int | None
    since: datetime | None


@dataclass(frozen=True)
class CareDone:
    id: str
    task: str | None
    at: datetime | None
    what: str | None
    until_day: date | None


def read_care_task(id: str, fields: Fields) -> CareTask:
    return CareTask(
        id=id,
        what=text(fields, "what"),
        machine=text(fields, "machine"),
        tool=text(fields, "tool"),
        every_pieces=count(fields, "every_pieces") or None,
        every_sessions=count(fields, "every_sessions") or None,
        every_days=count(fields, "every_days") or None,
        since=instant(fields, "since"),
    )


def read_care_done(id: str, fields: Fields) -> CareDone:
    return CareDone(
        id=id,
        task=text(fields, "task"),
        at=instant(fields, "at"),
        what=text(fields, "what"),
        until_day=day(fields, "until_day"),
    )
