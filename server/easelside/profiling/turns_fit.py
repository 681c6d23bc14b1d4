"""How many turns does a piece take, by its lot, the edge's age and the machine? Negative-binomial regression.

NB2 with a log link, by iteratively reweighted least squares, its dispersion by maximum likelihood:
J. M. Hilbe, Negative Binomial Regression, 2nd ed., Cambridge 2011, ch. 8.
"""

from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
import numpy.typing as npt
from scipy.optimize import minimize_scalar
from scipy.special import gammaln
from scipy.stats import nbinom

from easelside.errors import NotPossible
from easelside.profiling.least_squares_fit import Factors, Real, Whole

MANY = 5000
LEAST = 1e-6  # an alpha below this is Poisson


@dataclass(frozen=True)
class TurnsFit:
    """Per lot index: `centre` (log turns on a fresh edge), `error`, `pieces`. Variance: mu + alpha mu^2.

    `spread`: Pearson's chi-square by its degrees of freedom; a Poisson has 1, turns that are alike less.
    """

    centre: Real
    error: Real
    pieces: Whole
    machine: Real
    by_age: float
    alpha: float
    spread: float


def fit_turns(
    turns: npt.ArrayLike, lot: npt.ArrayLike, machine: npt.ArrayLike, age: npt.ArrayLike
) -> TurnsFit:
    """Of fully counted pieces on which turns were counted; indices as in `fit_minutes`."""
    count = np.asarray(turns, np.float64)
    lots, machines, ages = (np.asarray(each, np.int64) for each in (lot, machine, age))
    if len(count) < 3 or not np.isfinite(count).all() or count.min() < 0 or count.sum() == 0:
        raise NotPossible(detail="turns need at least three pieces, none of them below 0")
    cells = _cells(lots, machines, ages, count)
    factors = Factors(cells.lot, cells.machine, [cells.age / 100])
    histogram = np.bincount(count.astype(np.int64)).astype(np.float64)
    mean = cells.total / cells.n
    mu, alpha = np.maximum(mean, 0.3), LEAST
    found = inverse = np.zeros(0)
    for _ in range(60):
        before = alpha
        for _ in range(25):
            weight = cells.n * mu / (1 + alpha * mu)
            found, inverse = factors.solved(weight, np.log(mu) + (mean - mu) / mu)
            new = np.exp(np.clip(factors.fitted(found), -20, 20))
            done = float(np.max(np.abs(new / mu - 1))) < 1e-10
            mu = new
            if done:
                break
        alpha = _alpha(histogram, cells, mu)
        if abs(alpha - before) <= 1e-7 * max(alpha, 1e-3):
            break
    size = int(lots.max()) + 1
    first = len(factors.lots) + len(factors.machines)
    centre, error = np.full(size, np.nan), np.zeros(size)
    centre[factors.lots] = found[: len(factors.lots)]
    error[factors.lots] = np.sqrt(np.diag(inverse)[: len(factors.lots)])
    of_machine = np.zeros(max(int(machines.max()) + 1, 1))
    known = factors.machines >= 0
    of_machine[factors.machines[known]] = found[len(factors.lots) : first][known]
    degrees = max(1, len(count) - first)
    return TurnsFit(
        centre=centre,
        error=error,
        pieces=np.bincount(lots, minlength=size),
        machine=of_machine,
        by_age=float(found[first]),
        alpha=0.0 if alpha <= 2 * LEAST else alpha,
        spread=float(((cells.square - 2 * mu * cells.total + cells.n * mu**2) / mu).sum() / degrees),
    )


@dataclass(frozen=True)
class _Cells:
    """Pieces of one lot, machine and age: how many, the sum of their turns and of their squares."""

    lot: Whole
    machine: Whole
    age: Real
    n: Real
    total: Real
    square: Real


def _cells(lots: Whole, machines: Whole, ages: Whole, count: Real) -> _Cells:
    """All that the regression needs of the pieces; of more than `MANY`, ages are taken in tens."""
    age = np.where(ages >= 0, ages, 0).astype(np.float64)
    if len(ages) > MANY:
        age = np.floor(age / 10) * 10 + 4.5
    key = (lots * (machines.max() + 2) + machines + 1) * 1_000_000 + np.minimum(age * 2, 999_999).astype(
        np.int64
    )
    _, first, cell = np.unique(key, return_index=True, return_inverse=True)
    return _Cells(
        lots[first],
        machines[first],
        age[first],
        np.bincount(cell).astype(np.float64),
        np.asarray(np.bincount(cell, count), np.float64),
        np.asarray(np.bincount(cell, count**2), np.float64),
    )


def _alpha(histogram: Real, cells: _Cells, mu: Real) -> float:
    """The most likely dispersion for these means."""
    turns = np.arange(len(histogram))

    def unlikely(logarithm: float) -> float:
        size = np.exp(-logarithm)
        of_turns = histogram @ (gammaln(turns + size) - gammaln(size))
        of_cells = cells.n * size * np.log(size / (size + mu)) + cells.total * np.log(mu / (size + mu))
        return -float(of_turns + of_cells.sum())

    bounds = (np.log(LEAST), np.log(20.0))
    found = minimize_scalar(unlikely, bounds=bounds, method="bounded", options={"xatol": 1e-8})
    return float(np.exp(found.x))


def turns_range(fit: TurnsFit, lot: int, age: float, level: float = 0.9) -> tuple[float, int, int]:
    """Turns of the next piece of a lot: the mean, and the least and most that the level allows.

    The phone says it (`turnsAhead` in webclient/src/profiling/foreseen_rules.ts), held to this by
    tests/shared_cases/pace.json.
    """
    if not 0 < level < 1:
        raise NotPossible(detail="a level lies between 0 and 1")
    mean = float(np.exp(fit.centre[lot] + fit.by_age * age / 100))
    variance = mean + fit.alpha * mean**2 if fit.spread >= 1 else fit.spread * mean
    variance += (mean * float(fit.error[lot])) ** 2
    rest = (1 - level) / 2
    if variance > mean * 1.0001:
        size = mean**2 / (variance - mean)
        low, high = nbinom.ppf([rest, 1 - rest], size, size / (size + mean))
        return mean, int(low), int(high)
    reach = NormalDist().inv_cdf(1 - rest) * variance**0.5
    return mean, int(np.floor(mean - reach + 0.5)), int(np.ceil(mean + reach - 0.5))
