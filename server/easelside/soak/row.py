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
    """Of all rows under way the group that is due first; None: all are in, or their rows were broken off."""
    found: NextGroup | None = None
    for row in _rows(one for id, fields in soaks.items() if (one := read_in_row(id, fields)) is not None):
        first, last = row[0], row[-1]
        if first.of_pieces is None or first.every_s is None or first.pieces is None:
            continue
        left = first.of_pieces - sum(one.pieces or 0 for one in row)
        try:
            at = last.put_in + timedelta(seconds=first.every_s)
        except OverflowError:
            continue
        if left > 0 and now - at <= SAME_ROW and (found is None or at < found.at):
            found = NextGroup(last.id, at, min(left, first.pieces))
    return found


def _rows(soaks: Iterable[InRow]) -> list[list[InRow]]:
    """Those of one `run`, or, with no plan, of one batch soon after each other; each first to last."""
    all_rows: list[list[InRow]] = []
    of_run: dict[str, list[InRow]] = {}
    latest: dict[tuple[str | None, str, str], list[InRow]] = {}
    for one in sorted(soaks, key=lambda soak: soak.put_in):
        alike = (one.batch, one.purpose, one.water)
        row = of_run.get(one.run or one.id)
        if row is None and one.run is None and one.of_pieces is None and one.batch is not None:
            close = latest.get(alike)
            row = close if close and one.put_in - close[-1].put_in <= SAME_ROW else None
        if row is None:
            row = []
            all_rows.append(row)
        row.append(one)
        of_run[one.run or one.id] = latest[alike] = row
    return all_rows
