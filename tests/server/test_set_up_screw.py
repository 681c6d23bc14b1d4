"""How far to turn a stop's screw, from pieces that were measured before and after it was moved."""

import json
import math
from pathlib import Path

import numpy as np
import pytest

from easelside.errors import NotPossible
from easelside.set_up.screw import ScrewEffect, clockwise_degrees, move_for, off_by
from easelside.set_up.screw_fit import Measured, fit_screw
from tests.benchmarks.coverage_screws import WORLDS, held

AS_WRITTEN = ScrewEffect(backlash_mm=0.0)


def moved(
    raised: float, change: float, *, back: bool = False, pieces: int = 4, start: float = 0.45
) -> Measured:
    return Measured(raised, back, (start,) * pieces, (start + change,) * pieces)


def test_two_pieces_say_nothing_yet() -> None:
    assert move_for([0.50, 0.51], 0.45, AS_WRITTEN, None) is None
    assert off_by([0.50, 0.51], 0.45, 0.015) is None


def test_three_pieces_that_agree_say_how_far() -> None:
    move = move_for([0.49, 0.50, 0.48], 0.45, AS_WRITTEN, None)
    assert move is not None
    assert move.pieces == 3
    assert move.off_mm == pytest.approx(0.04)
    assert move.raise_mm == pytest.approx(-0.04)
    assert move.low_mm < move.raise_mm < move.high_mm < 0


def test_pieces_as_they_are_wanted_leave_the_screw_alone() -> None:
    assert move_for([0.45, 0.46, 0.44, 0.45], 0.45, AS_WRITTEN, None) is None
    assert move_for([0.455, 0.456, 0.454, 0.455, 0.455, 0.455], 0.45, AS_WRITTEN, None) is None


def test_pieces_that_scatter_leave_the_screw_alone() -> None:
    assert move_for([0.40, 0.56, 0.49, 0.43, 0.52, 0.45], 0.45, AS_WRITTEN, None) is None


def test_only_the_last_six_pieces_count() -> None:
    long_ago = [0.60] * 20
    assert move_for([*long_ago, *[0.45] * 6], 0.45, AS_WRITTEN, None) is None


def test_turning_back_takes_up_the_backlash_first() -> None:
    loose = ScrewEffect(backlash_mm=0.02)
    readings = [0.50, 0.50, 0.50]
    on = move_for(readings, 0.45, loose, last_raised=False)
    back = move_for(readings, 0.45, loose, last_raised=True)
    assert on is not None and back is not None
    assert on.raise_mm == pytest.approx(-0.05)
    assert back.raise_mm == pytest.approx(-0.07)


def test_a_lock_nut_that_lifts_the_stop_is_allowed_for() -> None:
    lifting = ScrewEffect(backlash_mm=0.0, creep_mm=0.01)
    move = move_for([0.50] * 3, 0.45, lifting, None)
    assert move is not None
    assert move.raise_mm == pytest.approx(-0.06)


@pytest.mark.parametrize("wanted", [math.nan, math.inf])
def test_a_thickness_that_is_no_number_is_refused(wanted: float) -> None:
    with pytest.raises(NotPossible):
        move_for([0.5, 0.5, 0.5], wanted, AS_WRITTEN, None)


def test_the_direction_is_the_screws_own() -> None:
    # arithmetic: 0.035 mm of 0.7 mm a turn is a twentieth of 360 degrees
    assert clockwise_degrees(-0.035, 0.7, "clockwise") == pytest.approx(18)
    assert clockwise_degrees(-0.035, 0.7, "anticlockwise") == pytest.approx(-18)
    assert clockwise_degrees(0.035, 0.7, "clockwise") == pytest.approx(-18)


def test_before_any_move_was_measured_the_thread_alone_speaks() -> None:
    found = fit_screw([])
    assert (found.effect, found.creep_mm, found.moves) == (1.0, 0.0, 0)
    assert found == ScrewEffect(
        backlash_mm=found.backlash_mm, covariance=found.covariance, piece_mm=found.piece_mm
    )


