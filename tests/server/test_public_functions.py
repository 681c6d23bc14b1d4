"""Whatever a function that other programs call is given, it answers finite numbers or says what is wrong."""

import ast
import math
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from easelside.blades.fit import fit_life
from easelside.errors import NotPossible
from easelside.profiling import pace as profiling
from easelside.soak import staggered
from easelside.soak.fit import ReadyTime, fit_ready_time
from easelside.soak.foreseen import Foreseen, foresee
from easelside.soak.marks import SoakMark

ROOMS = ("soak", "profiling", "forecast", "blades", "set_up", "care")
LIFE = fit_life([210, 260, 240, 300, 190, 275], [True, True, True, False, True, True])
SLIP: dict[str, object] = {
    **{"at_c": 25.0, "energy": 50.0, "energy_sd": 8.0, "thickness_mm": 1.25, "cooling_s": 1500.0},
    **{"ready": 7.6, "low": 7.2, "high": 8.0, "best": 7.9, "soft": 8.6, "soft_low": 8.2, "soft_high": 9.0},
}


def row_of(  # staggered soaking
    pieces: object,
    usual_s: object,
    quick_s: object,
    slow_s: object,
    ready_s: object,
    too_soft_s: object,
    jars: object,
    start_s: object,
    each: object,
) -> staggered.Plan:
    pace = staggered.Pace(usual_s, quick_s, slow_s)  # type: ignore[arg-type]
    wish = staggered.Wish(pieces, pace, ready_s, too_soft_s, jars, start_s, each)  # type: ignore[arg-type]
    return staggered.plan(wish)


def minutes_at(
    centre: object, error: object, by_age: object, sigma: object, tau: object, degrees: object
) -> profiling.Ahead:
    pace = profiling.Pace(centre, error, by_age, 0.02, sigma, tau, degrees)  # type: ignore[arg-type]
    return profiling.minutes_ahead(pace, 40, 24, today=[(3.1, 38)])


def ready_by_one_mark(**said: object) -> ReadyTime:
    return fit_ready_time([said])


def foreseen(**said: object) -> Foreseen | None:
    return foresee(said, 38.0, 20.0)


