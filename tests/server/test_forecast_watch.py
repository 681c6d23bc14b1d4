"""The watch on an edge: against its own definition, what it must see, and what it must not be moved by."""

import json
import math
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import multivariate_normal

from easelside.errors import NotPossible
from easelside.forecast.usual_fit import HAND, good_pieces, good_stretch, usual
from easelside.forecast.watch_fit import (
    RARELY,
    RATES,
    SET,
    STEP,
    Cut,
    EdgeWatch,
    Found,
    WatchedBy,
    watch_edge,
)
from easelside.forecast.watching import DECISION, KEENER, ONCE_IN, known_rules, once_in, readings_drift

Real = npt.NDArray[np.float64]
BY = WatchedBy(sigma=0.1, tau=0.05, loses=0.04, blunt_loses=0.15, good=100, decision=DECISION)
CASES = Path(__file__).parents[1] / "shared_cases" / "watch.json"


def edge(
    n: int, seed: int, onset: int = 10_000, rate: float = 0.0, lots: int = 120, by: WatchedBy = BY
) -> list[Cut]:
    """An edge's pieces, of its own model: sessions of 24, a new lot every `lots` pieces, known to 0.03."""
    chance = np.random.default_rng(seed)
    cuts, day, of_lot = [], 0.0, 0.0
    for i in range(n):
        if i % 24 == 0:
            day = chance.normal(0, by.tau)
        if i % lots == 0:
            of_lot = chance.normal(0, 0.03)
        off = of_lot + day + rate * max(0, i - onset) + chance.normal(0, by.sigma)
        lost = bool(chance.random() < by.loses)
        cuts.append(Cut(float(i), f"lot {i // lots}", f"day {i // 24}", False, off, 0.03, lost))
    return cuts


def test_the_sum_is_the_log_ratio_of_two_densities() -> None:
    """One supposition, from the whole covariance matrix with scipy; the losses from their shares."""
    cuts = edge(30, 1, lots=18)
    cuts = [
        replace(cut, off=float(np.clip(cut.off, -0.25, 0.25)), lost=i in (20, 27))
        for i, cut in enumerate(cuts)
    ]
    watch, here = EdgeWatch(replace(BY, good=0)), np.ones(1, np.bool_)
    session = lot = ""
    for cut in cuts:
        if cut.session != session:
            watch.session(here)
        if cut.lot != lot:
            watch.lot(here, np.array([cut.error]))
        session, lot = cut.session, cut.lot
        watch.piece(np.array([cut.age]), np.array([cut.off]), np.array([cut.lost]), here)
    n, d = watch._open()
    slot, rate = 2, 1  # onset at 12, 0.8 % a piece
    found = float((n - d / 2 + watch.besides)[0, slot, rate])
    ramp = RATES[rate] * np.maximum(0, np.arange(30) - slot * STEP + 1)
    same_lot = np.array([[a.lot == b.lot for a in cuts] for b in cuts])
    same_day = np.array([[a.lot == b.lot and a.session == b.session for a in cuts] for b in cuts])
    cov = 0.1**2 * np.eye(30) + 0.05**2 * same_day + (SET**2 + 0.03**2) * same_lot
    off = np.array([cut.off for cut in cuts])
    log_ratio = multivariate_normal.logpdf(off, ramp, cov) - multivariate_normal.logpdf(
        off, np.zeros(30), cov
    )
    p = 0.04 + 0.15 * ramp
    lost = np.array([cut.lost for cut in cuts])
    log_ratio += np.where(lost, np.log(p / 0.04), np.log((1 - p) / 0.96)).sum()
    assert found == pytest.approx(log_ratio, abs=1e-9)


def test_an_edge_that_goes_off_is_named_and_since_when_is_told() -> None:
    found = watch_edge(BY, edge(260, 2, onset=200, rate=0.012))
    assert found.named is not None and 205 < found.named < 245
    assert found.onset is not None and abs(found.onset - 200) <= 24
    # minutes that lie far off are drawn in: so slow an edge is said to be less slow than it is
    assert 0.3 < found.rise < 0.8


def test_edges_that_are_well_are_not_named() -> None:
    assert [watch_edge(BY, edge(240, seed)).named for seed in range(30, 50)] == [None] * 20


def test_a_slow_day_is_not_taken_for_an_edge_that_goes_off() -> None:
    """A quarter slower for one whole session: a headache."""
    cuts = [replace(cut, off=cut.off + 0.2) if cut.session == "day 5" else cut for cut in edge(240, 3)]
    assert watch_edge(BY, cuts).named is None


def test_a_hard_lot_that_is_not_known_yet_is_not_taken_for_an_edge_that_goes_off() -> None:
    cuts = edge(240, 4)
    hard = [replace(c, off=c.off + 0.3, error=0.15) if c.lot == "lot 1" else c for c in cuts]
    assert watch_edge(BY, hard).named is None


