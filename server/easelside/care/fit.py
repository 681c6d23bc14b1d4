"""At what rate does work come, with what range, and has that rate changed?"""

import math
from collections.abc import Sequence
from typing import NamedTuple

from scipy.special import gammaincinv
from scipy.stats import nbinom, poisson_means_test

from easelside.care.pace import Pace, pace_of
from easelside.care.waiting import next_due_days as next_due_days
from easelside.errors import NotPossible

LONGER_DAYS = 84
PACE_DAYS = 28
OTHERWISE_DAYS = 365
DIFFERS = 0.05


class Range(NamedTuple):
    lower: float
    upper: float


class Compared(NamedTuple):
    """`z`: how many standard errors the first rate is above the second; `p`: by chance alone."""

    z: float
    p: float


def poisson_interval(events: int, level: float = 0.95) -> Range:
    """Garwood's exact interval of a Poisson mean; F. Garwood, Biometrika 28 (1936) 437-442."""
    if events < 0 or events != int(events) or not 0 < level < 1:
        raise NotPossible(
            detail=f"{events} events at a level of {level}; whole and 0 or above, within 0 to 1"
        )
    tail = (1 - level) / 2
    lower = float(gammaincinv(events, tail)) if events else 0.0
    return Range(lower, float(gammaincinv(events + 1, 1 - tail)))


def rate_interval(events: int, exposure: float, level: float = 0.95) -> Range:
    """The exact interval of a rate: events for each unit of the exposure."""
    if not math.isfinite(exposure) or exposure <= 0:
        raise NotPossible(detail=f"an exposure of {exposure}; it is above 0")
    lower, upper = poisson_interval(events, level)
    return Range(lower / exposure, upper / exposure)


def events_ahead(shape: float, exposure: float, ahead: float, levels: Sequence[float]) -> tuple[int, ...]:
    """How many events come in the time `ahead`: at most so many, with each of these chances.

    The rate's posterior is gamma with this shape and rate `exposure`, so the count is negative binomial.
    """
    if not (shape > 0 and exposure > 0 and ahead > 0) or not all(0 < level < 1 for level in levels):
        raise NotPossible(
            detail="a shape, an exposure or a time ahead that is not above 0, or a level outside 0 to 1"
        )
    return tuple(int(nbinom.ppf(level, shape, exposure / (exposure + ahead))) for level in levels)


def same_rate(events: int, exposure: float, others: int, others_exposure: float) -> Compared:
    """Do events come at one rate in both? The E-test of Krishnamoorthy and Thomson (2004)."""
    if min(events, others) < 0 or min(exposure, others_exposure) <= 0:
        raise NotPossible(detail="events are 0 or above, exposures above 0")
    found = poisson_means_test(events, exposure, others, others_exposure)
    return Compared(float(found.statistic), float(found.pvalue))


def present_pace(days_ago: Sequence[int], pieces: Sequence[int]) -> Pace | None:
    """The pace of the last four weeks; of the last twelve where the eight before went no differently.

    `days_ago` (0: today) and `pieces` of each day at the bench. Where nothing was cut in twelve weeks, the
    pace of the last year. The first day on record only says when counting began, so it says nothing of a
    pace: None where there is no other.
    """
    told = sorted((ago, n) for ago, n in zip(days_ago, pieces, strict=True) if n and ago < OTHERWISE_DAYS)
    if len(told) < 2:
        return None
    known_days = told.pop()[0]
    recent, before = (
        [n for ago, n in told if first <= ago < last]
        for first, last in ((0, PACE_DAYS), (PACE_DAYS, LONGER_DAYS))
    )
    if not recent and not before:
        return pace_of([n for _, n in told], known_days)
    longer_days = min(LONGER_DAYS, known_days)
    if known_days <= PACE_DAYS or not recent or _went_alike(recent, before, longer_days - PACE_DAYS):
        return pace_of([*recent, *before], longer_days)
    return pace_of(recent, PACE_DAYS)


def _went_alike(recent: list[int], before: list[int], days_before: int) -> bool:
    both = [*recent, *before]
    per_event = sum(n * n for n in both) / sum(both)
    first, second = round(sum(recent) / per_event), round(sum(before) / per_event)
    return same_rate(first, PACE_DAYS, second, days_before).p > DIFFERS
