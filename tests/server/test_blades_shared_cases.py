"""What both sides work out of edges, of grinding and of due days: the server's part of the shared cases."""

import json
import math
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from easelside.blades.grinding import Blades, Grinding, advice, blades_needed
from easelside.blades.life import LifeFit, Node, chance_of_lasting, quantiles_left
from easelside.care.outlook import Count, outlook
from easelside.care.pace import Pace
from easelside.care.quiet_day import change_day
from easelside.care.waiting import next_due_days
from easelside.forecast.edge_end import end_days

FOLDER = Path(__file__).parents[1] / "shared_cases"
EDGES: dict[str, Any] = json.loads((FOLDER / "edge_life.json").read_text())
DAYS: dict[str, Any] = json.loads((FOLDER / "due_days.json").read_text())
CLOSE = {"rel": 1e-6, "abs": 1e-7}


def fit_of(laws: list[list[float]]) -> LifeFit:
    unknown = (math.nan, math.nan)
    shape, scale, _ = laws[0]
    return LifeFit(shape, scale, unknown, unknown, 0.9, 0, 0, math.nan, tuple(Node(*law) for law in laws))


def pace(name: str | None) -> Pace | None:
    return Pace(**DAYS["paces"][name]) if name else None


@pytest.mark.parametrize("case", EDGES["left"])
def test_pieces_left(case: dict[str, Any]) -> None:
    fit = fit_of(EDGES["laws"][case["laws"]])
    assert quantiles_left(fit, case["so_far"], case["chances"]) == pytest.approx(case["left"], **CLOSE)
    assert chance_of_lasting(fit, case["so_far"], case["more"]) == pytest.approx(case["lasting"], **CLOSE)


@pytest.mark.parametrize("case", EDGES["advice"])
def test_what_to_send(case: dict[str, Any]) -> None:
    grinding = Grinding(**EDGES["grinding"][case["grinding"]])
    found = advice(Blades(case["blunt"], case["keen"], case["away"]), grinding, 233.9, case["per_day"])
    for name, expected in case["expect"].items():
        told = getattr(found, name)
        assert told == (pytest.approx(expected, **CLOSE) if isinstance(expected, float) else expected), name


@pytest.mark.parametrize("case", EDGES["needed"])
def test_blades_needed(case: dict[str, Any]) -> None:
    needed = blades_needed(case["pieces_per_edge"], case["per_day"], case["turnaround_days"], case["risk"])
    assert needed == case["blades"]


@pytest.mark.parametrize("case", DAYS["waits"])
def test_the_wait_for_so_many_more(case: dict[str, Any]) -> None:
    days = next_due_days(case["events"], case["exposure_days"], case["remaining"], case["levels"])
    assert days == pytest.approx(case["days"], **CLOSE)


@pytest.mark.parametrize("case", DAYS["outlook"])
def test_when_care_is_due(case: dict[str, Any]) -> None:
    pieces, sessions = (
        None if case[left] is None else Count(case[left], pace(case[name]))
        for left, name in (("pieces_left", "pace"), ("sessions_left", "sessions_pace"))
    )
    found = outlook(pieces, sessions, case["days_left"], case["levels"])
    assert (found is None) == (case["expect"] is None)
    if found is not None:
        assert (found.by, found.days) == (
            case["expect"]["by"],
            pytest.approx(case["expect"]["days"], **CLOSE),
        )


@pytest.mark.parametrize("case", DAYS["ends"])
def test_the_day_an_edge_is_off(case: dict[str, Any]) -> None:
    known = pace(case["pace"])
    assert known is not None
    assert end_days(case["left"], known, case["levels"]) == pytest.approx(case["days"], **CLOSE)


@pytest.mark.parametrize("case", DAYS["changes"])
def test_the_quiet_day(case: dict[str, Any]) -> None:
    planned = [date.fromisoformat(day) for day in case["planned"]]
    found = change_day(date.fromisoformat(case["wanted"]), planned, date.fromisoformat(case["today"]))
    assert (found.day.isoformat(), found.moved) == (case["day"], case["moved"])
