"""Which pieces tell of the pace, and what do they say by themselves? Least squares on log minutes.

With a factor for lot and machine, from sums over all pieces at once; odd values are left out by their
distance from what is usual; how much sessions differ comes from a one-way analysis of variance. `fit` goes
on from here.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from easelside.errors import NotPossible
from easelside.profiling.pace import LONG_USED

Real = npt.NDArray[np.float64]
Whole = npt.NDArray[np.integer]
ODD = 5.0  # so many sigmas from what is usual, a value says nothing of the cane
# Sessions of one maker and lot differ by about this much in log minutes; it counts as so many
# sessions (degrees of freedom) of the maker's own. Common practice, no source.
TAU_AT_FIRST, WORTH = 0.07, 4.0


@dataclass(frozen=True)
class LeastSquares:
    """Per lot index (nan and 0 where there is no piece): `centre`, `error` (at its pieces' age), `pieces`.

    `machine`: log minutes that each adds to the one with the most pieces, for which the centres hold.
    """

    centre: Real
    error: Real
    pieces: Whole
    machine: Real
    by_age: float
    by_age_error: float
    by_long_use: float
    sigma: float
    tau: float
    degrees: float
    used: npt.NDArray[np.bool_]


class Factors:
    """Normal equations of two factors (lot, machine) and some columns, by sums: no design matrix."""

    def __init__(self, lot: Whole, machine: Whole, columns: list[Real]) -> None:
        self.lots, self.lot = np.unique(lot, return_inverse=True)
        self.machines, self.at = np.unique(machine, return_inverse=True)
        self.columns = columns
        self.size = len(self.lots) + len(self.machines) + len(columns)
        # the machine with the most pieces is the one that others are held against
        self.usual = int(np.bincount(self.at).argmax())

    def products(self, weight: Real, value: Real) -> tuple[Real, Real]:
        """X'WX and X'Wy; in the order lots, machines, columns."""
        lots, machines = len(self.lots), len(self.machines)
        left = np.zeros((self.size, self.size))
        right = np.zeros(self.size)
        own, other = slice(0, lots), slice(lots, lots + machines)
        left[own, own] = np.diag(np.bincount(self.lot, weight, lots))
        left[other, other] = np.diag(np.bincount(self.at, weight, machines))
        both = np.bincount(self.lot * machines + self.at, weight, lots * machines).reshape(lots, machines)
        left[own, other], left[other, own] = both, both.T
        weighted = weight * value
        right[own], right[other] = (
            np.bincount(self.lot, weighted, lots),
            np.bincount(self.at, weighted, machines),
        )
        for i, column in enumerate(self.columns, start=lots + machines):
            by = weight * column
            left[own, i] = left[i, own] = np.bincount(self.lot, by, lots)
            left[other, i] = left[i, other] = np.bincount(self.at, by, machines)
            for k, second in enumerate(self.columns[: i - lots - machines + 1], start=lots + machines):
                left[i, k] = left[k, i] = float(by @ second)
            right[i] = float(by @ value)
        return left, right

    def free(self) -> npt.NDArray[np.bool_]:
        """All but the machine that others are held against."""
        return np.asarray(np.arange(self.size) != len(self.lots) + self.usual, np.bool_)

    def solved(self, weight: Real, value: Real) -> tuple[Real, Real]:
        """Coefficients (lots, machines, columns) of weighted least squares, and the inverse of X'WX."""
        left, right = self.products(weight, value)
        free = np.ix_(self.free(), self.free())
        inverse = np.zeros_like(left)
        inverse[free] = np.linalg.pinv(left[free], hermitian=True)
        return inverse @ right, inverse

    def sums(self, group: Whole, groups: int) -> Real:
        """The design's rows added up by group: groups x (lots, machines, columns)."""
        of = [
            np.bincount(group * size + each, minlength=groups * size).reshape(groups, size)
            for each, size in ((self.lot, len(self.lots)), (self.at, len(self.machines)))
        ]
        of += [np.bincount(group, column, groups)[:, None] for column in self.columns]
        return np.asarray(np.hstack(of), np.float64)

    def fitted(self, coefficients: Real) -> Real:
        lots, machines = len(self.lots), len(self.machines)
        found = coefficients[:lots][self.lot] + coefficients[lots : lots + machines][self.at]
        for b, column in zip(coefficients[lots + machines :], self.columns, strict=True):
            found = found + b * column
        return np.asarray(found, np.float64)


def columns_of(age: Whole) -> list[Real]:
    """The edge's age in hundreds; and that beyond `LONG_USED`, once there are enough such pieces to tell."""
    hundreds = np.asarray(age, np.float64) / 100
    long = np.maximum(0.0, hundreds - LONG_USED / 100)
    return [hundreds, long] if int((long > 0).sum()) >= 30 else [hundreds]


def least_squares(
    minutes: npt.ArrayLike,
    lot: npt.ArrayLike,
    machine: npt.ArrayLike,
    age: npt.ArrayLike,
    session: npt.ArrayLike | None = None,
    robust: bool = True,
) -> LeastSquares:
    """Of fully counted pieces: minutes; the index of each one's lot, machine, session; the edge's age."""
    took = np.asarray(minutes, np.float64)
    if len(took) < 3 or not (np.isfinite(took).all() and (took > 0).all()):
        raise NotPossible(detail="the pace needs at least three pieces with minutes above 0")
    lots, machines = np.asarray(lot, np.int64), np.asarray(machine, np.int64)
    ages = np.asarray(age, np.int64)
    if not len(took) == len(lots) == len(machines) == len(ages) or lots.min() < 0 or ages.min() < 0:
        raise NotPossible(detail="each piece has to have a lot and an edge's age of 0 or more")
    sessions = np.zeros(len(took), np.int64) if session is None else np.asarray(session, np.int64)
    value = np.log(took)
    keep = _usual(value, lots) if robust else np.ones(len(value), bool)
    for again in (True, True, False):
        factors = Factors(lots[keep], machines[keep], columns_of(ages[keep]))
        found, inverse = factors.solved(np.ones(int(keep.sum())), value[keep])
        left = value[keep] - factors.fitted(found)
        rank = max(1, np.linalg.matrix_rank(inverse))
        degrees = max(1.0, len(left) - float(rank))
        sigma = float(np.sqrt(left @ left / degrees))
        far = np.abs(left) > ODD * sigma
        if not (robust and again and far.any()):
            break
        keep[np.flatnonzero(keep)[far]] = False
    within, tau, between = _sessions(left, sessions[keep], degrees, session is not None)
    size, machine_size = int(lots.max()) + 1, max(int(machines.max()) + 1, 1)
    centre, pieces = np.full(size, np.nan), np.bincount(lots[keep], minlength=size)
    centre[factors.lots] = found[: len(factors.lots)]
    of_machine = np.zeros(machine_size)
    known = factors.machines >= 0
    of_machine[factors.machines[known]] = found[len(factors.lots) :][: len(factors.machines)][known]
    slopes = found[len(factors.lots) + len(factors.machines) :]
    first = len(factors.lots) + len(factors.machines)
    return LeastSquares(
        centre=centre,
        error=_errors(pieces, lots[keep], sessions[keep], within, tau),
        pieces=pieces,
        machine=of_machine,
        by_age=float(slopes[0]),
        by_age_error=float(sigma * np.sqrt(inverse[first, first])),
        by_long_use=float(slopes[1]) if len(slopes) > 1 else 0.0,
        sigma=within,
        tau=tau,
        degrees=min(degrees, max(6.0, WORTH + between)),
        used=keep,
    )


def _usual(value: Real, lots: Whole) -> npt.NDArray[np.bool_]:
    """What lies within reach of its lot's median: a kettle boiled meanwhile is no slow piece."""
    order = np.lexsort((value, lots))
    starts = np.flatnonzero(np.r_[True, np.diff(lots[order]) != 0])
    sizes = np.diff(np.r_[starts, len(order)])
    middle = value[order][starts + sizes // 2]
    off = value[order] - np.repeat(middle, sizes)
    spread = max(1.4826 * float(np.median(np.abs(off))), 0.02)
    keep = np.ones(len(value), bool)
    keep[order] = np.abs(off) <= 1.6 * ODD * spread
    return keep


def _sessions(left: Real, sessions: Whole, degrees: float, told: bool) -> tuple[float, float, float]:
    """Spread of a piece within its session, spread of sessions, and how many sessions that rests on."""
    _, of = np.unique(sessions, return_inverse=True)
    n = np.bincount(of).astype(np.float64)
    means = np.bincount(of, left) / n
    if not told or len(n) < 2 or len(left) <= len(n):
        return float(np.sqrt(left @ left / degrees)), TAU_AT_FIRST, 0.0
    inside = left - means[of]
    within = float(inside @ inside) / max(1.0, degrees - (len(n) - 1))
    between = float(n @ means**2) / (len(n) - 1)
    each = (n.sum() - (n @ n) / n.sum()) / (len(n) - 1)
    own = max(0.0, (between - within) / each)
    count = float(len(n) - 1)
    tau = np.sqrt((WORTH * TAU_AT_FIRST**2 + count * own) / (WORTH + count))
    return float(np.sqrt(within)), float(tau), count


def _errors(pieces: Whole, lots: Whole, sessions: Whole, sigma: float, tau: float) -> Real:
    """Standard error of a lot's centre: its pieces, and the sessions that they came in."""
    wide = int(sessions.max()) + 2
    pairs, n = np.unique(lots * wide + sessions + 1, return_counts=True)
    squares = np.bincount(pairs // wide, n.astype(np.float64) ** 2, len(pieces))
    many = np.maximum(pieces, 1).astype(np.float64)
    return np.asarray(np.sqrt(sigma**2 / many + tau**2 * squares / many**2), np.float64)
