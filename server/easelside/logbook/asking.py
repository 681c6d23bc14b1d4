"""What does the logbook say? Questions that change nothing, each within one consistent view."""

import sqlite3
from collections.abc import Iterator, Mapping
from datetime import timedelta
from typing import Any

import msgspec
import sqlalchemy as sa

from easelside.logbook import direct, tables
from easelside.logbook.model import End, Record, Row, Value
from easelside.logbook.page import decode_fields, decode_row

View = sa.Connection  # one consistent view, as `Logbook.view` opens it
_MS = timedelta(milliseconds=1)
_after = (
    sa.select(tables.changes.c.seq, tables.changes.c.id, tables.changes.c.row)
    .where(tables.changes.c.seq > sa.bindparam("seq"))
    .order_by(tables.changes.c.seq)
    .limit(sa.bindparam("limit"))
)
_end = sa.select(tables.head.c.seq, tables.head.c.hash)
_hash_at = sa.select(tables.changes.c.hash).where(tables.changes.c.seq == sa.bindparam("seq"))
_record = sa.select(tables.records)


def meta(connection: sa.Connection, name: str) -> str | None:
    found = connection.execute(sa.select(tables.meta.c.value).where(tables.meta.c.name == name)).scalar()
    return None if found is None else str(found)


def end(connection: sa.Connection) -> End:
    seq, hash = connection.execute(_end).one()
    return End(seq=seq, hash=hash.hex())


def hash_at(connection: sa.Connection, seq: int) -> str | None:
    """The chained hash of a row; "" before the first; None where there is no such row."""
    if seq == 0:
        return ""
    found = connection.execute(_hash_at, {"seq": seq}).scalar()
    return None if found is None else found.hex()


def texts_after(connection: sa.Connection, seq: int, limit: int) -> list[tuple[int, str, str]]:
    """(seq, key, row as JSON text) in order of arrival. The key of a held row holds a "/"."""
    found = connection.execute(_after, {"seq": seq, "limit": limit})
    return [(seq, id, text) for seq, id, text in found]


def rows_after(connection: sa.Connection, seq: int, limit: int) -> list[Row]:
    return [decode_row(text) for _, _, text in texts_after(connection, seq, limit)]


def every_text(connection: sa.Connection, after: int = 0) -> Iterator[tuple[int, str, str]]:
    """(seq, key, row as JSON text) of the whole logbook, never more than some thousand in memory."""
    found = connection.execution_options(yield_per=2000).execute(
        sa.select(tables.changes.c.seq, tables.changes.c.id, tables.changes.c.row)
        .where(tables.changes.c.seq > after)
        .order_by(tables.changes.c.seq)
    )
    yield from ((seq, id, text) for seq, id, text in found)


def _as_record(row: Any) -> Record:
    return Record(kind=row.kind, id=row.id, fields=decode_fields(row.fields), seq=row.seq, when=row.when)


def record(connection: sa.Connection, kind: str, id: str) -> Record | None:
    at = _record.where(tables.records.c.kind == kind, tables.records.c.id == id)
    found = connection.execute(at).first()
    return None if found is None else _as_record(found)


def records(
    connection: sa.Connection, kind: str, after: str | None, limit: int, *, newest_first: bool
) -> list[Record]:
    id = tables.records.c.id
    query = _record.where(tables.records.c.kind == kind)
    if after is not None:
        query = query.where(id < after if newest_first else id > after)
    query = query.order_by(id.desc() if newest_first else id).limit(limit)
    return [_as_record(row) for row in connection.execute(query)]


def all_records(
    connection: sa.Connection, kind: str | None = None, since: str | None = None
) -> Iterator[Record]:
    """By kind and id; `since`: only those with a change of that instant or later."""
    query = _record.order_by(tables.records.c.kind, tables.records.c.id)
    if kind is not None:
        query = query.where(tables.records.c.kind == kind)
    if since is not None:
        query = query.where(tables.records.c.when >= since)
    for row in connection.execution_options(yield_per=1000).execute(query):
        yield _as_record(row)


