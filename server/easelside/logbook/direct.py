"""The few statements that run for every change, or at every exchange, written out.

SQLAlchemy's compiler and results cost more than SQLite itself here: with these, through the driver's own
cursor, a change is much quicker. Everything that runs less often goes through Core.
"""

from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

import sqlalchemy as sa

AT_ONCE = 500  # ids in one look-up

FOUND = "SELECT id, row FROM changes WHERE id"
ANY_HELD = "SELECT seq FROM changes WHERE held_for IS NOT NULL LIMIT 1"
HELD = "SELECT row FROM changes WHERE held_for"
RECORDS = 'SELECT id, key, fields, "when" FROM records WHERE kind = {} AND id'
ANY_AWAITED = "SELECT id FROM awaited LIMIT 1"
AWAITED = "SELECT id, fields FROM awaited WHERE kind = {} AND id"
NEW_CHANGE = "INSERT INTO changes (seq, id, row, hash, held_for) VALUES ({}, {}, {}, {}, {})"
NEW_RECORD = 'INSERT INTO records (key, kind, id, fields, seq, "when") VALUES ({}, {}, {}, {}, {}, {})'
OLD_RECORD = 'UPDATE records SET fields = {}, seq = {}, "when" = {} WHERE key = {}'
NOT_AWAITED = "DELETE FROM awaited WHERE kind = {} AND id = {}"
NEW_AWAITED = "INSERT INTO awaited (kind, id, fields) VALUES ({}, {}, {})"
DROP_PIECE = "DELETE FROM pieces WHERE key = {}"
EXCHANGED = (
    "INSERT INTO devices (device, last_exchange, off_ms) VALUES ({}, {}, {}) ON CONFLICT (device) "
    "DO UPDATE SET last_exchange = excluded.last_exchange, off_ms = excluded.off_ms"
)
HEAD = "UPDATE head SET seq = {}, hash = {}, folded = {}, next_key = {}"


def _mark(connection: sa.Connection) -> str:
    return "?" if connection.dialect.paramstyle == "qmark" else "%s"


@contextmanager
def _cursor(connection: sa.Connection, statement: str) -> Iterator[Any]:
    """The driver's cursor within the connection's transaction; refusals are raised as SQLAlchemy does."""
    cursor = connection.connection.cursor()
    refusals = connection.dialect.loaded_dbapi.Error
    try:
        yield cursor
    except refusals as refusal:
        raise sa.exc.DBAPIError.instance(statement, None, refusal, refusals) from refusal
    finally:
        cursor.close()


def run(connection: sa.Connection, statement: str, rows: Sequence[tuple[Any, ...]]) -> None:
    """One statement with as many rows of values as there are; nothing for none."""
    if rows:
        written = statement.replace("{}", _mark(connection))
        with _cursor(connection, written) as cursor:
            cursor.executemany(written, rows)


def head(connection: sa.Connection) -> tuple[int, bytes, int]:
    """Where the logbook ends: seq, hash, next key. Where rows are locked, nobody else goes on from there."""
    asked = "SELECT seq, hash, next_key FROM head" + ("" if _mark(connection) == "?" else " FOR UPDATE")
    with _cursor(connection, asked) as cursor:
        cursor.execute(asked)
        seq, hash, next_key = cursor.fetchone()
    return seq, bytes(hash), next_key


def is_any(connection: sa.Connection, question: str) -> bool:
    with _cursor(connection, question) as cursor:
        cursor.execute(question)
        return cursor.fetchone() is not None


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
        with _cursor(connection, asked) as cursor:
            cursor.execute(asked, (*before, *some))
            found += cursor.fetchall()
    return found
