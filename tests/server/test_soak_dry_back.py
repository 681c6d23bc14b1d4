"""Dry-back in the air: from the sheet's law at first, from the maker's own times soon."""

import math

import numpy as np
import pytest

from easelside.errors import NotPossible
from easelside.soak.dry_back import EACH_SD, SURE_SD, by_the_sheet_s, dry_back


def test_without_a_time_of_ones_own_it_is_what_the_sheet_loses() -> None:
    found = dry_back([])
    assert found.usual_s == pytest.approx(by_the_sheet_s(1.25))
    assert found.observations == 0
    assert found.upper_s / found.lower_s > 10


def test_ones_own_times_soon_overrule_it() -> None:
    found = dry_back([900, 1000, 950, 1100, 900, 1000])
    assert found.usual_s == pytest.approx(970, rel=0.12)
    assert found.lower_s < 900 < 1100 < found.upper_s
    assert found.upper_s / found.lower_s < 5


def test_thicker_cane_and_damper_air_take_longer() -> None:
    assert by_the_sheet_s(1.5) == pytest.approx(by_the_sheet_s(1.25) * (1.5 / 1.25) ** 2)
    assert by_the_sheet_s(1.25, humidity_percent=90) > by_the_sheet_s(1.25, humidity_percent=30)
    assert by_the_sheet_s(1.25, room_c=28) < by_the_sheet_s(1.25, room_c=16)


@pytest.mark.parametrize("times", [0, 2, 8])
def test_nine_times_in_ten_the_next_lies_in_its_range(times: int) -> None:
    rng, runs, held = np.random.default_rng(times), 600, 0
    for _ in range(runs):
        usual = math.log(by_the_sheet_s(1.25)) + SURE_SD * rng.standard_normal()
        *own, following = np.exp(usual + EACH_SD * rng.standard_normal(times + 1)).tolist()
        found = dry_back(own)
        held += found.lower_s <= following <= found.upper_s
    assert 0.87 < held / runs < 0.93  # 0.9 and two and a half standard deviations


@pytest.mark.parametrize("time", [0, -1, math.nan, math.inf])
def test_what_cannot_be_is_refused_in_words(time: float) -> None:
    with pytest.raises(NotPossible):
        dry_back([time])
