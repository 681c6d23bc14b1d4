"""The page that is being written: rows of one transaction, and the records as they are after each row.

Nothing of it counts before the commit. Look-ups go a kind at a time: a row-value IN over (kind, id) scans.
"""

from collections.abc import Iterable, Mapping
from typing import Any

import msgspec
import sqlalchemy as sa

from easelside.logbook import chain, direct, pieces
from easelside.logbook.awaited import Awaited, is_odd, note
from easelside.logbook.model import End, Field, Fields, Row, key_of

encode = msgspec.json.encode
decode_row = msgspec.json.Decoder(Row).decode
decode_fields = msgspec.json.Decoder(dict[str, Field]).decode
_decode_awaited = msgspec.json.Decoder(Awaited).decode

_NONE: Fields = {}


class _Sheet:
    """One record while the page is open."""

    __slots__ = ("awaited", "fields", "id", "key", "kind", "new", "seq", "touched", "waited", "when")

    def __init__(self, kind: str, id: str, key: int, fields: Fields, when: str, *, new: bool) -> None:
        self.kind, self.id, self.key, self.fields, self.when, self.new = kind, id, key, fields, when, new
        self.touched = False
        self.seq = 0
        self.awaited: Awaited = {}
        self.waited = False  # is any of it in the tables, or to be?


class OpenPage:
    def __init__(self, connection: sa.Connection) -> None:
        self.connection = connection
        self.seq, self.hash, self.next_key = direct.head(connection)
        self._sheets: dict[tuple[str, str], _Sheet] = {}
        self._rows: list[tuple[Any, ...]] = []

    def load(self, wanted: Mapping[str, Iterable[str]]) -> None:
        """Read these records (kind: ids), so that `fields` needs no look-up of its own."""
        for kind, ids in wanted.items():
            new = {id for id in ids if (kind, id) not in self._sheets}
            for id, key, fields, when in direct.look_up(self.connection, direct.RECORDS, new, kind):
                self._sheets[kind, id] = _Sheet(kind, id, key, decode_fields(fields), when, new=False)
            if new and direct.is_any(self.connection, direct.ANY_AWAITED):
                for id, awaited in direct.look_up(self.connection, direct.AWAITED, new, kind):
                    sheet = self._sheets.get((kind, id))
                    if sheet is not None:
                        sheet.awaited, sheet.waited = _decode_awaited(awaited), True

    def fields(self, kind: str, id: str) -> Fields:
        sheet = self._sheets.get((kind, id))
        return {} if sheet is None else sheet.fields

    def rows_of(self, ids: Iterable[str]) -> dict[str, Row]:
        """The rows that these changes have in the logbook."""
        return {id: decode_row(row) for id, row in direct.look_up(self.connection, direct.FOUND, ids)}

    def held_of(self, ids: Iterable[str]) -> list[Row]:
        """The held rows that stand for fields of these changes; most logbooks were never put back."""
        if not direct.is_any(self.connection, direct.ANY_HELD):
            return []
        return [decode_row(row) for (row,) in direct.look_up(self.connection, direct.HELD, ids)]

    def add(self, row: Row) -> Fields:
        """Number a row, chain it and fold it into its record. `row["seq"]` is set here.

        Answers what had replaced it before it came, by the fields that it has won.
        """
        self.seq += 1
        row["seq"] = self.seq
        text = encode(row)
        self.hash = chain.link(self.hash, chain.digest(text))
        id, held_for = row["id"], None
        if "held" in row:
            id, held_for = key_of(row), id
        self._rows.append((self.seq, id, text.decode(), self.hash, held_for))
        return self.fold(row)

    def fold(self, row: Row) -> Fields:
        """What stands in the record after this row; every row brings its record to life, a lost one too."""
        at = row["kind"], row["record"]
        sheet = self._sheets.get(at)
        if sheet is None:
            sheet = self._sheets[at] = _Sheet(*at, self.next_key, {}, "", new=True)
            self.next_key += 1
        fields, saw, values = sheet.fields, row["saw"], row["set"]
        id, seq, when, back = row["id"], row["seq"], row["when"], row["back"]
        replaced = _NONE
        if "held" in row or sheet.awaited or is_odd(saw, fields):
            replaced = self._note(sheet, row)
        for name in row["won"]:
            fields[name] = {
                "value": values[name],
                "change": id,
                "seq": seq,
                "when": when,
                "back": back,
                "saw": saw.get(name),
            }
        sheet.touched = True
        sheet.seq = seq
        if when > sheet.when:
            sheet.when = when
        return replaced

    def _note(self, sheet: _Sheet, row: Row) -> Fields:
        """What waits for a change that is not here yet; answers what had waited for this one."""
        held, fields, saw = "held" in row, sheet.fields, row["saw"]
        replaced: Fields = {}
        if "again" in row:
            return replaced
        for name in row["set"]:
            seen, present = saw.get(name), fields.get(name)
            waiting = sheet.awaited.get(name)
            if waiting is None:
                if not held and (seen is None or (present is not None and present["change"] == seen)):
                    continue
                waiting = sheet.awaited[name] = {}
            sheet.waited = True
            mine = Field(
                value=row["set"][name],
                change=row["id"],
                seq=row["seq"],
                when=row["when"],
                back=row["back"],
                saw=seen,
            )
            over = note(waiting, mine, present, held=held)
            if over is not None and name in row["won"]:
                replaced[name] = over
            if not waiting:
                del sheet.awaited[name]
        return replaced

    def write(self) -> End:
        """All of it into the tables; the caller commits."""
        direct.run(self.connection, direct.NEW_CHANGE, self._rows)
        self.write_records()
        direct.run(self.connection, direct.HEAD, [(self.seq, self.hash, self.seq, self.next_key)])
        return End(seq=self.seq, hash=self.hash.hex())

    def write_records(self) -> None:
        """The records that were touched, and the rows of `pieces` that follow from them."""
        new: list[tuple[Any, ...]] = []
        old: list[tuple[Any, ...]] = []
        gone: list[tuple[Any, ...]] = []
        cut: list[tuple[Any, ...]] = []
        waited: list[_Sheet] = []
        for sheet in self._sheets.values():
            if not sheet.touched:
                continue
            text = encode(sheet.fields).decode()
            if sheet.new:
                new.append((sheet.key, sheet.kind, sheet.id, text, sheet.seq, sheet.when))
            else:
                old.append((text, sheet.seq, sheet.when, sheet.key))
            if sheet.kind == "piece":
                cut.append(pieces.columns(sheet.key, sheet.id, sheet.fields))
                if not sheet.new:
                    gone.append((sheet.key,))
            if sheet.waited:
                waited.append(sheet)
            sheet.new = sheet.touched = False
        direct.run(self.connection, direct.NEW_RECORD, new)
        direct.run(self.connection, direct.OLD_RECORD, old)
        direct.run(self.connection, direct.DROP_PIECE, gone)
        direct.run(self.connection, pieces.NEW, cut)
        direct.run(self.connection, direct.NOT_AWAITED, [(sheet.kind, sheet.id) for sheet in waited])
        direct.run(
            self.connection,
            direct.NEW_AWAITED,
            [(sheet.kind, sheet.id, encode(sheet.awaited).decode()) for sheet in waited if sheet.awaited],
        )