def test_moves_measured_on_one_side_only_are_passed_over() -> None:
    assert fit_screw([Measured(0.1, False, (0.4,), ()), Measured(0.0, False, (0.4,), (0.4,))]).moves == 0


def test_a_screw_that_does_half_of_what_its_thread_says_is_found_out() -> None:
    moves = [moved(h, 0.5 * h) for h in (0.1, 0.12, 0.15, 0.2, 0.1, 0.14)]
    found = fit_screw(moves)
    assert found.effect == pytest.approx(0.5, abs=0.08)
    assert found.moves == 6


def test_backlash_is_told_from_the_effect_by_turning_back() -> None:
    moves = [
        move
        for h in (0.08, 0.12, 0.16, 0.1)
        for move in (
            moved(h, h),
            moved(h, h - 0.03, back=True),
            moved(-h, -h),
            moved(-h, -h + 0.03, back=True),
        )
    ]
    found = fit_screw(moves)
    assert found.backlash_mm == pytest.approx(0.03, abs=0.006)
    assert found.effect == pytest.approx(1, abs=0.05)


def test_the_lock_nut_is_told_from_the_effect_by_moves_both_ways() -> None:
    moves = [moved(h, h + 0.015) for h in (0.08, -0.08, 0.12, -0.12, 0.1, -0.1, 0.15, -0.15)]
    assert fit_screw(moves).creep_mm == pytest.approx(0.015, abs=0.005)


def test_how_pieces_differ_is_learned_from_them() -> None:
    chance = np.random.default_rng(4)
    moves = [
        Measured(0.1, False, tuple(chance.normal(0.4, 0.03, 6)), tuple(chance.normal(0.5, 0.03, 6)))
        for _ in range(6)
    ]
    assert fit_screw(moves).piece_mm == pytest.approx(0.03, rel=0.25)


def test_the_regression_is_the_one_by_other_means() -> None:
    """The prior as three more rows of data: weighted least squares says the same."""
    chance = np.random.default_rng(5)
    moves = [
        Measured(float(h), bool(b), (0.4,), (float(0.4 + 0.8 * h + chance.normal(0, 0.01)),))
        for h, b in zip(chance.normal(0, 0.1, 9), chance.random(9) < 0.4, strict=True)
    ]
    found = fit_screw(moves)
    rows = np.array([[m.raised_mm, -np.sign(m.raised_mm) * m.turned_back, 1.0] for m in moves])
    change = np.array([m.after_mm[0] - m.before_mm[0] for m in moves])
    error = math.sqrt(2 * found.piece_mm**2 + found.repeats_mm**2)
    weighted = np.vstack([rows / error, np.diag([1 / 0.25, 1 / 0.02, 1 / 0.01])])
    target = np.concatenate([change / error, [1 / 0.25, 0.02 / 0.02, 0.0]])
    expected = np.linalg.lstsq(weighted, target, rcond=None)[0]
    assert [found.effect, found.backlash_mm, found.creep_mm] == pytest.approx(expected.tolist(), abs=1e-9)


def test_nine_times_in_ten_the_turn_that_was_needed_lies_in_the_range() -> None:
    # some 450 of 700 say a turn: three standard errors are 4 in a hundred
    assert 0.86 <= held(WORLDS["its own model"], 700, np.random.default_rng(6)) <= 0.94


CASES = json.loads((Path(__file__).parents[1] / "shared_cases/screw.json").read_text(encoding="utf-8"))[
    "cases"
]


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_the_shared_cases_hold(case: dict) -> None:
    effect = ScrewEffect(*case["effect"][:3], tuple(case["covariance"]), *case["effect"][3:], 1)
    move = move_for(case["readings_mm"], case["wanted_mm"], effect, case["last_raised"])
    if case["move"] is None:
        assert move is None
        return
    assert move is not None
    found = [move.off_mm, move.raise_mm, move.low_mm, move.high_mm]
    assert found == pytest.approx(case["move"], abs=1e-9)
    degrees = clockwise_degrees(move.raise_mm, case["pitch_mm"], case["lowers"])
    assert degrees == pytest.approx(case["clockwise_degrees"], abs=1e-6)
