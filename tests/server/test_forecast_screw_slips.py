"""What the phones are told of each screw."""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from scipy import stats

from easelside.clock import FakeClock
from easelside.forecast.counting import Fact
from easelside.forecast.past import Past
from easelside.forecast.screw_slips import slips
from easelside.forecast.slip import Slip
from easelside.logbook.book import Logbook
from easelside.set_up.model import read_reading
from easelside.set_up.rules import pitch_mm
from easelside.set_up.screw import ScrewEffect, clockwise_degrees, move_for
from easelside.units import write_instant
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MACHINE = Fact(
    "machine",
    "m",
    {"name": "Window", "middle_thread": "M4", "middle_lowers": "clockwise", "shoulder_thread": "a screw"},
)


def told(facts: Sequence[Fact]) -> dict[str, Slip]:
    found = list(slips(Past(facts, [], NOW)))
    assert all(slip.kind == "screw" for slip in found)
    return {slip.subject: slip for slip in found}


def setting(day: int, turns: float, blade: str = "b", **more: object) -> Fact:
    at = write_instant(NOW - timedelta(days=100 - day))
    stop = {"way": "turns", "value": turns}
    said = {"machine": "m", "blade": blade, "middle_stop": stop, "at": at}
    return Fact("setting", f"s{day:03}", {**said, **more})


def measured(day: int, *values: float, wet: bool = True, point: str = "middle") -> list[Fact]:
    return [
        Fact(
            "reading",
            f"r{day}-{n}-{wet}-{point}",
            {
                "machine": "m",
                "point": point,
                "value_mm": value,
                "wet": wet,
                "at": write_instant(NOW - timedelta(days=100 - day) + timedelta(minutes=n)),
            },
        )
        for n, value in enumerate(values)
    ]


def test_a_move_between_measured_pieces_is_learned_from() -> None:
    # an eighth clockwise of M4 (0.7 mm a turn) lowers the stop by 0.0875 mm
    facts = [
        MACHINE,
        setting(1, 2.0),
        *measured(2, 0.50, 0.51, 0.52),
        setting(3, 2.125),
        *measured(4, 0.42, 0.43),
    ]
    slip = told(facts)["m/middle"]
    assert slip.observations == 5
    assert slip.body["moves"] == 1
    at = write_instant(NOW - timedelta(days=97))
    by_chance = stats.ttest_ind([0.50, 0.51, 0.52], [0.42, 0.43], equal_var=False).pvalue
    assert slip.body["seen"] == [
        [at, -0.0875, pytest.approx(-0.085), 3, 2, pytest.approx(by_chance, abs=1e-4)]
    ]
    assert slip.body["last_raised"] is False


def test_another_blade_in_between_is_no_measured_move() -> None:
    facts = [MACHINE, setting(1, 2.0), *measured(2, 0.5, 0.5), setting(3, 2.125, "c"), *measured(4, 0.42)]
    assert told(facts)["m/middle"].body["moves"] == 0


def test_a_setting_that_leaves_the_stop_as_it_was_does_not_cut_the_pieces_off() -> None:
    facts = [
        MACHINE,
        setting(1, 2.0),
        *measured(2, 0.50, 0.50),
        setting(3, 2.0, projection_mm=0.05),
        *measured(4, 0.52),
        setting(5, 2.125),
        *measured(6, 0.42),
    ]
    assert told(facts)["m/middle"].body["seen"] == [
        [write_instant(NOW - timedelta(days=95)), -0.0875, pytest.approx(-0.0867, abs=1e-4), 3, 1, None]
    ]


def test_wet_and_dry_pieces_are_never_held_against_each_other() -> None:
    facts = [
        MACHINE,
        setting(1, 2.0),
        *measured(2, 0.50, 0.50, wet=True),
        setting(3, 2.125),
        *measured(4, 0.40, wet=False),
    ]
    assert told(facts)["m/middle"].body["moves"] == 0


def test_turning_back_is_seen() -> None:
    facts = [
        MACHINE,
        setting(1, 2.0),
        setting(3, 2.125),
        *measured(4, 0.42),
        setting(5, 2.0),
        *measured(6, 0.49),
    ]
    body = told(facts)["m/middle"].body
    assert body["last_raised"] is True
    assert body["moves"] == 1


def test_a_stop_on_a_gauge_needs_no_thread() -> None:
    def on_gauge(day: int, mm: float) -> Fact:
        fact = setting(day, 0)
        stop = {"way": "mm", "value": mm}
        return Fact(fact.kind, fact.id, {**fact.fields, "middle_stop": None, "shoulder_stop": stop})

    facts = [
        MACHINE,
        on_gauge(1, 3.0),
        *measured(2, 0.95, point="shoulder"),
        on_gauge(3, 3.05),
        *measured(4, 1.0, point="shoulder"),
    ]
    assert told(facts)["m/shoulder"].body["seen"] == [
        [write_instant(NOW - timedelta(days=97)), 0.05, 0.05, 1, 1, None]
    ]


@pytest.mark.parametrize(
    "odd",
    [
        {"value_mm": "thick"},
        {"value_mm": -1},
        {"point": "elsewhere"},
        {"at": "yesterday"},
        {"machine": 7},
        {"removed": True},
    ],
)
def test_readings_that_say_nothing_are_passed_over(odd: dict[str, object]) -> None:
    good = measured(2, 0.5)[0]
    assert told([MACHINE, Fact("reading", "r", {**good.fields, **odd})]) == {}


