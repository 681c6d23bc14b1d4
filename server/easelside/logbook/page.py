"""The page that is being written: rows of one transaction, and the records as they are after each row.

Nothing of it counts before the commit. Look-ups go a kind at a time: a row-value IN over (kind, id) scans.
"""

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec
import sqlalchemy as sa

from easelside.logbook import chain, pieces, tables
from easelside.logbook.model import End, Field, Fields, Row

AT_ONCE = 500  # ids in one look-up

encode = msgspec.json.encode
decode_row = msgspec.json.Decoder(Row).decode
decode_fields = msgspec.json.Decoder(dict[str, Field]).decode

_head = sa.select(tables.head.c.seq, tables.head.c.hash, tables.head.c.next_key).with_for_update()
_found = sa.select(tables.changes.c.id, tables.changes.c.row).where(
    tables.changes.c.id.in_(sa.bindparam("ids", expanding=True))
)
_held = sa.select(tables.changes.c.row).where(
    tables.changes.c.held_for.in_(sa.bindparam("ids", expanding=True))
)
_records = sa.select(
    tables.records.c.id, tables.records.c.key, tables.records.c.fields, tables.records.c.when
).where(
    tables.records.c.kind == sa.bindparam("kind"),
    tables.records.c.id.in_(sa.bindparam("ids", expanding=True)),
)
_update = (
    sa.update(tables.records)
    .where(tables.records.c.key == sa.bindparam("at"))
    .values(
        fields=sa.bindparam("fields"), seq=sa.bindparam("seq"), when=sa.bindparam("when")
    )
)
_drop_pieces = sa.delete(tables.pieces).where(tables.pieces.c.key == sa.bindparam("at"))


class _Sheet:
    """One record while the page is open."""

    __slots__ = ("fields", "id", "key", "kind", "new", "seq", "touched", "when")

    def __init__(self, kind: str, id: str, key: int, fields: Fields, when: str, *, new: bool) -> None:
        self.kind, self.id, self.key, self.fields, self.when, self.new = kind, id, key, fields, when, new
        self.touched = False
        self.seq = 0


def parts(ids: Iterable[str]) -> Iterable[list[str]]:
    every = list(ids)
    for start in range(0, len(every), AT_ONCE):
        yield every[start : start + AT_ONCE]


class OpenPage:
    def __init__(self, connection: sa.Connection) -> None:
        self.connection = connection
        seq, hash, next_key = connection.execute(_head).one()
        self.seq: int = seq
        self.hash: bytes = hash
        self.next_key: int = next_key
        self._sheets: dict[tuple[str, str], _Sheet] = {}
        self._rows: list[dict[str, Any]] = []

    def load(self, wanted: Mapping[str, Iterable[str]]) -> None:
        """Read these records (kind: ids), so that `fields` needs no look-up of its own."""
        for kind, ids in wanted.items():
            for some in parts({id for id in ids if (kind, id) not in self._sheets}):
                for id, key, fields, when in self.connection.execute(_records, {"kind": kind, "ids": some}):
                    self._sheets[kind, id] = _Sheet(kind, id, key, decode_fields(fields), when, new=False)

    def fields(self, kind: str, id: str) -> Fields:
        sheet = self._sheets.get((kind, id))
        return {} if sheet is None else sheet.fields

    def rows_of(self, ids: Iterable[str]) -> dict[str, Row]:
        """The rows that these changes have in the logbook."""
        return {
            id: decode_row(row)
            for some in parts(ids)
            for id, row in self.connection.execute(_found, {"ids": some})
        }

    def held_of(self, ids: Iterable[str]) -> list[Row]:
        """The held rows that stand for fields of these changes."""
        return [
            decode_row(row) for some in parts(ids) for (row,) in self.connection.execute(_held, {"ids": some})
        ]

    def add(self, row: Row, key: str, held_for: str | None = None) -> None:
        """Number a row, chain it and fold it into its record. `row["seq"]` is set here."""
        self.seq += 1
        row["seq"] = self.seq
        text = encode(row).decode()
        self.hash = chain.link(self.hash, chain.digest(text))
        self._rows.append({"seq": self.seq, "id": key, "row": text, "hash": self.hash, "held_for": held_for})
        self.fold(row)

    def fold(self, row: Row) -> None:
        """What stands in the record after this row; every row brings its record to life, a lost one too."""
        at = row["kind"], row["record"]
        sheet = self._sheets.get(at)
        if sheet is None:
            sheet = self._sheets[at] = _Sheet(*at, self.next_key, {}, "", new=True)
            self.next_key += 1
        fields, saw, values = sheet.fields, row["saw"], row["set"]
        for name in row["won"]:
            fields[name] = Field(
                value=values[name],
                change=row["id"],
                seq=row["seq"],
                when=row["when"],
                back=row["back"],
                saw=saw.get(name),
            )
        sheet.touched = True
        sheet.seq = row["seq"]
        sheet.when = max(sheet.when, row["when"])

    def write(self) -> End:
        """All of it into the tables; the caller commits."""
        run = self.connection.execute
        if self._rows:
            run(sa.insert(tables.changes), self._rows)
        self.write_records()
        run(
            sa.update(tables.head).values(
                seq=self.seq, hash=self.hash, folded=self.seq, next_key=self.next_key
            )
        )
        return End(seq=self.seq, hash=self.hash.hex())

    def write_records(self) -> None:
        run = self.connection.execute
        touched = [sheet for sheet in self._sheets.values() if sheet.touched]
        new, old = [], []
        for sheet in touched:
            text = encode(sheet.fields).decode()
            if sheet.new:
                new.append(
                    {"key": sheet.key, "kind": sheet.kind, "id": sheet.id, "fields": text,
                     "seq": sheet.seq, "when": sheet.when}
                )
            else:
                old.append({"at": sheet.key, "fields": text, "seq": sheet.seq, "when": sheet.when})
        if new:
            run(sa.insert(tables.records), new)
        if old:
            run(_update, old)
        cut = [sheet for sheet in touched if sheet.kind == "piece"]
        before = [{"at": sheet.key} for sheet in cut if not sheet.new]
        if before:
            run(_drop_pieces, before)
        if cut:
            run(
                sa.insert(tables.pieces),
                [pieces.columns(sheet.key, sheet.id, sheet.fields) for sheet in cut],
            )
        for sheet in touched:
            sheet.new = sheet.touched = False
