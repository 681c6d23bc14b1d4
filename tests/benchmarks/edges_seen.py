"""How early are edges seen that go off, and how often in vain? Over simulated workshops, a year each.

`PYTHONPATH=server:. .venv/bin/python -m tests.benchmarks.edges_seen [workshops] [seed] [a piece varies by]`

Assumed of a workshop (nothing here is measured; it says what the watch can do where this holds):
- 60 sessions of 24 pieces a year on one machine; a lot is 150 to 400 pieces, lots differ by 12 %.
- A piece varies by 10 %, a session by 5 %, an edge as it was set by 3 %; within a session the hand gets
  slower or faster by 1.7 % (all standard deviations of log minutes); an edge that is well costs 4 % for
  100 pieces.
- One piece in ten is not fully counted, one in fifty has odd minutes (twice to six times as long).
- An edge is well for 210 pieces, give or take 45, at least 90; then log minutes rise by 0.7 % a piece,
  between 0.4 and 1.2 % for two edges in three. Until it takes a quarter longer it spoils nothing; from
  there on it spoils 0.15 % of the pieces for each 1 %. One piece in 25 is lost to other things.
- Two in ten edges are changed before they go off. A maker who is told looks before the next session:
  changes an edge that is going off; told in vain, finds it straight and says so. Untold, it is changed
  ten pieces after the first piece that it spoiled.
- What is usual is fitted anew every third session, from all earlier pieces of good stretches.
"""

import sys
from dataclasses import dataclass, field

import numpy as np

from easelside.forecast.usual_fit import GOOD_AT_FIRST, Usual, Whole, good_pieces, good_stretch, usual
from easelside.forecast.watch_fit import Chosen, EdgeWatch, WatchedBy
from easelside.forecast.watching import BLUNT_LOSES, DECISION

SESSIONS, A_SESSION, REFITTED = 60, 24, 3


@dataclass(frozen=True)
class Assumed:
    """How much pieces, days and so on vary; `rate`: the usual rise; `spoils_from`: the rise from which on it
    spoils `spoils_by` of the pieces for each 1; all in log minutes."""

    piece: float = 0.10
    day: float = 0.05
    tires: float = 0.017
    set: float = 0.03
    wear: float = 0.04
    odd: float = 0.02
    lots: float = 0.12
    rate: float = 0.007
    spoils_from: float = 0.22  # a quarter longer
    spoils_by: float = 0.15

    def edge(self, chance: np.random.Generator) -> "Edge":
        onset = max(90, int(chance.normal(210, 45)))
        early = int(chance.uniform(0.4, 1) * onset) if chance.random() < 0.2 else None
        rate = self.rate * float(np.exp(chance.normal(0, 0.5)))
        return Edge(onset, rate, chance.normal(0, self.set), early, self.spoils_from, self.spoils_by)


@dataclass
class Year:
    """What happened to one workshop in its year."""

    went_off: int = 0
    spoiled: int = 0  # edges that spoiled a piece, or were seen
    seen_first: int = 0
    ahead: list[int] = field(default_factory=list)  # pieces from being seen to the first that it would spoil
    after_onset: list[int] = field(default_factory=list)
    in_vain: int = 0
    pieces_well: int = 0