# each by its room and name, with arguments that it answers
ASKED: dict[str, dict[str, object]] = {
    "soak.uptake_fraction": {
        "time_s": 700.0,
        "diffusivity_m2_s": 1e-10,
        "thickness_mm": 1.25,
        "open_faces": 2,
        "biot": 3.0,
    },
    "soak.time_to_fraction": {
        "fraction": 0.6,
        "diffusivity_m2_s": 1e-10,
        "thickness_mm": 1.25,
        "open_faces": 2,
        "biot": None,
    },
    "soak.arrhenius_ratio": {"temperature_c": 38.0, "reference_c": 20.0, "activation_kj_mol": 50.0},
    "soak.equilibrium_moisture_percent": {"temperature_c": 20.0, "relative_humidity_percent": 50.0},
    "soak.fit_ready_time": {
        "marks": [SoakMark(1500, "still_hard", 38), SoakMark(2100, "good", 38)],
        "practice_ready_s": 1800.0,
    },
    "soak.foresee": {"body": SLIP, "poured_c": 38.0, "room_c": 20.0, "thickness_mm": 1.25},
    "profiling.minutes_ahead": {
        "pace": profiling.Pace(1.1, 0.02, 0.05, 0.02, 0.1, 0.07, 20.0),
        "age": 40.0,
        "pieces": 24,
        "level": 0.9,
        "today": [(3.1, 38.0), (3.3, 39.0)],
    },
    "profiling.sharpness": {
        "pace": profiling.Pace(1.1, 0.02, 0.05, 0.02, 0.1, 0.07, 20.0),
        "recent": [(3.1, 38.0, 1.1), (3.3, 39.0, 1.1)],
        "level": 0.9,
    },
    "forecast.capability": {
        "mean": 0.51,
        "sigma": 0.01,
        "lower": 0.48,
        "upper": 0.54,
        "target": 0.51,
        "n": 30,
        "level": 0.95,
    },
    "forecast.control_factors": {"n": 5},
    "forecast.cusum": {"values": [0.1, 1.2, 0.8], "target": 0.0, "allowance": 0.5, "decision": 4.0},
    "forecast.ewma": {"values": [0.1, 1.2], "target": 0.0, "sigma": 1.0, "weight": 0.2, "width": 3.0},
    "forecast.individuals_limits": {"values": [3.0, 3.2, 2.9]},
    "forecast.mean_range_limits": {"subgroups": [[3.0, 3.2], [2.9, 3.1]]},
    "forecast.proportion_limits": {"counts": [1, 2], "tried": [24, 30]},
    "forecast.run_rules": {"z": [0.2, 3.4], "rules": ["nelson 1", "western electric 4"]},
    "forecast.cusum_run_length": {"shift_sigma": 1.0, "allowance": 0.5, "decision": 4.0},
    "forecast.ewma_run_length": {"shift_sigma": 1.0, "weight": 0.2, "width": 3.0},
    "forecast.run_rules_run_length": {"shift_sigma": 1.0, "rules": ["western electric 1"]},
    "forecast.clopper_pearson": {"x": 26, "n": 30, "level": 0.9},
    "forecast.jeffreys": {"x": 26, "n": 30, "level": 0.9},
    "forecast.wilson": {"x": 26, "n": 30, "level": 0.9},
    "forecast.pieces_to_start": {"good_wanted": 24, "yield_or_counts": (26, 30), "chance": 0.9},
    "blades.blades_needed": {
        "pieces_per_edge": 250.0,
        "pieces_per_day": 20.0,
        "turnaround_days": 14.0,
        "risk": 0.05,
    },
    "blades.pieces_left": {"fit": LIFE, "pieces_so_far": 100.0, "level": 0.9},
    "blades.chance_of_lasting": {"fit": LIFE, "pieces_so_far": 100.0, "more": 50.0},
    "blades.survival": {"pieces": [200.0, 250.0], "ended": [True, False]},
    "blades.fit_life": {"pieces": [200.0, 250.0, 240.0], "ended": [True, True, False], "level": 0.9},
    "blades.life_of": {"pieces": [200.0, 250.0], "ended": [True, False], "level": 0.9},
    "blades.log_rank": {
        "pieces": [200.0, 250.0],
        "ended": [True, True],
        "others": [100.0, 150.0],
        "others_ended": [True, True],
    },
    "set_up.pitch_mm": {"size": "M4"},
    "set_up.fine_pitches_mm": {"size": "M8"},
    "set_up.major_diameter_mm": {"size": "#8"},
    "set_up.height_mm": {"turns": 0.25, "pitch_mm": 0.7},
    "set_up.turn_degrees": {"height_mm": 0.02, "pitch_mm": 0.7},
    "care.next_due_days": {
        "events": 20.0,
        "exposure_days": 28.0,
        "remaining": 5.0,
        "levels": [0.05, 0.5, 0.95],
    },
    "care.poisson_interval": {"events": 4, "level": 0.95},
    "care.rate_interval": {"events": 4, "exposure": 28.0, "level": 0.95},
    "care.events_ahead": {"shape": 4.0, "exposure": 28.0, "ahead": 28.0, "levels": [0.5, 0.95]},
    "care.same_rate": {"events": 4, "exposure": 28.0, "others": 9, "others_exposure": 56.0},
    "care.present_pace": {"days_ago": [1, 4, 30], "pieces": [24, 24, 20]},
}
# those that take one record or object, each of whose parts may be odd
BY_PARTS: dict[str, tuple[Callable[..., object], dict[str, object]]] = {
    "soak.plan": (
        row_of,
        {
            **{"pieces": 24, "usual_s": 200.0, "quick_s": 180.0, "slow_s": 230.0},
            **{"ready_s": 1800.0, "too_soft_s": 4500.0, "jars": 2, "start_s": None, "each": None},
        },
    ),
    "profiling.minutes_ahead, its pace": (
        minutes_at,
        {"centre": 1.1, "error": 0.02, "by_age": 0.05, "sigma": 0.1, "tau": 0.07, "degrees": 20.0},
    ),
    "soak.foresee, its slip": (foreseen, SLIP),
    "soak.fit_ready_time, one mark": (
        ready_by_one_mark,
        {
            **{"soak_s": 1500.0, "mark": "good", "temperature_c": 38.0, "thickness_mm": 1.25, "room_c": 20.0},
            **{"weight_before_g": 4.0, "weight_after_g": 6.0, "times": 1},
        },
    ),
}
# steps of a fit, and what is given facts from records, where odd values have become "not said"
# (test_forecast_odd_values)
OF_RECORDS = {
    "soak": {"put_in_at", "taken_out_at", "ready_at", "is_in_water", "log_effective", "energy_at"},
    "profiling": {
        "outcome_of",
        "number_cut_at",
        "first_of",
        "counted_once",
        "fit_minutes",
        "tau_at_first",
    },
    "blades": {"in_order", "bench_after", "happened_before"},
    "care": {"counting_since", "put_off_until", "due_of"},
}
NO_FIT = ("set_up", "fit")
NOT_KNOWN = {"log_likelihood"}  # said to be no number where a prior entered


