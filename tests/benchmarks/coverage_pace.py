"""How often does the range of the pace hold: minutes of the next piece, the rest of a batch, turns?

A workshop: four lots that differ by 15 %, sessions by 6 %, pieces by 15 %, and 6 % for a hundred pieces of
age; turns Poisson times a gamma of shape 20. Sixteen batches of 24, edges of 240; of the last batch eight
pieces are cut, and the question is what the ninth will take, and all the rest. Edges do not go off here.
"""

from dataclasses import dataclass

import numpy as np

from easelside.profiling.fit import fit_minutes
from easelside.profiling.pace import minutes_ahead
from easelside.profiling.turns_fit import fit_turns, turns_range

BATCH, BATCHES, LOTS, EDGE, SEEN = 24, 16, 4, 240, 8
ASKED = ("next piece", "rest of the batch", "turns")


@dataclass(frozen=True)
class World:
    """What is wrong: batches of another lot, taps missed (two pieces' minutes in one), a late blade."""

    mixed: float = 0.0
    missed: float = 0.0
    blade_late: int = 0


WORLDS = {
    "its own model": World(),
    "mixed lots under one name": World(mixed=0.3),
    "missed taps": World(missed=0.05),
    "a blade change entered late": World(blade_late=30),
}


def workshop(world: World, chance: np.random.Generator) -> dict[str, bool]:
    """One workshop: whether each range held the truth."""
    n = BATCH * BATCHES
    session = np.arange(n) // BATCH
    lot = (np.arange(BATCHES) % LOTS)[session]
    of_lot = chance.normal(1.1, 0.15, LOTS)
    cut_lot = np.where(chance.random(BATCHES) < world.mixed, chance.integers(0, LOTS, BATCHES), lot[::BATCH])
    age = (np.arange(n) + int(chance.integers(0, EDGE))) % EDGE
    said_age = np.where(age < world.blade_late, age + EDGE, age)
    rise = 0.06 * age / 100
    minutes = np.exp(
        of_lot[cut_lot[session]] + rise + chance.normal(0, 0.06, BATCHES)[session] + chance.normal(0, 0.15, n)
    )
    turns = chance.poisson(8 * np.exp(of_lot[cut_lot[session]] - 1.1 + rise) * chance.gamma(20, 1 / 20, n))
    missed = chance.random(n) < world.missed
    tapped = np.where(missed, minutes + np.roll(minutes, 1), minutes)
    known = np.arange(n) < n - BATCH + SEEN
    keep = known & (session < BATCHES - 1)
    fit = fit_minutes(tapped[keep], lot[keep], np.zeros(keep.sum()), said_age[keep], session[keep])
    last, now = int(lot[-1]), n - BATCH + SEEN
    pace = fit.pace(last)
    today = [(float(tapped[i]), float(said_age[i])) for i in range(n - BATCH, now)]
    at = float(said_age[now])
    one = minutes_ahead(pace, at, 1, 0.9, today)
    rest = minutes_ahead(pace, at, n - now, 0.9, today)
    of_turns = fit_turns(turns[keep], lot[keep], np.zeros(keep.sum()), said_age[keep])
    _, low, high = turns_range(of_turns, last, at)
    return {
        "next piece": one.low <= minutes[now] <= one.high,
        "rest of the batch": rest.low <= minutes[now:].sum() <= rest.high,
        "turns": low <= turns[now] <= high,
    }


def held(world: World, what: str, runs: int, chance: np.random.Generator) -> float:
    """The share of so many workshops in which the range of `what` held."""
    return float(np.mean([workshop(world, chance)[what] for _ in range(runs)]))


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    """(what is foreseen, the world, how often its 90 % range held)."""
    found = []
    for name, world in WORLDS.items():
        chance = np.random.default_rng(seed)
        ran = [workshop(world, chance) for _ in range(runs)]
        found += [(f"pace, {what}", name, float(np.mean([one[what] for one in ran]))) for what in ASKED]
    return found
