"""Staggered soaking: against every way of doing it, on small cases; and what would make a wish possible."""

import itertools
import json
from collections.abc import Iterator
from dataclasses import asdict, replace
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from easelside.errors import NotPossible
from easelside.soak.staggered import Change, Pace, Plan, Wish, largest_group, next_group, plan

CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "staggered.json").read_text())


def wish(**fields: object) -> Wish:
    usual = {"pieces": 24, "pace": Pace(180, 170, 190), "ready_s": 1800, "too_soft_s": 3600, "jars": 4}
    return Wish(**{**usual, **fields})  # type: ignore[arg-type]


def test_two_dozen_at_three_minutes_go_in_by_groups_that_wait_for_nobody() -> None:
    found = plan(wish())
    assert [group.pieces for group in found.groups] == [8, 8, 8]
    assert found.every_s == pytest.approx(8 * 180)
    assert found.groups[0].put_in_s == 0
    assert found.changes == ()


def test_sixes_where_the_maker_says_sixes() -> None:
    found = plan(wish(each=6))
    assert [group.pieces for group in found.groups] == [6, 6, 6, 6]
    assert found.every_s == pytest.approx(1080)
    assert [group.jar for group in found.groups] == [1, 2, 3, 1]


def test_sixes_out_together_at_three_minutes_take_two_jars_by_turns() -> None:
    found = plan(wish(each=6, out_together=True, jars=2))
    assert [group.jar for group in found.groups] == [1, 2, 1, 2]


def test_few_pieces_go_in_together() -> None:
    assert [group.pieces for group in plan(wish(pieces=5)).groups] == [5]


def compositions(n: int) -> Iterator[tuple[int, ...]]:
    for cuts in itertools.product((False, True), repeat=n - 1):
        sizes, size = [], 1
        for cut in cuts:
            if cut:
                sizes.append(size)
                size = 1
            else:
                size += 1
        yield (*sizes, size)


def is_possible(of: Wish, sizes: tuple[int, ...], start: float) -> bool:
    """Whether any whole put-in times do it: every piece ready in time when quick, not too soft when slow."""
    pace, first, choices = of.pace, 0, []
    if of.out_together and (max(sizes) - 1) * pace.slow_s > of.ready_s + 1e-9:
        return False
    for size in sizes:
        planned = start + first * pace.usual_s
        times = []
        for put_in in range(0, int(planned) + 1):
            lead = planned - put_in
            quick, slow = (1.0, 1.0) if len(sizes) == 1 else (pace.quick_s, pace.slow_s)
            usual = 1.0 if len(sizes) == 1 else pace.usual_s
            in_time = lead * quick / usual >= of.ready_s - 1e-9
            behind = 0 if of.out_together else size - 1
            kept = lead * slow / usual + behind * pace.slow_s <= of.too_soft_s + 1e-9
            if in_time and kept:
                times.append((put_in, planned + behind * pace.usual_s))
        choices.append(times)
        first += size
    return any(fits_in_jars(chosen, of.jars) for chosen in itertools.product(*choices))


def fits_in_jars(stays: tuple[tuple[float, float], ...], jars: int) -> bool:
    return all(sum(into <= at < out for into, out in stays) <= jars for at, _ in stays)


small = st.builds(
    Wish,
    pieces=st.integers(1, 5),
    pace=st.sampled_from([Pace(2, 2, 2), Pace(3, 3, 3), Pace(2, 1, 4), Pace(4, 2, 4)]),
    ready_s=st.integers(2, 6),
    too_soft_s=st.integers(6, 14),
    jars=st.integers(1, 3),
    start_s=st.sampled_from([0, 2, 6, 8, 12]),
    out_together=st.booleans(),
)


@settings(max_examples=150)
@given(small)
def test_no_other_way_of_equal_groups_does_what_the_plan_cannot_or_with_fewer(of: Wish) -> None:
    assert of.start_s is not None
    start = float(of.start_s)
    ways = [
        sizes
        for sizes in compositions(of.pieces)
        if len(set(sizes[:-1])) <= 1 and sizes[-1] <= sizes[0] and is_possible(of, sizes, start)
    ]
    found = plan(of)
    assert bool(found.groups) == bool(ways)
    if ways:
        assert len(found.groups) == min(map(len, ways))
        assert tuple(group.pieces for group in found.groups) in ways


@settings(max_examples=150)
@given(small)
def test_groups_of_unlike_sizes_make_nothing_possible_that_is_not(of: Wish) -> None:
    assert of.start_s is not None
    found = plan(of)
    if not found.groups:
        assert not any(is_possible(of, sizes, float(of.start_s)) for sizes in compositions(of.pieces))


wishes = st.builds(
    lambda pieces, usual, quick, slow, ready, soft, jars, start, each, together: Wish(
        pieces, Pace(usual, usual * quick, usual * slow), ready, ready * soft, jars, start, each, together
    ),
    st.integers(1, 60),
    st.floats(40, 600),
    st.floats(0.6, 1),
    st.floats(1, 1.6),
    st.floats(300, 40_000),
    st.floats(1, 4),
    st.integers(1, 6),
    st.one_of(st.none(), st.floats(0, 50_000)),
    st.one_of(st.none(), st.integers(1, 12)),
    st.booleans(),
)


