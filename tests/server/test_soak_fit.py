"""The ready time of a lot, by the marks that its maker made."""

import math
from fractions import Fraction
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.miscmodels.ordinal_model import OrderedModel

from easelside.errors import NotPossible
from easelside.soak.fit import ReadyTime, fit_ready_time, log_effective
from easelside.soak.jar import Jar
from easelside.soak.marks import SoakMark
from easelside.soak.practice import ENOUGH_MARKS, practice_s


def marks(minutes: object, mark: str, water_c: float = 38.0, room_c: float | None = None) -> list[SoakMark]:
    return [SoakMark(60 * m, mark, water_c, room_c=room_c) for m in minutes]  # type: ignore[attr-defined]


def test_without_a_mark_it_is_common_practice_and_says_so() -> None:
    found = fit_ready_time([])
    assert found.ready_s == pytest.approx(1800, rel=0.01)
    assert found.lower_s < 1800 < found.upper_s
    assert (found.observations, found.wanting) == (0, ENOUGH_MARKS)
    assert found.too_soft_s is None


def test_without_a_mark_it_is_best_when_it_is_ready() -> None:
    for found in (fit_ready_time([]), fit_ready_time([SoakMark(1500, None, 38, None, None, 4.0, 6.0)])):
        assert found.best_s == pytest.approx(found.ready_s)


@pytest.mark.parametrize("practice_s", [0, -1, math.nan, 1e9, "long"])
def test_a_practice_that_cannot_be_is_refused_and_not_passed_over(practice_s: float) -> None:
    with pytest.raises(NotPossible, match="time of practice"):
        fit_ready_time([], practice_s)


def test_degrees_that_are_told_as_a_fraction_come_out_as_plain_numbers() -> None:
    found = fit_ready_time([{"soak_s": Fraction(1500), "mark": "good", "room_c": Fraction(61, 3)}])
    assert type(found.room_c) is float


def test_practice_goes_from_half_an_hour_warm_to_four_hours_cold() -> None:
    # common practice, no source
    assert practice_s(38) == pytest.approx(1800)
    assert practice_s(12) == pytest.approx(14400)
    assert 1800 < practice_s(25) < 14400


def test_marks_on_either_side_close_it_in() -> None:
    found = fit_ready_time(marks(range(15, 26), "still_hard") + marks(range(26, 40), "good"))
    assert found.ready_s == pytest.approx(25.5 * 60, rel=0.04)
    assert found.lower_s > 21 * 60
    assert found.upper_s < 29 * 60
    assert found.ready_s < found.best_s < 40 * 60
    assert found.wanting == 0


@pytest.mark.parametrize("usual_min", [8, 75, 150])
def test_a_makers_own_marks_soon_overrule_practice(usual_min: int) -> None:
    around = [usual_min * f for f in (0.7, 0.8, 0.9, 0.95)]
    beyond = [usual_min * f for f in (1.05, 1.1, 1.2, 1.3)]
    found = fit_ready_time(marks(around, "still_hard") + marks(beyond, "good"))
    assert found.ready_s == pytest.approx(60 * usual_min, rel=0.12)


def test_an_overnight_soaker_is_as_welcome_as_a_warm_one() -> None:
    found = fit_ready_time(marks([360, 390, 420], "still_hard", 20) + marks(range(560, 640, 10), "good", 20))
    assert 430 * 60 < found.ready_s < 560 * 60
    assert 560 * 60 <= found.best_s <= 640 * 60
    assert found.temperature_c == 20


def test_too_soft_is_said_only_where_the_maker_said_so() -> None:
    without = marks([20, 22], "still_hard") + marks(range(28, 36), "good")
    assert fit_ready_time(without).too_soft_s is None
    found = fit_ready_time(without + marks([55, 60, 65], "too_soft"))
    assert found.too_soft_s is not None
    assert found.next_too_soft_lower_s is not None
    assert found.next_too_soft_upper_s is not None
    assert 36 * 60 < found.too_soft_s < 58 * 60
    assert found.next_too_soft_lower_s < found.too_soft_s < found.next_too_soft_upper_s
    assert found.best_s < found.too_soft_s


def test_good_marks_alone_leave_open_how_early_it_might_have_been() -> None:
    found = fit_ready_time(marks([30, 31, 32, 33] * 5, "good"))
    assert 28 * 60 < found.best_s < 36 * 60
    assert found.upper_s < 30 * 60
    assert found.upper_s / found.lower_s > 1.8


