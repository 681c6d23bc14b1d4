"""When blades go to be ground, how many are wanted, and what it costs both ways."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import poisson

from easelside.blades.grinding import (
    Advice,
    Blades,
    Grinding,
    advice,
    blades_needed,
    chance_without,
    share_without,
    turnaround,
    used_up,
)
from easelside.errors import NotPossible

BOX = Grinding(turnaround_days=14, one=12, box=45, box_of=5)

edge = st.floats(20, 2000)
a_day = st.floats(0, 60)
days = st.floats(0, 90)


@given(edge, a_day, days, st.floats(0.001, 0.5))
def test_so_many_are_enough_and_one_less_is_not(
    pieces_per_edge: float, per_day: float, away: float, risk: float
) -> None:
    needed = blades_needed(pieces_per_edge, per_day, away, risk)
    mean = per_day * away / pieces_per_edge
    assert poisson.sf(needed - 1, mean) <= risk + 1e-12
    assert needed == 1 or poisson.sf(needed - 2, mean) > risk - 1e-12


@given(edge, a_day, days, st.floats(0.001, 0.4))
def test_more_work_or_a_longer_way_never_wants_fewer(
    pieces_per_edge: float, per_day: float, away: float, risk: float
) -> None:
    needed = blades_needed(pieces_per_edge, per_day, away, risk)
    assert blades_needed(pieces_per_edge, per_day * 1.5, away, risk) >= needed
    assert blades_needed(pieces_per_edge, per_day, away * 1.5, risk) >= needed
    assert blades_needed(pieces_per_edge * 1.5, per_day, away, risk) <= needed


def test_one_blade_is_enough_where_nothing_is_cut() -> None:
    assert blades_needed(250, 0, 14, 0.05) == 1


@pytest.mark.parametrize(
    ("pieces_per_edge", "per_day", "away", "risk"),
    [(0, 5, 14, 0.05), (250, -1, 14, 0.05), (250, 5, -1, 0.05), (250, 5, 14, 0), (250, 5, 14, 1)],
)
def test_what_cannot_be_is_told(pieces_per_edge: float, per_day: float, away: float, risk: float) -> None:
    with pytest.raises(NotPossible):
        blades_needed(pieces_per_edge, per_day, away, risk)


def test_the_share_without_a_blade_is_that_of_a_simulated_workshop() -> None:
    """However grinding takes, and edges last: the loss depends on the means alone (Erlang)."""
    random, blades, mean_away = np.random.default_rng(3), 3, 1.4
    now, without, back = 0.0, 0.0, list[float]()
    total = 60_000
    for _ in range(total):
        now += random.exponential(1.0)
        back = [at for at in back if at > now]
        if len(back) == blades:
            without += 1
        else:
            back.append(now + random.gamma(4, mean_away / 4))
    assert without / total == pytest.approx(share_without(blades, mean_away), abs=0.006)


def told(blunt: int, keen: int, away: int = 0, per_day: float = 5, grinding: Grinding = BOX) -> Advice:
    return advice(Blades(blunt, keen, away), grinding, 250, per_day)


def test_nothing_blunt_nothing_to_send() -> None:
    assert (told(0, 4).when, told(0, 4).send) == ("nothing", 0)


def test_a_full_box_goes() -> None:
    found = told(5, 3)
    assert (found.when, found.send, found.cost_one_by_one, found.cost_box) == ("box", 5, 60, 45)


def test_with_blades_enough_the_box_is_waited_for() -> None:
    found = told(3, 6)
    assert (found.when, found.send, found.wait_for) == ("wait", 0, 2)
    assert found.risk_waiting <= 0.05
    assert (found.counted, found.cost_one_by_one, found.cost_box) == (5, 60, 45)


def test_with_few_blades_left_those_that_are_blunt_go_now() -> None:
    found = told(2, 2, per_day=10)
    assert (found.when, found.send) == ("one", 2)
    assert found.risk_waiting > 0.05
    assert found.cost_one_by_one == 24


def test_a_box_not_full_goes_where_it_is_cheaper_all_the_same() -> None:
    assert told(4, 6).when == "box"


def test_a_box_that_saves_nothing_is_not_waited_for() -> None:
    assert told(2, 8, grinding=Grinding(14, 10, 50, 5)).when == "one"


def test_a_box_that_all_blades_together_cannot_fill_is_not_waited_for() -> None:
    assert told(1, 2, grinding=Grinding(14, 12, 45, 5)).when == "one"


def test_without_prices_the_box_is_still_waited_for_while_that_is_safe() -> None:
    unsaid = Grinding(14, None, None, 5)
    assert told(2, 9, grinding=unsaid).when == "wait"
    assert told(2, 9, grinding=unsaid).cost_box is None


@given(st.integers(0, 9), st.integers(0, 9), st.integers(0, 9), a_day)
def test_waiting_is_advised_only_where_a_blade_stays_here(
    blunt: int, keen: int, away: int, per_day: float
) -> None:
    found = told(blunt, keen, away, per_day)
    assert found.send in (0, blunt)
    assert found.risk_now <= found.risk_waiting
    if found.when == "wait":
        assert found.risk_waiting <= 0.05


def test_the_chance_of_standing_without_one_is_the_chance_that_all_here_are_used_up() -> None:
    assert chance_without(4, 250, 5, 14) == pytest.approx(poisson.sf(3, 5 * 14 / 250))
    assert used_up(250, 5, 14).mean == pytest.approx(0.28)


def test_the_way_to_the_grinder_is_learned_and_begins_with_common_practice() -> None:
    assert (turnaround([]).days, turnaround([]).seen) == (14, 0)
    assert turnaround([5, 5, 5, 5, 5, 5]).days == pytest.approx(44 / 7)
    assert turnaround([5, -3, float("nan")]).seen == 1
