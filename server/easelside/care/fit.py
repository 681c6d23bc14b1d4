"""At what rate does work come, with what range, and has that rate changed?"""

from collections.abc import Sequence
from typing import NamedTuple

from scipy.special import gammaincinv
from scipy.stats import nbinom, poisson_means_test

from easelside.arguments import above_zero, chance, several, whole
from easelside.care.pace import Pace, pace_of
from easelside.care.waiting import next_due_days as next_due_days
from easelside.errors import NotPossible

LONGER_DAYS = 84
PACE_DAYS = 28
OTHERWISE_DAYS = 365
DIFFERS = 0.05
MOST_COUNTED = 10**18
MOST_COMPARED = 100_000  # events


class Range(NamedTuple):
    lower: float
    upper: float


class Compared(NamedTuple):
    """`z`: how many standard errors the first rate is above the second; `p`: by chance alone."""

    z: float
    p: float


def poisson_interval(events: int, level: float = 0.95) -> Range:
    """Garwood's exact interval of a Poisson mean; F. Garwood, Biometrika 28 (1936) 437-442."""
    events = whole(events, "the number of events")
    level = chance(level, "the level")
    tail = (1 - level) / 2
    lower = float(gammaincinv(events, tail)) if events else 0.0
    return Range(lower, float(gammaincinv(events + 1, 1 - tail)))


def rate_interval(events: int, exposure: float, level: float = 0.95) -> Range:
    """The exact interval of a rate: events for each unit of the exposure."""
    exposure = above_zero(exposure, "the exposure")
    lower, upper = poisson_interval(events, level)
    return Range(lower / exposure, upper / exposure)


def events_ahead(shape: float, exposure: float, ahead: float, levels: Sequence[float]) -> tuple[int, ...]:
    """How many events come in the time `ahead`: at most so many, with each of these chances.

    The rate's posterior is gamma with this shape and rate `exposure`, so the count is negative binomial.
    """
    shape = above_zero(shape, "the shape", 1e6, 1e-6)
    exposure = above_zero(exposure, "the exposure", 1e6, 1e-6)
    ahead = above_zero(ahead, "the time ahead", 1e6, 1e-6)
    each = [chance(level, "a level") for level in several(levels, "the levels")]
    return tuple(int(nbinom.ppf(level, shape, exposure / (exposure + ahead))) for level in each)


def same_rate(events: int, exposure: float, others: int, others_exposure: float) -> Compared:
    """Do events come at one rate in both? The E-test of Krishnamoorthy and Thomson (2004)."""
    events, others = (
        whole(events, "the events", most=MOST_COMPARED),
        whole(others, "the others", most=MOST_COMPARED),
    )
    exposure = above_zero(exposure, "the exposure")
    others_exposure = above_zero(others_exposure, "the other exposure")
    found = poisson_means_test(events, exposure, others, others_exposure)
    return Compared(float(found.statistic), float(found.pvalue))


def present_pace(days_ago: Sequence[int], pieces: Sequence[int]) -> Pace | None:
    """The pace of the last four weeks; of the last twelve where the eight before went no differently.

    `days_ago` (0: today) and `pieces` of each day at the bench. Where nothing was cut in twelve weeks, the
    pace of the last year. The first day on record only says when counting began, so it says nothing of a
    pace: None where there is no other.
    """
    ago_of = [
        whole(ago, "days ago", -MOST_COUNTED, MOST_COUNTED) for ago in several(days_ago, "the days ago")
    ]
    cut_on = [
        whole(n, "the pieces of a day", most=MOST_COUNTED) for n in several(pieces, "the pieces of each day")
    ]
    if len(ago_of) != len(cut_on):
        raise NotPossible(detail=f"{len(ago_of)} days, and pieces of {len(cut_on)}")
    told = sorted((ago, n) for ago, n in zip(ago_of, cut_on, strict=True) if n and ago < OTHERWISE_DAYS)
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
