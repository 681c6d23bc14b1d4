"""Which edge was cutting on this machine then, and where is each blade?"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise

from easelside.blades.grinding import blades_needed as blades_needed
from easelside.blades.life import pieces_left as pieces_left
from easelside.blades.life import survival as survival
from easelside.blades.model import Edge, Move, Place

AWAY = {"sent": "away", "retired": "retired"}


@dataclass
class Bench:
    """Blades after some moves: what each machine holds, which life each blade is in."""

    holds: dict[str, str] = field(default_factory=dict)
    lives: dict[str, int] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    began: dict[Edge, datetime] = field(default_factory=dict)
    keen: set[str] = field(default_factory=set)  # ground, and neither fitted nor sent away since

    def edge_on(self, machine: str | None) -> Edge | None:
        blade = self.holds.get(machine) if machine else None
        return self.edge_of(blade) if blade else None

    def edge_of(self, blade: str) -> Edge | None:
        return Edge(blade, self.lives[blade]) if blade in self.lives else None

    def apply(self, move: Move) -> None:
        blade = move.blade
        if move.what == "fitted":
            self._lay_down(blade)
            if move.machine:
                self._push_out(move.machine, move)
                self.holds[move.machine] = blade
            self.places[blade] = Place("on_machine", move.machine, move.at)
            self.keen.discard(blade)
            if blade not in self.lives:
                self._start_life(move)
        elif move.what == "ground":
            if blade in self.lives:
                self._start_life(move)
            self.keen.add(blade)
            self.places.setdefault(blade, Place("here", None, move.at))
        else:
            self._lay_down(blade)
            self.places[blade] = Place(AWAY.get(move.what, "here"), None, move.at)
            if move.what == "sent":
                self.keen.discard(blade)
            if move.what == "back" and blade not in self.keen:
                if blade in self.lives:
                    self._start_life(move)
                self.keen.add(blade)

    def _lay_down(self, blade: str) -> None:
        for machine in [m for m, held in self.holds.items() if held == blade]:
            del self.holds[machine]

    def _push_out(self, machine: str, move: Move) -> None:
        other = self.holds.get(machine)
        if other is not None and other != move.blade:
            self.places[other] = Place("here", None, move.at)

    def _start_life(self, move: Move) -> None:
        self.lives[move.blade] = self.lives.get(move.blade, 0) + 1
        self.began[Edge(move.blade, self.lives[move.blade])] = move.at


def in_order(moves: Iterable[Move]) -> list[Move]:
    return sorted(moves, key=lambda move: (move.at, move.id))


def bench_after(moves: Iterable[Move]) -> Bench:
    """All moves done, oldest first."""
    bench = Bench()
    for move in in_order(moves):
        bench.apply(move)
    return bench


def happened_before(move: Move, record: str, piece: int | None, at: datetime) -> bool:
    """Had the blade moved when this piece of this record was cut?

    A move that names the record and the first piece after it is believed over any clock, for pieces of that
    record; for all others the time decides.
    """
    if move.inside_record == record and move.inside_piece is not None and piece is not None:
        return piece >= move.inside_piece
    return move.at <= at


class Timeline:
    """The moves of every blade, asked many times which edge cut what."""

    def __init__(self, moves: Iterable[Move]) -> None:
        self._moves = in_order(moves)
        self._times = [move.at for move in self._moves]
        self._firsts: dict[str | None, list[int]] = {}
        for move in self._moves:
            if move.inside_piece is not None:
                self._firsts.setdefault(move.inside_record, []).append(move.inside_piece)
        self._snapshots: list[tuple[dict[str, Edge], dict[str, Edge]]] = [({}, {})]
        self.now = Bench()
        for move in self._moves:
            self.now.apply(move)
            self._snapshots.append(_edges(self.now))

    @property
    def moves(self) -> list[Move]:
        """Oldest first."""
        return self._moves

    def edges_on(self, machine: str) -> list[Edge | None]:
        """The edge on a machine before the first move and after each, by time alone."""
        return [on.get(machine) for on, _ in self._snapshots]

    def moves_of_edges(self) -> Iterator[tuple[Move, Edge | None]]:
        """Each move with the life that its blade was in until then."""
        for move, (_, lives) in zip(self._moves, self._snapshots, strict=False):
            yield move, lives.get(move.blade)

    def moved_inside(self, record: str) -> list[int]:
        """The first pieces after the blade moves that happened within a session or tally."""
        return sorted(self._firsts.get(record, ()))

    def edge_that_cut(self, machine: str | None, record: str, piece: int | None, at: datetime) -> Edge | None:
        """The edge on this machine when this piece of this record was cut; None where it held none."""
        if machine is None:
            return None
        if record not in self._firsts:
            return self._snapshots[bisect_right(self._times, at)][0].get(machine)
        return bench_after(m for m in self._moves if happened_before(m, record, piece, at)).edge_on(machine)

    def edge_of(self, blade: str, at: datetime) -> Edge | None:
        """The life that this blade was in then, wherever it was."""
        return self._snapshots[bisect_right(self._times, at)][1].get(blade)

    def shares(self, machine: str | None, record: str, pieces: int, at: datetime) -> dict[Edge, int]:
        """How many of the so many pieces of one record each edge cut."""
        starts = {1}
        for move in self._moves:
            if move.inside_record == record and move.inside_piece is not None:
                starts.add(max(1, move.inside_piece))
        cuts = [*sorted(s for s in starts if s <= pieces), pieces + 1]
        found: dict[Edge, int] = {}
        for first, after in pairwise(cuts):
            edge = self.edge_that_cut(machine, record, first, at)
            if edge is not None:
                found[edge] = found.get(edge, 0) + after - first
        return found


def _edges(bench: Bench) -> tuple[dict[str, Edge], dict[str, Edge]]:
    on = {machine: edge for machine in bench.holds if (edge := bench.edge_on(machine))}
    return on, {blade: Edge(blade, life) for blade, life in bench.lives.items()}
