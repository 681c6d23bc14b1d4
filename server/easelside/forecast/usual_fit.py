"""What is usual on a machine while its edges are well? From each edge's good stretch, for the watch to go by.

The good stretch is the first pieces of every edge (the maker's own number, or half of what edges usually cut)
and all later ones but the last three batches': how an edge behaves then is what is watched.
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from easelside.profiling.least_squares_fit import least_squares

Real = npt.NDArray[np.float64]
Whole = npt.NDArray[np.integer]

LAST = 72  # pieces: an edge that goes off does so within its last three batches; common practice, no source
GOOD_AT_FIRST = 100  # pieces of an edge: half of the 200 after which a bow is looked for; common practice
HAND = 0.04  # log minutes by which a hand gets slower or faster within a session; common practice, no source
NEEDED = 24  # fully counted pieces of good stretches, before anything is watched
LOTS_DIFFER, LOTS_WORTH = 0.12, 3.0  # log minutes, as if so many lots had said so; common practice, no source
# An edge that is well costs this much for a hundred pieces, in log minutes, give or take so much. Common
# practice, no source: soft steel dulls from the first piece on.
AGE_AT_FIRST, AGE_GIVE = 0.04, 0.03
LOST_AT_FIRST, LOST_WORTH = 0.02, 50.0  # to an edge's faults; common practice, no source


@dataclass(frozen=True)
class Usual:
    """`centre`, `error` by lot index; of a lot that is not known yet: `new_centre`, `new_error`."""

    centre: Real
    error: Real
    new_centre: float
    new_error: float
    by_age: float
    sigma: float
    tau: float
    loses: float
    pieces: int

    def expected(self, lot: Whole, age: Real) -> Real:
        """Log minutes of pieces of these lots at these ages, while the edge is well."""
        return np.asarray(self._of(lot, self.centre, self.new_centre) + self.by_age * age / 100, np.float64)

    def unsure(self, lot: Whole) -> Real:
        return self._of(lot, self.error, self.new_error)

    def _of(self, lot: Whole, each: Real, new: float) -> Real:
        known = (lot >= 0) & (lot < len(each))
        found = np.where(known, each[np.clip(lot, 0, max(0, len(each) - 1))] if len(each) else new, new)
        return np.asarray(np.where(np.isfinite(found), found, new), np.float64)


def good_pieces(ended: list[int], said: float | None = None) -> int:
    """How many first pieces of an edge are taken for good: the maker's number, or half of an edge's usual."""
    if said is not None and said >= 1:
        return int(said)
    return max(40, int(np.median(ended) / 2)) if len(ended) >= 3 else GOOD_AT_FIRST


def good_stretch(edge: Whole, age: Whole, good: int, last: int = LAST) -> npt.NDArray[np.bool_]:
    """Pieces by which to judge: the first `good` of each edge, and later ones but the last that it cut."""
    so_far = np.zeros(int(edge.max(initial=-1)) + 2, np.int64)
    np.maximum.at(so_far, edge, age + 1)
    return np.asarray(age < np.maximum(good, so_far[edge] - last), np.bool_)


def usual(
    minutes: Real,
    lot: Whole,
    age: Whole,
    session: Whole,
    faulty: npt.NDArray[np.bool_],
    whole: npt.NDArray[np.bool_],
) -> Usual | None:
    """Of the pieces of good stretches on one machine; None while there are too few."""
    counted = whole & np.isfinite(minutes) & (minutes > 0) & (lot >= 0)
    if int(counted.sum()) < NEEDED:
        return None
    none = np.zeros(int(counted.sum()), np.int64)
    fit = least_squares(minutes[counted], lot[counted], none, age[counted], session[counted])
    # sessions deviate as a whole, which least squares does not know: its error is too small by this much
    crowd = counted.sum() / max(1, len(np.unique(session[counted])))
    error = fit.by_age_error * np.sqrt(1 + crowd * fit.tau**2 / fit.sigma**2)
    trust = AGE_GIVE**2 / (AGE_GIVE**2 + error**2)
    by_age = max(0.0, trust * fit.by_age + (1 - trust) * AGE_AT_FIRST)
    centre = fit.centre + (fit.by_age - by_age) * _mean_age(lot[counted], age[counted], len(fit.centre)) / 100
    known = np.isfinite(centre) & (fit.pieces >= 6)
    centre[~known] = np.nan
    of_lots = centre[known] if known.any() else np.array([float(np.log(minutes[counted]).mean())])
    own = float(((of_lots - of_lots.mean()) ** 2).sum())
    differ = np.sqrt((LOTS_WORTH * LOTS_DIFFER**2 + own) / (LOTS_WORTH + len(of_lots) - 1))
    lost = float(faulty.sum())
    return Usual(
        centre=centre,
        error=fit.error,
        new_centre=float(of_lots.mean()),
        new_error=float(differ),
        by_age=float(by_age),
        sigma=float(np.hypot(fit.sigma, HAND)),
        tau=fit.tau,
        loses=(lost + LOST_AT_FIRST * LOST_WORTH) / (len(faulty) + LOST_WORTH),
        pieces=int(counted.sum()),
    )


def _mean_age(lot: Whole, age: Whole, lots: int) -> Real:
    n = np.bincount(lot, minlength=lots)
    return np.asarray(np.bincount(lot, age, lots) / np.maximum(n, 1), np.float64)
