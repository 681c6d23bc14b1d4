"""What stands in each row of each table? The maker's own words, and what follows from them."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import timedelta
from functools import cached_property
from math import floor
from zoneinfo import ZoneInfo

from easelside.records.columns import OUTCOMES, POINTS, STAGES
from easelside.records.model import Derived, Entries, Entry, Stood
from easelside.records.rules import Cell
from easelside.units import Fields, count, day_of, instant, number, text, words

Row = Sequence[Cell]


def rows_of(name: str, entries: Entries, derived: Derived, zone: ZoneInfo) -> list[Row]:
    """The rows of the table of that name, oldest first; records that were removed are left out."""
    return _Tables(entries, derived, zone).rows(name)


class _Tables:
    def __init__(self, entries: Entries, derived: Derived, zone: ZoneInfo) -> None:
        self._all = entries
        self._by_id = {(kind, entry.id): entry.fields for kind, found in entries.items() for entry in found}
        self._derived = derived
        self._zone = zone

    def rows(self, name: str) -> list[Row]:
        writers: dict[str, tuple[str, str, Callable[[Entry], Row]]] = {
            "pieces": ("piece", "at", self._piece),
            "sessions": ("session", "began", self._session),
            "batches": ("batch", "planned_day", self._batch),
            "tallies": ("tally", "at", self._tally),
            "soaks": ("soak", "put_in", self._soak),
            "care": ("care_done", "at", self._care),
            "settings": ("setting", "at", self._setting),
            "machines": ("machine", "name", self._machine),
            "readings": ("reading", "at", self._reading),
        }
        kind, by, write = writers[name]
        shown = [entry for entry in self._all.get(kind, ()) if entry.fields.get("removed") is not True]
        return [write(entry) for entry in sorted(shown, key=lambda e: (text(e.fields, by) or "", e.id))]

    def _said(self, kind: str, id: str | None, name: str) -> str | None:
        return text(self._by_id.get((kind, id or ""), {}), name)

    def _day(self, fields: Fields, name: str) -> str | None:
        at = instant(fields, name)
        return day_of(at, self._zone).isoformat() if at else text(fields, "day")

    def _lot_of(self, fields: Fields) -> str | None:
        lot = text(fields, "lot") or self._said("batch", text(fields, "batch"), "lot")
        return self._said("lot", lot, "label")

    def _batch_of(self, fields: Fields) -> str | None:
        return self._said("batch", text(fields, "batch"), "label")

    def _machine_of(self, fields: Fields) -> str | None:
        machine = text(fields, "machine") or self._said("session", text(fields, "session"), "machine")
        return self._said("machine", machine, "name")

    def _piece(self, entry: Entry) -> Row:
        f = entry.fields
        return (
            self._day(f, "at"),
            text(f, "session"),
            count(f, "number"),
            self._batch_of(f),
            self._lot_of(f),
            self._machine_of(f),
            *_blade_and_edge(filter(None, [self._derived.piece_edge.get(entry.id)])),
            text(f, "began"),
            text(f, "at"),
            minutes_of(f),
            self._derived.outcome.get(entry.id),
            " ".join(words(f, "seen")),
            _yes(f, "full"),
            text(f, "note"),
            entry.id,
        )

    @cached_property
    def _pieces_by_session(self) -> Mapping[str, list[Entry]]:
        found: dict[str, list[Entry]] = {}
        for entry in self._all.get("piece", ()):
            if entry.fields.get("removed") is not True and entry.id in self._derived.outcome:
                found.setdefault(text(entry.fields, "session") or "", []).append(entry)
        return found

    def _session(self, entry: Entry) -> Row:
        f = entry.fields
        pieces = self._pieces_by_session.get(entry.id, [])
        outcomes = [self._derived.outcome.get(piece.id) for piece in pieces]
        batches = words(f, "batches")
        labels = [self._said("batch", batch, "label") or "" for batch in batches]
        lots = {self._said("lot", self._said("batch", batch, "lot"), "label") or "" for batch in batches}
        edges = {edge for piece in pieces if (edge := self._derived.piece_edge.get(piece.id))}
        return (
            self._day(f, "began"),
            text(f, "began"),
            text(f, "ended"),
            self._machine_of(f),
            " ".join(labels),
            " ".join(sorted(lots)),
            *_blade_and_edge(sorted(edges)),
            *(outcomes.count(o) for o in OUTCOMES),
            median_of([minutes_of(piece.fields) for piece in pieces]),
            count(f, "left_in_water"),
            text(f, "joined_to"),
            text(f, "note"),
            entry.id,
        )

    def _batch(self, entry: Entry) -> Row:
        f = entry.fields
        stands = self._derived.stands.get(entry.id, {})
        came: list[Cell] = []
        for stage in STAGES:
            stood: Stood | None = stands.get(stage)
            came += [stood.good, stood.second, stood.lost] if stood else [None, None, None]
        return (
            text(f, "label"),
            self._lot_of(f),
            text(f, "planned_day"),
            count(f, "pieces"),
            *came,
            _yes(f, "closed"),
            text(f, "note"),
            entry.id,
        )

    def _tally(self, entry: Entry) -> Row:
        f = entry.fields
        lost_by = f.get("lost_by")
        lost = (
            {k: n for k in sorted(lost_by) if (n := count(lost_by, k))} if isinstance(lost_by, dict) else {}
        )
        return (
            text(f, "day") or self._day(f, "at"),
            text(f, "at"),
            self._batch_of(f),
            self._lot_of(f),
            text(f, "stage"),
            self._machine_of(f),
            *_blade_and_edge(self._derived.tally_edges.get(entry.id, ())),
            count(f, "started"),
            count(f, "good"),
            count(f, "second_count"),
            sum(lost.values()),
            " ".join(f"{k}:{n}" for k, n in lost.items()),
            _yes(f, "opening"),
            text(f, "note"),
            entry.id,
        )

    def _soak(self, entry: Entry) -> Row:
        f = entry.fields
        planned = number(f, "soak_s")
        return (
            self._day(f, "put_in"),
            text(f, "put_in"),
            text(f, "taken_out"),
            minutes_between(f, "put_in", "taken_out"),
            None if planned is None else to_hundredths(planned, 60),
            text(f, "purpose"),
            count(f, "pieces"),
            self._batch_of(f),
            self._lot_of(f),
            text(f, "jar"),
            text(f, "water"),
            number(f, "water_c"),
            text(f, "mark"),
            text(f, "note"),
            entry.id,
        )

    def _care(self, entry: Entry) -> Row:
        f = entry.fields
        task = self._by_id.get(("care_task", text(f, "task") or ""), {})
        return (
            self._day(f, "at"),
            text(f, "at"),
            text(f, "what"),
            text(task, "words") or text(task, "what"),
            self._machine_of(task),
            text(task, "tool"),
            text(f, "until_day"),
            text(f, "note"),
            entry.id,
        )

    def _setting(self, entry: Entry) -> Row:
        f = entry.fields
        return (
            self._day(f, "at"),
            text(f, "at"),
            self._machine_of(f),
            self._said("blade", text(f, "blade"), "label"),
            *_stop(f, "middle_stop"),
            *_stop(f, "shoulder_stop"),
            number(f, "projection_mm"),
            text(f, "template"),
            text(f, "why"),
            entry.id,
        )

    def _machine(self, entry: Entry) -> Row:
        f = entry.fields
        wanted: list[Cell] = []
        for at in POINTS:
            wanted += [text(f, f"{at}_thread"), text(f, f"{at}_lowers")]
            wanted += [number(f, f"{at}_wanted_mm"), _yes(f, f"{at}_wanted_wet"), number(f, f"{at}_give_mm")]
        return (
            text(f, "name"),
            text(f, "does"),
            text(f, "instrument"),
            text(f, "template"),
            text(f, "turn_habit"),
            _yes(f, "counts_turns"),
            *wanted,
            count(f, "bow_after_pieces"),
            count(f, "good_pieces"),
            _yes(f, "watch_keener"),
            ", ".join(words(f, "watch_rules")),
            text(f, "note"),
            entry.id,
        )

    def _reading(self, entry: Entry) -> Row:
        f = entry.fields
        return (
            self._day(f, "at"),
            text(f, "at"),
            self._machine_of(f),
            self._batch_of(f),
            self._lot_of(f),
            text(f, "piece"),
            text(f, "point"),
            number(f, "value_mm"),
            _yes(f, "wet"),
            number(f, "minutes_since_cut"),
            text(f, "note"),
            entry.id,
        )


def minutes_between(fields: Fields, first: str, last: str) -> float | None:
    """Minutes from one instant of a record to another, to the hundredth; None where they are not said so."""
    start, end = instant(fields, first), instant(fields, last)
    if start is None or end is None or end < start:
        return None
    milliseconds = (end - start) // timedelta(milliseconds=1)
    return to_hundredths(milliseconds, 60_000)


def minutes_of(piece: Fields) -> float | None:
    """A piece's own; None unless it was fully counted: a pause or a correction says nothing of the work."""
    return minutes_between(piece, "began", "at") if piece.get("full") is True else None


