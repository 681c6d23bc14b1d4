"""The whole workshop in one JSON file, and back into an empty one.

{"easelside_export": 1, "logbook", "made", "end", "changes": [one row a line], "state": hash}. The rows are
the logbook's own, with what they won, so that reading them back gives the same state; `state` proves it.
"""

import hashlib
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import IO, Any

import msgspec
import sqlalchemy as sa

from easelside.errors import DamagedLogbook, ExportUnusable, NotEmpty
from easelside.logbook import asking, chain, tables
from easelside.logbook.model import Record, Row, key_of, values
from easelside.logbook.page import decode_row
from easelside.logbook.rebuilding import link_problem, rebuild

FORMAT = 1
_canonical = msgspec.json.Encoder(order="sorted").encode


def state_hash(records: Iterable[Record]) -> str:
    """SHA-256 over a line of canonical JSON for each record that says something, by kind and id."""
    state = hashlib.sha256()
    for record in records:
        said = values(record["fields"])
        if said:
            state.update(_canonical([record["kind"], record["id"], _plain(said)]) + b"\n")
    return state.hexdigest()


def _plain(value: Any) -> Any:
    """1.0 and 1 are one number, as they are to a phone."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 2**53:
        return int(value)
    if isinstance(value, list):
        return [_plain(item) for item in value]
    if isinstance(value, dict):
        return {name: _plain(item) for name, item in value.items()}
    return value


def export_json(connection: sa.Connection, out: IO[bytes], logbook: str, made: str) -> None:
    """Raises DamagedLogbook at the first row that is not what was written."""
    end = asking.end(connection)
    head = {"easelside_export": FORMAT, "logbook": logbook, "made": made, "end": end}
    out.write(msgspec.json.encode(head)[:-1] + b',"changes":[')
    comma = b"\n"
    last, before = 0, chain.START
    query = sa.select(tables.changes).order_by(tables.changes.c.seq)
    for row in connection.execution_options(yield_per=2000).execute(query):
        problem = link_problem(before, last, row)
        if problem:
            raise DamagedLogbook(detail=problem)
        out.write(comma + row.row.encode())
        comma, last, before = b",\n", row.seq, row.hash
    if end != {"seq": last, "hash": before.hex()}:
        raise DamagedLogbook(detail=f"the last row is {last}, but {end['seq']} was written")
    state = state_hash(asking.all_records(connection))
    out.write(b'\n],"state":' + msgspec.json.encode(state) + b"}\n")


class _Export(msgspec.Struct):
    easelside_export: int
    changes: list[Row]
    state: str


class _Foot(msgspec.Struct):
    changes: list[Row]
    state: str


def _read(source: IO[bytes]) -> Iterator[Row | str]:
    """Each row, then the state's hash. Our own layout is read a line at a time, any other as a whole."""
    first = source.readline()
    if first.startswith(b'{"easelside_export":1,') and first.endswith(b'"changes":[\n'):
        for line in source:
            if line.startswith(b"]"):
                yield msgspec.json.decode(b'{"changes":[' + line + source.read(), type=_Foot).state
                return
            yield decode_row(line.rstrip(b",\n"))
        raise ExportUnusable(detail="it ends too early")
    whole = msgspec.json.decode(first + source.read(), type=_Export)
    if whole.easelside_export != FORMAT:
        raise ExportUnusable(detail=f"its format is {whole.easelside_export}, this Easelside reads {FORMAT}")
    yield from whole.changes
    yield whole.state


def import_json(connection: sa.Connection, source: IO[bytes], folder: Path | None) -> str:
    if connection.execute(sa.select(tables.changes.c.seq).limit(1)).first() is not None:
        raise NotEmpty(folder=folder)
    told = ""
    before, seq = chain.START, 0
    rows: list[dict[str, Any]] = []
    try:
        for item in _read(source):
            if isinstance(item, str):
                told = item
                break
            seq += 1
            if item["seq"] != seq:
                raise ExportUnusable(detail=f"row {seq} is missing")
            if not set(item["won"]) <= set(item["set"]):
                raise ExportUnusable(detail=f"row {seq} wins what it does not set")
            text = msgspec.json.encode(item).decode()
            before = chain.link(before, chain.digest(text))
            rows.append(_columns(item, text, before))
            if len(rows) == 5000:
                connection.execute(sa.insert(tables.changes), rows)
                rows = []
        if rows:
            connection.execute(sa.insert(tables.changes), rows)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as problem:
        raise ExportUnusable(detail=str(problem)) from problem
    except sa.exc.IntegrityError as problem:
        raise ExportUnusable(detail="a change stands in it twice") from problem
    rebuild(connection)
    state = state_hash(asking.all_records(connection))
    if state != told:
        raise ExportUnusable(detail="its records are not what its last line says")
    return state


def _columns(row: Row, text: str, hash: bytes) -> dict[str, Any]:
    held_for = row["id"] if "held" in row else None
    return {"seq": row["seq"], "id": key_of(row), "row": text, "hash": hash, "held_for": held_for}
