"""How large is the share of good ones, and how sure is that?

A share that is known is a number; one that was seen is (good, tried), taken with the prior of Jeffreys, beta
(1/2, 1/2).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from numbers import Integral
from statistics import NormalDist
from typing import NamedTuple, TypeAlias

from easelside.arguments import above_zero, number, several, whole
from easelside.arguments import chance as chance_between
from easelside.errors import NotPossible
from easelside.forecast.beta import beta_quantile

Yield: TypeAlias = float | tuple[float, float]

MOST_TRIED = 10_000_000  # pieces
MOST_STAGES = 20
JEFFREYS = 0.5  # the prior counts as half a good piece and half a lost one


class Interval(NamedTuple):
    lower: float
    upper: float


@dataclass(frozen=True)
class Share:
    """A share of good ones that is not known exactly: beta (a, b). One that is known is `a`, `b` infinite."""

    a: float
    b: float = math.inf

    @property
    def is_known(self) -> bool:
        return math.isinf(self.b)

    def moments(self) -> tuple[float, float]:
        """Means of the share and of its square."""
        if self.is_known:
            return self.a, self.a**2
        n = self.a + self.b
        return self.a / n, self.a * (self.a + 1) / (n * (n + 1))


def shares_of(yield_or_counts: Yield | Sequence[Yield]) -> list[Share]:
    """A yield, counts or a sequence of both, as shares."""
    if not isinstance(yield_or_counts, Iterable):
        return [Share(above_zero(yield_or_counts, "a yield", 1))]
    parts = several(yield_or_counts, "yields", 1, MOST_STAGES)
    if not _are_counts(parts):
        return [share for part in parts for share in shares_of(_stage(part))]
    good, tried = _counts(*parts)
    if tried == 0:
        raise NotPossible(detail="no piece was tried yet, which tells nothing of how many come out good")
    return [Share(good + JEFFREYS, tried - good + JEFFREYS)]


def _stage(part: object) -> Yield:
    if isinstance(part, Iterable) and not _are_counts(pair := several(part, "counts")):
        raise NotPossible(detail=f"of one stage, {len(pair)} figures say no good ones and tried ones")
    return part  # type: ignore[return-value]


def _are_counts(parts: Sequence[object]) -> bool:
    """A pair of whole numbers is counts; (0.9, 0.8) is two stages."""
    if len(parts) != 2 or any(isinstance(part, Iterable) for part in parts):
        return False
    return all(isinstance(part, Integral) for part in parts) or number(parts[1], "what was tried") > 1


def chance_if_alike(good: int, tried: int, other_good: int, other_tried: int) -> float:
    """
    How often so few good ones or fewer come by chance, where both lots are alike.

    The exact test of R. A. Fisher, The Design of Experiments (1935), ch. 2, one-sided.
    """
    good, tried = _counts(good, tried)
    other_good, other_tried = _counts(other_good, other_tried)
    all_good, everything = good + other_good, tried + other_tried
    ways, not_good = _log_ways(everything, tried), everything - all_good
    found, last = 0.0, 0.0
    for x in range(good, max(0, all_good - other_tried) - 1, -1):
        here = math.exp(_log_ways(all_good, x) + _log_ways(not_good, tried - x) - ways)
        found += here
        if here < last and here < found * 1e-17:  # past the likeliest: the rest adds nothing
            break
        last = here
    return min(1.0, found)


def _log_ways(n: int, x: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(x + 1) - math.lgamma(n - x + 1)


def wilson(x: int, n: int, level: float) -> Interval:
    """
    Where the true share lies when x of n were good: the score interval.

    E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209-212; R. G. Newcombe, Statistics in Medicine 17 (1998)
    857-872, method 3.
    """
    x, n, level = _asked(x, n, level)
    z = NormalDist().inv_cdf((1 + level) / 2)
    middle = (x + z * z / 2) / (n + z * z)
    half = z * math.sqrt(x * (n - x) / n + z * z / 4) / (n + z * z)
    return Interval(
        0.0 if x == 0 else max(0.0, middle - half),
        1.0 if x == n else min(1.0, middle + half),
    )


def clopper_pearson(x: int, n: int, level: float) -> Interval:
    """The same, never too narrow: C. J. Clopper, E. S. Pearson, Biometrika 26 (1934) 404-413."""
    x, n, level = _asked(x, n, level)
    beyond = (1 - level) / 2
    return Interval(
        0.0 if x == 0 else beta_quantile(beyond, x, n - x + 1),
        1.0 if x == n else beta_quantile(1 - beyond, x + 1, n - x),
    )


def jeffreys(x: int, n: int, level: float) -> Interval:
    """
    The same by the prior of Jeffreys, equal tails.

    L. D. Brown, T. T. Cai, A. DasGupta, Statistical Science 16 (2001) 101-133, without their exception at
    none and all.
    """
    x, n, level = _asked(x, n, level)
    beyond, a, b = (1 - level) / 2, x + JEFFREYS, n - x + JEFFREYS
    return Interval(beta_quantile(beyond, a, b), beta_quantile(1 - beyond, a, b))


def _counts(good: object, tried: object) -> tuple[int, int]:
    of = whole(tried, "the number of pieces tried", most=MOST_TRIED)
    return whole(good, "the number of good ones", most=of), of


def _asked(x: object, n: object, level: object) -> tuple[int, int, float]:
    good, tried = _counts(x, n)
    if tried == 0:
        raise NotPossible(detail="of no pieces at all nothing can be said")
    return good, tried, chance_between(level, "the level")