class Workshop:
    """One workshop, piece by piece; what it asks of the watch is done for all workshops at once."""

    def __init__(self, assumed: Assumed, chance: np.random.Generator) -> None:
        self.assumed, self.chance, self.year = assumed, chance, Year()
        self.lots = np.repeat(np.arange(20), chance.integers(150, 400, 20))
        self.of_lot = chance.normal(1.1, assumed.lots, 20)
        self.cut: list[tuple[float, int, int, int, bool, bool]] = []
        self.ended: list[int] = []
        self.edge_of: list[int] = []
        self.edge = assumed.edge(chance)
        self.known: Usual | None = None
        self.told_at: int | None = None
        self.lot, self.since = -1, 0

    def refit(self) -> None:
        minutes, lot, age, session, faulty, whole = (np.array(c) for c in zip(*self.cut, strict=True))
        stretch = good_stretch(np.array(self.edge_of), age, good_pieces(self.ended))
        self.known = usual(*(column[stretch] for column in (minutes, lot, age, session, faulty, whole)))

    def begin(self) -> str:
        """A session begins: was the edge looked at and left, or changed, or neither?"""
        chance = self.chance
        self.day, self.tires, self.i = (
            chance.normal(0, self.assumed.day),
            chance.normal(0, self.assumed.tires / 12),
            0,
        )
        if self.told_at is None:
            return ""
        if self.edge.is_off:
            self.change()
            return "changed"
        self.told_at = None
        return "looked at"

    def change(self) -> None:
        self.ended.append(self.edge.age)
        if self.edge.is_off and (self.edge.spoiled_at is not None or self.told_at is not None):
            _count(self.year, self.edge, self.told_at, self.chance)
        self.edge, self.told_at, self.since = self.assumed.edge(self.chance), None, 0

    def piece(self, session: int) -> bool:
        """The next piece is cut; whether the edge was changed before it."""
        changed, edge, chance = False, self.edge, self.chance
        if edge.is_changed:
            self.change()
            changed, edge = True, self.edge
        self.lot = int(self.lots[len(self.cut)])
        log_minutes = self.of_lot[self.lot] + edge.set + self.assumed.wear * edge.age / 100 + edge.rise
        log_minutes += self.day + self.tires * (self.i - 12) + chance.normal(0, self.assumed.piece)
        if chance.random() < self.assumed.odd:
            log_minutes += np.log(chance.uniform(2, 6))
        spoils = chance.random() < edge.spoils
        bad = bool(spoils or chance.random() < 0.04)
        if spoils and edge.spoiled_at is None:
            edge.spoiled_at = edge.age
        counted = bool(chance.random() >= 0.1)
        self.edge_of.append(len(self.ended))
        self.cut.append((float(np.exp(log_minutes)), self.lot, edge.age, session, bad, counted))
        self.year.pieces_well += not edge.is_off
        self.age = edge.age
        edge.age += 1
        self.i += 1
        return changed

    def off(self, cut: tuple[float, int, int, int, bool, bool]) -> float:
        """Log minutes less the usual; nan for what was not fully counted."""
        minutes, lot, age, _, _, counted = cut
        if self.known is None or not counted:
            return float("nan")
        return float(np.log(minutes)) - self.centre(lot) - self.known.by_age * age / 100

    def centre(self, lot: int) -> float:
        assert self.known is not None
        own = self.known.centre[lot] if lot < len(self.known.centre) else np.nan
        return float(own if np.isfinite(own) else self.known.new_centre)

    def error(self, lot: int) -> float:
        assert self.known is not None
        is_known = lot < len(self.known.centre) and np.isfinite(self.known.centre[lot])
        return float(self.known.error[lot] if is_known else self.known.new_error)

    def told(self, signals: bool) -> None:
        if signals and self.told_at is None:
            self.told_at = self.age
            self.year.in_vain += not self.edge.was_off


def years(workshops: int, seed: int, decision: float, assumed: Assumed) -> list[Year]:
    all_of = [Workshop(assumed, np.random.default_rng([seed, i])) for i in range(workshops)]
    watch = EdgeWatch(WatchedBy(0.1, 0.05, 0.02, BLUNT_LOSES, GOOD_AT_FIRST, decision), workshops)
    lot_on = np.full(workshops, -1)
    for session in range(SESSIONS):
        if session % REFITTED == 1:
            for one in all_of:
                one.refit()
            watch = _again(all_of, decision)
        said = [one.begin() for one in all_of]
        age = np.array([float(one.edge.age) for one in all_of])
        watch.looked_at(np.array([word == "looked at" for word in said]), age)
        for one, word in zip(all_of, said, strict=True):
            one.since = one.edge.age if word == "looked at" else one.since
        changed = np.array([word == "changed" for word in said])
        watch.session(np.ones(workshops, bool))
        for _ in range(A_SESSION):
            changed |= np.array([one.piece(session) for one in all_of])
            watch.looked_at(changed, np.zeros(workshops))
            _step(watch, all_of, lot_on, changed, [len(one.cut) - 1 for one in all_of])
            lot_on = np.array([one.lot for one in all_of])
            changed = np.zeros(workshops, bool)
            for one, signals in zip(all_of, watch.signals, strict=True):
                one.told(bool(signals))
    return [one.year for one in all_of]


def _step(watch: EdgeWatch, all_of: list[Workshop], lot_on: Whole, changed: Chosen, piece: list[int]) -> None:
    """The next piece of each workshop; -1: it has none."""
    cut = [one.cut[i] for one, i in zip(all_of, piece, strict=True)]
    here = np.array([i >= 0 and one.known is not None for one, i in zip(all_of, piece, strict=True)])
    lot = np.array([c[1] for c in cut])
    new = here & ((lot != lot_on) | changed)
    watch.lot(
        new, np.array([one.error(c[1]) if n else 0.0 for one, c, n in zip(all_of, cut, new, strict=True)])
    )
    off = np.array([one.off(c) if h else np.nan for one, c, h in zip(all_of, cut, here, strict=True)])
    watch.piece(np.array([float(c[2]) for c in cut]), off, np.array([c[4] for c in cut]), here)


