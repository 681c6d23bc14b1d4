"""How long edges last: against SciPy, and what must hold for any edges."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import CensoredData, ecdf, weibull_min

from easelside.blades.fit import PRACTICE, fit_life, life_of
from easelside.blades.life import (
    LifeFit,
    Node,
    PiecesLeft,
    chance_of_lasting,
    log_rank,
    pieces_left,
    quantiles_left,
    survival,
)
from easelside.errors import NotPossible

WENT_OFF = [198, 219, 231, 244, 258, 268, 272, 310]
STILL_GOOD = [96, 140, 60]
EDGES = (WENT_OFF + STILL_GOOD, [True] * 8 + [False] * 3)

lives = st.lists(st.tuples(st.integers(1, 900), st.booleans()), min_size=4, max_size=40)


def columns(edges: list[tuple[int, bool]]) -> tuple[list[int], list[bool]]:
    return [pieces for pieces, _ in edges], [over for _, over in edges]


def law(shape: float, scale: float) -> LifeFit:
    nothing = (math.nan, math.nan)
    return LifeFit(shape, scale, nothing, nothing, 0.9, 0, 0, math.nan, (Node(shape, scale, 1.0),))


@given(lives)
@settings(max_examples=60)
def test_the_fit_is_at_least_as_likely_as_scipys(edges: list[tuple[int, bool]]) -> None:
    pieces, ended = columns(edges)
    over = [p for p, e in edges if e]
    if len(set(over)) < 2:
        return
    fit = fit_life(pieces, ended)
    data = CensoredData(uncensored=over, right=[p for p, e in edges if not e])
    theirs = weibull_min.nnlf((fit.shape, 0, fit.scale), np.array(over, float))
    theirs -= weibull_min.logsf([p for p, e in edges if not e], fit.shape, 0, fit.scale).sum()
    assert fit.log_likelihood == pytest.approx(-theirs, rel=1e-9)
    shape, _, scale = weibull_min.fit(data, floc=0)
    scipys = sum(weibull_min.logpdf(over, shape, 0, scale))
    scipys += sum(weibull_min.logsf([p for p, e in edges if not e], shape, 0, scale))
    assert fit.log_likelihood >= scipys - 1e-6


def test_the_fit_is_scipys_for_a_workshops_edges() -> None:
    fit = fit_life(*EDGES)
    shape, _, scale = weibull_min.fit(CensoredData(uncensored=WENT_OFF, right=STILL_GOOD), floc=0)
    assert (fit.shape, fit.scale) == pytest.approx((shape, scale), rel=1e-3)


@given(lives)
@settings(max_examples=80)
def test_the_steps_are_scipys(edges: list[tuple[int, bool]]) -> None:
    pieces, ended = columns(edges)
    found = survival(pieces, ended)
    over = [p for p, e in edges if e]
    theirs = ecdf(CensoredData(uncensored=over, right=[p for p, e in edges if not e])).sf
    at = dict(zip(theirs.quantiles, theirs.probabilities, strict=True))
    assert list(found.times) == sorted(set(over))
    assert list(found.survival) == pytest.approx([at[t] for t in found.times], abs=1e-12)


@given(lives)
@settings(max_examples=80)
def test_the_steps_only_go_down_and_stay_within_0_and_1(edges: list[tuple[int, bool]]) -> None:
    found = survival(*columns(edges))
    parts = [1.0, *found.survival]
    assert all(0 <= b < a for a, b in itertools.pairwise(parts))
    assert all(0 <= error <= 1 for error in found.standard_error)


@given(lives, st.floats(0.2, 50))
@settings(max_examples=40)
def test_counting_in_other_units_stretches_the_scale_and_keeps_the_shape(
    edges: list[tuple[int, bool]], unit: float
) -> None:
    pieces, ended = columns(edges)
    if len({p for p, e in edges if e}) < 2:
        return
    fit, other = fit_life(pieces, ended), fit_life([p * unit for p in pieces], ended)
    assert other.shape == pytest.approx(fit.shape, rel=1e-6)
    assert other.scale == pytest.approx(fit.scale * unit, rel=1e-6)


def test_edges_still_cutting_make_the_life_longer() -> None:
    with_them = fit_life([*WENT_OFF, 400, 400], [True] * 8 + [False] * 2)
    assert with_them.scale > fit_life(WENT_OFF, [True] * 8).scale


def test_intervals_hold_the_fit_and_widen_with_the_level() -> None:
    narrow, wide = fit_life(*EDGES, level=0.9), fit_life(*EDGES, level=0.99)
    assert wide.shape_interval[0] < narrow.shape_interval[0] < narrow.shape < narrow.shape_interval[1]
    assert wide.scale_interval[1] > narrow.scale_interval[1] > narrow.scale > narrow.scale_interval[0]


@given(st.floats(0.5, 8), st.floats(50, 1000), st.floats(0, 4))
@settings(max_examples=100)
def test_what_is_left_is_scipys_quantile_given_what_has_lasted(
    shape: float, scale: float, scales_so_far: float
) -> None:
    so_far = scale * scales_so_far  # beyond, the logarithms are too large for their difference
    left = pieces_left(law(shape, scale), so_far, 0.9)
    lasted = weibull_min.logsf(so_far, shape, scale=scale)
    for more, chance in ((left.lower, 0.95), (left.median, 0.5), (left.upper, 0.05)):
        assert weibull_min.logsf(so_far + more, shape, scale=scale) - lasted == pytest.approx(
            math.log(chance), rel=1e-6, abs=1e-6
        )


@given(st.floats(0, 600))
@settings(max_examples=40)
def test_what_is_left_averaged_over_laws_is_left_with_that_chance(so_far: float) -> None:
    fit = life_of(*EDGES)
    left = pieces_left(fit, so_far, 0.9)
    assert 0 < left.lower < left.median < left.upper
    assert chance_of_lasting(fit, so_far, left.upper) == pytest.approx(0.05, abs=1e-9)
    assert chance_of_lasting(fit, so_far, left.lower) == pytest.approx(0.95, abs=1e-9)


def test_an_edge_that_has_long_outlasted_a_steep_law_has_no_pieces_left_to_the_last_figure() -> None:
    left = pieces_left(law(7.325831091287243, 40), 844, 0.9)
    for more, chance in ((left.lower, 0.95), (left.median, 0.5), (left.upper, 0.05)):
        assert chance_of_lasting(law(7.325831091287243, 40), 844, more) == pytest.approx(chance, rel=1e-9)


def test_a_worn_edge_has_less_left_than_a_fresh_one() -> None:
    fit = life_of(*EDGES)
    left = [pieces_left(fit, so_far).median for so_far in (0, 60, 120, 180)]
    assert left == sorted(left, reverse=True)


def test_without_any_edge_common_practice_stands() -> None:
    fit = life_of([], [])
    assert fit.scale == pytest.approx(math.exp(PRACTICE.log_scale), rel=1e-6)
    assert fit.ended == fit.observations == 0


def test_a_workshop_whose_blades_last_ten_times_as_long_is_believed() -> None:
    hard_steel = [2300, 2800, 3100, 2600, 2950, 2450]
    assert 2400 < life_of(hard_steel, [True] * 6).scale < 3200


def test_with_many_edges_the_prior_says_nothing_any_more() -> None:
    pieces, ended = EDGES[0] * 40, EDGES[1] * 40
    plain, with_prior = fit_life(pieces, ended), life_of(pieces, ended)
    assert (with_prior.shape, with_prior.scale) == pytest.approx((plain.shape, plain.scale), rel=0.02)


def test_the_few_laws_say_what_the_fine_grid_says() -> None:
    """The nodes stand for a grid of 41 by 41; against sampling from the same posterior by brute force."""
    fit, random = life_of(*EDGES), np.random.default_rng(5)
    shapes = np.exp(random.normal(PRACTICE.log_shape, PRACTICE.log_shape_sd, 200_000))
    scales = np.exp(random.normal(PRACTICE.log_scale, PRACTICE.log_scale_sd, 200_000))
    log = np.zeros(len(shapes))
    for pieces, over in zip(*EDGES, strict=True):
        log += (
            weibull_min.logpdf(pieces, shapes, scale=scales)
            if over
            else weibull_min.logsf(pieces, shapes, scale=scales)
        )
    kept = random.choice(len(shapes), 40_000, p=np.exp(log - log.max()) / np.exp(log - log.max()).sum())
    drawn = weibull_min.rvs(shapes[kept], scale=scales[kept], random_state=random)
    left = pieces_left(fit, 0, 0.9)
    assert (left.lower, left.median, left.upper) == pytest.approx(
        np.quantile(drawn, (0.05, 0.5, 0.95)), rel=0.03
    )


def test_edges_of_one_kind_are_not_told_apart_and_of_two_kinds_they_are() -> None:
    assert log_rank(WENT_OFF[::2], [True] * 4, WENT_OFF[1::2], [True] * 4).p > 0.2
    assert log_rank(WENT_OFF, [True] * 8, [p * 3 for p in WENT_OFF], [True] * 8).p < 0.001


@pytest.mark.parametrize(
    ("pieces", "ended"),
    [
        ([], []),
        ([10, 20], [False, False]),
        ([200, 200, 200], [True, True, True]),
        ([200, -1], [True, True]),
        ([200, 0], [True, True]),
        ([200, math.nan], [True, True]),
        ([200, 210], [True]),
    ],
)
def test_what_no_law_can_be_fitted_to_is_told(pieces: list[float], ended: list[bool]) -> None:
    with pytest.raises(NotPossible):
        fit_life(pieces, ended)


@pytest.mark.parametrize(("so_far", "level"), [(-1, 0.9), (math.nan, 0.9), (10, 0), (10, 1), (10, 90)])
def test_a_count_or_a_level_that_cannot_be_is_told(so_far: float, level: float) -> None:
    with pytest.raises(NotPossible):
        pieces_left(law(3, 250), so_far, level)


@pytest.mark.parametrize("so_far", [1e4, 1e9, 1e18])
def test_of_an_edge_far_older_than_any_there_is_next_to_nothing_left(so_far: float) -> None:
    several = replace(law(3, 250), nodes=(Node(3, 250, 0.5), Node(500, 300, 0.5)))
    for fit in (law(3, 250), law(500, 250), several):
        left = pieces_left(fit, so_far, 0.9)
        assert 0 <= left.lower <= left.median <= left.upper < 1 + 1e-15 * so_far


@given(st.floats(0.5, 20), st.floats(50, 500), st.floats(0, 2000), st.floats(0.01, 0.99))
def test_what_is_left_by_one_law_is_scipys(shape: float, scale: float, so_far: float, chance: float) -> None:
    spent = float(weibull_min.sf(so_far, shape, scale=scale))
    if spent < 1e-200:
        return
    expected = float(weibull_min.isf(spent * (1 - chance), shape, scale=scale)) - so_far
    assert quantiles_left(law(shape, scale), so_far, (chance,))[0] == pytest.approx(
        expected, rel=1e-6, abs=1e-6
    )


@pytest.mark.filterwarnings("error")
def test_edges_that_ended_worlds_apart_are_fitted_without_a_warning_or_refused() -> None:
    for pieces in ([1e308, 1e300], [1e18, 1e-6], [1e18, 1.0, 2.0]):
        try:
            assert math.isfinite(fit_life(pieces, [True] * len(pieces)).scale_interval[1])
        except NotPossible as refused:
            assert refused.what_happened.startswith("This cannot be worked out: the ")


def test_what_is_left_is_a_frozen_result() -> None:
    left = pieces_left(law(3, 250), 100, 0.8)
    assert left == PiecesLeft(left.median, left.lower, left.upper, 0.8)