def median_of(minutes: Sequence[float | None]) -> float | None:
    """Minutes a piece as the bench says them: the median, to the hundredth; of fewer than three, none."""
    taken = sorted(m for m in minutes if m is not None)
    if len(taken) < 3:
        return None
    lower, upper = taken[(len(taken) - 1) // 2], taken[len(taken) // 2]
    return floor(round((lower + upper) * 100) / 2 + 0.5) / 100


def to_hundredths(of: float, by: float) -> float:
    """A quotient to the hundredth, a half upwards: the same on the phone and here."""
    return floor((of * 100 + by / 2) / by) / 100


def _blade_and_edge(edges: Iterable[str]) -> tuple[str, str]:
    """In a column each: a spreadsheet takes `3/1` for a day. Of several edges, in the same order."""
    parts = [edge.rpartition("/") for edge in edges]
    return " ".join(blade for blade, _, _ in parts), " ".join(life for _, _, life in parts)


def _yes(fields: Fields, name: str) -> bool | None:
    value = fields.get(name)
    return value if isinstance(value, bool) else None


def _stop(fields: Fields, name: str) -> tuple[Cell, Cell]:
    stop = fields.get(name)
    if not isinstance(stop, dict):
        return None, None
    value, way = stop.get("value"), stop.get("way")
    return (
        value if isinstance(value, int | float | str) and not isinstance(value, bool) else None,
        way if isinstance(way, str) else None,
    )