def modules_of(room: str) -> list[ModuleType]:
    return [import_module(f"easelside.{room}.{name}") for name in ("rules", "fit") if (room, name) != NO_FIT]


def named(name: str) -> Callable[..., object]:
    room, function = name.split(".")
    found = [getattr(module, function) for module in modules_of(room) if hasattr(module, function)]
    assert all(each is found[0] for each in found)
    return found[0]  # type: ignore[no-any-return]


CALLS = {**{name: (named(name), good) for name, good in ASKED.items()}, **BY_PARTS}
FLOATS = st.floats() | st.sampled_from(
    [
        *(0.0, -0.0, 5e-324, -5e-324, 1e-300, 1e-15, 0.5, 1.0, 1 - 2**-53, 1 + 2**-52, 2.5, 300.0, 1e6, 1e9),
        *(1e15, 1e18, 1e100, 1e300, 1.7976931348623157e308, math.inf, -math.inf, math.nan),
    ]
)
ODD = st.sampled_from(
    [
        *(None, True, "", "M", "0.9", b"1", 10**400, -1, 0, 3 + 4j, Fraction(1, 3), object()),
        *((), {}, [None], [[1, 2]], range(3), {"a": 1}),
        *(np.float64(0.5), np.int64(3), np.array(0.5), np.array([1.0, 2.0])),
    ]
)
ANYTHING = FLOATS | ODD | st.integers() | st.lists(FLOATS, max_size=4) | st.lists(FLOATS | ODD, max_size=3)


def public_functions(room: str) -> set[str]:
    """What `rules` and `fit` of a room define or hand on by `as`."""
    found = set()
    for module in modules_of(room):
        tree = ast.parse(Path(str(module.__file__)).read_text())
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                found.add(node.name)
            elif isinstance(node, ast.ImportFrom):
                found |= {alias.name for alias in node.names if alias.asname == alias.name}
    return {n for n in found if n[0] != "_" and n == n.lower()}


def finite(found: object) -> bool:
    if isinstance(found, float):
        return math.isfinite(found)
    if is_dataclass(found):
        return all(finite(getattr(found, each.name)) for each in fields(found) if each.name not in NOT_KNOWN)
    if isinstance(found, tuple | list):
        return all(map(finite, found))
    return found is None or isinstance(found, bool | int | str)


@pytest.mark.parametrize("room", ROOMS)
def test_every_function_that_others_call_is_asked_here(room: str) -> None:
    asked = {name.split(".")[1] for name in (*ASKED, *BY_PARTS) if name.startswith(f"{room}.")}
    assert public_functions(room) - OF_RECORDS.get(room, set()) <= asked


@pytest.mark.parametrize("name", CALLS)
def test_what_it_is_made_for_is_answered(name: str) -> None:
    function, good = CALLS[name]
    found = function(**good)
    assert found is not None and finite(found)


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("name", CALLS)
@settings(max_examples=40, suppress_health_check=list(HealthCheck), database=None)
@given(data=st.data())
def test_whatever_it_is_given_it_answers_finite_numbers_or_says_what_is_wrong(
    name: str, data: st.DataObject
) -> None:
    function, good = CALLS[name]
    odd = data.draw(st.sets(st.sampled_from(sorted(good)), min_size=1, max_size=3))
    given = {**good, **{each: data.draw(ANYTHING, each) for each in odd}}
    try:
        found = function(**given)
    except NotPossible as refused:
        assert refused.what_happened.startswith("This cannot be worked out: ")
        return
    assert finite(found), found
