"""Does hard cane blunt an edge sooner, and how much sooner?"""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from easelside.blades.fit import fit_life
from easelside.errors import NotPossible

Real = npt.NDArray[np.float64]
PRIOR_SD = 2.0  # of the power: hardly anything is known beforehand, and nothing of its sign
TELLS_FROM = 0.6  # of that: a power known less well than this says nothing yet
STEEPEST = 6.0
STEPS = 49
FEWEST_ENDED = 6


@dataclass(frozen=True)
class Wear:
    """A piece wears an edge exp(power * hardness) times as much as one of ordinary cane (hardness 0)."""

    power: float
    power_interval: tuple[float, float]
    level: float

    def of(self, hardness: float) -> float:
        """How many ordinary pieces one of this hardness counts for."""
        return math.exp(self.power * hardness)


def hardness_of_lots(
    minutes: Real, lot: npt.NDArray[np.int32], age: Real, lots: int, fewest: int = 10
) -> Real:
    """How hard each lot is: the logarithm of its minutes a piece over what is usual, at edges of one age.

    Columns of fully counted pieces. 0 for a lot of which fewer than `fewest` were timed: it counts as
    ordinary.
    """
    told = np.isfinite(minutes) & (minutes > 0) & (lot >= 0)
    y, x, of = np.log(minutes[told]), age[told], lot[told]
    n = np.bincount(of, minlength=lots).astype(np.float64)
    seen = n > 0
    mean_x, mean_y = np.zeros(lots), np.zeros(lots)
    mean_x[seen] = np.bincount(of, x, lots)[seen] / n[seen]
    mean_y[seen] = np.bincount(of, y, lots)[seen] / n[seen]
    within = x - mean_x[of]
    spread = float((within**2).sum())
    slope = float((within * (y - mean_y[of])).sum()) / spread if spread > 0 else 0.0
    level = mean_y - slope * mean_x
    enough = n >= fewest
    if not enough.any():
        return np.zeros(lots)
    usual = float(np.median(np.repeat(level[enough], n[enough].astype(int))))
    return np.where(enough, level - usual, 0.0)


def fit_wear(
    cut: Real,
    ended: npt.NDArray[np.bool_],
    last_lot: npt.NDArray[np.int32],
    hardness: Real,
    level: float = 0.9,
) -> Wear | None:
    """The power by which hardness wears edges; None while the records do not tell.

    `cut`: pieces by edge and lot; `last_lot`: the one that each edge cut last; `hardness` by lot. An
    accelerated life: wear adds up over the lots, and edges last as a Weibull law of that wear says. Profile
    likelihood with a wide prior, laid out over the power.
    """
    if int(ended.sum()) < FEWEST_ENDED or not (np.abs(hardness[cut.sum(axis=0) > 0]) > 0).any():
        return None
    power = np.linspace(-STEEPEST, STEEPEST, STEPS)
    log = np.array([_log_likelihood(p, cut, ended, last_lot, hardness) for p in power])
    if not np.isfinite(log).any():
        return None
    weight = np.exp(log - np.nanmax(log) - 0.5 * (power / PRIOR_SD) ** 2)
    weight = np.where(np.isfinite(weight), weight, 0.0)
    weight /= weight.sum()
    mean = float((weight * power).sum())
    sd = math.sqrt(float((weight * (power - mean) ** 2).sum()))
    if sd > TELLS_FROM * PRIOR_SD:
        return None
    so_far = np.cumsum(weight) - weight / 2
    lower, upper = (float(np.interp(q, so_far, power)) for q in ((1 - level) / 2, (1 + level) / 2))
    return Wear(mean, (lower, upper), level)


def _log_likelihood(
    power: float, cut: Real, ended: npt.NDArray[np.bool_], last_lot: npt.NDArray[np.int32], hardness: Real
) -> float:
    worn = cut @ np.exp(power * hardness)
    kept = worn > 0
    try:
        fit = fit_life(worn[kept].tolist(), ended[kept].tolist())
    except NotPossible:
        return -math.inf
    # An edge ends within the pieces of its last lot: one of them is exp(power * hardness) ordinary ones.
    over = ended & kept & (last_lot >= 0)
    return fit.log_likelihood + power * float(hardness[last_lot[over]].sum())
