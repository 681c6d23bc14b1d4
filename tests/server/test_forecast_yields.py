"""Starting enough: one stage, several stages, and how sure a share is."""

import json
import math
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from statsmodels.stats.proportion import proportion_confint

from easelside.errors import NotPossible
from easelside.forecast import fit, rules
from easelside.forecast.beta import beta_below, beta_quantile
from easelside.forecast.shares import Share, chance_if_alike, clopper_pearson, jeffreys, shares_of, wilson
from easelside.forecast.yields import (
    as_one,
    beta_binomial,
    good_between,
    good_chances,
    pieces_for,
    pieces_to_start,
)

counts = st.integers(1, 60).flatmap(lambda tried: st.tuples(st.integers(0, tried), st.just(tried)))
likely_counts = st.integers(4, 60).flatmap(lambda n: st.tuples(st.integers(n // 2, n), st.just(n)))


def test_24_good_need_32_started_of_a_lot_in_which_26_of_30_were_good() -> None:
    assert pieces_to_start(24, (26, 30), 0.9) == 32


@given(st.integers(1, 40), likely_counts, st.floats(0.5, 0.99))
def test_the_answer_is_the_fewest_pieces_that_are_enough(
    wanted: int, seen: tuple[int, int], chance: float
) -> None:
    a, b = seen[0] + 0.5, seen[1] - seen[0] + 0.5
    started = pieces_to_start(wanted, seen, chance)
    assert stats.betabinom.sf(wanted - 1, started, a, b) >= chance - 1e-9
    assert stats.betabinom.sf(wanted - 1, started - 1, a, b) < chance + 1e-9


@given(st.integers(1, 200), st.floats(0.05, 1), st.floats(0.5, 0.99))
def test_a_known_yield_waits_as_the_negative_binomial_does(wanted: int, known: float, chance: float) -> None:
    started = pieces_to_start(wanted, known, chance)
    assert stats.binom.sf(wanted - 1, started, known) >= chance - 1e-9
    assert stats.binom.sf(wanted - 1, started - 1, known) < chance + 1e-9


def exhaustive(started: int, stages: list[tuple[float, float]]) -> list[float]:
    """Chances of 0, 1, ... good ones, by going through every way in which pieces may come through."""
    found = [0.0] * (started + 1)
    for ways in product(range(started + 1), repeat=len(stages)):
        into, chance = started, 1.0
        for through, (a, b) in zip(ways, stages, strict=True):
            chance *= stats.betabinom.pmf(through, into, a, b) if through <= into else 0.0
            into = through
        found[into] += chance
    return found


@pytest.mark.parametrize("seen", [[(26, 30), (40, 44)], [(3, 4), (9, 9), (5, 11)], [(0, 2), (2, 2)]])
def test_several_stages_are_the_sum_over_all_that_may_come_through(seen: list[tuple[int, int]]) -> None:
    stages = [(good + 0.5, tried - good + 0.5) for good, tried in seen]
    for started in (1, 5, 9):
        assert good_chances(started, seen) == pytest.approx(exhaustive(started, stages), abs=1e-12)


@settings(max_examples=40)
@given(st.integers(1, 12), st.lists(likely_counts, min_size=2, max_size=4), st.floats(0.5, 0.95))
def test_the_fewest_through_several_stages_are_enough(
    wanted: int, seen: list[tuple[int, int]], chance: float
) -> None:
    started = pieces_to_start(wanted, seen, chance)
    if started <= 600:
        assert sum(good_chances(started, seen)[wanted:]) >= chance - 1e-9
        assert sum(good_chances(started - 1, seen)[wanted:]) < chance + 1e-9


def test_known_stages_are_one_stage_with_their_product() -> None:
    assert pieces_to_start(20, (0.9, 0.8), 0.9) == pieces_to_start(20, 0.9 * 0.8, 0.9)
    assert good_chances(6, [0.9, 0.8]) == pytest.approx(stats.binom.pmf(range(7), 6, 0.72), abs=1e-12)


def test_a_known_stage_and_a_counted_one_go_together() -> None:
    by_hand = sum(
        stats.binom.pmf(into, 12, 0.8) * stats.betabinom.sf(4, into, 18.5, 2.5) for into in range(13)
    )
    assert sum(good_chances(12, [0.8, (18, 20)])[5:]) == pytest.approx(by_hand, abs=1e-12)


def test_a_stage_that_loses_nothing_changes_nothing() -> None:
    assert pieces_to_start(24, [(26, 30), 1.0], 0.9) == 32
    assert pieces_to_start(24, 1.0, 0.9) == 24
    assert good_chances(3, 1.0) == [0, 0, 0, 1]


def test_the_order_of_the_stages_does_not_matter() -> None:
    stages = [(26, 30), (40, 44), (8, 10)]
    assert pieces_to_start(24, stages, 0.9) == pieces_to_start(24, stages[::-1], 0.9)


@pytest.mark.parametrize("wanted", [300, 420])
def test_many_pieces_through_stages_are_nearly_as_many_by_mean_and_spread_alone(wanted: int) -> None:
    seen = [(26, 30), (40, 44)]
    exact = pieces_to_start(wanted, seen, 0.8)
    assert exact <= 600
    assert pieces_for(wanted, [as_one(shares_of(seen))], 0.8) == pytest.approx(exact, rel=0.01)


def test_more_pieces_than_are_summed_are_answered_too() -> None:
    assert 1200 < pieces_to_start(1000, [(260, 300), (400, 440)], 0.9) < 1500


def test_none_wanted_needs_none() -> None:
    assert pieces_to_start(0, (26, 30), 0.9) == 0


def test_a_chance_that_is_reached_but_for_rounding_is_reached() -> None:
    # the prior alone is even about good and lost: of 9 pieces 5 or more are good half the time, exactly
    assert pieces_for(5, [Share(0.5, 0.5)], 0.5) == 9
    assert pieces_to_start(1, 0.5, 0.5) == 1


@pytest.mark.parametrize("seen", [(0, 0), [(26, 30), (0, 0)]])
def test_of_no_piece_tried_it_says_that_nothing_is_known(seen: object) -> None:
    with pytest.raises(NotPossible, match="no piece was tried"):
        pieces_to_start(24, seen, 0.9)  # type: ignore[arg-type]


CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "yields.json").read_text())


@pytest.mark.parametrize("case", CASES["start"])
def test_as_many_are_started_as_the_phone_says(case: dict[str, Any]) -> None:
    shares = [Share(good + 0.5, tried - good + 0.5) for good, tried in case["seen"]]
    assert pieces_for(case["wanted"], shares, case["chance"]) == case["start"]


@pytest.mark.parametrize(("wanted", "seen"), [(1, (0, 100)), (24, (0, 100)), (24, (3, 40_000)), (300, 0.001)])
def test_where_very_many_are_wanted_it_is_still_the_fewest(
    wanted: int, seen: float | tuple[int, int]
) -> None:
    started = pieces_to_start(wanted, seen, 0.9)
    assert started > 50_000 or wanted == 1

    def chance(n: int) -> float:
        if isinstance(seen, float):
            return float(stats.binom.sf(wanted - 1, n, seen))
        return float(stats.betabinom.sf(wanted - 1, n, seen[0] + 0.5, seen[1] - seen[0] + 0.5))

    assert chance(started) >= 0.9 - 1e-6 and chance(started - 1) < 0.9 + 1e-6


def test_that_no_number_of_pieces_is_enough_is_said() -> None:
    with pytest.raises(NotPossible, match="were not enough"):
        pieces_to_start(24, (0, 1000), 0.99)


@pytest.mark.parametrize("seen", [(26.5, 30), (26, 30.5), [(26.5, 30), (40, 44)]])
def test_half_a_piece_is_no_count(seen: object) -> None:
    with pytest.raises(NotPossible, match="whole number"):
        pieces_to_start(24, seen, 0.9)  # type: ignore[arg-type]


@given(counts, st.integers(1, 30), st.floats(0.5, 0.95))
def test_more_certainty_never_needs_fewer_pieces(seen: tuple[int, int], wanted: int, chance: float) -> None:
    if seen[0] == 0:
        return
    assert pieces_to_start(wanted, seen, chance) <= pieces_to_start(wanted, seen, chance + 0.04)
    assert pieces_to_start(wanted, seen, chance) < pieces_to_start(wanted + 1, seen, chance)


@pytest.mark.parametrize(
    ("wanted", "seen", "chance"),
    [
        (-1, 0.9, 0.9),
        (2.5, 0.9, 0.9),
        (math.nan, 0.9, 0.9),
        (5, 0.0, 0.9),
        (5, 1.1, 0.9),
        (5, -0.1, 0.9),
        (5, math.nan, 0.9),
        (5, (11, 10), 0.9),
        (5, (-1, 10), 0.9),
        (5, (math.nan, 10), 0.9),
        (5, (), 0.9),
        (5, [(26, 30), (31, 30)], 0.9),
        (5, "0.9", 0.9),
        (5, 0.9, 0.0),
        (5, 0.9, 1.0),
        (5, 0.9, math.nan),
        (5, 1e-9, 0.9),
    ],
)
def test_what_cannot_be_is_refused(wanted: int, seen: float, chance: float) -> None:
    with pytest.raises(NotPossible):
        pieces_to_start(wanted, seen, chance)


@given(st.integers(0, 40), counts)
def test_chances_of_good_ones_are_those_of_the_beta_binomial(started: int, seen: tuple[int, int]) -> None:
    a, b = seen[0] + 0.5, seen[1] - seen[0] + 0.5
    expected = stats.betabinom.pmf(range(started + 1), started, a, b)
    assert good_chances(started, seen) == pytest.approx(expected, abs=1e-11)
    assert [beta_binomial(x, started, a, b) for x in range(started + 1)] == pytest.approx(expected, abs=1e-11)


@given(st.integers(1, 60), counts, st.sampled_from([0.5, 0.8, 0.9]))
def test_as_many_good_ones_lie_between_as_the_level_says(
    started: int, seen: tuple[int, int], level: float
) -> None:
    fewest, most = good_between(started, seen, level)
    chances = good_chances(started, seen)
    assert sum(chances[fewest : most + 1]) >= level - 1e-9
    assert sum(chances[:fewest]) <= (1 - level) / 2 + 1e-9
    assert sum(chances[most + 1 :]) <= (1 - level) / 2 + 1e-9


@given(counts, st.floats(0.5, 0.999))
def test_intervals_agree_with_another_library(seen: tuple[int, int], level: float) -> None:
    x, n = seen
    for mine, theirs in ((wilson, "wilson"), (clopper_pearson, "beta")):
        lower, upper = proportion_confint(x, n, 1 - level, theirs)
        assert mine(x, n, level) == pytest.approx((max(0, lower), min(1, upper)), abs=1e-9)
    edges = stats.beta.ppf([(1 - level) / 2, (1 + level) / 2], x + 0.5, n - x + 0.5)
    assert jeffreys(x, n, level) == pytest.approx(edges, abs=1e-9)


@pytest.mark.parametrize("interval", [wilson, clopper_pearson, jeffreys])
@pytest.mark.parametrize(("x", "n", "level"), [(3, 2, 0.9), (-1, 2, 0.9), (0, 0, 0.9), (1, 2, 0), (1, 2, 1)])
def test_an_interval_of_what_cannot_be_is_refused(interval: object, x: int, n: int, level: float) -> None:
    assert callable(interval)
    with pytest.raises(NotPossible):
        interval(x, n, level)


@given(st.floats(0.3, 2000), st.floats(0.3, 2000), st.floats(0.001, 0.999))
def test_the_beta_distribution_agrees_with_another_library(a: float, b: float, x: float) -> None:
    assert beta_below(x, a, b) == pytest.approx(stats.beta.cdf(x, a, b), abs=1e-10)
    assert beta_quantile(x, a, b) == pytest.approx(stats.beta.ppf(x, a, b), abs=1e-9)


@pytest.mark.parametrize(("a", "b"), [(0, 1), (1, -1), (math.nan, 1), (math.inf, 1)])
def test_a_beta_distribution_that_cannot_be_is_refused(a: float, b: float) -> None:
    with pytest.raises(NotPossible):
        beta_below(0.5, a, b)


@given(counts, counts)
def test_the_chance_that_two_lots_are_alike_is_fishers(one: tuple[int, int], other: tuple[int, int]) -> None:
    table = [[one[0], one[1] - one[0]], [other[0], other[1] - other[0]]]
    theirs = stats.fisher_exact(table, alternative="less").pvalue
    assert chance_if_alike(*one, *other) == pytest.approx(theirs, abs=1e-9)


def test_one_share_for_several_keeps_mean_and_spread() -> None:
    a, b = Share(26.5, 4.5), Share(40.5, 4.5)
    mean, square = as_one([a, b]).moments()
    assert mean == pytest.approx(26.5 / 31 * 40.5 / 45)
    assert square == pytest.approx(26.5 * 27.5 / (31 * 32) * 40.5 * 41.5 / (45 * 46))


def test_they_are_found_by_the_names_that_others_call() -> None:
    for module in (rules, fit):
        assert module.pieces_to_start is pieces_to_start
        assert (module.wilson, module.clopper_pearson, module.jeffreys) == (wilson, clopper_pearson, jeffreys)
