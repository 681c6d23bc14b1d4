"""What the logbook can be asked, by anybody, at any time: readers never wait for a writer."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import IO, Any

import sqlalchemy as sa

from easelside.clock import Clock
from easelside.errors import DamagedLogbook
from easelside.logbook import asking, export
from easelside.logbook.door import reading
from easelside.logbook.model import End, Record, Row, Value
from easelside.units import write_instant

MOST_HELD = 2000


class Reader:
    """Every question is answered from one consistent view of its own."""

    def __init__(self, engine: sa.Engine, clock: Clock) -> None:
        self._engine = engine
        self._clock = clock
        self.id = ""
        self._wrong: DamagedLogbook | None = None  # as it was met last
        self._held: dict[int, str] = {}  # seq: hash of rows that are here
        self.told: Callable[[str], object] = lambda _by: None  # who wrote, once it is durable

    def now(self) -> str:
        """The server's time, as answers tell it."""
        return write_instant(self._clock.now())

    @contextmanager
    def view(self) -> Iterator[sa.Connection]:
        """One consistent view for `asking`'s functions, for as long as the block lasts."""
        try:
            with reading(self._engine) as connection:
                yield connection
        except DamagedLogbook as damage:
            self._wrong = damage
            raise

    def end(self) -> End:
        with self.view() as connection:
            return asking.end(connection)

    def holds(self, end: End) -> bool:
        """Does this logbook have that row? False means: it was put back to an older state by hand.

        Rows never change, so what was seen once is not looked up again: every exchange asks this.
        """
        if self._held.get(end["seq"]) == end["hash"]:
            return True
        with self.view() as connection:
            found = asking.hash_at(connection, end["seq"]) == end["hash"]
        if found:
            self._remember(end)
        return found

    def _remember(self, end: End) -> None:
        """`end` is in the logbook, and a phone was told of it."""
        if len(self._held) >= MOST_HELD:
            self._held.clear()
        self._held[end["seq"]] = end["hash"]

    def record(self, kind: str, id: str) -> Record | None:
        with self.view() as connection:
            return asking.record(connection, kind, id)

    def records(
        self, kind: str, after: str | None = None, limit: int = 100, *, newest_first: bool = False
    ) -> list[Record]:
        """Records of a kind in the order of their ids, from behind the id `after`; removed ones too."""
        with self.view() as connection:
            return asking.records(connection, kind, after, limit, newest_first=newest_first)

    def kinds(self) -> dict[str, int]:
        """How many records there are of each kind."""
        with self.view() as connection:
            return asking.kinds(connection)

    def all_records(self, kind: str | None = None) -> Iterator[Record]:
        """Every record, a kind at a time, in one consistent view."""
        with self.view() as connection:
            yield from asking.all_records(connection, kind)

    def pieces(self, after: int = 0, limit: int = 1000, **where: Value) -> list[dict[str, Any]]:
        """Rows of `pieces` by column values, e.g. `pieces(batch=id, outcome="lost")`; `key` is the cursor."""
        with self.view() as connection:
            return asking.pieces(connection, after, limit, where)

    def changes_after(self, seq: int, limit: int = 500) -> list[Row]:
        with self.view() as connection:
            return asking.rows_after(connection, seq, limit)

    def history(self, kind: str, record: str) -> list[Row]:
        """Every row about one record, in order of arrival. Reads the whole logbook: for a person who asks."""
        with self.view() as connection:
            return asking.history(connection, kind, record)

    def slips(self, after: int = 0) -> list[dict[str, Any]]:
        with self.view() as connection:
            return asking.slips(connection, after)

    def state_hash(self) -> str:
        """The same records, the same hash: whatever the order of arrival, whichever the logbook."""
        with self.view() as connection:
            return export.state_hash(asking.all_records(connection, None))

    def export_json(self, out: IO[bytes]) -> None:
        """Everything, as `export` lays it out."""
        with self.view() as connection:
            export.export_json(connection, out, self.id, self.now())
