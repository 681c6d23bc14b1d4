"""How often does the range of the pace hold: minutes of the next piece, the rest of a batch, turns; by how
much a lot is slower than the others; how sharp an edge is?

A workshop: lots that differ by 15 %, sessions by 6 %, pieces by 15 % (10 % in its first weeks); a hundred
pieces of age cost 5 % give or take 4, more beyond 150 by 8 % either way; turns Poisson times a gamma of shape
20. Batches of 24. A settled one has cut sixteen batches of four lots by turns, on edges of 240; one in its
first weeks a few lots one after the other, all on its first edge: what comes of the lot and what of the edge
cannot be told apart. Of the batch that is asked about the first pieces are cut. Edges do not go off here.
"""

from dataclasses import dataclass

import numpy as np

from easelside.profiling.fit import AGE_AT_FIRST, AGE_GIVE, LONG_AT_FIRST, LONG_GIVE, fit_minutes
from easelside.profiling.pace import LONG_USED, minutes_ahead, quantile, sharpness
from easelside.profiling.turns_fit import fit_turns, turns_range

BATCH = 24
LAST = 12  # so many pieces say how sharp an edge is


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


@dataclass(frozen=True)
class Shop:
    """The lot of each batch that was cut; pieces of an edge; how many of the batch asked about are `seen`.

    `fresh`: that batch begins a new edge; `begun`: the first edge had cut some when counting began.
    """

    batches: tuple[int, ...]
    edge: int = 100_000
    seen: int = 0
    fresh: bool = False
    begun: bool = False
    piece: float = 0.10


SHOPS = {
    "settled": Shop((0, 1, 2, 3) * 4, 240, 8, begun=True, piece=0.15),
    "first edge, four lots of two batches, then a new edge": Shop((0, 0, 1, 1, 2, 2, 3, 3), fresh=True),
    "the same, six seen": Shop((0, 0, 1, 1, 2, 2, 3, 3), seen=6, fresh=True),
    "first edge, two lots of four, then a new edge": Shop((0, 0, 0, 0, 1, 1, 1, 1), fresh=True),
    "first edge, two lots of four, it goes on": Shop((0, 0, 0, 0, 1, 1, 1, 1), seen=6),
    "two edges, three lots of five": Shop((0,) * 5 + (1,) * 5 + (2,) * 6, 192, fresh=True),
    "one lot, one batch": Shop((0,), seen=6),
}


def workshop(world: World, shop: Shop, chance: np.random.Generator, of_turns: bool = True) -> dict[str, bool]:
    """One workshop: whether each range held the truth. Turns take the most time."""
    lots, batches = max(shop.batches) + 1, len(shop.batches) + 1
    n = BATCH * batches
    session = np.arange(n) // BATCH
    named = np.array([*shop.batches, shop.batches[-1]])
    lot = named[session]
    of_lot = chance.normal(1.1, 0.15, lots)
    cut_lot = np.where(chance.random(batches) < world.mixed, chance.integers(0, lots, batches), named)
    age = (np.arange(n) + (int(chance.integers(0, shop.edge)) if shop.begun else 0)) % shop.edge
    if shop.fresh:
        age[-BATCH:] = np.arange(BATCH)
    before = shop.edge if shop.begun else n - BATCH  # so many had the edge before cut
    late = (age < world.blade_late) & (shop.begun | (np.arange(n) >= BATCH))
    said_age = np.where(late, age + before, age)
    by_age, by_long = chance.normal(AGE_AT_FIRST, AGE_GIVE), chance.normal(LONG_AT_FIRST, LONG_GIVE)
    rise = by_age * age / 100 + by_long * np.maximum(0, age - LONG_USED) / 100
    centre = of_lot[cut_lot[session]]
    day, piece = chance.normal(0, 0.06, batches)[session], chance.normal(0, shop.piece, n)
    minutes = np.exp(centre + rise + day + piece)
    missed = chance.random(n) < world.missed
    tapped = np.where(missed, minutes + np.roll(minutes, 1), minutes)
    keep, now = session < batches - 1, n - BATCH + shop.seen
    fit = fit_minutes(tapped[keep], lot[keep], np.zeros(keep.sum()), said_age[keep], session[keep])
    last = int(lot[-1])
    pace = fit.pace(last)
    today = [(float(tapped[i]), float(said_age[i])) for i in range(n - BATCH, now)]
    at = float(said_age[now])
    one = minutes_ahead(pace, at, 1, 0.9, today)
    rest = minutes_ahead(pace, at, n - now, 0.9, today)
    found = {
        "next piece": one.low <= minutes[now] <= one.high,
        "rest of the batch": rest.low <= minutes[now:].sum() <= rest.high,
    }
    if of_turns:
        turns = chance.poisson(8 * np.exp(centre - 1.1 + rise) * chance.gamma(20, 1 / 20, n))
        turning = fit_turns(turns[keep], lot[keep], np.zeros(keep.sum()), said_age[keep])
        _, low, high = turns_range(turning, last, at)
        found["turns"] = low <= turns[now] <= high
    if lots > 1:
        others = list(range(last))
        slower, error = fit.beside(last, others)
        truly = of_lot[last] - float(of_lot[others] @ fit.share(others)[others])
        found["slower than other lots"] = abs(slower - truly) <= quantile(0.9, fit.degrees) * error
    newest = range(n - BATCH, n - BATCH + LAST)
    sharp = sharpness(pace, [(float(tapped[i]), float(said_age[i]), pace.centre) for i in newest])
    found["sharpness"] = sharp.low <= 100 * np.exp(-float(np.median(rise[newest]))) <= sharp.high
    return found


def held(
    world: World, shop: Shop, runs: int, chance: np.random.Generator, of_turns: bool = True
) -> dict[str, float]:
    """The share of so many workshops in which each range held."""
    ran = [workshop(world, shop, chance, of_turns) for _ in range(runs)]
    return {what: float(np.mean([one[what] for one in ran])) for what in ran[0]}


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    """(what is foreseen, the world, how often its 90 % range held)."""
    found = []
    for where, shop in SHOPS.items():
        for name, world in WORLDS.items():
            shares = held(world, shop, runs, np.random.default_rng(seed))
            found += [(f"pace, {what} ({where})", name, share) for what, share in shares.items()]
    return found
