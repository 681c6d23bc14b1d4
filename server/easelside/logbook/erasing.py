"""A person wants their words gone: blank them, and keep the chain whole."""

from dataclasses import dataclass

import msgspec
import sqlalchemy as sa

from easelside.logbook import chain, tables
from easelside.logbook.asking import history


@dataclass(frozen=True)
class Erased:
    """How many rows were blanked, and which backups still hold the words."""

    rows: int
    backups: list[str]


def blank(connection: sa.Connection, kind: str, record: str, fields: set[str]) -> int:
    """Null in the place of every value of these fields; the digest of what stood there stays in the row."""
    if connection.dialect.name == "sqlite":
        connection.exec_driver_sql("PRAGMA secure_delete=ON")
    waiting = tables.awaited.c
    connection.execute(sa.delete(tables.awaited).where(waiting.kind == kind, waiting.id == record))
    blanked = 0
    for row in history(connection, kind, record):
        there = [name for name in fields if row["set"].get(name) is not None]
        if not there:
            continue
        here = tables.changes.c.seq == row["seq"]
        old, erased = connection.execute(
            sa.select(tables.changes.c.row, tables.changes.c.erased).where(here)
        ).one()
        for name in there:
            row["set"][name] = None
        text = msgspec.json.encode(row).decode()
        connection.execute(
            sa.update(tables.changes)
            .where(here)
            .values(row=text, erased=erased or chain.digest(old), blank=chain.digest(text))
        )
        blanked += 1
    return blanked
