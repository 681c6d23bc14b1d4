"""Days until so much more is done, and the quiet day for a change of blade."""

import math
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import betainc
from scipy.stats import betaprime

from easelside.care.fit import present_pace, same_rate
from easelside.care.pace import days_until, pace_of
from easelside.care.quiet_day import change_day
from easelside.care.waiting import chance_by, incomplete_beta, next_due_days
from easelside.errors import NotPossible

LEVELS = (0.05, 0.5, 0.95)
TODAY = date(2026, 11, 25)


@given(st.floats(0.5, 400), st.floats(0.5, 400), st.floats(0, 1))
@settings(max_examples=200)
def test_the_incomplete_beta_function_is_scipys(a: float, b: float, x: float) -> None:
    assert incomplete_beta(a, b, x) == pytest.approx(float(betainc(a, b, x)), abs=1e-10)


@given(st.floats(0.5, 300), st.floats(1, 400), st.floats(0.5, 300))
@settings(max_examples=60)
def test_the_wait_is_scipys_beta_prime(events: float, exposure: float, remaining: float) -> None:
    found = next_due_days(events, exposure, remaining, LEVELS)
    theirs = [exposure * betaprime.ppf(level, remaining, events) for level in LEVELS]
    assert found == pytest.approx(theirs, rel=1e-6)
    assert list(found) == sorted(found)
    assert [chance_by(events, exposure, remaining, days) for days in found] == pytest.approx(LEVELS)


@pytest.mark.parametrize(("events", "remaining"), [(1e6, 1e6), (3, 1e6), (1e6, 3), (0.2, 0.01), (1e4, 1e5)])
def test_the_wait_is_scipys_for_very_many_and_very_few(events: float, remaining: float) -> None:
    found = next_due_days(events, 2.0, remaining, LEVELS)
    theirs = [2 * betaprime.ppf(level, remaining, events) for level in LEVELS]
    assert found == pytest.approx(theirs, rel=1e-5, abs=1e-25)


def test_for_more_than_can_be_counted_the_wait_is_still_told() -> None:
    rare, usual, often = next_due_days(1e15, 10.0, 1e17, LEVELS)
    assert rare < usual < often
    assert (rare, often) == pytest.approx((usual, usual), rel=3e-3)
    assert usual == pytest.approx(1000, rel=1e-5)


def test_a_wait_of_which_so_few_events_say_nothing_is_refused() -> None:
    with pytest.raises(NotPossible, match="say nothing"):
        next_due_days(0.001, 10, 5, LEVELS)


def test_what_is_due_has_no_wait() -> None:
    assert next_due_days(20, 10, 0, LEVELS) == next_due_days(20, 10, -3, LEVELS) == (0, 0, 0)


@pytest.mark.parametrize(
    ("events", "exposure", "remaining", "levels"),
    [(0, 10, 5, LEVELS), (5, 0, 5, LEVELS), (5, 10, math.nan, LEVELS), (5, 10, 5, (0.5, 1)), (5, 10, 5, ())],
)
def test_what_cannot_be_is_told(
    events: float, exposure: float, remaining: float, levels: tuple[float, ...]
) -> None:
    with pytest.raises(NotPossible):
        next_due_days(events, exposure, remaining, levels)


def test_work_that_comes_by_the_batch_is_known_less_well_than_work_piece_by_piece() -> None:
    batches, singly = pace_of([24] * 5, 28), pace_of([1] * 120, 28)
    assert batches is not None
    assert singly is not None
    assert batches.pieces_per_day == pytest.approx(singly.pieces_per_day)
    lower, _, upper = days_until(batches, 48, LEVELS)
    narrow_lower, _, narrow_upper = days_until(singly, 48, LEVELS)
    assert lower < narrow_lower < narrow_upper < upper


def test_without_work_there_is_no_pace() -> None:
    assert pace_of([0, 0], 28) is None
    assert present_pace([], []) is None


def test_the_last_twelve_weeks_count_where_they_went_alike() -> None:
    alike = present_pace([2, 9, 16, 23, 30, 37, 44, 51, 58, 65, 72, 79, 100], [24] * 13)
    assert alike is not None
    assert alike.exposure_days == 84
    assert alike.pieces_per_day == pytest.approx(12 * 24 / 84)


def test_only_the_last_four_weeks_count_where_the_work_has_changed() -> None:
    busy = present_pace([*range(1, 25), 40, 70, 100], [12] * 27)
    assert busy is not None
    assert busy.exposure_days == 28
    assert busy.pieces_per_day == pytest.approx(24 * 12 / 28)
    assert same_rate(24, 28, 2, 56).p < 0.001


def test_a_workshop_that_began_last_week_has_the_pace_of_that_week() -> None:
    begun = present_pace([0, 3, 6], [24, 24, 24])
    assert begun is not None
    assert begun.exposure_days == 6
    assert begun.pieces_per_day == pytest.approx(2 * 24 / 6)


def test_after_a_summer_off_last_years_pace_stands() -> None:
    rested = present_pace([100, 110, 120], [24, 24, 24])
    assert rested is not None
    assert rested.exposure_days == 120


def test_a_single_day_at_the_bench_says_nothing_of_a_pace() -> None:
    assert present_pace([0], [24]) is None


def days_from_now(*days: int) -> list[date]:
    return [TODAY + timedelta(d) for d in days]


def test_a_change_on_a_quiet_day_stays() -> None:
    found = change_day(*days_from_now(3), days_from_now(5), TODAY)
    assert (found.day, found.moved) == (*days_from_now(3), "stays")


@pytest.mark.parametrize("batch", [3, 4])
def test_a_change_on_the_day_of_a_batch_or_before_it_moves_to_the_quiet_day_before(batch: int) -> None:
    found = change_day(*days_from_now(3), days_from_now(batch), TODAY)
    assert (found.day, found.moved) == (*days_from_now(batch - 2), "before")


def test_a_row_of_batches_is_gone_before() -> None:
    found = change_day(*days_from_now(6), days_from_now(3, 4, 6, 7), TODAY)
    assert (found.day, found.moved) == (*days_from_now(1), "before")


def test_where_no_quiet_day_is_left_before_it_is_the_first_one_after() -> None:
    found = change_day(TODAY, days_from_now(0, 1, 3), TODAY)
    assert (found.day, found.moved) == (*days_from_now(4), "after")


@given(st.integers(-5, 20), st.lists(st.integers(0, 25), max_size=12))
def test_a_change_is_never_in_front_of_a_batch(wanted: int, planned: list[int]) -> None:
    batches = days_from_now(*planned)
    found = change_day(*days_from_now(wanted), batches, TODAY)
    assert found.day >= TODAY
    assert found.day not in batches
    assert found.day + timedelta(1) not in batches
    if found.moved != "after":
        assert found.day <= max(TODAY, *days_from_now(wanted))
