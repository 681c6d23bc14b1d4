"""How many pieces on each edge, what care is due, where does each batch stand?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from zoneinfo import ZoneInfo

from easelside.batches.model import Tally, read_batch, read_tally
from easelside.batches.rules import Stand, cut_pieces, is_edge_opening, stand_of, started_of
from easelside.blades.model import Edge, read_move
from easelside.blades.rules import Timeline
from easelside.care.model import CareDone, CareTask, read_care_done, read_care_task
from easelside.care.quiet_day import on_quiet_day
from easelside.care.rules import Due, due_of
from easelside.profiling.model import Piece, Session, read_piece, read_session
from easelside.profiling.rules import counted_once, number_cut_at, outcome_of
from easelside.units import Fields, day_of

STAGE_OF_TOOL = {
    "gouger": "gouged",
    "shaper": "shaped",
    "mandrel": "formed",
    "knife": "finished",
    "reamer": "finished",
}
KINDS = ("session", "piece", "tally", "batch", "blade_move", "care_task", "care_done")


@dataclass(frozen=True)
class Fact:
    """A record as counting sees it: plain values, and when each field took its value."""

    kind: str
    id: str
    fields: Fields
    when: Mapping[str, str] = field(default_factory=dict)


class Counting:
    """All counts that follow from some facts; each is worked out when it is first asked for."""

    def __init__(self, facts: Iterable[Fact], zone: ZoneInfo) -> None:
        self._zone = zone
        self._facts: dict[str, list[Fact]] = {}
        for fact in facts:
            if fact.fields.get("removed") is not True:
                self._facts.setdefault(fact.kind, []).append(fact)

    def _of(self, kind: str) -> list[Fact]:
        return self._facts.get(kind, [])

    @cached_property
    def timeline(self) -> Timeline:
        moves = (read_move(f.id, f.fields) for f in self._of("blade_move"))
        return Timeline(move for move in moves if move is not None)

    @cached_property
    def sessions(self) -> dict[str, Session]:
        return {f.id: read_session(f.id, f.fields) for f in self._of("session")}

    @cached_property
    def sessions_once(self) -> list[Session]:
        """Sessions with those that were joined taken as one."""
        return counted_once(self.sessions.values())

    @cached_property
    def pieces(self) -> dict[str, Piece]:
        return {f.id: read_piece(f.id, f.fields, f.when) for f in self._of("piece")}

    @cached_property
    def tallies(self) -> list[Tally]:
        return [read_tally(f.id, f.fields, self._zone) for f in self._of("tally")]

    @cached_property
    def tasks(self) -> list[CareTask]:
        return [read_care_task(f.id, f.fields) for f in self._of("care_task")]

    @cached_property
    def dones(self) -> list[CareDone]:
        return [read_care_done(f.id, f.fields) for f in self._of("care_done")]

    def machine_of(self, piece: Piece) -> str | None:
        session = self.sessions.get(piece.session or "")
        return piece.machine or (session.machine if session else None)

    def cut_at(self, piece: Piece) -> datetime | None:
        session = self.sessions.get(piece.session or "")
        return piece.at or (session.began if session else None)

    @cached_property
    def cut_by(self) -> dict[str, Edge]:
        """{piece: the edge that cut it}, for every finished piece, whatever became of it."""
        found: dict[str, Edge] = {}
        for piece in self.pieces.values():
            at = self.cut_at(piece)
            if outcome_of(piece) is None or at is None:
                continue
            number = number_cut_at(piece, self.pieces)
            edge = self.timeline.edge_that_cut(self.machine_of(piece), piece.session or "", number, at)
            if edge is not None:
                found[piece.id] = edge
        return found

    @cached_property
    def edges(self) -> dict[Edge, int]:
        """Pieces on every edge that there ever was, in the order of blade and life."""
        found = dict.fromkeys(sorted(self.timeline.now.began), 0)
        for edge in self.cut_by.values():
            found[edge] = found.get(edge, 0) + 1
        for tally in self.tallies:
            for edge, pieces in self.shares(tally).items():
                found[edge] = found.get(edge, 0) + pieces
        return found

    def shares(self, tally: Tally) -> dict[Edge, int]:
        """How many pieces this tally puts on which edges, in the order they cut."""
        if tally.at is None:
            return {}
        if is_edge_opening(tally):
            edge = self.timeline.edge_that_cut(tally.machine, tally.id, None, tally.at)
            edge = edge or (self.timeline.edge_of(tally.blade, tally.at) if tally.blade else None)
            return {edge: started_of(tally)} if edge else {}
        return self.timeline.shares(tally.machine, tally.id, cut_pieces(tally), tally.at)

    @cached_property
    def batches(self) -> dict[str, dict[str, Stand]]:
        """{batch: {stage: what came out}}: tallies, and for profiling the pieces as well."""
        found = stand_of(t for t in self.tallies if not is_edge_opening(t))
        for piece in self.pieces.values():
            outcome = outcome_of(piece)
            if outcome and piece.batch:
                found.setdefault(piece.batch, {}).setdefault("profiled", Stand()).add(outcome)
        return found

    def due(self, task: CareTask, now: datetime) -> Due:
        """A change of blade on its quiet day, all other care on its own."""
        due = due_of(task, self.dones, self._work_of(task), self._sessions_of(task), now, self._zone)
        if task.what != "change":
            return due
        return on_quiet_day(due, self.planned_days(task.machine), day_of(now, self._zone))

    def planned_days(self, machine: str | None) -> set[date]:
        """Days for which a batch is planned on this machine, or on none in particular; None: on any."""
        return {day for day, on in self._planned if machine is None or on is None or on == machine}

    @cached_property
    def _planned(self) -> list[tuple[date, str | None]]:
        batches = (read_batch(f.id, f.fields) for f in self._of("batch"))
        return [(b.planned_day, b.machine) for b in batches if b.planned_day is not None and not b.closed]

    def _work_of(self, task: CareTask) -> Sequence[tuple[datetime, int]]:
        """Pieces that went over the machine or tool of a task, with their times."""
        if task.machine is None:
            stage = STAGE_OF_TOOL.get(task.tool or "")
            tallies = [t for t in self.tallies if stage and t.stage == stage and not t.opening]
            return [(t.at, started_of(t)) for t in tallies if t.at is not None]
        return self._work_by_machine.get(task.machine, [])

    @cached_property
    def _work_by_machine(self) -> dict[str, list[tuple[datetime, int]]]:
        found: dict[str, list[tuple[datetime, int]]] = {}
        for piece in self.pieces.values():
            machine, at = self.machine_of(piece), self.cut_at(piece)
            if machine and at and outcome_of(piece):
                found.setdefault(machine, []).append((at, 1))
        for tally in self.tallies:
            if tally.machine and tally.at and cut_pieces(tally):
                found.setdefault(tally.machine, []).append((tally.at, cut_pieces(tally)))
        return found

    def _sessions_of(self, task: CareTask) -> list[datetime]:
        return [s.began for s in self.sessions_once if s.began and s.machine and s.machine == task.machine]
