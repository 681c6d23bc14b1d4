"""Does a 90 % range of the ready time hold 9 times in 10? By simulation on the model's own data."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pytest

from easelside.soak.fit import fit_ready_time
from easelside.soak.marks import SoakMark
from easelside.soak.posterior_fit import READY_SD, SPREAD, SPREAD_SD, WINDOW, WINDOW_SD

RUNS = 300


@dataclass(frozen=True)
class Lot:
    """ln of the usual ready time, sd of ln about it, ln(too soft / ready)."""

    middle: float
    spread: float
    window: float

    def came_out(self, soak_s: float, rng: np.random.Generator) -> str:
        over = math.log(soak_s) - self.middle - self.spread * rng.standard_normal()
        if rng.random() < 0.02:
            return str(rng.choice(["still_hard", "good", "too_soft"]))
        return "still_hard" if over < 0 else "good" if over < self.window else "too_soft"


def drawn(rng: np.random.Generator, practice_s: float) -> Lot:
    a, b, c = rng.standard_normal(3)
    return Lot(
        math.log(practice_s) + READY_SD * a,
        SPREAD * math.exp(SPREAD_SD * b),
        WINDOW * math.exp(WINDOW_SD * c),
    )


def soaked_by_a_maker(lot: Lot, marks: int, water_c: float, first_s: float, seed: int) -> Iterator[SoakMark]:
    """A maker begins somewhere about habit, leaves it longer after still hard and shorter after too soft."""
    rng = np.random.default_rng(seed)
    usual = first_s * math.exp(0.3 * rng.standard_normal())
    for _ in range(marks):
        soak_s = usual * math.exp(0.15 * rng.standard_normal())
        mark = lot.came_out(soak_s, rng)
        usual *= {"still_hard": 1.25, "good": 1.0, "too_soft": 0.8}[mark]
        yield SoakMark(soak_s, mark, water_c)


@pytest.mark.parametrize(("water_c", "first_s"), [(38.0, 1800.0), (20.0, 36000.0)], ids=["warm", "overnight"])
@pytest.mark.parametrize("marks", [4, 12])
def test_nine_times_in_ten_it_lies_in_its_range(water_c: float, first_s: float, marks: int) -> None:
    usual, following = 0, 0
    for seed in range(RUNS):
        rng = np.random.default_rng(10_000 + seed)
        lot = drawn(rng, first_s)
        found = fit_ready_time(list(soaked_by_a_maker(lot, marks, water_c, first_s, seed)), first_s)
        usual += found.lower_s <= math.exp(lot.middle) <= found.upper_s
        next_ready = math.exp(lot.middle + lot.spread * rng.standard_normal())
        following += found.next_lower_s <= next_ready <= found.next_upper_s
    assert 0.85 <= usual / RUNS <= 0.95
    assert 0.85 <= following / RUNS <= 0.95
