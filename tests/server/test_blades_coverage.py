"""A range said to hold nine times in ten holds 85 to 95 times in a hundred, in the world it is made for."""

from collections.abc import Callable

import numpy as np
import pytest

from tests.benchmarks.coverage_edges import ahead_holds, due_holds, end_holds, left_holds

RUNS = 200
SLACK = 2 * (0.9 * 0.1 / RUNS) ** 0.5  # two binomial standard errors of so many runs: 4 in a hundred


@pytest.mark.parametrize("holds", [left_holds, end_holds, due_holds, ahead_holds])
def test_the_range_holds_nine_times_in_ten(holds: Callable[[np.random.Generator, str], bool]) -> None:
    chance = np.random.default_rng(20_261_125)
    share = sum(holds(chance, "own world") for _ in range(RUNS)) / RUNS
    assert 0.85 - SLACK <= share <= 0.95 + SLACK
