"""How often does the range of a turn hold the turn after which the pieces are as they are wanted?

A workshop: a screw that does 1 (0.25) of what its thread says, backlash 0.02 (0.02) mm, a lock nut that
moves it by 0 (0.01) mm; up to seven moves of 0.1 mm with four pieces measured before and after, then five
pieces that are 0.06 mm off. Mixed lots: those measured after a move are of a lot that springs back 0.01
mm more or less. Missed taps: in a third of the moves one reading stands on the wrong side of it. A blade
change entered late: in a fourth of the moves another blade cut what was measured after, 0.04 mm higher or
lower.
"""

import math
from dataclasses import dataclass

import numpy as np

from easelside.set_up.screw import move_for
from easelside.set_up.screw_fit import Measured, fit_screw

WANTED_MM, PIECE_MM, REPEATS_MM = 0.45, 0.015, 0.006
ASKED = "how far to turn"


@dataclass(frozen=True)
class World:
    mixed_mm: float = 0.0
    misplaced: float = 0.0
    late: float = 0.0


WORLDS = {
    "its own model": World(),
    "mixed lots under one name": World(mixed_mm=0.01),
    "missed taps": World(misplaced=1 / 3),
    "a blade change entered late": World(late=0.25),
}


@dataclass(frozen=True)
class Screw:
    effect: float
    backlash_mm: float
    creep_mm: float

    def change(self, height: float, turned_back: bool, chance: np.random.Generator) -> float:
        lost = math.copysign(self.backlash_mm, height) if turned_back else 0.0
        return self.effect * height - lost + self.creep_mm + float(chance.normal(0, REPEATS_MM))

    def needed(self, off: float, turned_back: bool, up: bool, chance: np.random.Generator) -> float:
        """The height after which pieces that are so much too thick are as they are wanted."""
        lost = (self.backlash_mm if up else -self.backlash_mm) if turned_back else 0.0
        return (-off - self.creep_mm + lost - float(chance.normal(0, REPEATS_MM))) / self.effect


def pieces(mean: float, n: int, chance: np.random.Generator) -> list[float]:
    return [float(value) for value in chance.normal(mean, PIECE_MM, n)]


def workshop(world: World, chance: np.random.Generator) -> bool | None:
    """Whether the range held; None where nothing was said, because the pieces did not agree."""
    of = ((1, 0.25), (0.02, 0.02), (0, 0.01))
    effect, backlash, creep = (float(chance.normal(*each)) for each in of)
    screw = Screw(max(0.3, effect), backlash, creep)
    up, moves = True, []
    for _ in range(int(chance.integers(0, 8))):
        height = float(chance.normal(0, 0.1))
        back, up = (height > 0) != up, height > 0
        after = WANTED_MM + screw.change(height, back, chance)
        after += float(chance.normal(0, world.mixed_mm)) + 0.04 * float(chance.choice([-1, 1])) * (
            chance.random() < world.late
        )
        first, then = pieces(WANTED_MM, 4, chance), pieces(after, 4, chance)
        if chance.random() < world.misplaced:
            then[0] = first[-1]
        moves.append(Measured(height, back, tuple(first), tuple(then)))
    truly = WANTED_MM + float(chance.normal(0, 0.06))
    last = pieces(truly, 5, chance)
    move = move_for(last, WANTED_MM, fit_screw(moves), up if moves else None)
    if move is None:
        return None
    raised = move.raise_mm > 0
    needed = screw.needed(truly - WANTED_MM, bool(moves) and raised != up, raised, chance)
    return move.low_mm <= needed <= move.high_mm


def held(world: World, runs: int, chance: np.random.Generator) -> float:
    """The share of the turns that were said in so many workshops whose range held."""
    said = [one for one in (workshop(world, chance) for _ in range(runs)) if one is not None]
    return sum(said) / len(said)


def coverage(runs: int, seed: int) -> list[tuple[str, str, float]]:
    """(what is foreseen, the world, how often it held)."""
    return [(ASKED, name, held(world, runs, np.random.default_rng(seed))) for name, world in WORLDS.items()]
