"""How long will the next piece take, and when is the batch done? From what was fitted, and today's pieces.

Minutes are log-normal: the lot's centre, what the edge's age costs, the day's deviation, and the piece's.
Standard library only; the phone does the same (`tests/shared_cases/pace.json`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from statistics import NormalDist

from easelside.arguments import chance, number, whole
from easelside.errors import NotPossible
from easelside.profiling.asked import MOST_AGE, MOST_PIECES, check_log_minutes, check_pace, pieces_told

LONG_USED = 150.0  # pieces: from here on an edge's age may cost more than before; common practice, no source
ENOUGH = 24  # fully counted pieces of a lot, two dozen: a batch


@dataclass(frozen=True)
class Pace:
    """`centre`: log minutes of a piece of this lot on a fresh edge; `error`: its standard error.

    `by_age`, `by_long_use`: log minutes for a hundred pieces of age, and of those beyond `LONG_USED`.
    `sigma`: spread of a piece within a session; `tau`: of sessions; `degrees`: how well they are known.
    `with_slopes`: covariances of the centre with `by_age`, `by_long_use`; `slopes`: their own (of the first,
    of both, of the second). A lot that was cut on a dull edge only is well known there, less on a fresh one.
    """

    centre: float
    error: float
    by_age: float
    by_long_use: float
    sigma: float
    tau: float
    degrees: float
    with_slopes: tuple[float, float] = (0.0, 0.0)
    slopes: tuple[float, float, float] = (0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Ahead:
    """Minutes: `likely` is the middle, the truth lies between `low` and `high` at the level asked for."""

    likely: float
    low: float
    high: float


@dataclass(frozen=True)
class Sharpness:
    """100 cuts like a fresh edge; 80 takes a quarter longer. `others`: what is usual at this age."""

    index: float
    low: float
    high: float
    others: float


Use = tuple[float, float]  # hundreds of pieces on an edge, and of those beyond `LONG_USED`
FRESH: Use = (0.0, 0.0)


def use(ages: Sequence[float]) -> Use:
    """Of an edge at these ages, the mean."""
    n = max(1, len(ages))
    return sum(ages) / n / 100, sum(max(0.0, age - LONG_USED) for age in ages) / n / 100


def age_costs(pace: Pace, age: float) -> float:
    """Log minutes that an edge of this age adds to a fresh one's."""
    return pace.by_age * age / 100 + pace.by_long_use * max(0.0, age - LONG_USED) / 100


def together(pace: Pace, one: Use, other: Use) -> float:
    """Covariance of what is expected on edges of such use; where both are the same, how unsure it is."""
    (a, b), (c, d) = one, other
    of_slopes = pace.slopes[0] * a * c + pace.slopes[1] * (a * d + b * c) + pace.slopes[2] * b * d
    found = pace.error**2 + pace.with_slopes[0] * (a + c) + pace.with_slopes[1] * (b + d) + of_slopes
    return max(0.0, found) if one == other else found


def quantile(level: float, degrees: float) -> float:
    """Student's t, two-sided, by Fisher's expansion from the normal (to 0.7 % from 8 degrees on)."""
    if not 0 < level < 1:
        raise NotPossible(detail="a level lies between 0 and 1")
    z, d = NormalDist().inv_cdf((1 + level) / 2), max(degrees, 3.0)
    return z + (z**3 + z) / (4 * d) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * d * d)


def day_of(pace: Pace, today: Sequence[tuple[float, float]], ahead: Use = FRESH) -> tuple[float, float]:
    """How today deviates from what is expected, and the variance left (log minutes; edge of use `ahead`).

    `today`: (minutes, the edge's age) of each. The lot's own error and the day's deviation cannot be told
    apart within a day, nor a wrong slope on the same part of an edge; odd pieces are drawn in.
    """
    day = pace.tau**2
    before = together(pace, ahead, ahead) + day
    told = [(minutes, age) for minutes, age in today if minutes > 0]
    if not told or before <= 0:
        return 0.0, before
    then = use([age for _, age in told])
    known = together(pace, then, then) + day
    reach = 3 * sqrt(known + pace.sigma**2)
    off = [log(minutes) - pace.centre - age_costs(pace, age) for minutes, age in told]
    mean = sum(max(-reach, min(reach, each)) for each in off) / len(off)
    both = together(pace, then, ahead) + day
    seen = known + pace.sigma**2 / len(off)
    if seen <= 0:
        return 0.0, before
    return both / seen * mean, max(0.0, before - both**2 / seen)


def minutes_ahead(
    pace: Pace, age: float, pieces: int, level: float = 0.9, today: Sequence[tuple[float, float]] = ()
) -> Ahead:
    """Minutes for so many more pieces in a row, the first cut at `age`, without pauses.

    A sum of log-normal values is taken for one (L. F. Fenton, IRE Trans. Commun. Syst. 8 (1960) 57-67).
    """
    pieces = whole(pieces, "the number of pieces", 1, MOST_PIECES)
    age, level = number(age, "the edge's age in pieces", 0, MOST_AGE), chance(level, "the level")
    check_pace(pace)
    today = [(each[0], each[1]) for each in pieces_told(today, 2)]
    known_at = (age, LONG_USED, age + pieces, *(then for _, then in today))
    check_log_minutes(pace.centre + age_costs(pace, at) for at in known_at)
    shift, variance = day_of(pace, today, use([age + i for i in range(pieces)]))
    square = pace.sigma**2
    mean = spread = 0.0
    for i in range(pieces):
        one = exp(pace.centre + age_costs(pace, age + i) + square / 2)
        mean += one
        spread += one * one * (exp(square) - 1)
    of_sum = log(1 + spread / mean**2)
    middle = shift + log(mean) - of_sum / 2
    reach = quantile(level, pace.degrees) * sqrt(variance + of_sum)
    check_log_minutes((middle, reach))
    return Ahead(exp(middle), exp(middle - reach), exp(middle + reach))


def sharpness(pace: Pace, recent: Sequence[tuple[float, float, float]], level: float = 0.9) -> Sharpness:
    """Of an edge, by its last pieces: (minutes, its age then, the centre of the piece's own lot)."""
    check_pace(pace)
    level = chance(level, "the level")
    found = [(log(minutes) - centre, age) for minutes, age, centre in pieces_told(recent, 3)]
    if not found:
        raise NotPossible(detail="no fully counted piece of this edge")
    rises = sorted(rise for rise, _ in found)
    half = len(rises) // 2
    rise = rises[half] if len(rises) % 2 else (rises[half - 1] + rises[half]) / 2
    error = sqrt(pace.error**2 + pace.tau**2 + 1.5708 * pace.sigma**2 / len(rises))  # of a median: pi / 2
    reach = quantile(level, pace.degrees) * error
    age = max(age for _, age in found)
    check_log_minutes((rise, reach, age_costs(pace, age)))
    index = [100 * exp(-each) for each in (rise, rise + reach, rise - reach, age_costs(pace, age))]
    return Sharpness(*index)