def test_a_thread_that_cannot_be_read_leaves_the_screw_as_it_is_thought_to_be() -> None:
    def shoulder(day: int, turns: float) -> Fact:
        stop = {"way": "turns", "value": turns}
        return setting(day, 2.0, shoulder_stop=stop)

    facts = [MACHINE, shoulder(1, 1.0), *measured(2, 0.9, point="shoulder"), shoulder(3, 1.5)]
    body = told(facts)["m/shoulder"].body
    assert (body["moves"], body["last_raised"]) == (0, None)
    assert body["effect"] == [1.0, 0.02, 0.0]


def test_with_nothing_measured_and_nothing_moved_nothing_is_told() -> None:
    assert told([MACHINE, setting(1, 2.0)]) == {}
    assert told([]) == {}


def test_in_the_demo_the_middle_stop_goes_down_by_twenty_degrees(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    with Logbook.open(tmp_path_factory.mktemp("demo"), FakeClock(NOW), durable=False) as book:
        load(book, NOW)
        with book.view() as view:
            past = Past.read(view, NOW)
    machine = next(fact for fact in past.of("machine") if fact.fields["name"] == "Window machine")
    body = next(slip.body for slip in slips(past) if slip.subject == f"{machine.id}/middle")
    values: Any = body
    effect = ScrewEffect(
        *values["effect"], tuple(values["covariance"]), values["repeats_mm"], values["piece_mm"]
    )
    assert body["moves"] == 6
    assert effect.effect == pytest.approx(0.8, abs=0.16)  # what the story's screw does, and its range
    readings = [read_reading(fact.fields) for fact in past.of("reading")]
    evening = [r.value_mm for r in readings if r and NOW - r.at < timedelta(2)]
    move = move_for(evening, float(str(machine.fields["middle_wanted_mm"])), effect, False)
    assert move is not None and move.pieces == 4
    degrees = clockwise_degrees(move.raise_mm, pitch_mm("M3"), "clockwise")
    assert round(degrees / 5) * 5 == 20


EIGHT = (0.44, 0.46, 0.45, 0.45, 0.47, 0.44, 0.46, 0.45)
ALLOWED = {"middle_wanted_mm": 0.45, "middle_wanted_wet": True, "middle_give_mm": 0.03}


def usual(facts: Sequence[Fact]) -> dict[str, Any]:
    said = told(facts)["m/middle"].body["usual"]
    assert isinstance(said, dict)
    return dict(said)


def test_below_eight_pieces_it_says_how_many_are_wanting() -> None:
    assert usual([MACHINE, setting(1, 2.0), *measured(2, *EIGHT[:5])]) == {"wanting": 3}


def test_pieces_from_before_the_last_move_and_of_the_other_kind_tell_nothing_of_the_limits() -> None:
    facts = [MACHINE, setting(1, 2.0), *measured(2, *EIGHT), setting(3, 2.125)]
    assert usual(facts) == {"wanting": 8}
    facts += [*measured(4, *EIGHT[:3]), *measured(5, *EIGHT[:6], wet=False)]
    assert usual(facts) == {"wanting": 2}


def test_the_limits_are_those_of_single_values_by_their_moving_range() -> None:
    said = usual([MACHINE, setting(1, 2.0), *measured(2, *EIGHT)])
    # mean moving range 0.11/7, d2 of two 1.128 (ASTM E2587); 3/1.128 of it either side of 0.4525
    assert said["lower"] == pytest.approx(0.4525 - 3 * (0.11 / 7) / 1.1284, abs=1e-4)
    assert said["upper"] == pytest.approx(0.4525 + 3 * (0.11 / 7) / 1.1284, abs=1e-4)
    assert (said["pieces"], said["wet"]) == (8, True)
    assert "cp" not in said  # nobody said how far off a piece may be


def test_where_the_maker_says_how_far_off_a_piece_may_be_that_is_held_against_the_scatter() -> None:
    machine = Fact("machine", "m", {**MACHINE.fields, **ALLOWED})
    said = usual([machine, setting(1, 2.0), *measured(2, *EIGHT)])
    spread = stats.tstd(EIGHT)
    assert said["cp"][0] == pytest.approx(0.06 / (6 * spread), abs=1e-3)
    assert said["cpk"][0] == pytest.approx((0.48 - 0.4525) / (3 * spread), abs=1e-3)
    for value, low, high in (said["cp"], said["cpk"]):
        assert low < value < high


def test_dry_pieces_are_not_held_against_what_is_allowed_of_wet_ones() -> None:
    machine = Fact("machine", "m", {**MACHINE.fields, **ALLOWED})
    assert "cp" not in usual([machine, setting(1, 2.0), *measured(2, *EIGHT, wet=False)])


def test_pieces_that_are_all_alike_have_no_scatter_to_hold_against() -> None:
    machine = Fact("machine", "m", {**MACHINE.fields, **ALLOWED})
    assert "cp" not in usual([machine, setting(1, 2.0), *measured(2, *[0.45] * 8)])
