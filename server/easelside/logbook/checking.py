"""Is everything in the database what was written? Reads all of it, names what is wrong, says what to do.

SQLite's own check does not see a bit that flipped inside a value: the chained hash does.
"""

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import zip_longest
from pathlib import Path
from typing import Any

import msgspec
import sqlalchemy as sa

from easelside.errors import DiskFull
from easelside.logbook import asking, chain, tables
from easelside.logbook.door import at, open_engine
from easelside.logbook.model import key_of
from easelside.logbook.page import decode_row
from easelside.logbook.rebuilding import fold_into, link_problem, rebuild
from easelside.logbook.words import RESTORE_ANY

REBUILD = "Run `easelside check --rebuild`: this table is made again from the changes."
TOLD_EVERY = 2000  # rows
Progress = Callable[[int, int], None]
"""Called with how many rows are read, of how many."""
NAMED = 20  # problems named one by one; more of the same help nobody


@dataclass(frozen=True)
class Problem:
    where: str
    what: str
    what_to_do: str


@dataclass
class Report:
    restore: str
    rows: int = 0
    records: int = 0
    problems: list[Problem] = field(default_factory=list)

    @property
    def content(self) -> bool:
        return not self.problems

    def add(self, where: str, what: str, what_to_do: str) -> None:
        if len(self.problems) < NAMED:
            self.problems.append(Problem(where, what, what_to_do))


def tail_problem(connection: sa.Connection, tail: int) -> str | None:
    """What is wrong with the last rows and the head, if anything: a quick look at every start."""
    head = connection.execute(sa.select(tables.head)).one()
    start = max(head.seq - tail, 0)
    before = asking.hash_at(connection, start)
    if before is None:
        return f"row {start} is missing"
    last, hash = start, bytes.fromhex(before)
    rows = connection.execute(
        sa.select(tables.changes).where(tables.changes.c.seq > start).order_by(tables.changes.c.seq)
    )
    for row in rows:
        problem = link_problem(hash, last, row)
        if problem:
            return problem
        last, hash = row.seq, row.hash
    if (last, hash) != (head.seq, head.hash):
        return f"the last row is {last}, but {head.seq} was written"
    return None


def untold(done: int, of: int) -> None:
    """For callers who show nothing."""


def check(
    engine: sa.Engine, restore: str = RESTORE_ANY, *, derived: bool = True, progress: Progress = untold
) -> Report:
    """`derived=False` leaves out the tables that can be rebuilt: for backups. Rows are read once or twice.

    `restore`: what to do where only a backup helps.
    """
    report = Report(restore)
    try:
        with engine.connect().execution_options(reading=True) as connection, connection.begin():
            if engine.dialect.name == "sqlite":
                for (line,) in connection.exec_driver_sql("PRAGMA integrity_check(10)"):
                    if line != "ok":
                        report.add("the database", f"SQLite says: {line}", restore)
            rows = asking.end(connection)["seq"]
            of = rows * 2 if derived else rows
            _check_changes(connection, report, lambda done: progress(done, of))
            if derived and report.content:
                _check_derived(connection, report, lambda done: progress(rows + done, of))
            progress(of, of)
    except (sa.exc.DBAPIError, UnicodeDecodeError) as refusal:
        words = getattr(refusal, "orig", None) or refusal
        if getattr(words, "sqlite_errorname", "") == "SQLITE_FULL":  # reading needs no room: the scratch does
            raise DiskFull(tempfile.gettempdir()) from refusal
        report.add("the database", f"it cannot be read: {words}", restore)
    except sa.exc.NoResultFound:
        report.add("table head", "its one row is missing", REBUILD)
    return report


def _check_changes(connection: sa.Connection, report: Report, told: Callable[[int], None]) -> None:
    last, before = 0, chain.START
    rows = connection.execution_options(yield_per=2000).execute(
        sa.select(tables.changes).order_by(tables.changes.c.seq)
    )
    for row in rows:
        problem = link_problem(before, last, row) or _content_problem(row)
        if problem:
            report.add(f"changes, row {row.seq}", problem, report.restore)
        last, before = row.seq, row.hash
        report.rows += 1
        if report.rows % TOLD_EVERY == 0:
            told(report.rows)
    head = connection.execute(sa.select(tables.head)).one()
    if (head.seq, head.hash) != (last, before):
        report.add("table head", f"it tells of row {head.seq}, the last one there is {last}", report.restore)


def _content_problem(row: Any) -> str | None:
    try:
        content = decode_row(row.row)
    except msgspec.MsgspecError as problem:
        return f"row {row.seq} cannot be read: {problem}"
    if (content["seq"], key_of(content)) != (row.seq, row.id):
        return f"row {row.seq} is filed under another name or number than it says"
    if (row.held_for is not None) != bool(content.get("held")):
        return f"row {row.seq} is filed as what it is not"
    return None


def _check_derived(connection: sa.Connection, report: Report, told: Callable[[int], None]) -> None:
    """The same changes folded once more, in a scratch database, must give the same tables."""
    with tempfile.TemporaryDirectory(prefix="easelside-check-") as folder:
        scratch = open_engine(at(Path(folder) / "scratch.db"), durable=False)
        try:
            tables.metadata.create_all(scratch)
            with scratch.begin() as other:
                rebuild(other)
                fold_into(other, _counted((text for _, _, text in asking.every_text(connection)), told))
                for table in (tables.records, tables.pieces):
                    _compare(connection, other, table, report)
        finally:
            scratch.dispose()


def _counted(texts: Iterator[str], told: Callable[[int], None]) -> Iterator[str]:
    for number, text in enumerate(texts, 1):
        if number % TOLD_EVERY == 0:
            told(number)
        yield text


def _compare(here: sa.Connection, there: sa.Connection, table: sa.Table, report: Report) -> None:
    for stored, folded in zip_longest(_by_id(here, table), _by_id(there, table)):
        if table is tables.records:
            report.records += 1
        if stored != folded and not _say_the_same(stored, folded):
            known = stored or folded or {}
            report.add(
                f"table {table.name}",
                f"{known.get('kind', 'piece')} {known.get('id')} is not what the changes say",
                REBUILD,
            )
            return


def _say_the_same(stored: dict[str, Any] | None, folded: dict[str, Any] | None) -> bool:
    """Do two rows differ only in how their fields are written?"""
    if stored is None or folded is None or "fields" not in stored:
        return False
    try:
        said = [{**row, "fields": msgspec.json.decode(row["fields"])} for row in (stored, folded)]
    except (msgspec.MsgspecError, UnicodeDecodeError):
        return False
    return said[0] == said[1]


def _by_id(connection: sa.Connection, table: sa.Table) -> Iterator[dict[str, Any]]:
    """Rows without their keys, which depend on the order of rebuilding."""
    order = [table.c.kind, table.c.id] if "kind" in table.c else [table.c.id]
    columns = [column for column in table.c if column.name != "key"]
    found = connection.execution_options(yield_per=1000).execute(sa.select(*columns).order_by(*order))
    yield from (dict(row) for row in found.mappings())
