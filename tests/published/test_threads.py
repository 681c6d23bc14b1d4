"""Threads and turns against ISO 261, ISO 262, ASME B1.1 and plain arithmetic."""

import pytest

from easelside.set_up.rules import fine_pitches_mm, height_mm, major_diameter_mm, pitch_mm, turn_degrees
from tests.published.reference import reference


def test_iso_coarse_pitches() -> None:
    """ISO coarse pitch, mm"""
    told = reference("ISO coarse pitch, mm")
    assert told.agrees_with([pitch_mm(size) for size in told.inputs["size"]])


def test_iso_fine_pitches() -> None:
    """ISO fine pitch, mm"""
    told = reference("ISO fine pitch, mm")
    assert told.agrees_with([fine_pitches_mm(size) for size in told.inputs["size"]])
    for size, fine in zip(told.inputs["size"], told.expected, strict=True):
        assert [pitch_mm(f"{size}x{pitch}") for pitch in fine] == fine


def test_unified_fine_threads() -> None:
    """UNF threads per inch and pitch in mm"""
    told = reference("UNF threads per inch and pitch in mm")
    pitches = [pitch_mm(f"{size} UNF") for size in told.inputs["size"]]
    assert told.agrees_with({"pitch_mm": pitches, "tpi": [25.4 / pitch for pitch in pitches]})
    with_threads = zip(told.inputs["size"], told.expected["tpi"], strict=True)
    assert [pitch_mm(f"{size}-{per_inch} UNF") for size, per_inch in with_threads] == pitches


def test_diameters_of_numbered_sizes() -> None:
    """basic major diameter of numbered sizes, mm"""
    told = reference("basic major diameter of numbered sizes, mm")
    assert told.agrees_with([major_diameter_mm(f"#{n}") for n in told.inputs["n"]])


@pytest.mark.parametrize(
    ("name", "size"),
    [
        ("screw turn to height, M4 quarter turn", "M4"),
        ("screw turn to height, M5 one eighth turn", "M5"),
        ("screw turn to height, #8-32 quarter turn", "#8-32"),
        ("screw turn to height, #4-40 one sixth turn", "#4-40"),
    ],
)
def test_turns_make_a_height(name: str, size: str) -> None:
    told = reference(name)
    assert pitch_mm(size) == pytest.approx(told.inputs["pitch_mm"])
    assert told.agrees_with(height_mm(told.inputs["turns"], told.inputs["pitch_mm"]))


def test_a_height_in_degrees() -> None:
    """height to turn: 0.01 mm, in degrees"""
    told = reference("height to turn: 0.01 mm, in degrees")
    assert told.agrees_with([turn_degrees(told.inputs["dz_mm"], pitch) for pitch in told.inputs["pitch_mm"]])


def test_a_differential_screw() -> None:
    """differential screw M4x0.7 against M3x0.5, travel per turn, mm"""
    told = reference("differential screw M4x0.7 against M3x0.5, travel per turn, mm")
    assert told.agrees_with(height_mm(1, pitch_mm("M4x0.7")) - height_mm(1, pitch_mm("M3x0.5")))
