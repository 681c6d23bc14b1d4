"""What a soak slip says of this water: as the phone reckons it, and as the fit that it came from."""

import json
import math
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from easelside.forecast.counting import Fact
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.forecast.soak_slips import slips
from easelside.soak.fit import fit_ready_time
from easelside.soak.foreseen import Foreseen, foresee
from easelside.soak.marks import SoakMark

CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "foreseen_soak.json").read_text())["cases"]
BODIES = [case["body"] for case in CASES if case["asked"][0]["expect"]]
NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
WORKSHOP = "00000000-0000-8000-8000-000000000001"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_shared_case(case: dict) -> None:
    for asked in case["asked"]:
        found = foresee(case["body"], asked["poured_c"], asked["room_c"], asked["thickness_mm"])
        expected = asked["expect"]
        if expected is None:
            assert found is None
            continue
        assert found is not None
        for name, value in asdict(found).items():
            assert value == (None if expected[name] is None else pytest.approx(expected[name], abs=0.05)), (
                name
            )


bodies = st.sampled_from(BODIES)
degrees = st.floats(3, 59)
rooms = st.one_of(st.none(), st.floats(5, 32))


def said(body: dict, *asked: float | None) -> Foreseen:
    found = foresee(body, *asked)  # type: ignore[arg-type]
    assert found is not None
    return found


@given(bodies, degrees, rooms, st.floats(0.4, 3))
def test_a_time_lies_in_its_range(body: dict, poured: float, room: float | None, thick: float) -> None:
    found = said(body, poured, room, thick)
    assert 0 < found.lower_s < found.ready_s < found.upper_s < math.inf
    if found.too_soft_s is not None:
        assert found.ready_s < found.too_soft_s
        assert found.too_soft_lower_s < found.too_soft_s < found.too_soft_upper_s  # type: ignore[operator]


@given(bodies, degrees, degrees, rooms)
def test_colder_water_takes_longer(body: dict, a: float, b: float, room: float | None) -> None:
    cold, warm = sorted((a, b))
    assert said(body, cold, room, None).ready_s >= said(body, warm, room, None).ready_s - 1e-6


@given(bodies, degrees, st.floats(0.5, 2), st.floats(1, 2))
def test_thicker_cane_takes_longer_by_the_square(body: dict, held: float, thick: float, more: float) -> None:
    ratio = said(body, held, None, thick * more).ready_s / said(body, held, None, thick).ready_s
    assert ratio == pytest.approx(more**2, rel=1e-6)


def test_it_is_less_sure_of_water_that_was_never_used() -> None:
    body = next(case["body"] for case in CASES if case["name"].startswith("warm, closed"))
    near, far = said(body, 38, 20, None), said(body, 8, None, None)
    assert far.upper_s / far.lower_s > 1.2 * near.upper_s / near.lower_s


def soak(id: str, minutes: int, mark: str | None, **fields: object) -> Fact:
    out = f"2026-11-20T{14 + minutes // 60:02d}:{minutes % 60:02d}:00.000Z"
    usual = {"purpose": "profile", "water": "warm", "water_c": 38, "put_in": "2026-11-20T14:00:00.000Z"}
    return Fact("soak", id, {**usual, "taken_out": out, "mark": mark, "lot": "lot-c", **fields})


def slips_of(*facts: Fact) -> dict[str, Slip]:
    return {slip.subject: slip for slip in slips(Past(facts, [], NOW))}


def test_a_slip_of_a_lot_says_what_its_fit_says() -> None:
    facts = [soak(f"s{i}", 20 + i, "still_hard" if i < 5 else "good") for i in range(12)]
    found = slips_of(*facts)
    assert found.keys() == {"all", "lot-c"}
    slip = found["lot-c"]
    fit = fit_ready_time(
        [SoakMark(60.0 * (20 + i), "still_hard" if i < 5 else "good", 38, None, 20.0) for i in range(12)]
    )
    told = said(dict(slip.body), 38, 20, None)
    assert (slip.kind, slip.observations, slip.body["wanting"]) == ("soak", 12, 0)
    assert told.ready_s == pytest.approx(fit.ready_s, rel=1e-3)
    assert told.lower_s == pytest.approx(fit.next_lower_s, rel=5e-3)
    assert told.upper_s == pytest.approx(fit.next_upper_s, rel=5e-3)
    assert told.best_s == pytest.approx(fit.best_s, rel=1e-3)
    assert told.too_soft_s is None
    json.dumps(slip.body, allow_nan=False)