def _again(all_of: list[Workshop], decision: float) -> EdgeWatch:
    """What is usual is known better: every edge that is on is gone through again, from its first piece."""
    watch = EdgeWatch(WatchedBy(0.1, 0.05, 0.02, BLUNT_LOSES, GOOD_AT_FIRST, decision), len(all_of))
    for i, one in enumerate(all_of):
        if one.known is not None:
            watch.sigma[i], watch.tau[i], watch.loses[i] = one.known.sigma, one.known.tau, one.known.loses
        watch.good[i] = good_pieces(one.ended)
        watch.since[i] = one.since
    firsts = [len(one.cut) - one.edge.age for one in all_of]
    lot_on = np.full(len(all_of), -1)
    session_on = np.full(len(all_of), -1)
    for k in range(max(one.edge.age for one in all_of)):
        piece = [
            first + k if first + k < len(one.cut) else -1 for first, one in zip(firsts, all_of, strict=True)
        ]
        here = np.array([i >= 0 for i in piece])
        session = np.array([one.cut[i][3] for one, i in zip(all_of, piece, strict=True)])
        watch.session(here & (session != session_on))
        _step(watch, all_of, lot_on, np.zeros(len(all_of), bool), piece)
        lot_on = np.where(here, [one.cut[i][1] for one, i in zip(all_of, piece, strict=True)], lot_on)
        session_on = np.where(here, session, session_on)
    return watch


@dataclass
class Edge:
    onset: int
    rate: float
    set: float
    changed_early: int | None
    spoils_from: float
    spoils_by: float
    age: int = 0
    spoiled_at: int | None = None

    @property
    def rise(self) -> float:
        return min(0.6, self.rate * max(0, self.age - self.onset))

    @property
    def spoils(self) -> float:
        return self.spoils_by * max(0.0, self.rise - self.spoils_from)

    @property
    def is_off(self) -> bool:
        return self.age > self.onset

    @property
    def was_off(self) -> bool:
        """When the piece was cut that came off last."""
        return self.age > self.onset + 1

    @property
    def is_changed(self) -> bool:
        early = self.changed_early is not None and self.age >= self.changed_early
        return early or (self.spoiled_at is not None and self.age >= self.spoiled_at + 10)


def _count(found: Year, edge: Edge, told_at: int | None, chance: np.random.Generator) -> None:
    """Was it told of before the first piece that it spoils? Taken out in time, it cuts on here."""
    if not edge.is_off:
        return
    found.went_off += 1
    spoiled = edge.spoiled_at
    age = edge.age
    while spoiled is None:
        edge.age += 1
        if chance.random() < edge.spoils:
            spoiled = edge.age
    edge.age = age
    found.spoiled += 1
    if told_at is not None and told_at < spoiled:
        found.seen_first += 1
        found.ahead.append(spoiled - told_at)
        found.after_onset.append(told_at - edge.onset)


def report(workshops: int, seed: int, decision: float = DECISION, assumed: Assumed | None = None) -> str:
    found = years(workshops, seed, decision, assumed or Assumed())
    off, seen = sum(y.spoiled for y in found), sum(y.seen_first for y in found)
    vain, well = sum(y.in_vain for y in found), sum(y.pieces_well for y in found)
    ahead = [n for y in found for n in y.ahead]
    after = [n for y in found for n in y.after_onset]
    low, middle, high = np.quantile(ahead, [0.1, 0.5, 0.9]) if ahead else (0, 0, 0)
    return "\n".join(
        [
            f"{workshops} workshops, a year each; decision {decision:g}",
            f"edges that went off: {off}; seen before the first piece they spoil: {seen / max(1, off):.1%}",
            f"pieces between the two: {middle:.0f} ({low:.0f} to {high:.0f}, 8 times in 10); "
            f"{np.median(after) if after else 0:.0f} after the onset",
            f"in vain: {vain}, {20 * vain / workshops:.2f} a year in 20 workshops; once in "
            f"{well / max(1, vain):,.0f} pieces that were well",
        ]
    )


if __name__ == "__main__":
    told = [float(word) for word in sys.argv[1:4]]
    workshops, seed, piece = told + [1000, 2026, 0.10][len(told) :]
    print(f"a piece varies by {piece:.0%}")
    print(report(int(workshops), int(seed), assumed=Assumed(piece=piece)))
