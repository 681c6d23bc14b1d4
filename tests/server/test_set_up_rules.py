"""How far a screw moves its stop."""

import json
import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from easelside.errors import NotPossible
from easelside.set_up.rules import fine_pitches_mm, height_mm, major_diameter_mm, pitch_mm, turn_degrees

SHARED = json.loads((Path(__file__).parents[1] / "shared_cases/threads.json").read_text(encoding="utf-8"))
KNOWN = [case for case in SHARED["cases"] if case["pitch_mm"] is not None]
UNKNOWN = [case["size"] for case in SHARED["cases"] if case["pitch_mm"] is None]


@pytest.mark.parametrize("case", KNOWN, ids=lambda case: case["size"])
def test_a_size_says_its_pitch(case: dict[str, object]) -> None:
    assert pitch_mm(str(case["size"])) == pytest.approx(case["pitch_mm"], abs=1e-12)


@pytest.mark.parametrize("size", [*UNKNOWN, "M", "8", "#8-0", "x" * 300])
def test_a_size_without_a_pitch_is_refused_in_words(size: str) -> None:
    with pytest.raises(NotPossible) as refused:
        pitch_mm(size)
    assert "M4x0.5" in refused.value.what_happened


@pytest.mark.parametrize(("size", "pitch"), [("M14", 2), ("M16", 2), ("M20", 2.5), ("M24", 3), ("M64", 6)])
def test_large_screws_are_known_too(size: str, pitch: float) -> None:
    # ISO 261:1998, coarse series (from memory)
    assert pitch_mm(size) == pitch


def test_the_fine_pitches_are_finer_than_the_coarse_one() -> None:
    for diameter in ("1.6", "3", "4", "8", "10", "12"):
        fine = fine_pitches_mm(f"M{diameter}")
        assert fine and max(fine) < pitch_mm(f"M{diameter}")
    assert fine_pitches_mm("#8") == ()


def test_a_size_by_fraction_is_that_part_of_an_inch() -> None:
    assert major_diameter_mm("1/4") == pytest.approx(6.35)
    with pytest.raises(NotPossible):
        major_diameter_mm("M4")


@given(st.floats(-50, 50), st.floats(0.05, 6))
def test_turning_back_the_degrees_of_a_height_gives_the_height(height: float, pitch: float) -> None:
    assert height_mm(turn_degrees(height, pitch) / 360, pitch) == pytest.approx(height, abs=1e-9)


@pytest.mark.parametrize("pitch", [0, -0.7, math.nan, math.inf])
def test_a_pitch_that_cannot_be_is_refused(pitch: float) -> None:
    with pytest.raises(NotPossible):
        turn_degrees(0.01, pitch)
    with pytest.raises(NotPossible):
        height_mm(1, pitch)


@pytest.mark.parametrize("pitch", [1e-300, 1e300])
def test_a_pitch_that_no_screw_has_is_refused(pitch: float) -> None:
    with pytest.raises(NotPossible, match="a thread's pitch"):
        turn_degrees(1e5, pitch)


@pytest.mark.parametrize("size", [None, 4, "M" + "9" * 5000, "#8-" + "1" * 5000, "1/0"])
def test_what_is_no_size_at_all_is_refused(size: object) -> None:
    for asked in (pitch_mm, major_diameter_mm):
        with pytest.raises(NotPossible):
            asked(size)  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_a_height_or_a_turn_that_is_no_number_is_refused(value: float) -> None:
    with pytest.raises(NotPossible):
        turn_degrees(value, 0.7)
    with pytest.raises(NotPossible):
        height_mm(value, 0.7)
