"""When does the next group of a staggered row go into the water? The phone has the same rule."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from easelside.soak.model import read_soak
from easelside.soak.rules import put_in_at
from easelside.units import Fields, count, number, text

SAME_ROW = timedelta(
    hours=4
)  # soaks that follow each other this closely belong together, where no plan says so


@dataclass(frozen=True)
class InRow:
    """A soak that went in at `put_in`; `of_pieces`, `every_s`: the plan of its row, in its first soak."""

    id: str
    put_in: datetime
    pieces: int | None
    batch: str | None
    purpose: str
    water: str
    run: str | None
    of_pieces: int | None
    every_s: float | None


@dataclass(frozen=True)
class NextGroup:
    """`last`: the soak that went in before it; whoever silences the group does so there."""

    last: str
    at: datetime
    pieces: int


def read_in_row(id: str, fields: Fields) -> InRow | None:
    """None: it never went in."""
    put_in = put_in_at(read_soak(id, fields))
    if put_in is None:
        return None
    return InRow(
        id=id,
        put_in=put_in,
        pieces=count(fields, "pieces"),
        batch=text(fields, "batch"),
        purpose=text(fields, "purpose") or "profile",
        water=text(fields, "water") or "warm",
        run=text(fields, "run"),
        of_pieces=count(fields, "of_pieces"),
        every_s=number(fields, "every_s"),
    )


def next_group(soaks: Mapping[str, Fields], now: datetime) -> NextGroup | None:
    """Of the newest row; None: all are in, or the row was broken off."""
    row = _last_row(one for id, fields in soaks.items() if (one := read_in_row(id, fields)) is not None)
    if not row:
        return None
    first, last = row[0], row[-1]
    if first.of_pieces is None or first.every_s is None or first.pieces is None:
        return None
    left = first.of_pieces - sum(one.pieces or 0 for one in row)
    try:
        at = last.put_in + timedelta(seconds=first.every_s)
    except OverflowError:
        return None
    if left <= 0 or now - at > SAME_ROW:
        return None
    return NextGroup(last.id, at, min(left, first.pieces))


def _last_row(soaks: Iterable[InRow]) -> list[InRow]:
    """The newest soak and those that went in with it, first to last."""
    row: list[InRow] = []
    for one in sorted(soaks, key=lambda soak: soak.put_in, reverse=True):
        if row and not _same_row(one, row[0]):
            break
        row.insert(0, one)
    return row


def _same_row(before: InRow, after: InRow) -> bool:
    if before.run is not None or after.run is not None:
        return (before.run or before.id) == after.run
    return (
        before.batch is not None
        and (before.batch, before.purpose, before.water) == (after.batch, after.purpose, after.water)
        and after.put_in - before.put_in <= SAME_ROW
    )
