"""How many days until so much more work is done, when so much was done in the days so far?"""

import math
from collections.abc import Sequence

from easelside.arguments import above_zero, chance, number, several
from easelside.errors import NotPossible

MOST_EVENTS = 1e6
MOST_STEPS = 20_000  # some times the square root of what is counted
NEAR = 1e-3
TINY = 1e-300
CLOSE = 1e-15
DOUBLINGS = 200
HALVINGS = 100


def next_due_days(
    events: float, exposure_days: float, remaining: float, levels: Sequence[float]
) -> tuple[float, ...]:
    """Days until `remaining` more events, not later than that with each of these chances.

    `events` came in `exposure_days`, so the rate's posterior is gamma with that shape and that rate; the wait
    for `remaining` more, given the rate, is gamma too, and so the wait over the exposure is beta-prime
    (equally, its ratio to the expected wait has Fisher's F distribution with 2 `remaining` and 2 `events`
    degrees of freedom). None remaining: 0 days.
    """
    events = above_zero(events, "the number of events")
    exposure_days = above_zero(exposure_days, "the number of days")
    remaining = number(remaining, "the number of events that remain")
    levels = tuple(chance(level, "a level") for level in several(levels, "the levels", 1))
    if remaining <= 0:
        return tuple(0.0 for _ in levels)
    # of more than a million the scatter tells nothing any more: less than a thousandth
    scale = exposure_days * max(1.0, remaining / MOST_EVENTS) / max(1.0, events / MOST_EVENTS)
    remaining, events = min(remaining, MOST_EVENTS), min(events, MOST_EVENTS)
    return tuple(scale * _odds(remaining, events, level) for level in levels)


def chance_by(events: float, exposure_days: float, remaining: float, days: float) -> float:
    """The chance that `remaining` more events have come within so many days."""
    if remaining <= 0:
        return 1.0
    return 0.0 if days <= 0 else incomplete_beta(remaining, events, days / (days + exposure_days))


def _odds(a: float, b: float, level: float) -> float:
    """x / (1 - x) where the regularised incomplete beta function reaches the level."""
    low, high = 0.0, 1.0
    for _ in range(DOUBLINGS):
        if _below(a, b, high) >= level:
            break
        low, high = high, 2 * high
    else:
        raise NotPossible(detail=f"{b:g} events say nothing of when {a:g} more have come")
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if not low < middle < high:
            break
        if _below(a, b, middle) < level:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _below(a: float, b: float, odds: float) -> float:
    """The incomplete beta function at x where x / (1 - x) is told: near 1, x itself could not tell it."""
    rest = 1 / (1 + odds)
    return incomplete_beta(a, b, odds * rest) if rest > NEAR else 1 - incomplete_beta(b, a, rest)


def incomplete_beta(a: float, b: float, x: float) -> float:
    """The regularised incomplete beta function, by its continued fraction (NIST DLMF 8.17.22)."""
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    if x > (a + 1) / (a + b + 2):
        return 1 - _by_fraction(b, a, 1 - x, x)
    return _by_fraction(a, b, x, 1 - x)


def _by_fraction(a: float, b: float, x: float, rest: float) -> float:
    log = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(x) + b * math.log(rest)
    above, below = 1.0, _not_zero(1 - (a + b) * x / (a + 1))
    below = 1 / below
    value = below
    for m in range(1, MOST_STEPS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        change = 1.0
        for step in (even, odd):
            below = 1 / _not_zero(1 + step * below)
            above = _not_zero(1 + step / above)
            change = below * above
            value *= change
        if abs(change - 1) < CLOSE:
            break
    return math.exp(log) * value / a


def _not_zero(value: float) -> float:
    return value if abs(value) > TINY else TINY