def test_with_few_marks_a_slip_says_how_many_are_wanting() -> None:
    found = slips_of(soak("s1", 30, "good"), soak("s2", 31, "good"))["lot-c"]
    assert (found.observations, found.body["wanting"]) == (2, 6)


def test_without_any_there_is_still_a_slip_for_all() -> None:
    assert slips_of()["all"].body["wanting"] == 8


def test_what_tells_nothing_of_profiling_does_not_count() -> None:
    odd = [
        soak("to-form", 30, "good", purpose="form"),
        soak("no-mark", 30, None),
        soak("still-in", 30, "good", taken_out=None),
        soak("no-time-at-all", 0, "good"),
        soak("odd-mark", 30, "fine"),
        soak("weeks", 30, "good", put_in="2026-10-01T14:00:00.000Z"),
    ]
    assert slips_of(*odd)["all"].observations == 0


def test_a_wrong_clock_is_put_right_before_the_time_in_water_is_taken() -> None:
    late = soak("s1", 30, "good", put_in="2026-11-20T15:00:00.000Z", put_in_skew_ms=3_600_000)
    assert slips_of(late)["lot-c"].body["points"] == [[30, 38, "good", 1]]


def test_weighings_count_where_there_are_any_and_nobody_has_to_weigh() -> None:
    marked = [soak("s1", 30, "good")]
    weighed = [soak(f"w{i}", 30, None, weight_before_g=5.0, weight_after_g=6.2) for i in range(3)]
    without, with_weights = slips_of(*marked)["lot-c"], slips_of(*marked, *weighed)["lot-c"]
    assert with_weights.observations == 4
    assert (
        said(dict(with_weights.body), 38, 20, None).ready_s > said(dict(without.body), 38, 20, None).ready_s
    )


def test_a_lot_comes_by_its_batch_and_its_gouge_goes_with_it() -> None:
    facts = [
        Fact("lot", "lot-c", {"label": "C", "gouge_mm": 1.4}),
        Fact("batch", "c1", {"label": "C1", "lot": "lot-c"}),
        soak("s1", 30, "good", lot=None, batch="c1"),
    ]
    assert slips_of(*facts)["lot-c"].body["thickness_mm"] == 1.4


def test_an_overnight_habit_is_where_overnight_marks_start_from() -> None:
    night = {"water": "overnight", "water_c": 20, "put_in": "2026-11-20T04:00:00.000Z"}
    marks = [soak(f"s{i}", i, "good", **night) for i in range(4)]
    habit = Fact("workshop", WORKSHOP, {"soak_overnight_s": 36000})
    with_habit, without = (slips_of(*facts)["all"].body for facts in ([*marks, habit], marks))
    assert said(dict(with_habit), 20, 20, None).ready_s > 1.3 * said(dict(without), 20, 20, None).ready_s


def test_how_long_cane_dried_back_is_told_with_every_lot() -> None:
    def dried(id: str, minutes: int) -> Fact:
        until = f"2026-11-20T15:{minutes:02d}:00.000Z"
        return soak(id, 30, "too_soft", drying_since="2026-11-20T15:00:00.000Z", dried_at=until)

    untold = slips_of(soak("s1", 30, "good"))["lot-c"].body["dry"]
    told = slips_of(*(dried(f"d{i}", 12 + i) for i in range(5)))["lot-c"].body["dry"]
    assert isinstance(untold, dict) and isinstance(told, dict)
    assert (untold["observations"], told["observations"]) == (0, 5)
    assert told["lower_s"] < 14 * 60 < told["upper_s"]  # type: ignore[operator]
    assert told["usual_s"] == pytest.approx(14 * 60, rel=0.1)


def test_soaks_with_odd_values_break_nothing() -> None:
    odd = [
        soak("a", 30, "good", water_c="hot", water=7, lot=None, batch=None),
        soak("b", 30, "good", water_c=1e9, weight_before_g=-4, weight_after_g="x"),
        soak("c", 30, "good", put_in="yesterday"),
        Fact("workshop", WORKSHOP, {"soak_warm_s": -1}),
    ]
    assert slips_of(*odd)["all"].observations == 2
