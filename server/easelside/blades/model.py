"""What is known of a blade and of one move of it?"""

from dataclasses import dataclass
from datetime import datetime

from easelside.units import Fields, count, instant, text

MOVES = ("fitted", "taken_out", "sent", "back", "ground", "retired")
PLACES = ("on_machine", "here", "away", "retired")


@dataclass(frozen=True)
class Move:
    id: str
    blade: str
    machine: str | None
    what: str
    at: datetime
    inside_record: str | None  # the session or tally in which it happened
    inside_piece: int | None  # the first piece of that record that was cut after it


@dataclass(frozen=True, order=True)
class Edge:
    """A blade's life from one grinding to the next; life 1 is the first."""

    blade: str
    life: int


@dataclass(frozen=True)
class Place:
    """Where a blade is: on a machine, here, away, retired."""

    where: str
    machine: str | None
    since: datetime | None


def read_move(id: str, fields: Fields) -> Move | None:
    """A move, or None where the blade, what happened or the time is not said."""
    blade, what, at = text(fields, "blade"), text(fields, "what"), instant(fields, "at")
    if blade is None or what not in MOVES or at is None:
        return None
    return Move(
        id=id,
        blade=blade,
        machine=text(fields, "machine"),
        what=what,
        at=at,
        inside_record=text(fields, "inside_record"),
        inside_piece=count(fields, "inside_piece"),
    )


@dataclass(frozen=True)
class BladeStand:
    """Where a blade is now, which life it is in, and how many pieces that edge has cut."""

    place: Place | None
    edge: Edge | None
    began: datetime | None
    pieces: int