def test_more_marks_narrow_the_range() -> None:
    few = marks([20, 24], "still_hard") + marks([27, 32], "good")
    one, many = (fit_ready_time(few * n) for n in (1, 8))
    assert math.log(many.upper_s / many.lower_s) < 0.6 * math.log(one.upper_s / one.lower_s)


def test_one_slip_of_the_thumb_does_not_overturn_it() -> None:
    clear = marks(range(15, 26), "still_hard") + marks(range(26, 40), "good")
    right, wrong = fit_ready_time(clear), fit_ready_time([*clear, *marks([120], "still_hard")])
    assert wrong.ready_s == pytest.approx(right.ready_s, rel=0.05)


def test_marks_in_cold_and_warm_water_tell_how_much_warmth_speeds_it() -> None:
    true_kj_mol = 33.0
    rows = []
    for water_c in (10.0, 38.0):
        usual = 1500 / math.exp(true_kj_mol / 8.314462618e-3 * (1 / 311.15 - 1 / (water_c + 273.15)))
        for f in (0.7, 0.8, 0.9, 0.95):
            rows += [SoakMark(usual * f, "still_hard", water_c), SoakMark(usual / f, "good", water_c)]
    found = fit_ready_time(rows * 4)
    assert found.activation_kj_mol == pytest.approx(true_kj_mol, abs=3)
    assert found.activation_sd_kj_mol < 5


def test_thicker_cane_takes_longer_by_the_square() -> None:
    rows = [
        SoakMark(s, m, 38, t)
        for t in (1.2, 1.3)
        for s, m in ((1300 * t * t, "still_hard"), (1500 * t * t, "good"))
    ]
    found = fit_ready_time(rows * 8)
    assert found.thickness_mm == 1.2
    assert found.ready_s == pytest.approx(1400 * 1.2**2, rel=0.06)


def test_weighings_enter_the_same_fit() -> None:
    few = marks([20], "still_hard") + marks([40], "good")
    slow = [SoakMark(1800, None, 38, weight_before_g=5.0, weight_after_g=6.6) for _ in range(4)]
    quick = [SoakMark(1800, None, 38, weight_before_g=5.0, weight_after_g=9.4) for _ in range(4)]
    without, longer, shorter = (fit_ready_time(few + more) for more in ([], slow, quick))
    assert shorter.ready_s < without.ready_s < longer.ready_s
    assert longer.observations == 6
    assert longer.wanting == ENOUGH_MARKS - 2


def test_weighings_alone_never_pass_for_marks() -> None:
    found = fit_ready_time([SoakMark(1800, None, 38, weight_before_g=5.0, weight_after_g=8.0)] * 30)
    assert found.wanting == ENOUGH_MARKS
    assert found.upper_s / found.lower_s > 2


def test_a_mapping_an_object_and_a_mark_mean_the_same() -> None:
    row = {"soak_s": 1500, "mark": "still hard", "temperature_c": 38.0}
    forms = [
        row,
        SimpleNamespace(soak_s=1500, mark="still_hard", temperature_c=38.0),
        SoakMark(1500, "still_hard", 38.0),
    ]
    first, *others = (fit_ready_time([form, *marks([30], "good")]) for form in forms)
    assert others == [first, first]


def test_a_soak_that_was_neither_marked_nor_weighed_tells_nothing() -> None:
    rows = marks([30], "good")
    assert fit_ready_time([*rows, {"soak_s": 1200, "mark": None, "temperature_c": 12}]) == fit_ready_time(
        rows
    )


def test_many_alike_count_as_many() -> None:
    one_by_one = fit_ready_time(marks([20] * 5, "still_hard") + marks([30] * 7, "good"))
    together = fit_ready_time(
        [SoakMark(1200, "still_hard", 38, times=5), SoakMark(1800, "good", 38, times=7)]
    )
    assert together.ready_s == pytest.approx(one_by_one.ready_s, rel=1e-9)
    assert together.observations == one_by_one.observations == 12


@settings(max_examples=1500)
@given(
    st.lists(
        st.builds(
            SoakMark,
            st.floats(60, 100_000),
            st.sampled_from(["still_hard", "good", "too_soft"]),
            st.floats(4, 60),
            st.one_of(st.none(), st.floats(0.5, 2)),
            st.one_of(st.none(), st.floats(5, 30)),
        ),
        max_size=12,
    )
)
def test_whatever_the_marks_the_times_are_in_order(rows: list[SoakMark]) -> None:
    found = fit_ready_time(rows)
    assert 0 < found.lower_s < found.ready_s < found.upper_s < math.inf
    assert 0 < found.next_lower_s < found.next_upper_s < math.inf
    assert math.isfinite(found.best_s)
    assert (found.too_soft_s is None) == all(row.mark != "too_soft" for row in rows)


