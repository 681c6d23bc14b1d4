"""Is this edge going off? A CUSUM of what speaks for it, piece by piece, against an edge that goes on well.

Each supposition is an onset (every `STEP` pieces) and a rate at which log minutes rise from there on. Its sum
is the logarithm of how much likelier it makes the minutes and the losses than an edge that is well; what a
session adds to all of its pieces, and a lot to all of its sessions, is integrated out: it is not counted
against the edge. The largest sum signals: a generalised likelihood ratio (T. L. Lai, J. Royal Statistical
Society B 57 (1995) 613-658).

Arrays have a row for each edge that is looked at side by side; the phone does one at a time
(`foreseen_watch_rules.ts`).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Real = npt.NDArray[np.float64]
Chosen = npt.NDArray[np.bool_]

STEP, SLOTS = 6, 24  # onsets every 6 pieces, over the last 144
RATES = np.array([0.004, 0.008, 0.016, 0.04])  # log minutes a piece
MOST = 0.5  # log minutes: an edge that cuts so slowly is off, however much worse it gets
DRAWN_IN = 3.0  # sigmas: what lies farther from the expected counts as this
ODD, ODD_MINUTES = 4.0, 0.55  # sigmas, log minutes: what lies beyond both says nothing of the edge
RARELY = (
    2.3  # log odds: edges go off ten times more rarely within their good pieces; common practice, no source
)
SET = 0.03  # log minutes: edges differ by how they were set; common practice, no source
LEAST_RISE = 0.08  # log minutes: less is no reason to look at an edge


@dataclass(frozen=True)
class WatchedBy:
    """`sigma`, `tau`: log minutes within and between sessions; `loses`: the usual share lost to what a blunt
    edge does; `blunt_loses`: what a rise of 1 in log minutes adds to it; `good`: an edge's first pieces, in
    which it seldom goes off; `decision`: the sum that signals."""

    sigma: float
    tau: float
    loses: float
    blunt_loses: float
    good: float
    decision: float


class EdgeWatch:
    """The sums of some edges, each from its first piece on."""

    def __init__(self, by: WatchedBy, edges: int = 1) -> None:
        parts = (by.sigma, by.tau, by.loses, by.good)
        self.sigma, self.tau, self.loses, self.good = (np.full(edges, float(part)) for part in parts)
        self.blunt_loses, self.decision = by.blunt_loses, by.decision
        hypotheses = (edges, SLOTS, len(RATES))
        self.start = np.full((edges, SLOTS), -1.0)
        # onsets before this age are not looked at: the edge was seen to be straight
        self.since = np.zeros(edges)
        self.for_it, self.against = (np.zeros(hypotheses) for _ in range(2))
        self.besides = np.zeros(
            hypotheses
        )  # what speaks for it besides minutes: losses, and how it is beforehand
        self.a, self.b, self.c = (np.zeros(hypotheses) for _ in range(3))  # of the session that is on
        self.n, self.s = np.zeros(edges), np.zeros(edges)
        self.u = np.zeros(hypotheses)  # of the lot's sessions that are over
        self.p, self.t, self.v = np.zeros(edges), np.zeros(edges), np.full(edges, SET**2)
        self.total, self.onset, self.rise = np.zeros(edges), np.full(edges, -1.0), np.zeros(edges)

    def session(self, which: Chosen) -> None:
        """A new session begins on these edges."""
        w = which[:, None, None]
        n, d, u, p, t = self._with_session()
        self.for_it, self.against, self.u = (
            np.where(w, new, old) for new, old in ((n, self.for_it), (d, self.against), (u, self.u))
        )
        self.p, self.t = np.where(which, p, self.p), np.where(which, t, self.t)
        for part in (self.a, self.b, self.c, self.n, self.s):
            part[which] = 0

    def lot(self, which: Chosen, error: Real) -> None:
        """Another lot begins on these edges; `error`: how well its usual minutes are known."""
        self.session(which)
        w = which[:, None, None]
        k = (self.v / (1 + self.v * self.p))[:, None, None]
        self.for_it = np.where(w, self.for_it - k * self.u * self.t[:, None, None], self.for_it)
        self.against = np.where(w, self.against - k * self.u**2, self.against)
        for part in (self.u, self.p, self.t):
            part[which] = 0
        self.v = np.where(which, SET**2 + error**2, self.v)

    def _with_session(self) -> tuple[Real, Real, Real, Real, Real]:
        """The sums with the session that is on: its own deviation integrated out."""
        square, between = self.sigma**2, self.tau**2
        whole = square + self.n * between
        k = (between / (square * whole))[:, None, None]
        s, each = self.s[:, None, None], square[:, None, None]
        n = self.for_it + self.a / each - k * self.b * s
        d = self.against + self.c / each - k * self.b**2
        return n, d, self.u + self.b / whole[:, None, None], self.p + self.n / whole, self.t + self.s / whole

    def _open(self) -> tuple[Real, Real]:
        """What speaks for each supposition, and its weight: the lot that is on integrated out as well."""
        n, d, u, p, t = self._with_session()
        k = (self.v / (1 + self.v * p))[:, None, None]
        return n - k * u * t[:, None, None], d - k * u**2

    def _expected(self) -> tuple[Real, Real]:
        """Log minutes of the next piece less the usual, as the lot's and the session's pieces so far lead to
        expect of an edge that is well; and its standard deviation."""
        square, between = self.sigma**2, self.tau**2
        whole = square + self.n * between
        lot = self.v / (1 + self.v * (self.p + self.n / whole))
        part = square / whole
        expected = part * lot * (self.t + self.s / whole) + between * self.s / whole
        return expected, np.sqrt(square + between * part + lot * part**2)

    def looked_at(self, which: Chosen, age: Real) -> None:
        """The edge was looked at and found straight: what came before does not count."""
        self.since = np.where(which, age, self.since)
        self.start[which] = -1
        self.total[which] = self.rise[which] = 0

    def piece(self, age: Real, off: Real, lost: Chosen, here: Chosen) -> None:
        """A piece on each edge that is `here`: its edge's age, its log minutes less the usual (nan: not
        counted fully), and whether it was lost to what a blunt edge does."""
        round_trip = float(STEP * SLOTS)
        first = STEP * np.arange(SLOTS)[None, :]
        start = first + round_trip * np.floor((age[:, None] - first) / round_trip)
        start = np.where(start >= self.since[:, None], start, -1.0)
        fresh = (start != self.start) & here[:, None]
        for part in (self.for_it, self.against, self.a, self.b, self.c, self.u):
            part[fresh] = 0
        beforehand = np.where(start < self.good[:, None], -RARELY, 0.0)[:, :, None]
        self.besides = np.where(fresh[:, :, None], beforehand, self.besides)
        self.start = np.where(here[:, None], start, self.start)
        ramp = RATES * (age[:, None, None] - self.start[:, :, None] + 1)
        ramp = np.where(self.start[:, :, None] >= 0, np.clip(ramp, 0, MOST), 0.0) * here[:, None, None]
        expected, spread = self._expected()
        from_it = np.nan_to_num(off) - expected
        told = here & np.isfinite(off) & (np.abs(from_it) <= np.maximum(ODD * spread, ODD_MINUTES))
        e = np.where(told, expected + np.clip(from_it, -DRAWN_IN * spread, DRAWN_IN * spread), 0.0)
        with_minutes = ramp * told[:, None, None]
        self.a += with_minutes * e[:, None, None]
        self.b += with_minutes
        self.c += with_minutes**2
        self.n += told
        self.s += e
        usual = self.loses[:, None, None]
        p = np.minimum(usual + self.blunt_loses * ramp, 0.9)
        more = np.where(lost[:, None, None], np.log(p / usual), np.log((1 - p) / (1 - usual)))
        self.besides += more * here[:, None, None]
        self._largest(ramp, here)

    def _largest(self, ramp: Real, here: Chosen) -> None:
        n, d = self._open()
        sums = np.where(self.start[:, :, None] >= 0, n - d / 2 + self.besides, 0.0).reshape(len(here), -1)
        at = sums.argmax(axis=1)
        rows = np.arange(len(here))
        scale = n.reshape(len(here), -1)[rows, at] / np.maximum(d.reshape(len(here), -1)[rows, at], 1e-9)
        rise = np.clip(ramp.reshape(len(here), -1)[rows, at] * np.clip(scale, 0, 3), 0, 1.0)
        self.total = np.where(here, sums[rows, at], self.total)
        self.onset = np.where(here, self.start[rows, at // len(RATES)], self.onset)
        self.rise = np.where(here, rise, self.rise)

    @property
    def signals(self) -> Chosen:
        return (self.total > self.decision) & (self.rise >= LEAST_RISE)


@dataclass(frozen=True)
class Cut:
    """A piece on the edge: its edge's age, its lot, the session, whether the edge was found straight before
    that session; log minutes less the usual (nan: not fully counted) and how well the lot is known."""

    age: float
    lot: str
    session: str
    straight: bool
    off: float
    error: float
    lost: bool


@dataclass(frozen=True)
class Found:
    """`named`: the age at which it was named first, and still is; `onset`: since when it rises, by so many
    log minutes by now; `total`: the sum by now."""

    named: int | None
    onset: int | None
    rise: float
    total: float


def watch_edge(by: WatchedBy, cuts: Sequence[Cut]) -> Found:
    """One edge, from its first piece on. Once named it stays so, until it was found straight."""
    watch, here = EdgeWatch(by), np.ones(1, np.bool_)
    session = lot = ""
    named: int | None = None
    for cut in cuts:
        age = np.array([cut.age])
        if cut.session != session:
            if named is not None and cut.straight:
                watch.looked_at(here, age)
                named = None
            watch.session(here)
        if cut.lot != lot:
            watch.lot(here, np.array([cut.error]))
        session, lot = cut.session, cut.lot
        watch.piece(age, np.array([cut.off]), np.array([cut.lost]), here)
        if named is None and watch.signals[0]:
            named = int(cut.age)
    onset = int(watch.onset[0])
    return Found(named, onset if onset >= 0 else None, float(watch.rise[0]), float(watch.total[0]))
