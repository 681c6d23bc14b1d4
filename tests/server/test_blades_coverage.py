"""A range said to hold nine times in ten holds 85 to 95 times in a hundred, in the world it is made for."""

from collections.abc import Callable

import numpy as np
import pytest

from tests.benchmarks.coverage_edges import ahead_holds, due_holds, end_holds, left_holds


@pytest.mark.parametrize(
    ("holds", "runs"),
    [
        (left_holds, 1000),
        (due_holds, 1000),
        (ahead_holds, 1000),
        (end_holds, 300),
    ],  # the last takes five times as long
)
def test_the_range_holds_nine_times_in_ten(
    holds: Callable[[np.random.Generator, str], bool], runs: int
) -> None:
    chance = np.random.default_rng(20_261_125)
    share = sum(holds(chance, "own world") for _ in range(runs)) / runs
    assert 0.85 <= share <= 0.95
