"""Does hard cane blunt an edge sooner, and how much?"""

import numpy as np
import numpy.typing as npt
import pytest

from easelside.blades.wear_fit import Wear, fit_wear, hardness_of_lots

ORDINARY, HARD = 0.0, 0.3
HARDNESS = np.array([ORDINARY, HARD])


Bools, Lots = npt.NDArray[np.bool_], npt.NDArray[np.int32]


def edges(power: float, number: int, seed: int = 4) -> tuple[npt.NDArray[np.float64], Bools, Lots]:
    """Edges that wear as the power says: each cuts one lot, or first the one and then the other."""
    chance = np.random.default_rng(seed)
    cut, ended, last = np.zeros((number, 2)), np.ones(number, np.bool_), np.zeros(number, np.int32)
    for i in range(number):
        worn = 250 * chance.weibull(5)
        first = min(worn, chance.choice([0.0, 60.0, 120.0, 1e9]))
        cut[i, 0] = round(first)
        cut[i, 1] = round((worn - first) / np.exp(power * HARD))
        last[i] = int(worn > first)
    return cut, ended, last


@pytest.mark.parametrize("power", [0.0, 1.0, 2.0])
def test_the_power_is_found_again(power: float) -> None:
    found = fit_wear(*edges(power, 200), HARDNESS)
    assert found is not None
    assert found.power_interval[0] <= power <= found.power_interval[1]
    assert found.power == pytest.approx(power, abs=0.4)


def test_the_range_holds_the_power_nine_times_in_ten() -> None:
    held = 0
    for seed in range(60):
        found = fit_wear(*edges(1.0, 24, seed), HARDNESS)
        assert found is not None
        held += found.power_interval[0] <= 1.0 <= found.power_interval[1]
    assert 47 <= held <= 60  # of 60, within chance of nine in ten


def test_few_edges_or_cane_all_alike_say_nothing() -> None:
    assert fit_wear(*edges(1.0, 5), HARDNESS) is None
    assert fit_wear(*edges(1.0, 60), np.zeros(2)) is None


def test_nearly_alike_cane_says_nothing() -> None:
    assert fit_wear(*edges(1.0, 12), HARDNESS / 100) is None


def test_a_piece_of_hard_cane_counts_for_more() -> None:
    wear = Wear(1.5, (1.0, 2.0), 0.9)
    assert wear.of(0) == 1
    assert wear.of(HARD) == pytest.approx(1.568, abs=0.001)


def test_a_lot_is_as_hard_as_its_minutes_at_edges_of_one_age() -> None:
    chance = np.random.default_rng(1)
    lot = np.repeat([0, 1, 2], [300, 200, 5]).astype(np.int32)
    age = chance.uniform(0, 250, len(lot))
    minutes = 3.0 * np.exp(0.3 * (lot == 1) + 0.001 * age + 0.1 * chance.standard_normal(len(lot)))
    minutes[0] = np.nan
    hardness = hardness_of_lots(minutes, lot, age, lots=4)
    assert hardness[1] - hardness[0] == pytest.approx(0.3, abs=0.03)
    assert hardness[2] == hardness[3] == 0
    assert not hardness_of_lots(np.array([]), np.array([], np.int32), np.array([]), lots=2).any()
