"""How long does a piece take, by its lot, the edge's age and the machine, and how well is that known?

Log minutes: a lot's centre, what the machine adds, what the edge's age costs, the session's deviation, the
piece's. Generalised least squares for sessions that deviate as a whole (S. R. Searle, G. Casella, C. E.
McCulloch, Variance Components, Wiley 1992, ch. 5 and 7), with what is known of edges and machines beforehand:
while every lot was cut on a different part of one edge, what comes of the lot and what of the age cannot be
told apart by the pieces alone.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from easelside.profiling.least_squares_fit import Factors, Real, Whole, least_squares
from easelside.profiling.pace import LONG_USED
from easelside.profiling.pace import Ahead as Ahead
from easelside.profiling.pace import Pace as Pace
from easelside.profiling.pace import Sharpness as Sharpness
from easelside.profiling.pace import minutes_ahead as minutes_ahead
from easelside.profiling.pace import sharpness as sharpness

# Log minutes for a hundred pieces of an edge's age, and more beyond `LONG_USED`: at first, give or take so
# much (standard deviations). Common practice, no source: soft steel dulls from the first piece on.
AGE_AT_FIRST, AGE_GIVE = 0.05, 0.04
LONG_AT_FIRST, LONG_GIVE = 0.0, 0.08
# Sessions of one maker and lot differ by this share of what pieces do, between these bounds in log minutes;
# it counts as so many sessions (degrees of freedom) of the maker's own. Common practice, no source.
TAU_SHARE, TAU_LEAST, TAU_MOST, WORTH, FEWEST = 0.6, 0.03, 0.06, 4.0, 8.0
MACHINES_DIFFER = 0.2  # log minutes, of one hand's machines; common practice, no source
LEAST_SIGMA = 0.005  # log minutes: where all pieces are noted in whole minutes alike


def tau_at_first(sigma: float) -> float:
    """How sessions differ, while next to none are known, by how pieces do."""
    return min(TAU_MOST, max(TAU_LEAST, TAU_SHARE * sigma))


@dataclass(frozen=True)
class MinutesFit:
    """Per lot index (nan and 0 where there is no piece): `centre`, `error`, `pieces`. Else as in `Pace`.

    `machine`: log minutes that each adds to the one with the most pieces, for which the centres hold.
    `covariance`: of lots, machines and the two slopes, in this order; `lot_at`, `machine_at`: the place
    of each (-1: none).
    """

    centre: Real
    error: Real
    pieces: Whole
    machine: Real
    by_age: float
    by_long_use: float
    sigma: float
    tau: float
    degrees: float
    used: npt.NDArray[np.bool_]
    covariance: Real
    lot_at: Whole
    machine_at: Whole

    def pace(self, lot: int, machine: int = -1) -> Pace:
        return self.pace_of(self.share([lot]), machine)

    def share(self, lots: list[int]) -> Real:
        """Of these lots together, each one's share by its pieces."""
        share = np.zeros(len(self.centre))
        share[lots] = self.pieces[lots] / self.pieces[lots].sum()
        return share

    def pace_of(self, share: Real, machine: int = -1) -> Pace:
        """Of lots taken together, each with its share (they add up to 1)."""
        row = self._row(share)
        is_known = 0 <= machine < len(self.machine) and self.machine_at[machine] >= 0
        if is_known:
            row[self.machine_at[machine]] = 1
        known = share != 0
        adds = float(self.machine[machine]) if is_known else 0.0
        with_slopes = row @ self.covariance[:, -2:]
        slopes = self.covariance[-2:, -2:]
        return Pace(
            centre=float(share[known] @ self.centre[known]) + adds,
            error=float(np.sqrt(row @ self.covariance @ row)),
            by_age=self.by_age,
            by_long_use=self.by_long_use,
            sigma=self.sigma,
            tau=self.tau,
            degrees=self.degrees,
            with_slopes=(float(with_slopes[0]), float(with_slopes[1])),
            slopes=(float(slopes[0, 0]), float(slopes[0, 1]), float(slopes[1, 1])),
        )

    def beside(self, lot: int, others: list[int]) -> tuple[float, float]:
        """By how many log minutes a lot is slower than others (by their pieces), and the standard error."""
        share = self.share([lot]) - self.share(others)
        row, known = self._row(share), share != 0
        return float(share[known] @ self.centre[known]), float(np.sqrt(row @ self.covariance @ row))

    def _row(self, share: Real) -> Real:
        row = np.zeros(len(self.covariance))
        known = self.lot_at >= 0
        row[self.lot_at[known]] = share[known]
        return row


