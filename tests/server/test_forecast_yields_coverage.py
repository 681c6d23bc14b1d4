"""Of a hundred forecasts of yield that say nine times in ten, about ninety hold, where the model is true."""

import numpy as np

from easelside.forecast.rules import jeffreys, pieces_to_start
from easelside.forecast.yields import good_between, pieces_for
from easelside.forecast.yields_fit import between_lots

RUNS = 1200


def test_nine_times_in_ten_enough_are_good_where_enough_were_started() -> None:
    chance = np.random.default_rng(41)
    held = 0
    for share in chance.beta(9, 1.5, RUNS):
        tried = int(chance.integers(25, 60))
        seen = (int(chance.binomial(tried, share)), tried)
        wanted = int(chance.integers(10, 40))
        held += chance.binomial(pieces_to_start(wanted, seen, 0.9), share) >= wanted
    # whole pieces: the fewest that are enough are now and then a little more than enough
    assert 0.88 <= held / RUNS <= 0.95


def test_nine_times_in_ten_the_good_ones_lie_between() -> None:
    chance = np.random.default_rng(42)
    held = 0
    for share in chance.beta(0.5, 0.5, RUNS):
        tried = int(chance.integers(10, 60))
        seen = (int(chance.binomial(tried, share)), tried)
        fewest, most = good_between(32, seen, 0.9)
        held += fewest <= chance.binomial(32, share) <= most
    # whole pieces: a range cannot be cut off at exactly one in twenty at each end
    assert 0.88 <= held / RUNS <= 0.96


def test_nine_times_in_ten_the_share_lies_between() -> None:
    chance = np.random.default_rng(43)
    held = 0
    for share in chance.beta(0.5, 0.5, RUNS):
        tried = int(chance.integers(10, 60))
        lower, upper = jeffreys(int(chance.binomial(tried, share)), tried, 0.9)
        held += lower <= share <= upper
    assert 0.88 <= held / RUNS <= 0.92  # 2.3 standard errors of a share of 0.9 in 1,200


def test_nine_times_in_ten_a_lot_never_cut_is_as_good_as_the_lots_before_it_say() -> None:
    chance = np.random.default_rng(44)
    held, runs = 0, 1000
    for _ in range(runs):
        shares = chance.beta(18, 2.5, 9)
        tried = chance.integers(25, 120, 8)
        to_come = between_lots(
            list(zip(chance.binomial(tried, shares[:8]).tolist(), tried.tolist(), strict=True))
        )
        held += chance.binomial(pieces_for(24, [to_come], 0.9), shares[8]) >= 24
    assert 0.85 <= held / runs <= 0.95
