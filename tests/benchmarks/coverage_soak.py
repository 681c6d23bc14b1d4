"""How often is cane ready within the range that was told, how often does the usual time lie in its own, and
how often is what was waterlogged dry enough when it was said?

A workshop: a lot whose usual ready time is drawn about half an hour (or about a night, for the overnight
soaker), twelve soaks marked; the maker leaves it longer after still hard, shorter after too soft. Then one
more soak. Mixed lots: two under one name, and the next is of one of them. Missed taps: a fifth is tapped out
five to twenty minutes after it came out, a tenth is never marked. A blade change entered late: a third was
cut with a blunt edge, and half of what was good felt still hard. In the air: six times told, about a usual
time that is drawn about what the sheet says; with the same mistakes.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from easelside.soak.dry_back import EACH_SD, SURE_SD, by_the_sheet_s, dry_back
from easelside.soak.fit import ReadyTime, fit_ready_time
from easelside.soak.marks import SoakMark
from easelside.soak.posterior_fit import READY_SD, SPREAD, SPREAD_SD, WINDOW, WINDOW_SD
from easelside.soak.practice import THICKNESS_MM

SOAKS = 12
HABITS = {"warm": (38.0, 1800.0), "overnight": (20.0, 36_000.0)}


@dataclass(frozen=True)
class World:
    mixed: bool = False
    missed: bool = False
    blunt: float = 0.0


WORLDS = {
    "its own model": World(),
    "mixed lots under one name": World(mixed=True),
    "missed taps": World(missed=True),
    "a blade change entered late": World(blunt=1 / 3),
}


@dataclass(frozen=True)
class Lot:
    middle: float
    spread: float
    window: float

    @classmethod
    def drawn(cls, practice_s: float, chance: np.random.Generator) -> "Lot":
        a, b, c = chance.standard_normal(3)
        middle = math.log(practice_s) + READY_SD * a
        return cls(middle, SPREAD * math.exp(SPREAD_SD * b), WINDOW * math.exp(WINDOW_SD * c))

    def threshold(self, chance: np.random.Generator) -> float:
        return self.middle + self.spread * float(chance.standard_normal())

    def mark(self, soak_s: float, chance: np.random.Generator) -> str:
        over = math.log(soak_s) - self.threshold(chance)
        return "still_hard" if over < 0 else "good" if over < self.window else "too_soft"


def soaked(
    lots: list[Lot], water_c: float, habit_s: float, world: World, chance: np.random.Generator
) -> Iterator[SoakMark]:
    usual = habit_s * math.exp(0.3 * chance.standard_normal())
    for i in range(SOAKS):
        soak_s = usual * math.exp(0.15 * chance.standard_normal())
        mark = lots[i % len(lots)].mark(soak_s, chance)
        if mark == "good" and chance.random() < world.blunt and chance.random() < 0.5:
            mark = "still_hard"
        usual *= {"still_hard": 1.25, "good": 1.0, "too_soft": 0.8}[mark]
        if world.missed and chance.random() < 0.1:
            continue
        late_s = 60 * chance.uniform(5, 20) if world.missed and chance.random() < 0.2 else 0.0
        yield SoakMark(soak_s + late_s, mark, water_c)


def workshop(habit: str, world: World, chance: np.random.Generator) -> tuple[bool, bool, bool | None]:
    water_c, habit_s = HABITS[habit]
    lots = [Lot.drawn(habit_s, chance) for _ in range(2 if world.mixed else 1)]
    found: ReadyTime = fit_ready_time(list(soaked(lots, water_c, habit_s, world, chance)), habit_s)
    lot = lots[int(chance.integers(len(lots)))]
    ready = math.exp(lot.threshold(chance))
    soft = ready * math.exp(lot.window)
    lower, upper = found.next_too_soft_lower_s, found.next_too_soft_upper_s
    return (
        found.next_lower_s <= ready <= found.next_upper_s,
        found.lower_s <= math.exp(lot.middle) <= found.upper_s,
        None if lower is None or upper is None else lower <= soft <= upper,
    )


DRIED = 6


def dried(world: World, chance: np.random.Generator) -> bool:
    """From six times in the air: does the next lie in its range?"""
    lots = math.log(by_the_sheet_s(THICKNESS_MM)) + SURE_SD * chance.standard_normal(2 if world.mixed else 1)
    own = np.exp(np.resize(lots, DRIED) + EACH_SD * chance.standard_normal(DRIED))
    if world.missed:
        own = own[chance.random(DRIED) > 0.1]
        own += 60 * chance.uniform(5, 20, len(own)) * (chance.random(len(own)) < 0.2)
    own *= np.where(chance.random(len(own)) < world.blunt / 2, 0.8, 1.0)  # blunt: called dry while still damp
    found = dry_back(own.tolist())
    return (
        found.lower_s <= math.exp(chance.choice(lots) + EACH_SD * chance.standard_normal()) <= found.upper_s
    )


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    rows = []
    for habit in HABITS:
        for name, world in WORLDS.items():
            chance = np.random.default_rng([seed, *map(ord, habit + name)])
            held = [workshop(habit, world, chance) for _ in range(runs)]
            for what, i in (("the next soak ready", 0), ("the usual time", 1), ("the next too soft", 2)):
                told = [one[i] for one in held if one[i] is not None]
                rows.append((f"{what}, {habit}", name, sum(map(bool, told)) / max(1, len(told))))
    for name, world in WORLDS.items():
        chance = np.random.default_rng([seed, *map(ord, name)])
        rows.append(("dry enough in the air", name, sum(dried(world, chance) for _ in range(runs)) / runs))
    return rows
