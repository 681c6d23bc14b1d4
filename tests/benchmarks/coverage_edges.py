"""How often does the range for the pieces left in an edge hold, for the day it is off, for the next care, for
what is cut in the coming four weeks?

The workshop's own law is drawn anew for each; what is fitted never sees it. Wrong worlds: half the edges cut
hard cane under the same lot's name; one tap in fifteen was forgotten; every third change of blade (or care)
was written down a batch too late.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from easelside.blades.fit import life_of
from easelside.blades.life import pieces_left, quantiles_left
from easelside.care.fit import PACE_DAYS, events_ahead, present_pace
from easelside.care.pace import days_until
from easelside.forecast.edge_end import end_days
from easelside.forecast.edge_slips import LEVEL, LEVELS, PARTS

WORLDS = ("own world", "mixed lots", "missed taps", "late change")
BATCH = 24
Lives = npt.NDArray[np.int64]
FORGOTTEN = 1 / 15
HARD = 0.7  # part of its life that an edge lasts in hard cane


def _edges(chance: np.random.Generator, world: str) -> tuple[list[int], list[bool], int, float]:
    """(pieces recorded, whether off, recorded pieces of the edge in use, what it truly has left)."""
    shape = np.exp(chance.normal(np.log(3.0), 0.4))
    scale = np.exp(chance.normal(np.log(280), 0.35))
    number = int(chance.integers(2, 16))

    def lives(n: int) -> Lives:
        drawn = scale * chance.weibull(shape, n)
        if world == "mixed lots":
            drawn *= np.where(chance.random(n) < 0.5, HARD, 1 / HARD)
        return np.asarray(np.maximum(1, np.ceil(drawn)), np.int64)

    whole = lives(number)
    ended = [True] * number
    for i in np.flatnonzero(
        chance.random(number) < 0.15
    ):  # taken out before it was off, for some other reason
        whole[i], ended[i] = max(1, int(whole[i] * chance.random())), False
    # Looked at on any day, so an edge that lasts long is met more often than one that does not.
    last = so_far = 0
    while last <= so_far:
        last, so_far = int(lives(1)[0]), int(chance.integers(0, 1500))
    left = float(last - so_far)
    recorded = [int(n) for n in whole]
    if world == "missed taps":
        recorded = [max(1, int(chance.binomial(n, 1 - FORGOTTEN))) for n in recorded]
        so_far = int(chance.binomial(so_far, 1 - FORGOTTEN))
    if world == "late change":
        for i in np.flatnonzero(chance.random(number) < 1 / 3):
            moved = min(BATCH, recorded[i + 1] - 1) if i + 1 < number else min(BATCH, so_far)
            recorded[i] += moved
            if i + 1 < number:
                recorded[i + 1] -= moved
            else:
                so_far -= moved
    return recorded, ended, so_far, left


def left_holds(chance: np.random.Generator, world: str) -> bool:
    recorded, ended, so_far, left = _edges(chance, world)
    fit = life_of(recorded, ended)
    found = pieces_left(fit, so_far, LEVEL)
    return found.lower <= left <= found.upper


@dataclass(frozen=True)
class Work:
    """Days ago, and pieces as recorded; truly: days until so many more are cut, pieces in so many days."""

    days: list[int]
    pieces: list[int]
    days_until: Callable[[float], float]
    cut_in: Callable[[int], int]


def _work(chance: np.random.Generator, world: str) -> Work:
    """Batches come as they like."""
    every = float(np.exp(chance.normal(np.log(4), 0.5)))
    size = (12, 36) if world == "mixed lots" else (BATCH, BATCH)

    def batch() -> int:
        return max(1, int(chance.normal(size[int(chance.random() < 0.5)], 4)))

    ago = np.cumsum(chance.exponential(every, 400))
    past = [batch() for _ in ago[ago < 365]]
    if world == "missed taps":
        past = [int(chance.binomial(n, 1 - FORGOTTEN)) for n in past]
    by_day: dict[int, int] = {}
    for day, n in zip(ago, past, strict=False):
        by_day[int(day)] = by_day.get(int(day), 0) + n

    def truth(more: float) -> float:
        days, done = 0.0, 0
        while done < more:
            days += chance.exponential(every)
            done += batch()
        return days

    def cut_in(days: int) -> int:
        return sum(batch() for _ in range(int(chance.poisson(days / every))))

    return Work(sorted(by_day), [by_day[day] for day in sorted(by_day)], truth, cut_in)


def due_holds(chance: np.random.Generator, world: str) -> bool:
    work = _work(chance, world)
    pace = present_pace(work.days, work.pieces)
    if pace is None:
        return True
    remaining = int(chance.integers(10, 200))
    said = remaining + (BATCH if world == "late change" and chance.random() < 1 / 3 else 0)
    lower, _, upper = days_until(pace, said, LEVELS)
    return bool(np.floor(lower) <= work.days_until(remaining) <= np.ceil(upper))


def end_holds(chance: np.random.Generator, world: str) -> bool:
    recorded, ended, so_far, left = _edges(chance, world)
    work = _work(chance, world)
    pace = present_pace(work.days, work.pieces)
    if pace is None:
        return True
    lower, _, upper = end_days(quantiles_left(life_of(recorded, ended), so_far, PARTS), pace, LEVELS)
    return bool(np.floor(lower) <= work.days_until(left) <= np.ceil(upper))


def ahead_holds(chance: np.random.Generator, world: str) -> bool:
    """As in `grinding_slips`: what is cut in the coming four weeks."""
    work = _work(chance, world)
    pace = present_pace(work.days, work.pieces)
    if pace is None:
        return True
    lower, _, upper = (
        round(n * pace.per_event) for n in events_ahead(pace.events, pace.exposure_days, PACE_DAYS, LEVELS)
    )
    return lower <= work.cut_in(PACE_DAYS) <= upper


ASKED = {
    "pieces left in an edge": left_holds,
    "the day it is off": end_holds,
    "next due by pieces": due_holds,
    "cut in four weeks": ahead_holds,
}


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    found = []
    for what, holds in ASKED.items():
        for world in WORLDS:
            chance = np.random.default_rng([seed, len(what), WORLDS.index(world)])
            found.append((what, world, sum(holds(chance, world) for _ in range(runs)) / runs))
    return found