def test_losses_speak_for_it_beside_the_minutes() -> None:
    cuts = [
        replace(cut, lost=cut.age >= 200 and cut.age % 3 == 0) for cut in edge(240, 5, onset=195, rate=0.004)
    ]
    assert watch_edge(BY, cuts).total > watch_edge(BY, edge(240, 5, onset=195, rate=0.004)).total + 4


def test_an_edge_that_was_found_straight_is_not_named_until_it_speaks_again() -> None:
    cuts = edge(216, 6, onset=150, rate=0.012)
    named = watch_edge(BY, cuts).named
    assert named is not None and named < 192
    looked = [
        replace(cut, straight=cut.session == "day 8", off=0.0) if cut.age >= 192 else cut for cut in cuts
    ]
    assert watch_edge(BY, looked).named is None


def test_a_tick_at_every_set_up_does_not_hold_the_watch_back() -> None:
    """Straight is ticked from habit; only an edge that was named before is begun anew by it."""
    cuts = edge(260, 2, onset=200, rate=0.012)
    ticked = [replace(cut, straight=True) for cut in cuts if cut.age < 240]
    plain = [cut for cut in cuts if cut.age < 240]
    assert watch_edge(BY, ticked).named == watch_edge(BY, plain).named


def test_odd_minutes_name_nothing() -> None:
    """A kettle, a visitor, two pieces in one tap: one in ten."""
    odd = [replace(cut, off=cut.off + 1.2) if i % 10 == 3 else cut for i, cut in enumerate(edge(240, 7))]
    assert watch_edge(BY, odd).named is None


def test_what_is_odd_is_so_beside_the_lots_own_pieces() -> None:
    """A new lot that is a third quicker than those before it, and a kettle now and then."""
    quick = [replace(cut, off=cut.off - 0.35, error=0.12) for cut in edge(96, 7, lots=96)]
    odd = [replace(cut, off=cut.off + 0.75) if cut.age in (30, 33, 37) else cut for cut in quick]
    left_out = [replace(cut, off=math.nan) if cut.age in (30, 33, 37) else cut for cut in quick]
    assert watch_edge(BY, odd) == watch_edge(BY, left_out)


def test_within_its_good_pieces_more_has_to_speak_against_an_edge() -> None:
    cuts = edge(150, 9, onset=60, rate=0.008)[:120]
    early, late = (watch_edge(replace(BY, good=good), cuts) for good in (150, 0))
    assert late.onset is not None and late.onset == early.onset
    assert late.total - early.total == pytest.approx(RARELY)


def test_pieces_without_minutes_say_nothing_of_the_pace() -> None:
    cuts = [replace(cut, off=math.nan, lost=False) for cut in edge(100, 8)]
    found = watch_edge(BY, cuts)
    assert found.named is None and found.total <= 0.01


@given(st.integers(0, 10_000), st.integers(0, 200))
@settings(max_examples=15)
def test_what_is_named_was_named_by_then(seed: int, cut_off: int) -> None:
    cuts = edge(220, seed, onset=150, rate=0.015)
    named = watch_edge(BY, cuts).named
    early = watch_edge(BY, cuts[:cut_off]).named
    assert early == (named if named is not None and named < cut_off else None)


@pytest.mark.parametrize(("decision", "edges"), [(KEENER, 240), (DECISION, 600)])
def test_a_false_alarm_is_as_rare_as_it_is_said_to_be(decision: float, edges: int) -> None:
    """Edges of 300 pieces that are well; lots known to 0.03, one in three not known at all."""
    chance = np.random.default_rng(61)
    watch = EdgeWatch(replace(BY, decision=decision), edges)
    all_of, named = np.ones(edges, np.bool_), np.zeros(edges, np.bool_)
    error = off_lot = day = np.zeros(edges)
    for i in range(300):
        if i % 24 == 0:
            watch.session(all_of)
            day = chance.normal(0, BY.tau, edges)
        if i % 96 == 0:
            error = np.where(chance.random(edges) < 1 / 3, 0.12, 0.03)
            off_lot = chance.normal(0, error) + chance.normal(0, SET, edges)
            watch.lot(all_of, error)
        off = off_lot + day + chance.normal(0, BY.sigma, edges)
        watch.piece(np.full(edges, float(i)), off, chance.random(edges) < BY.loses, all_of)
        named |= watch.signals
    said = edges * 300 / ONCE_IN[decision]
    assert named.sum() <= said + 3 * math.sqrt(said)