@given(wishes)
def test_no_piece_of_a_plan_is_late_or_over_soaked(of: Wish) -> None:
    found = plan(of)
    pace = of.pace
    for group in found.groups:
        lead = group.first_cut_s - group.put_in_s
        alone = len(found.groups) == 1
        quick, slow = (1.0, 1.0) if alone else (pace.quick_s / pace.usual_s, pace.slow_s / pace.usual_s)
        assert lead * quick >= of.ready_s * (1 - 1e-9)
        behind = 0 if of.out_together else group.pieces - 1
        assert lead * slow + behind * pace.slow_s <= of.too_soft_s * (1 + 1e-6)
        assert group.put_in_s >= -1e-6 * pace.usual_s
    assert sum(group.pieces for group in found.groups) in (0, of.pieces)


@given(wishes)
def test_no_jar_holds_two_groups_at_a_time(of: Wish) -> None:
    for jar, groups in itertools.groupby(
        sorted(plan(of).groups, key=lambda g: (g.jar, g.put_in_s)), lambda g: g.jar
    ):
        assert 1 <= jar <= of.jars
        for before, after in itertools.pairwise(groups):
            emptied = before.first_cut_s if of.out_together else before.last_cut_s
            assert after.put_in_s >= emptied - 1e-6


@given(wishes)
def test_every_change_that_is_named_makes_it_possible(of: Wish) -> None:
    found = plan(of)
    assume(not found.groups)
    for change in found.changes:
        assert plan(changed(of, change)).groups, change


def changed(of: Wish, change: Change) -> Wish:
    if change.what in ("smaller_groups", "larger_groups"):
        return replace(of, each=int(change.number))
    if change.what == "more_jars":
        return replace(of, jars=int(change.number))
    if change.what == "colder_water":
        return replace(of, ready_s=of.ready_s * change.number, too_soft_s=of.too_soft_s * change.number)
    assert change.what == "start_later"
    return replace(of, start_s=(of.start_s or 0) + change.number)


def test_an_impossible_wish_is_answered_with_what_would_do() -> None:
    one_jar = plan(wish(jars=1, each=6))
    assert one_jar.groups == ()
    assert {change.what: change.number for change in one_jar.changes}["more_jars"] == 3
    too_many = plan(wish(each=12))
    assert Change("smaller_groups", 8) in too_many.changes
    hurried = plan(wish(start_s=600))
    assert [(c.what, round(c.number)) for c in hurried.changes] == [("start_later", 1306)]


def test_as_the_real_pace_shows_the_next_group_goes_in_earlier_or_later() -> None:
    # twelve are ahead, half an hour until ready
    usual = next_group(12, 6, Pace(180, 170, 190), 1800, 3600)
    quicker = next_group(12, 6, Pace(150, 145, 155), 1800, 3600)
    slower = next_group(12, 6, Pace(240, 230, 250), 1800, 3600)
    assert quicker[0] < usual[0] < slower[0]
    assert usual == (pytest.approx(12 * 170 - 1800), True)


def test_a_group_that_would_lie_too_long_at_the_real_pace_is_told() -> None:
    assert next_group(0, 12, Pace(300, 290, 310), 1800, 3000) == (0, False)


def test_a_plan_and_its_next_groups_agree() -> None:
    of = wish(each=6)
    found = plan(of)
    for group in found.groups[1:]:
        ahead = round((group.first_cut_s - group.put_in_s) / of.pace.usual_s, 6)
        again, kept = next_group(ahead, group.pieces, of.pace, of.ready_s, of.too_soft_s)  # type: ignore[arg-type]
        assert again == pytest.approx(0, abs=1e-3)
        assert kept


@pytest.mark.parametrize("case", CASES["plans"], ids=lambda case: case["name"])
def test_shared_case(case: dict[str, object]) -> None:
    given_wish = dict(case["wish"])  # type: ignore[call-overload]
    found = plan(Wish(**{**given_wish, "pace": Pace(**given_wish["pace"])}))
    assert as_told(found) == case["expect"]


@pytest.mark.parametrize("case", CASES["next"], ids=lambda case: case["name"])
def test_shared_case_of_the_next_group(case: dict[str, object]) -> None:
    asked = dict(case["asked"])  # type: ignore[call-overload]
    put_in, kept = next_group(**{**asked, "pace": Pace(**asked["pace"])})
    assert {"put_in_s": round(put_in), "kept": kept} == case["expect"]


def as_told(found: Plan) -> dict[str, object]:
    return {
        "groups": [{k: round(v) for k, v in asdict(group).items()} for group in found.groups],
        "changes": [{"what": change.what, "number": round(change.number, 2)} for change in found.changes],
    }


@pytest.mark.parametrize(
    "fields",
    [
        {"pieces": 0},
        {"jars": 0},
        {"each": 0},
        {"pace": Pace(0, 0, 0)},
        {"pace": Pace(100, 120, 140)},
        {"pace": Pace(float("nan"), 1, 2)},
        {"ready_s": 0},
        {"ready_s": 4000},
        {"ready_s": float("nan")},
        {"start_s": -1},
        {"pieces": 1_000_000},  # it took 12 s
        {"pieces": 24.5},
    ],
)
def test_what_cannot_be_is_refused_in_words(fields: dict[str, object]) -> None:
    with pytest.raises(NotPossible):
        plan(wish(**fields))


def test_the_largest_group_fits_between_ready_and_too_soft() -> None:
    assert largest_group(wish(pace=Pace(180, 180, 180))) == 11
    assert largest_group(wish(too_soft_s=1800, pace=Pace(180, 180, 180))) == 1
    assert largest_group(wish(too_soft_s=1800, pace=Pace(180, 170, 190))) == 0
