"""How often is enough good where as many were started as was said, and how often do the ranges hold?

A workshop: a lot of 30 to 60 pieces seen, its share of good ones beta (18, 2.5); then 24 good ones are wanted
of the next batch of that lot. Two stages: shaping after it, beta (30, 1.5). A lot to come: eight lots seen.
Mixed lots: two under one name, the next batch is of one of them. Missed taps: a fifth of the good ones are
not tapped. A blade change entered late: a third of what was seen was cut by a blunt edge, which loses twice
as many.
"""

from dataclasses import dataclass

import numpy as np

from easelside.forecast.shares import jeffreys
from easelside.forecast.yields import good_between, pieces_for, pieces_to_start
from easelside.forecast.yields_fit import between_lots

WANTED, LEVEL = 24, 0.9
ASKED = ("enough good", "good ones of 32", "the share itself", "enough through two stages", "a lot to come")


@dataclass(frozen=True)
class World:
    mixed: bool = False
    missed: float = 0.0
    blunt: float = 0.0  # the part of what was seen that a blunt edge had cut


WORLDS = {
    "its own model": World(),
    "mixed lots under one name": World(mixed=True),
    "missed taps": World(missed=0.2),
    "a blade change entered late": World(blunt=1 / 3),
}


def seen_of(
    share: float, other: float, tried: int, world: World, chance: np.random.Generator
) -> tuple[int, int]:
    """(good, tried) as written down."""
    from_other = tried // 2 if world.mixed else 0
    blunt = int((tried - from_other) * world.blunt)
    good = chance.binomial(tried - from_other - blunt, share) + chance.binomial(from_other, other)
    good += chance.binomial(blunt, max(0.0, 1 - 2 * (1 - share)))
    missed = chance.binomial(good, world.missed)
    return int(good - missed), int(tried - missed)


def workshop(world: World, chance: np.random.Generator) -> dict[str, bool]:
    share, other, shaping = (float(chance.beta(*ab)) for ab in ((18, 2.5), (18, 2.5), (30, 1.5)))
    seen = seen_of(share, other, int(chance.integers(30, 61)), world, chance)
    shaped = seen_of(shaping, shaping, 30, World(missed=world.missed), chance)
    lower, upper = jeffreys(*seen, LEVEL)
    fewest, most = good_between(32, seen, LEVEL)
    two = int(chance.binomial(pieces_to_start(WANTED, [seen, shaped], LEVEL), share * shaping))
    before = [
        seen_of(*chance.beta(18, 2.5, 2).tolist(), int(chance.integers(30, 61)), world, chance)
        for _ in range(8)
    ]
    to_come = between_lots(before)
    of_next = pieces_for(WANTED, [to_come], LEVEL)
    return {
        "enough good": chance.binomial(pieces_to_start(WANTED, seen, LEVEL), share) >= WANTED,
        "good ones of 32": fewest <= chance.binomial(32, share) <= most,
        "the share itself": lower <= share <= upper,
        "enough through two stages": two >= WANTED,
        "a lot to come": chance.binomial(of_next, chance.beta(18, 2.5)) >= WANTED,
    }


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    """(what is foreseen, the world, how often it held)."""
    found = []
    for name, world in WORLDS.items():
        chance = np.random.default_rng(seed)
        all_of = [workshop(world, chance) for _ in range(runs)]
        found += [(what, name, float(np.mean([one[what] for one in all_of]))) for what in ASKED]
    return found