def test_with_everything_on_a_false_alarm_is_rarer_than_once_in_a_thousand_pieces() -> None:
    assert once_in(DECISION) > 1000
    assert once_in(DECISION, (), readings=True) > 1000
    assert once_in(KEENER) > 1000


def test_run_rules_cost_what_is_published() -> None:
    """The four zone tests together: 91.75 (C. W. Champ and W. H. Woodall, Technometrics 29 (1987) 393-399),
    from memory."""
    four = [f"western electric {n}" for n in range(1, 5)]
    assert once_in(DECISION, four) == pytest.approx(91.75, rel=0.01)


def test_rules_that_do_not_exist_are_passed_over_and_a_strange_decision_is_refused() -> None:
    assert known_rules(["nelson 2", "nelson 12", "nelson 2"]) == ("nelson 2",)
    with pytest.raises(NotPossible):
        once_in(2.0)


@pytest.mark.parametrize(("rule", "said"), [("nelson 3", 415), ("nelson 4", 595)])
def test_rules_that_look_at_steps_take_about_as_long_as_said(rule: str, said: float) -> None:
    from easelside.forecast.rules import run_rules

    chance, found = np.random.default_rng(62), []
    for _ in range(120):
        first = run_rules(chance.normal(0, 1, 4000).tolist(), rule)
        assert first is not None
        found.append(first)
    assert np.mean(found) == pytest.approx(said, abs=4 * float(np.std(found)) / math.sqrt(len(found)))


def test_readings_that_creep_are_told_and_steady_ones_are_not() -> None:
    chance = np.random.default_rng(63)
    steady = (0.45 + chance.normal(0, 0.015, 40)).tolist()
    assert (found := readings_drift(steady, 0.015)) is not None and found[3] is None
    creeping = [v + 0.004 * max(0, i - 10) for i, v in enumerate(steady)]
    assert (crept := readings_drift(creeping, 0.015)) is not None
    assert crept[3] is not None and 11 < crept[3] < 35
    assert readings_drift(steady[:5], 0.015) is None


def good(n: int, seed: int) -> tuple[Any, ...]:
    chance = np.random.default_rng(seed)
    session, lot = np.arange(n) // 24, np.arange(n) // 100
    minutes = np.exp(1.1 + 0.1 * lot + 0.04 * (np.arange(n) % 200) / 100 + chance.normal(0, 0.1, n))
    return minutes, lot, np.arange(n) % 200, session, np.zeros(n, bool), np.ones(n, bool)


def test_what_is_usual_is_found_again() -> None:
    found = usual(*good(600, 9))
    assert found is not None
    assert found.centre == pytest.approx(1.1 + 0.1 * np.arange(6), abs=0.06)
    assert found.by_age == pytest.approx(0.04, abs=0.03)
    assert found.sigma == pytest.approx(
        math.hypot(0.1, HAND), rel=0.06
    )  # a hand slower or faster in a session
    assert found.expected(np.array([40]), np.array([0.0]))[0] == pytest.approx(1.35, abs=0.05)
    assert found.unsure(np.array([40]))[0] > 3 * found.unsure(np.array([2]))[0]


def test_too_few_pieces_say_nothing_of_what_is_usual() -> None:
    minutes, lot, age, session, faulty, whole = good(60, 10)
    assert usual(minutes[:20], lot[:20], age[:20], session[:20], faulty[:20], whole[:20]) is None
    assert usual(minutes, lot, age, session, faulty, np.zeros(60, bool)) is None


def test_the_good_stretch_leaves_out_the_last_three_batches_but_keeps_the_first_pieces() -> None:
    edges, age = np.array([0] * 250 + [1] * 60), np.r_[np.arange(250), np.arange(60)]
    kept = good_stretch(edges, age, 100)
    assert kept[:178].all() and not kept[178:250].any() and kept[250:].all()


def test_the_makers_own_number_stands_before_half_of_what_edges_cut() -> None:
    assert good_pieces([], None) == 100
    assert good_pieces([240, 260, 300], None) == 130
    assert good_pieces([240, 260, 300], 80) == 80


def cases() -> list[dict[str, Any]]:
    found = json.loads(CASES.read_text())["cases"]
    assert isinstance(found, list)
    return found


@pytest.mark.parametrize("case", cases(), ids=lambda case: str(case["name"]))
def test_both_sides_watch_alike(case: dict[str, Any]) -> None:
    cuts = [Cut(**{**cut, "off": math.nan if cut["off"] is None else cut["off"]}) for cut in case["cuts"]]
    found, expected = watch_edge(WatchedBy(**case["by"]), cuts), Found(**case["expect"])
    assert (found.named, found.onset) == (expected.named, expected.onset)
    assert [found.rise, found.total] == pytest.approx([expected.rise, expected.total], abs=1e-6)
    assert asdict(found).keys() == case["expect"].keys()
