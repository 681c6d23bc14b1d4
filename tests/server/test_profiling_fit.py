"""Minutes and turns a piece: the fits against statsmodels, and what they must and must not follow."""

import json
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
import statsmodels.api as sm  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from easelside.errors import NotPossible
from easelside.profiling.fit import (
    AGE_AT_FIRST,
    AGE_GIVE,
    LONG_AT_FIRST,
    LONG_GIVE,
    MACHINES_DIFFER,
    TAU_LEAST,
    WORTH,
    fit_minutes,
    tau_at_first,
)
from easelside.profiling.least_squares_fit import least_squares
from easelside.profiling.pace import LONG_USED, Pace, minutes_ahead, quantile, sharpness, together, use
from easelside.profiling.turns_fit import TurnsFit, fit_turns, turns_range

Real = npt.NDArray[np.float64]


def design(lot: Any, machine: Any, columns: list[Any]) -> Real:
    """Dummies of all lots, of the second machine, and the columns: what statsmodels wants to be given."""
    lots = [lot == i for i in range(int(lot.max()) + 1)]
    return np.column_stack([*lots, machine == 1, *columns]).astype(float)


def cut(n: int, seed: int) -> tuple[Any, Any, Any, Any, np.random.Generator]:
    chance = np.random.default_rng(seed)
    session = np.arange(n) // 25
    lot = chance.integers(0, 5, n // 25 + 1)[session]
    machine = (chance.random(n // 25 + 1) < 0.3).astype(int)[session]
    return lot, machine, chance.integers(0, 300, n), session, chance


def test_minutes_are_as_ordinary_least_squares_in_statsmodels() -> None:
    lot, machine, age, session, chance = cut(2000, 1)
    log_minutes = 1.1 + 0.1 * lot - 0.2 * machine + 0.07 * age / 100 + chance.normal(0, 0.15, 2000)
    found = least_squares(np.exp(log_minutes), lot, machine, age, session, robust=False)
    hundreds = age / 100
    theirs = sm.OLS(
        log_minutes, design(lot, machine, [hundreds, np.maximum(0, hundreds - LONG_USED / 100)])
    ).fit()
    assert found.centre == pytest.approx(theirs.params[:5], abs=1e-9)
    assert found.machine == pytest.approx([0, theirs.params[5]], abs=1e-9)
    assert [found.by_age, found.by_long_use] == pytest.approx(theirs.params[6:], abs=1e-9)
    assert found.by_age_error == pytest.approx(theirs.bse[6], rel=1e-9)


def test_with_sessions_that_deviate_minutes_are_as_generalised_least_squares_in_statsmodels() -> None:
    """What is known beforehand enters statsmodels as rows of its own, each worth as much as it is sure."""
    lot, machine, age, session, chance = cut(600, 11)
    day = chance.normal(0, 0.08, session[-1] + 1)[session]
    log_minutes = 1.1 + 0.1 * lot - 0.2 * machine + 0.07 * age / 100 + day + chance.normal(0, 0.15, 600)
    found = fit_minutes(np.exp(log_minutes), lot, machine, age, session, robust=False)
    rows = design(lot, machine, [age / 100, np.maximum(0, age - LONG_USED) / 100])
    told = np.eye(8)[5:]  # the second machine, both slopes
    spread = np.zeros((603, 603))
    spread[:600, :600] = found.tau**2 * (session[:, None] == session) + found.sigma**2 * np.eye(600)
    spread[600:, 600:] = np.diag([MACHINES_DIFFER**2, AGE_GIVE**2, LONG_GIVE**2])
    value = np.r_[log_minutes, 0, AGE_AT_FIRST, LONG_AT_FIRST]
    theirs = sm.GLS(value, np.vstack([rows, told]), sigma=spread).fit()
    sure = theirs.normalized_cov_params
    assert found.centre == pytest.approx(theirs.params[:5], abs=1e-9)
    assert [found.machine[1], found.by_age, found.by_long_use] == pytest.approx(theirs.params[5:], abs=1e-9)
    pace = found.pace(2, 1)
    of = np.eye(8)[2] + np.eye(8)[5]
    assert pace.error == pytest.approx(np.sqrt(of @ sure @ of), rel=1e-9)
    assert pace.with_slopes == pytest.approx((of @ sure)[6:], abs=1e-12)
    assert pace.slopes == pytest.approx([sure[6, 6], sure[6, 7], sure[7, 7]], rel=1e-9)
    slower, error = found.beside(0, [1])
    apart = np.eye(8)[0] - np.eye(8)[1]
    assert (slower, error) == pytest.approx((apart @ theirs.params, np.sqrt(apart @ sure @ apart)), abs=1e-9)


@pytest.mark.filterwarnings("ignore:The MLE may be on the boundary")
def test_how_sessions_differ_is_as_restricted_maximum_likelihood_in_statsmodels() -> None:
    """Where sessions are alike in size, Henderson's third method is REML. One lot and one age a session."""
    chance = np.random.default_rng(12)
    session = np.repeat(np.arange(120), 20)
    lot = session % 3
    log_minutes = 1.1 + 0.1 * lot + chance.normal(0, 0.09, 120)[session] + chance.normal(0, 0.12, 2400)
    found = fit_minutes(np.exp(log_minutes), lot, np.zeros(2400), np.zeros(2400), session, robust=False)
    lots = np.column_stack([lot == i for i in range(3)]).astype(float)
    theirs = sm.MixedLM(log_minutes, lots, groups=session).fit(reml=True)
    assert found.sigma**2 == pytest.approx(theirs.scale, rel=1e-4)
    own = (
        (WORTH + 117) * found.tau**2 - WORTH * tau_at_first(found.sigma) ** 2
    ) / 117  # 120 sessions less 3 lots
    assert own == pytest.approx(float(theirs.cov_re[0, 0]), rel=1e-3)


def test_a_lot_cut_on_one_part_of_an_edge_is_less_sure_on_another() -> None:
    """Two lots, one after the other on the first edge: the second was cut at ages 96 to 191 only."""
    chance = np.random.default_rng(13)
    age = np.arange(192)
    minutes = np.exp(1.1 + 0.05 * age / 100 + chance.normal(0, 0.1, 192))
    pace = fit_minutes(minutes, age // 96, np.zeros(192), age, age // 24).pace(1)
    unsure = [together(pace, use([at]), use([at])) for at in (0, 140)]
    assert unsure[0] > 1.7 * unsure[1]
    fresh, there = (minutes_ahead(pace, at, 24) for at in (0, 130))
    assert np.log(fresh.high / fresh.low) > 1.15 * np.log(there.high / there.low)


def test_one_lot_on_one_edge_in_one_session_is_fitted() -> None:
    found = fit_minutes([3.0, 3.1, 2.9, 3.2], np.zeros(4), np.zeros(4), np.arange(4), np.zeros(4))
    assert np.exp(found.pace(0).centre) == pytest.approx(3.05, rel=0.02)
    assert found.pace(0).error >= TAU_LEAST  # how the session deviates is not known


def test_turns_are_as_the_negative_binomial_of_statsmodels() -> None:
    lot, machine, age, _, chance = cut(1500, 2)
    mean = np.exp(2.1 + 0.05 * lot - 0.1 * machine + 0.05 * age / 100)
    turns = chance.poisson(mean * chance.gamma(8, 1 / 8, 1500))
    found = fit_turns(turns, lot, machine, age)
    theirs = sm.NegativeBinomial(turns, design(lot, machine, [age / 100])).fit(
        disp=False, maxiter=400, method="bfgs", gtol=1e-7
    )
    assert found.centre == pytest.approx(theirs.params[:5], abs=1e-4)
    assert found.machine == pytest.approx([0, theirs.params[5]], abs=1e-4)
    assert found.by_age == pytest.approx(theirs.params[6], abs=1e-4)
    assert found.alpha == pytest.approx(theirs.params[7], abs=1e-4)


def test_for_a_given_dispersion_turns_are_as_the_generalised_linear_model_of_statsmodels() -> None:
    lot, machine, age, _, chance = cut(1500, 3)
    turns = chance.poisson(np.exp(2.1 + 0.05 * lot) * chance.gamma(8, 1 / 8, 1500))
    found = fit_turns(turns, lot, machine, age)
    family = sm.families.NegativeBinomial(alpha=found.alpha)
    theirs = sm.GLM(turns, design(lot, machine, [age / 100]), family=family).fit(tol=1e-12)
    assert found.centre == pytest.approx(theirs.params[:5], abs=1e-8)
    assert found.error == pytest.approx(theirs.bse[:5], rel=1e-6)
    pearson = ((turns - theirs.mu) ** 2 / theirs.mu).sum() / theirs.df_resid
    assert found.spread == pytest.approx(pearson, rel=0.002)


def test_turns_more_alike_than_chance_allows_have_a_narrower_range_than_poissons() -> None:
    """A maker who turns every two passes: nine, give or take one."""
    chance = np.random.default_rng(4)
    turns = chance.choice([8, 9, 9, 10], 300)
    found = fit_turns(turns, np.zeros(300), np.zeros(300), np.arange(300) % 200)
    assert found.alpha == 0
    assert found.spread < 0.2
    mean, low, high = turns_range(found, 0, 50)
    assert (round(mean), low, high) == (9, 8, 10)


def test_a_few_odd_values_do_not_move_the_pace() -> None:
    """Forty minutes with the kettle on, two taps at once."""
    lot, machine, age, session, chance = cut(600, 5)
    minutes = np.exp(1.1 + 0.1 * lot + chance.normal(0, 0.15, 600))
    odd = minutes.copy()
    odd[::60] = [40, 0.05, 55, 30, 0.1, 90, 45, 38, 60, 33]
    clean, found = (
        fit_minutes(minutes, lot, machine, age, session),
        fit_minutes(odd, lot, machine, age, session),
    )
    assert found.centre == pytest.approx(clean.centre, abs=0.02)
    assert found.sigma == pytest.approx(clean.sigma, rel=0.03)
    assert not found.used[::60].any()


def test_an_edge_that_goes_off_is_not_taken_for_an_odd_value() -> None:
    chance = np.random.default_rng(6)
    age = np.tile(np.arange(240), 4)
    minutes = np.exp(1.1 + 0.01 * np.maximum(0, age - 200) + chance.normal(0, 0.12, len(age)))
    found = fit_minutes(minutes, np.zeros(960), np.zeros(960), age, np.arange(960) // 24)
    assert found.used.all()
    assert found.by_long_use > 0.1


def test_sessions_that_differ_are_told_from_pieces_that_differ() -> None:
    chance = np.random.default_rng(7)
    session = np.arange(5000) // 25
    minutes = np.exp(1.1 + chance.normal(0, 0.08, 200)[session] + chance.normal(0, 0.15, 5000))
    found = fit_minutes(minutes, np.zeros(5000), np.zeros(5000), np.zeros(5000), session)
    assert found.tau == pytest.approx(0.08, abs=0.012)
    assert found.sigma == pytest.approx(0.15, abs=0.005)


@pytest.mark.parametrize("minutes", [[], [3.0, 3.1], [3, 3, -1.0], [3, 3, np.nan], [3, 3, 0]])
def test_minutes_that_cannot_be_are_refused(minutes: list[float]) -> None:
    none = np.zeros(len(minutes))
    with pytest.raises(NotPossible):
        fit_minutes(minutes, none, none, none)


def test_turns_that_cannot_be_are_refused() -> None:
    for turns in ([], [1, 2, -1], [0, 0, 0]):
        none = np.zeros(len(turns))
        with pytest.raises(NotPossible):
            fit_turns(turns, none, none, none)


PACE = Pace(centre=1.1, error=0.03, by_age=0.05, by_long_use=0.1, sigma=0.15, tau=0.05, degrees=40)
paces = st.builds(
    Pace,
    centre=st.floats(-1, 4),
    error=st.floats(0, 0.2),
    by_age=st.floats(-0.1, 0.3),
    by_long_use=st.floats(0, 0.5),
    sigma=st.floats(0.01, 0.5),
    tau=st.floats(0, 0.3),
    degrees=st.floats(4, 500),
)


def correlated(pace: Pace, parts: list[float]) -> Pace:
    """Unsure of the slopes too: the lower triangle of a root of the covariance."""
    a, b, c, d, e = parts
    root = np.array([[pace.error, 0, 0], [a, b, 0], [c, d, e]])
    all = root @ root.T
    return replace(
        pace,
        with_slopes=(float(all[0, 1]), float(all[0, 2])),
        slopes=(float(all[1, 1]), float(all[1, 2]), float(all[2, 2])),
    )


unsure_paces = st.builds(correlated, paces, st.lists(st.floats(-0.2, 0.2), min_size=5, max_size=5))
days = st.lists(st.tuples(st.floats(0.5, 20), st.floats(0, 300)), max_size=40)


@given(paces, st.floats(0, 400), st.integers(1, 60), days)
def test_what_is_ahead_lies_in_its_range_and_a_surer_range_is_wider(
    pace: Pace, age: float, pieces: int, today: list[tuple[float, float]]
) -> None:
    nine, six = minutes_ahead(pace, age, pieces, 0.9, today), minutes_ahead(pace, age, pieces, 0.6, today)
    assert 0 < nine.low < six.low < six.likely == nine.likely < six.high < nine.high
    assert minutes_ahead(pace, age, pieces + 1, 0.9, today).likely > nine.likely


@given(unsure_paces, days, st.floats(0, 300))
def test_pieces_of_today_never_make_it_less_sure(
    pace: Pace, today: list[tuple[float, float]], age: float
) -> None:
    before, after = minutes_ahead(pace, age, 10), minutes_ahead(pace, age, 10, today=today)
    assert after.high / after.low <= before.high / before.low * (1 + 1e-9)


def test_a_slow_day_makes_the_rest_of_the_batch_later() -> None:
    plain = minutes_ahead(PACE, 40, 12)
    slow = minutes_ahead(PACE, 40, 12, today=[(4.2, 30 + i) for i in range(10)])
    assert slow.likely > plain.likely * 1.1
    assert slow.high - slow.low < plain.high - plain.low


def test_one_odd_piece_of_today_moves_it_little() -> None:
    steady = [(3.1, 30 + i) for i in range(10)]
    plain, odd = (
        minutes_ahead(PACE, 40, 12, today=steady),
        minutes_ahead(PACE, 40, 12, today=[*steady, (60, 40)]),
    )
    assert odd.likely < plain.likely * 1.05


@given(st.floats(0.5, 0.95), st.floats(8, 1000))
def test_the_quantile_is_students(level: float, degrees: float) -> None:
    from scipy.stats import t

    assert quantile(level, degrees) == pytest.approx(t.ppf((1 + level) / 2, degrees), rel=0.007)


def test_an_edge_that_takes_a_quarter_longer_has_a_sharpness_of_eighty() -> None:
    recent = [(np.exp(1.1) * 1.25, 200.0, 1.1)] * 12
    found = sharpness(PACE, recent)
    assert found.index == pytest.approx(80)
    assert found.low < 80 < found.high
    assert found.others == pytest.approx(100 * np.exp(-0.05 * 2 - 0.1 * 0.5))


def test_a_sum_of_pieces_is_as_simulated() -> None:
    chance = np.random.default_rng(9)
    pace = Pace(1.1, 0.0, 0.1, 0.0, 0.25, 0.06, 1e6)
    age = np.arange(20) + 100
    day = chance.normal(0, 0.06, (40_000, 1))
    total = np.exp(1.1 + 0.1 * age / 100 + day + chance.normal(0, 0.25, (40_000, 20))).sum(axis=1)
    found = minutes_ahead(pace, 100, 20)
    assert [found.low, found.likely, found.high] == pytest.approx(
        np.quantile(total, [0.05, 0.5, 0.95]), rel=0.006
    )


CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "pace.json").read_text())


@pytest.mark.parametrize("case", CASES["ahead"], ids=lambda case: str(case["name"]))
def test_both_sides_foresee_alike(case: dict[str, Any]) -> None:
    today = [(minutes, age) for minutes, age in case["today"]]
    found = minutes_ahead(Pace(**case["pace"]), case["age"], case["pieces"], 0.9, today)
    assert asdict(found) == pytest.approx(case["expect"], rel=1e-9)


@pytest.mark.parametrize("case", CASES["sharpness"], ids=lambda case: str(case["name"]))
def test_both_sides_know_how_sharp_an_edge_is(case: dict[str, Any]) -> None:
    found = sharpness(Pace(**case["pace"]), [(m, a, c) for m, a, c in case["recent"]])
    assert asdict(found) == pytest.approx(case["expect"], rel=1e-9)


@pytest.mark.parametrize("case", CASES["turns"], ids=lambda case: str(case["name"]))
def test_both_sides_foresee_turns_alike(case: dict[str, Any]) -> None:
    lot, every = case["lot"], case["all"]
    fit = TurnsFit(
        np.array([lot["centre"]]), np.array([lot["error"]]), np.array([50]), np.zeros(1),
        every["by_age"], every["alpha"], every["spread"],
    )  # fmt: skip
    assert list(turns_range(fit, 0, case["age"])) == pytest.approx(case["expect"], rel=1e-9)