@settings(max_examples=1500)
@given(
    st.lists(st.floats(18, 26), min_size=3, max_size=6),
    st.lists(st.floats(28, 40), min_size=3, max_size=6),
    st.lists(st.floats(90, 300), max_size=3),
)
def test_where_marks_close_it_in_the_next_soak_varies_more_than_the_lot(
    hard: list[float], good: list[float], soft: list[float]
) -> None:
    found = fit_ready_time(marks(hard, "still_hard") + marks(good, "good") + marks(soft, "too_soft"))
    assert found.next_lower_s < found.lower_s
    assert found.upper_s < found.next_upper_s


@settings(max_examples=20)
@given(st.integers(0, 10_000))
def test_the_order_of_the_marks_does_not_matter(seed: int) -> None:
    rows = marks([18, 22, 24], "still_hard") + marks([26, 31, 35], "good") + marks([70], "too_soft")
    mixed = [rows[i] for i in np.random.default_rng(seed).permutation(len(rows))]
    assert fit_ready_time(mixed).ready_s == pytest.approx(fit_ready_time(rows).ready_s, rel=1e-9)


def test_effective_times_of_many_are_those_of_each() -> None:
    rows = [SoakMark(s, None, t, None, r) for s in (90, 1800, 40_000) for t in (12, 38) for r in (None, 20.0)]
    each = [Jar(m.temperature_c, m.room_c).effective_s(m.soak_s, 25, 45) for m in rows]
    assert np.exp(log_effective(rows, 25, 45, 1.25)) == pytest.approx(each, rel=1e-7)


def simulated(n: int) -> tuple[list[SoakMark], np.ndarray, np.ndarray]:
    rng = np.random.default_rng(3)
    soak_s = 1500 * np.exp(rng.normal(0.2, 0.5, n))
    over = np.log(soak_s / 1500) - 0.15 * rng.standard_normal(n)
    side = np.where(over < 0, 0, np.where(over < 0.7, 1, 2))
    names = ["still_hard", "good", "too_soft"]
    return (
        [SoakMark(s, names[k], 38) for s, k in zip(soak_s.tolist(), side, strict=True)],
        np.log(soak_s),
        side,
    )


def test_with_many_marks_it_comes_to_what_statsmodels_finds() -> None:
    """Ordered probit by maximum likelihood: thresholds / slope are the two middles, 1 / slope the spread."""
    rows, x, side = simulated(600)
    theirs = OrderedModel(side, x[:, None] - x.mean(), distr="probit").fit(method="bfgs", disp=False)
    slope = theirs.params[0]
    hard, soft = OrderedModel(side, x[:, None] - x.mean(), distr="probit").transform_threshold_params(
        theirs.params
    )[1:3]
    found: ReadyTime = fit_ready_time(rows)
    assert math.log(found.ready_s) == pytest.approx(hard / slope + x.mean(), abs=0.02)
    assert found.too_soft_s is not None
    assert math.log(found.too_soft_s) == pytest.approx(soft / slope + x.mean(), abs=0.03)
    assert found.spread == pytest.approx(1 / slope, abs=0.03)


nan = math.nan


@pytest.mark.parametrize(
    "row",
    [
        {},
        {"soak_s": 0, "mark": "good"},
        {"soak_s": -5, "mark": "good"},
        {"soak_s": nan, "mark": "good"},
        {"soak_s": 1e9, "mark": "good"},
        {"soak_s": 100, "mark": "good", "times": 2.5},
        {"soak_s": "long", "mark": "good"},
        {"soak_s": 100, "mark": "fine"},
        {"soak_s": 100, "mark": 3},
        {"soak_s": 100, "mark": "good", "temperature_c": nan},
        {"soak_s": 100, "mark": "good", "temperature_c": -20},
        {"soak_s": 100, "mark": "good", "room_c": 300},
        {"soak_s": 100, "mark": "good", "thickness_mm": 0},
        {"soak_s": 100, "mark": "good", "weight_before_g": -1},
        {"soak_s": 100, "mark": "good", "weight_before_g": 5, "weight_after_g": 4},
    ],
)
def test_a_mark_that_cannot_be_is_refused_in_words(row: dict[str, object]) -> None:
    with pytest.raises(NotPossible):
        fit_ready_time([row])
