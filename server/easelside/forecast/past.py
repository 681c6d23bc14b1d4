"""Everything that happened in this workshop, read once, as what is fitted wants it: pieces in columns.

A hundred thousand pieces are read and laid on their edges without a loop over them; only loaded by the job
that fits, because numpy takes a moment to load.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from easelside.batches.rules import cut_pieces, is_edge_opening
from easelside.blades.model import Edge
from easelside.blades.rules import Timeline
from easelside.forecast.counting import Counting, Fact
from easelside.forecast.current import WORKSHOP, fact_of
from easelside.logbook import asking
from easelside.units import read_instant, text, zone_of

OUTCOMES = {"good": 0, "second": 1, "lost": 2}
Whole = npt.NDArray[np.int32]
Real = npt.NDArray[np.float64]


@dataclass(frozen=True)
class Pieces:
    """Finished pieces in the order in which they were cut, a column each; -1 and nan: not known."""

    at_s: Real
    session: Whole
    batch: Whole
    lot: Whole
    machine: Whole
    edge: Whole
    age: Whole  # pieces that its edge had cut before it, tallies and opening counts among them
    outcome: npt.NDArray[np.int8]  # 0 good, 1 second, 2 lost
    minutes: Real
    turns: Whole
    whole: npt.NDArray[np.bool_]  # fully counted

    def __len__(self) -> int:
        return len(self.at_s)


@dataclass(frozen=True)
class EdgeLife:
    """An edge from one grinding to the next. `ended` is None while it is in use or in the drawer."""

    blade: str
    life: int
    machine: str | None  # where it cut last
    began: datetime
    ended: datetime | None
    pieces: int


class Past:
    def __init__(self, facts: Iterable[Fact], rows: Sequence[Any], now: datetime) -> None:
        """`facts`: all records but pieces; `rows`: `asking.finished_pieces`."""
        self.now = now
        self._facts: dict[str, list[Fact]] = {}
        for fact in facts:
            if fact.fields.get("removed") is not True:
                self._facts.setdefault(fact.kind, []).append(fact)
        workshop = next((f for f in self.of("workshop") if f.id == WORKSHOP), None)
        self.zone: ZoneInfo = zone_of(text(workshop.fields, "time_zone") if workshop else None)
        self.counting = Counting((fact for kind in self._facts for fact in self._facts[kind]), self.zone)
        self.timeline: Timeline = self.counting.timeline
        self.sessions, self.batches, self.lots = (
            tuple(fact.id for fact in self.of(kind)) for kind in ("session", "batch", "lot")
        )
        self.machines = tuple(sorted({fact.id for fact in self.of("machine")} | self._machines_named(rows)))
        self._edges = tuple(sorted(self.timeline.now.began))
        self.pieces = self._laid_out(rows)

    @classmethod
    def read(cls, view: asking.View, now: datetime) -> "Past":
        kinds = [kind for kind in asking.kinds(view) if kind != "piece"]
        facts = (fact_of(record) for kind in kinds for record in asking.all_records(view, kind))
        return cls(facts, asking.finished_pieces(view), now)

    def of(self, kind: str) -> list[Fact]:
        """Records of a kind that are not removed, oldest id first; never pieces."""
        return self._facts.get(kind, [])

    def fact(self, kind: str, id: str | None) -> Fact | None:
        return self._by_id.get((kind, id or ""))

    def label(self, kind: str, id: str | None) -> str | None:
        """What a person calls a record."""
        fact = self.fact(kind, id)
        return (text(fact.fields, "label") or text(fact.fields, "name")) if fact else None

    def _machines_named(self, rows: Sequence[Any]) -> set[str]:
        """A machine counts without a record of its own, as soon as anything was done on it."""
        named = {text(fact.fields, "machine") for fact in self.of("session")} | {row[3] for row in rows}
        return {id for id in named | {move.machine for move in self.timeline.moves} if id}

    @cached_property
    def _by_id(self) -> dict[tuple[str, str], Fact]:
        return {(fact.kind, fact.id): fact for facts in self._facts.values() for fact in facts}

    @cached_property
    def edges(self) -> tuple[EdgeLife, ...]:
        """Every edge that there ever was; `pieces.edge` is an index into them."""
        cut = np.bincount(self.pieces.edge[self.pieces.edge >= 0], minlength=len(self._edges))
        tallied = {edge: sum(n for _, n in shares) for edge, shares in self._tallied.items()}
        latest, first = np.unique(self.pieces.edge[::-1], return_index=True)
        last = dict(zip(latest.tolist(), self.pieces.machine[::-1][first].tolist(), strict=True))
        on = {
            edge: machine
            for machine in self.timeline.now.holds
            if (edge := self.timeline.now.edge_on(machine))
        }
        return tuple(
            EdgeLife(
                edge.blade,
                edge.life,
                on.get(edge) or (self.machines[last[i]] if last.get(i, -1) >= 0 else None),
                self.timeline.now.began[edge],
                self._ends.get(edge),
                int(cut[i]) + tallied.get(edge, 0),
            )
            for i, edge in enumerate(self._edges)
        )

    @cached_property
    def _ends(self) -> dict[Edge, datetime]:
        """When an edge was given up: sent to be ground, ground here, or its blade retired."""
        ends: dict[Edge, datetime] = {}
        for move, edge in self.timeline.moves_of_edges():
            if edge is not None and move.what in ("sent", "ground", "back", "retired"):
                ends.setdefault(edge, move.at)
        now = self.timeline.now
        for machine in now.holds:  # sent by mistake and fitted again unground: it still cuts
            edge = now.edge_on(machine)
            if edge is not None:
                ends.pop(edge, None)
        return ends

    @cached_property
    def _tallied(self) -> dict[Edge, list[tuple[float, int]]]:
        """{edge: [(when, pieces)]} of what was written up later, and of opening counts."""
        found: dict[Edge, list[tuple[float, int]]] = {}
        for tally in self.counting.tallies:
            if tally.at is None or not (is_edge_opening(tally) or cut_pieces(tally)):
                continue
            for edge, pieces in self.counting.shares(tally).items():
                found.setdefault(edge, []).append((tally.at.timestamp(), pieces))
        return found

    def _laid_out(self, rows: Sequence[Any]) -> Pieces:
        session, number, batch, machine, outcome, at, minutes, turns, whole = (
            zip(*rows, strict=True) if rows else ((),) * 9
        )
        at_s = _seconds(at)
        order = np.argsort(at_s, kind="stable")[: int(np.isfinite(at_s).sum())]
        sessions = _index(session, self.sessions)[order]
        batches = _index(batch, self.batches)[order]
        machines = _index(machine, self.machines)[order]
        cut_on = np.array(
            [*_index([text(f.fields, "machine") for f in self.of("session")], self.machines), -1], np.int32
        )
        machines = np.where(machines >= 0, machines, cut_on[sessions])
        of_lot = np.array(
            [*_index([text(f.fields, "lot") for f in self.of("batch")], self.lots), -1], np.int32
        )
        at_s = at_s[order]
        numbers = np.array([-1 if n is None else n for n in number], np.int64)[order]
        edges = self._edges_that_cut(at_s, sessions, numbers, machines)
        return Pieces(
            at_s=at_s,
            session=sessions,
            batch=batches,
            lot=of_lot[batches],
            machine=machines,
            edge=edges,
            age=self._ages(edges, at_s),
            outcome=np.array([OUTCOMES[o] for o in outcome], np.int8)[order],
            minutes=np.array([np.nan if m is None else m for m in minutes], np.float64)[order],
            turns=np.array(turns, np.int32)[order],
            whole=np.array(whole, np.bool_)[order],
        )

    def _edges_that_cut(
        self, at_s: Real, sessions: Whole, numbers: npt.NDArray[np.int64], machines: Whole
    ) -> Whole:
        timeline, place = self.timeline, {edge: i for i, edge in enumerate(self._edges)}
        moved_s = np.array([move.at.timestamp() for move in timeline.moves])
        found = np.full(len(at_s), -1, np.int32)
        for i, machine in enumerate(self.machines):
            here = np.flatnonzero(machines == i)
            on = np.array([place[e] if e else -1 for e in timeline.edges_on(machine)], np.int32)
            found[here] = on[np.searchsorted(moved_s, at_s[here], side="right")]
        inside = [i for i, session in enumerate(self.sessions) if timeline.moved_inside(session)]
        known: dict[tuple[int, int, int, int], int] = {}
        for at in np.flatnonzero(np.isin(sessions, np.array(inside, np.int32))):
            in_session, on_machine = int(sessions[at]), int(machines[at])
            if on_machine < 0:
                continue
            session, machine = self.sessions[in_session], self.machines[on_machine]
            number = int(numbers[at]) if numbers[at] >= 0 else None
            past = -1 if number is None else sum(number >= first for first in timeline.moved_inside(session))
            key = (in_session, on_machine, past, int(np.searchsorted(moved_s, at_s[at], side="right")))
            if key not in known:
                when = datetime.fromtimestamp(at_s[at], self.now.tzinfo)
                edge = timeline.edge_that_cut(machine, session, number, when)
                known[key] = place[edge] if edge else -1
            found[at] = known[key]
        return found

    def _ages(self, edges: Whole, at_s: Real) -> Whole:
        """Pieces on the edge before each: those cut, in the order of time, and those written up."""
        age = np.zeros(len(edges), np.int32)
        order = np.argsort(edges, kind="stable")
        starts = np.searchsorted(edges[order], np.arange(len(self._edges) + 1))
        for i, edge in enumerate(self._edges):
            here = order[starts[i] : starts[i + 1]]
            age[here] = np.arange(len(here))
            written = sorted(self._tallied.get(edge, ()))
            if written and len(here):
                so_far = np.cumsum([0, *(pieces for _, pieces in written)])
                age[here] += so_far[np.searchsorted([at for at, _ in written], at_s[here], side="right")]
        return age


def _index(values: Iterable[str | None], ids: Sequence[str]) -> Whole:
    place: Mapping[str | None, int] = {id: i for i, id in enumerate(ids)}
    return np.array([place.get(value, -1) for value in values], np.int32)


def _seconds(instants: Sequence[str]) -> Real:
    """Epoch seconds; nan for what is no instant. Nearly all are written alike and are read at one go."""
    try:
        plain = np.array(
            [at.removesuffix("Z") if at.endswith("Z") else "?" for at in instants], "datetime64[ms]"
        )
        return plain.astype(np.int64) / 1000.0
    except ValueError:
        read = (read_instant(at) for at in instants)
        return np.array([np.nan if at is None else at.timestamp() for at in read], np.float64)