def changed_records(connection: sa.Connection, after_seq: int, limit: int) -> list[Record] | None:
    """The records that rows after `after_seq` touched; None where there are more rows than `limit`."""
    rows = rows_after(connection, after_seq, limit + 1)
    if len(rows) > limit:
        return None
    touched = {(row["kind"], row["record"]) for row in rows}
    found = (record(connection, kind, id) for kind, id in sorted(touched))
    return [one for one in found if one is not None]


def kinds(connection: sa.Connection) -> dict[str, int]:
    query = sa.select(tables.records.c.kind, sa.func.count()).group_by(tables.records.c.kind)
    return {kind: count for kind, count in connection.execute(query)}


def pieces(
    connection: sa.Connection, after: int, limit: int, where: Mapping[str, Value]
) -> list[dict[str, Any]]:
    columns = tables.pieces.c
    query = sa.select(tables.pieces).where(columns.key > after)
    for name, value in where.items():
        query = query.where(columns[name] == value)
    return [dict(row) for row in connection.execute(query.order_by(columns.key).limit(limit)).mappings()]


def history(connection: sa.Connection, kind: str, record: str) -> list[Row]:
    query = (
        sa.select(tables.changes.c.row)
        .where(tables.changes.c.row.like(sa.bindparam("record")))
        .order_by(tables.changes.c.seq)
    )
    pattern = f'%"record":{msgspec.json.encode(record).decode()}%'
    rows = (decode_row(text) for (text,) in connection.execute(query, {"record": pattern}))
    return [row for row in rows if row["kind"] == kind and row["record"] == record]


def tables_are_filled(connection: sa.Connection, rows: int) -> bool:
    """A quick look whether the tables that follow from so many rows are there at all."""
    kept = connection.execute(sa.select(sa.func.count()).select_from(tables.pieces)).scalar()
    cut = sa.select(sa.func.count()).select_from(tables.records).where(tables.records.c.kind == "piece")
    any_record = connection.execute(sa.select(tables.records.c.key).limit(1)).first()
    return kept == connection.execute(cut).scalar() and (any_record is not None or rows == 0)


def exchanges(connection: sa.Connection) -> dict[str, tuple[str, timedelta]]:
    """Each device's last exchange by the server's clock, and how far off its own was then."""
    found = connection.execute(sa.select(tables.devices)).all()
    return {row.device: (row.last_exchange, row.off_ms * _MS) for row in found}


def note_exchange(connection: sa.Connection, device: str, now: str, off: timedelta) -> None:
    direct.run(connection, direct.EXCHANGED, [(device, now, off // _MS)])


def slips(connection: sa.Connection, after: int = 0) -> list[dict[str, Any]]:
    """Slips replaced since the revision `after`; one with an empty body is withdrawn."""
    table = tables.slips
    query = sa.select(table).where(table.c.rev > after).order_by(table.c.kind, table.c.subject)
    found = connection.execute(query)
    return [{**row, "body": msgspec.json.decode(row["body"])} for row in found.mappings()]


def slips_rev(connection: sa.Connection) -> int:
    """The revision of the slip that was replaced last."""
    return connection.execute(sa.select(sa.func.max(tables.slips.c.rev))).scalar() or 0


def keep_slip(
    connection: sa.Connection, kind: str, subject: str, as_of_seq: int, observations: int, body: Value
) -> None:
    here = tables.slips.c.kind == kind, tables.slips.c.subject == subject
    rev = slips_rev(connection) + 1
    connection.execute(sa.delete(tables.slips).where(*here))
    connection.execute(
        sa.insert(tables.slips),
        {
            "kind": kind,
            "subject": subject,
            "as_of_seq": as_of_seq,
            "observations": observations,
            "body": msgspec.json.encode(body).decode(),
            "rev": rev,
        },
    )


def finished_pieces(connection: sa.Connection) -> list[tuple[Any, ...]]:
    """(session, number, batch, machine, outcome, at, minutes, turns, whole) of each piece that counts."""
    c = tables.pieces.c
    columns = (c.session, c.number, c.batch, c.machine, c.outcome, c.at, c.minutes, c.turns, c.whole)
    query = sa.select(*columns).where(c.removed.is_(False), c.outcome.is_not(None), c.at.is_not(None))
    return [tuple(row) for row in connection.execute(query)]


def sync_all(raw: Any) -> None:
    """Write the log back into the database file with full syncs; raises where the disk still refuses."""
    if isinstance(raw, sqlite3.Connection):
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
