"""The few statements that run for every change, written out.

SQLAlchemy's compiler costs more than SQLite itself here: with these a change is much quicker. Everything
that runs once a request or less goes through Core.
"""

from collections.abc import Iterable, Sequence
from typing import Any

import sqlalchemy as sa

AT_ONCE = 500  # ids in one look-up

FOUND = "SELECT id, row FROM changes WHERE id"
ANY_HELD = "SELECT seq FROM changes WHERE held_for IS NOT NULL LIMIT 1"
HELD = "SELECT row FROM changes WHERE held_for"
RECORDS = 'SELECT id, key, fields, "when" FROM records WHERE kind = {} AND id'
NEW_CHANGE = "INSERT INTO changes (seq, id, row, hash, held_for) VALUES ({}, {}, {}, {}, {})"
NEW_RECORD = 'INSERT INTO records (key, kind, id, fields, seq, "when") VALUES ({}, {}, {}, {}, {}, {})'
OLD_RECORD = 'UPDATE records SET fields = {}, seq = {}, "when" = {} WHERE key = {}'
DROP_PIECE = "DELETE FROM pieces WHERE key = {}"
HEAD = "UPDATE head SET seq = {}, hash = {}, folded = {}, next_key = {}"


def _mark(connection: sa.Connection) -> str:
    return "?" if connection.dialect.paramstyle == "qmark" else "%s"


def run(connection: sa.Connection, statement: str, rows: Sequence[tuple[Any, ...]]) -> None:
    """One statement with as many rows of values as there are; nothing for none."""
    if rows:
        written = statement.replace("{}", _mark(connection))
        connection.exec_driver_sql(written, list(rows) if len(rows) > 1 else rows[0])


def look_up(
    connection: sa.Connection, question: str, ids: Iterable[str], *before: str
) -> list[tuple[Any, ...]]:
    """The rows whose last column is one of `ids`; `before`: values of the marks in the question."""
    mark = _mark(connection)
    wanted = list(ids)
    found: list[tuple[Any, ...]] = []
    for start in range(0, len(wanted), AT_ONCE):
        some = wanted[start : start + AT_ONCE]
        full = 1 << (len(some) - 1).bit_length()  # few lengths, so that the database knows the statement
        some += [some[-1]] * (full - len(some))
        asked = f"{question.replace('{}', mark)} IN ({','.join([mark] * full)})"
        found += [tuple(row) for row in connection.exec_driver_sql(asked, (*before, *some))]
    return found
