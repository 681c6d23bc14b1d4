"""Has it really changed? Pieces measured before and after, held against how much pieces differ anyway."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from scipy.special import stdtr

from easelside.errors import NotPossible


@dataclass(frozen=True)
class Compared:
    """`t`: the difference of the means in its own errors; `by_chance`: how often it comes so large."""

    t: float
    df: float
    by_chance: float


def compare(before: Sequence[float], after: Sequence[float]) -> Compared:
    """The first mean less the second; at least two values each, that are not all alike."""
    if min(len(before), len(after)) < 2 or not all(math.isfinite(x) for x in (*before, *after)):
        raise NotPossible(detail="two finite values are needed on each side")
    return compare_means(fmean(before), stdev(before), len(before), fmean(after), stdev(after), len(after))


def compare_means(
    mean: float, sd: float, n: int, other_mean: float, other_sd: float, other_n: int, *, pooled: bool = False
) -> Compared:
    """
    Two means by their standard deviations (n - 1) and numbers: B. L. Welch, Biometrika 34 (1947) 28-35, with
    the degrees of freedom of F. E. Satterthwaite; `pooled`: by Student, both spreads taken as one.
    """
    if min(n, other_n) < 2 or not all(math.isfinite(x) for x in (mean, sd, other_mean, other_sd)):
        raise NotPossible(detail="two finite values are needed on each side")
    if min(sd, other_sd) < 0 or sd == other_sd == 0:
        raise NotPossible(detail="values that do not differ at all say nothing of chance")
    if pooled:
        df = float(n + other_n - 2)
        square = ((n - 1) * sd**2 + (other_n - 1) * other_sd**2) / df * (1 / n + 1 / other_n)
    else:
        one, other = sd**2 / n, other_sd**2 / other_n
        square = one + other
        df = square**2 / (one**2 / (n - 1) + other**2 / (other_n - 1))
    t = (mean - other_mean) / math.sqrt(square)
    return Compared(t, df, 2 * float(stdtr(df, -abs(t))))
