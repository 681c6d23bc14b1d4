"""Nine times in ten: does the range of the pace hold as often as it says, on data of its own model?"""

import math

import numpy as np
import pytest

from tests.benchmarks.coverage_pace import WORLDS, held

RUNS = 400


@pytest.mark.parametrize("what", ["next piece", "rest of the batch", "turns"])
def test_the_range_holds_85_to_95_times_in_a_hundred(what: str) -> None:
    """Of 400 workshops; slack: two standard errors of a share of 0.9, 3 in a hundred either way."""
    share = held(WORLDS["its own model"], what, RUNS, np.random.default_rng(21))
    slack = 2 * math.sqrt(0.9 * 0.1 / RUNS)
    assert 0.85 - slack <= share <= 0.95 + slack
