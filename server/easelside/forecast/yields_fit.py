"""How good is a lot that was never cut, judging by how much the lots so far differ?"""

from collections.abc import Sequence

import numpy as np
from scipy.optimize import minimize
from scipy.special import betaincinv, betaln, expit

from easelside.forecast.shares import JEFFREYS, Share

USUAL_LIKENESS = 30.0  # lots as alike as 30 pieces of one would show, give or take; no source, soon overruled
ITS_SPREAD = 1.0  # of the logarithm


def between_lots(counts: Sequence[tuple[int, int]]) -> Share:
    """
    The share of good ones in a lot to come, from (good, tried) of each lot so far.

    Beta-binomial, its most likely parameters under a weak prior on how alike lots are; with no lot at all
    the prior of Jeffreys.
    """
    seen = np.array([(good, tried) for good, tried in counts if tried > 0], float)
    if not len(seen):
        return Share(JEFFREYS, JEFFREYS)
    good, lost = seen[:, 0], seen[:, 1] - seen[:, 0]

    def unlikely(at: np.ndarray[tuple[int], np.dtype[np.float64]]) -> float:
        mean, together = expit(at[0]), np.exp(at[1])
        a, b = mean * together, (1 - mean) * together
        of_lots = float(np.sum(betaln(good + a, lost + b) - betaln(a, b)))
        of_prior = JEFFREYS * (np.log(mean) + np.log1p(-mean))  # Jeffreys on the scale of the logit
        of_prior -= (at[1] - np.log(USUAL_LIKENESS)) ** 2 / (2 * ITS_SPREAD**2)
        return -(of_lots + float(of_prior))

    start = [np.log((good.sum() + JEFFREYS) / (lost.sum() + JEFFREYS)), np.log(USUAL_LIKENESS)]
    found = minimize(unlikely, start, method="Nelder-Mead", options={"xatol": 1e-4, "fatol": 1e-6})
    mean, together = float(expit(found.x[0])), float(np.exp(found.x[1]))
    return Share(mean * together, (1 - mean) * together)


def share_range(share: Share, level: float) -> tuple[float, float]:
    """Between which shares the true one lies as often as `level` says, equal tails."""
    lower, upper = betaincinv(share.a, share.b, [(1 - level) / 2, (1 + level) / 2])
    return float(lower), float(upper)