def fit_minutes(
    minutes: npt.ArrayLike,
    lot: npt.ArrayLike,
    machine: npt.ArrayLike,
    age: npt.ArrayLike,
    session: npt.ArrayLike | None = None,
    robust: bool = True,
) -> MinutesFit:
    """Of fully counted pieces: minutes; the index of each one's lot, machine, session; the edge's age."""
    used = least_squares(minutes, lot, machine, age, session, robust).used
    value = np.log(np.asarray(minutes, np.float64)[used])
    lots, machines = np.asarray(lot, np.int64), np.asarray(machine, np.int64)
    hundreds = np.asarray(age, np.float64)[used] / 100
    columns = [hundreds, np.maximum(0.0, hundreds - LONG_USED / 100)]
    factors = Factors(lots[used], machines[used], columns)
    sessions = np.zeros(len(value), np.int64) if session is None else np.asarray(session, np.int64)[used]
    crowd = _Crowd.of(factors, sessions, value)
    sigma, tau, between, degrees = crowd.spreads(session is not None)
    found, covariance = crowd.solved(max(sigma, LEAST_SIGMA), tau)
    size, first = int(lots.max()) + 1, len(factors.lots)
    centre, error, lot_at = np.full(size, np.nan), np.zeros(size), np.full(size, -1)
    lot_at[factors.lots] = np.arange(first)
    centre[factors.lots] = found[:first]
    error[factors.lots] = np.sqrt(np.diag(covariance)[:first])
    of_machine = np.zeros(max(int(machines.max()) + 1, 1))
    machine_at = np.full(len(of_machine), -1)
    known = factors.machines >= 0
    machine_at[factors.machines[known]] = first + np.flatnonzero(known)
    of_machine[factors.machines[known]] = found[first:-2][known]
    return MinutesFit(
        centre=centre,
        error=error,
        pieces=np.bincount(lots[used], minlength=size),
        machine=of_machine,
        by_age=float(found[-2]),
        by_long_use=float(found[-1]),
        sigma=sigma,
        tau=tau,
        degrees=min(degrees, max(FEWEST, WORTH + between)),
        used=used,
        covariance=covariance,
        lot_at=lot_at,
        machine_at=machine_at,
    )


@dataclass(frozen=True)
class _Crowd:
    """The normal equations, and their parts by session: `rows` (the design's, added up), `n`, `off`.

    `left`, `inverse` (of X'X), `residual` and `off` (its sums by session) are of ordinary least squares.
    """

    factors: Factors
    left: Real
    right: Real
    inverse: Real
    residual: Real
    rows: Real
    n: Real
    value: Real
    off: Real

    @staticmethod
    def of(factors: Factors, sessions: Whole, value: Real) -> "_Crowd":
        _, at = np.unique(sessions, return_inverse=True)
        n = np.bincount(at).astype(np.float64)
        one = np.ones(len(value))
        left, right = factors.products(one, value)
        found, inverse = factors.solved(one, value)
        residual = value - factors.fitted(found)
        return _Crowd(
            factors,
            left,
            right,
            inverse,
            residual,
            factors.sums(at, len(n)),
            n,
            np.bincount(at, value).astype(np.float64),
            np.bincount(at, residual).astype(np.float64),
        )

    def spreads(self, told: bool) -> tuple[float, float, float, float]:
        """Of a piece within its session, and of sessions; the degrees of freedom of sessions, and of pieces.

        Henderson's method 3: what sessions explain beyond lots, machines and age, against what is left.
        """
        rest = float(self.residual @ self.residual)
        degrees = max(1.0, len(self.residual) - float(np.linalg.matrix_rank(self.inverse)))
        free = self.factors.free()
        rows = self.rows[:, free]
        inside = self.left[np.ix_(free, free)] - rows.T @ (rows / self.n[:, None])
        roots, turned = np.linalg.eigh(inside)
        some = roots > 1e-9 * max(1.0, float(self.left.max()))
        along = turned[:, some].T @ (rows.T @ (self.off / self.n))
        within = rest - float(self.off @ (self.off / self.n)) - float(along @ (along / roots[some]))
        between = len(self.n) + int(some.sum()) - int(np.linalg.matrix_rank(self.inverse))
        if not told or between < 1 or degrees - between < 1:
            sigma = float(np.sqrt(rest / degrees))
            return sigma, tau_at_first(sigma), 0.0, degrees
        square = max(0.0, within) / (degrees - between)
        each = float(self.n.sum() - np.sum(self.inverse[np.ix_(free, free)] * (rows.T @ rows)))
        own = max(0.0, (rest - within - square * between) / max(each, 1e-9))
        tau = np.sqrt((WORTH * tau_at_first(float(np.sqrt(square))) ** 2 + between * own) / (WORTH + between))
        return float(np.sqrt(square)), float(tau), float(between), degrees

    def solved(self, sigma: float, tau: float) -> tuple[Real, Real]:
        """Coefficients (lots, machines, slopes) and their covariance, with what is known beforehand."""
        share = tau**2 / (sigma**2 + self.n * tau**2)
        left = (self.left - self.rows.T @ (self.rows * share[:, None])) / sigma**2
        right = (self.right - self.rows.T @ (self.value * share)) / sigma**2
        lots, machines = len(self.factors.lots), len(self.factors.machines)
        known = np.r_[np.zeros(lots), np.full(machines, MACHINES_DIFFER**-2), AGE_GIVE**-2, LONG_GIVE**-2]
        left[np.diag_indices_from(left)] += known
        right[-2:] += known[-2:] * [AGE_AT_FIRST, LONG_AT_FIRST]
        free = np.ix_(self.factors.free(), self.factors.free())
        covariance = np.zeros_like(left)
        covariance[free] = np.linalg.inv(left[free])
        return covariance @ right, covariance
