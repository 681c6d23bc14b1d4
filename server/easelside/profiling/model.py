"""What is known of a session at the machine, and of one piece?"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from easelside.units import Fields, count, instant, text, words

OUTCOMES = ("good", "second", "lost")
SET_UP_CHECKS = (
    "edge", "projection", "middle_stop", "shoulder_stop", "pivot", "template", "scrap", "lot", "soaked",
)  # fmt: skip
CHECK_RESULTS = ("good", "needs_work", "not_looked")
WIND_DOWN_CHECKS = ("wiped", "housed", "oiled", "jars", "dried", "dust")


@dataclass(frozen=True)
class Session:
    id: str
    machine: str | None
    began: datetime | None
    ended: datetime | None
    batches: tuple[str, ...]
    joined_to: str | None


@dataclass(frozen=True)
class Piece:
    id: str
    session: str | None
    number: int | None
    batch: str | None
    machine: str | None
    at: datetime | None
    outcomes: tuple[tuple[str, str], ...]  # (change id, outcome): all that stand, the latest last
    seen: tuple[str, ...]
    parted_from: str | None


def read_session(id: str, fields: Fields) -> Session:
    return Session(
        id=id,
        machine=text(fields, "machine"),
        began=instant(fields, "began"),
        ended=instant(fields, "ended"),
        batches=words(fields, "batches"),
        joined_to=text(fields, "joined_to"),
    )


def read_piece(id: str, fields: Fields, when: Mapping[str, str]) -> Piece:
    """A piece; `when` says at what time each field took its value, for outcomes that stand side by side."""
    outcomes = [
        (when.get(name, ""), name.removeprefix("outcome/"), value)
        for name, value in fields.items()
        if name.startswith("outcome/") and isinstance(value, str) and value in OUTCOMES
    ]
    return Piece(
        id=id,
        session=text(fields, "session"),
        number=count(fields, "number"),
        batch=text(fields, "batch"),
        machine=text(fields, "machine"),
        at=instant(fields, "at") or instant(fields, "began"),
        outcomes=tuple((change, outcome) for _, change, outcome in sorted(outcomes)),
        seen=words(fields, "seen"),
        parted_from=text(fields, "parted_from"),
    )
