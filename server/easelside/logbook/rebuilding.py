"""The tables that follow from the changes, made again from nothing else."""

from collections import defaultdict
from collections.abc import Iterable
from typing import Any

import sqlalchemy as sa

from easelside.errors import DamagedLogbook
from easelside.logbook import chain, tables
from easelside.logbook.page import OpenPage, decode_row

AT_ONCE = 5000


def fold_into(connection: sa.Connection, texts: Iterable[str]) -> None:
    """Fold rows (JSON text, in order) into the empty derived tables behind `connection`."""
    some: list[str] = []
    next_key = 1
    for text in texts:
        some.append(text)
        if len(some) == AT_ONCE:
            next_key = _fold_some(connection, some, next_key)
            some = []
    _fold_some(connection, some, next_key)


def _fold_some(connection: sa.Connection, texts: list[str], next_key: int) -> int:
    page = OpenPage(connection)
    page.next_key = next_key
    rows = [decode_row(text) for text in texts]
    wanted: defaultdict[str, set[str]] = defaultdict(set)
    for row in rows:
        wanted[row["kind"]].add(row["record"])
    page.load(wanted)
    for row in rows:
        page.fold(row)
    page.write_records()
    return page.next_key


def rebuild(connection: sa.Connection) -> None:
    """Empty the derived tables and fold every change into them. A broken chain is never skipped silently."""
    for table in tables.DERIVED:
        connection.execute(sa.delete(table))
    connection.execute(sa.delete(tables.head))
    connection.execute(
        sa.insert(tables.head), {"one": 1, "seq": 0, "hash": chain.START, "folded": 0, "next_key": 1}
    )
    before, last, next_key = chain.START, 0, 1
    while True:
        some = connection.execute(
            sa.select(tables.changes)
            .where(tables.changes.c.seq > last)
            .order_by(tables.changes.c.seq)
            .limit(AT_ONCE)
        ).all()
        if not some:
            break
        for row in some:
            problem = link_problem(before, last, row)
            if problem:
                raise DamagedLogbook(detail=problem)
            before, last = row.hash, row.seq
        next_key = _fold_some(connection, [row.row for row in some], next_key)
    connection.execute(sa.update(tables.head).values(seq=last, hash=before, folded=last, next_key=next_key))


def link_problem(before: bytes, last_seq: int, row: Any) -> str | None:
    """What is wrong with a row of `changes`, given the hash and number before it."""
    if row.seq != last_seq + 1:
        return f"row {last_seq + 1} is missing before row {row.seq}"
    if not isinstance(row.row, str) or not isinstance(row.hash, bytes):
        return f"row {row.seq} is not what was written"
    digest = chain.digest(row.row)
    if row.erased is not None:
        if digest != row.blank:
            return f"row {row.seq} is not what was written (its words were erased before)"
        digest = row.erased
    if chain.link(before, digest) != row.hash:
        return f"row {row.seq} is not what was written, or its link to row {last_seq} is broken"
    return None
