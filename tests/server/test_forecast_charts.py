"""Charts, run rules, run lengths and capability: what must hold for any numbers."""

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from easelside.errors import NotPossible
from easelside.forecast.capability import chi_square_quantile
from easelside.forecast.charts import RULES
from easelside.forecast.rules import (
    capability,
    control_factors,
    cusum,
    cusum_run_length,
    ewma,
    ewma_run_length,
    individuals_limits,
    proportion_limits,
    run_rules,
    run_rules_run_length,
)
from easelside.forecast.run_lengths import LONGEST, upper_cusum_run_length

values = st.lists(st.floats(-50, 50), min_size=2, max_size=60)
zs = st.lists(st.floats(-4, 4), max_size=60)


@pytest.mark.parametrize("n", [2, 5, 25, 100])
def test_the_mean_range_is_what_scipy_integrates(n: int) -> None:
    """E[W] = integral of 1 - Phi^n - (1 - Phi)^n (Tippett 1925), another form than the one in use."""
    x = np.linspace(-10, 10, 40_001)
    above = stats.norm.cdf(x)
    mean = np.trapezoid(1 - above**n - (1 - above) ** n, x)
    assert control_factors(n).d2 == pytest.approx(mean, abs=1e-7)


def test_the_spread_of_a_range_of_two_has_a_closed_form() -> None:
    """|difference| of two: mean 2 / sqrt(pi), variance 2 - 4 / pi."""
    of_two = control_factors(2)
    assert of_two.d2 == pytest.approx(2 / math.sqrt(math.pi), abs=1e-9)
    assert of_two.d3 == pytest.approx(math.sqrt(2 - 4 / math.pi), abs=1e-9)


def test_c4_goes_on_smoothly_where_the_gamma_function_leaves_the_floats() -> None:
    for n in (300, 339, 340, 1000):
        assert control_factors(n).c4 == pytest.approx(
            4 * (n - 1) / (4 * n - 3), abs=1e-5
        )  # ASTM E2587, large n


@given(values, st.floats(-20, 20), st.floats(0.1, 10))
def test_individuals_limits_move_and_stretch_with_the_values(
    x: list[float], shift: float, scale: float
) -> None:
    plain, moved = individuals_limits(x), individuals_limits([v * scale + shift for v in x])
    assert moved.upper == pytest.approx(plain.upper * scale + shift, abs=1e-6)
    assert moved.moving_range_upper == pytest.approx(plain.moving_range_upper * scale, abs=1e-6)
    assert plain.lower <= plain.centre <= plain.upper


@given(values, st.floats(0.05, 1), st.floats(1, 4))
def test_an_ewma_lies_between_its_target_and_its_values(x: list[float], weight: float, width: float) -> None:
    found = ewma(x, 0.0, 1.0, weight, width)
    assert len(found.values) == len(x) + 1
    assert min(*x, 0) - 1e-9 <= min(found.values) and max(found.values) <= max(*x, 0) + 1e-9
    assert found.signals == tuple(
        i for i, v in enumerate(found.values) if i > 0 and not found.lower <= v <= found.upper
    )


@given(values)
def test_an_ewma_of_weight_one_is_the_values(x: list[float]) -> None:
    assert ewma(x, 3.0, 1.0, 1.0, 3.0).values[1:] == pytest.approx(x)


@given(values, st.floats(0, 3), st.floats(0.5, 10))
def test_a_cusum_turned_upside_down_changes_its_sides(
    x: list[float], allowance: float, decision: float
) -> None:
    up, down = cusum(x, 0, allowance, decision), cusum([-v for v in x], 0, allowance, decision)
    assert up.high == pytest.approx(down.low)
    assert up.signals == down.signals
    assert min(up.high) >= 0


@given(zs, st.sampled_from(sorted(RULES)))
def test_a_signal_does_not_wait_for_what_comes_after(z: list[float], rule: str) -> None:
    first = run_rules(z, rule)
    if first is None:
        assert all(run_rules(z[:k], rule) is None for k in range(len(z)))
    else:
        assert run_rules(z[:first], rule) == first
        assert run_rules(z[: first - 1], rule) is None


@given(zs, st.lists(st.sampled_from(sorted(RULES)), min_size=1, max_size=4))
def test_several_rules_signal_where_the_first_of_them_does(z: list[float], names: list[str]) -> None:
    alone = [found for name in names if (found := run_rules(z, name)) is not None]
    assert run_rules(z, names) == (min(alone) if alone else None)


@given(zs, st.sampled_from(sorted(RULES)))
def test_the_rules_know_no_up_or_down(z: list[float], rule: str) -> None:
    assert run_rules(z, rule) == run_rules([-v for v in z], rule)


@pytest.mark.parametrize(
    ("rule", "z", "first"),
    [
        ("nelson 4", [0, 1] * 7, 14),
        ("nelson 4", [0, 1] * 6 + [0], None),
        ("nelson 6", [1.1, 1.1, 0, 1.1, 1.1], 5),
        ("western electric 3", [1.1, 1.1, 0, 0, 1.1, 1.1], None),
        ("nelson 3", [6, 5, 4, 3, 2, 1], 6),
        ("nelson 2", [-0.1] * 9, 9),
        ("nelson 2", [0.1] * 4 + [0.0] + [0.1] * 8, None),
    ],
)
def test_a_rule_signals_where_it_should(rule: str, z: list[float], first: int | None) -> None:
    assert run_rules(z, rule) == first


@settings(max_examples=25)
@given(st.floats(0.1, 1), st.floats(2, 3.5), st.floats(0, 2))
def test_a_wider_chart_waits_longer_and_a_larger_shift_is_seen_sooner(
    w: float, width: float, shift: float
) -> None:
    assert ewma_run_length(shift, w, width) < ewma_run_length(shift, w, width + 0.3)
    assert ewma_run_length(shift + 0.3, w, width) < ewma_run_length(shift, w, width)
    assert cusum_run_length(shift, 0.5, width) < cusum_run_length(shift, 0.5, width + 0.3)
    assert cusum_run_length(shift + 0.3, 0.5, width) < cusum_run_length(shift, 0.5, width)
    assert cusum_run_length(-shift, 0.5, width) == pytest.approx(cusum_run_length(shift, 0.5, width))


@pytest.mark.parametrize("decision", [20, 60, 100])
@pytest.mark.parametrize("shift", [0.5, 1.0])
def test_a_wide_cusum_waits_as_long_as_siegmund_says(shift: float, decision: float) -> None:
    """D. Siegmund, Sequential Analysis (1985), ch. 2: the end of the walk lies 1.166 sigma further off."""
    drift, far = shift - 0.5, decision + 1.166
    expected = far**2 if drift == 0 else (math.expm1(-2 * drift * far) + 2 * drift * far) / (2 * drift**2)
    assert upper_cusum_run_length(shift, 0.5, decision) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize("decision", [101, 300, 10_000, 1e6])
def test_a_cusum_too_wide_to_be_worked_out_is_refused(decision: float) -> None:
    with pytest.raises(NotPossible, match="the decision"):
        cusum_run_length(1, 0.5, decision)


def test_what_never_signals_is_told_by_one_number() -> None:
    assert cusum_run_length(0, 0.5, 30) == LONGEST
    assert ewma_run_length(0, 1, 30) == LONGEST


@settings(max_examples=20)
@given(st.floats(3, 1e15), st.floats(0.1, 9))
def test_no_chart_signals_before_the_first_value(shift: float, decision: float) -> None:
    assert 1 <= cusum_run_length(shift, 0.5, decision) <= LONGEST
    assert 1 <= ewma_run_length(shift, 0.2, decision) <= LONGEST


def test_an_ewma_with_little_weight_waits_as_long_as_a_slow_drift_does() -> None:
    """In units of 1 / weight as an Ornstein-Uhlenbeck process leaves its limits, from quadrature by scipy.

    The mean time is the integral from 0 to the width of sqrt(2 pi) exp(x^2 / 2) (Phi(x) - 1/2) dx; its limits
    lie 0.583 steps further off where values come one by one.
    """
    weight = 0.002
    further = 3 + 0.583 * math.sqrt(weight * (2 - weight))
    drift, _ = integrate.quad(
        lambda x: math.sqrt(2 * math.pi) * math.exp(x * x / 2) * (stats.norm.cdf(x) - 0.5), 0, further
    )
    assert ewma_run_length(0, weight, 3) == pytest.approx(drift / weight, rel=0.02)


@pytest.mark.parametrize("weight", [1e-3, 1e-5, 1e-6, 1e-12])
def test_an_ewma_too_fine_to_be_worked_out_is_refused(weight: float) -> None:
    with pytest.raises(NotPossible, match="too fine"):
        ewma_run_length(0, weight, 3)


Real = npt.NDArray[np.float64]


def simulated(run: int, seed: int, shift: float) -> Real:
    return np.random.default_rng(seed).normal(shift, 1, (run, 4000))


def first_of(signals: npt.NDArray[np.bool_]) -> Real:
    assert signals.any(axis=1).all(), "a run was cut off before it signalled"
    return np.asarray(signals.argmax(axis=1) + 1, np.float64)


@pytest.mark.parametrize(("shift", "weight", "width"), [(0.0, 0.2, 2.5), (1.0, 0.1, 2.8), (0.5, 1.0, 2.5)])
def test_an_ewma_takes_as_long_as_simulated(shift: float, weight: float, width: float) -> None:
    z = simulated(2000, 11, shift)
    mean, limit = np.zeros(len(z)), width * math.sqrt(weight / (2 - weight))
    signals = np.zeros(z.shape, bool)
    for i in range(z.shape[1]):
        mean = weight * z[:, i] + (1 - weight) * mean
        signals[:, i] = np.abs(mean) > limit
    found = first_of(signals)
    slack = 4 * found.std() / math.sqrt(len(found))
    assert ewma_run_length(shift, weight, width) == pytest.approx(found.mean(), abs=slack)


@pytest.mark.parametrize(("shift", "allowance", "decision"), [(0.0, 0.5, 4), (1.0, 0.5, 5), (1.5, 1.0, 3)])
def test_a_cusum_takes_as_long_as_simulated(shift: float, allowance: float, decision: float) -> None:
    z = simulated(2000, 12, shift)
    high, low = np.zeros(len(z)), np.zeros(len(z))
    both, up = np.zeros(z.shape, bool), np.zeros(z.shape, bool)
    for i in range(z.shape[1]):
        high, low = np.maximum(0, high + z[:, i] - allowance), np.maximum(0, low - z[:, i] - allowance)
        up[:, i] = high > decision
        both[:, i] = up[:, i] | (low > decision)
    found = first_of(both)
    slack = 4 * found.std() / math.sqrt(len(found))
    assert cusum_run_length(shift, allowance, decision) == pytest.approx(found.mean(), abs=slack)
    if shift:
        above = first_of(up)
        slack = 4 * above.std() / math.sqrt(len(above))
        assert upper_cusum_run_length(shift, allowance, decision) == pytest.approx(above.mean(), abs=slack)


@pytest.mark.parametrize(
    ("names", "shift"),
    [(["nelson 7"], 0.0), (["nelson 8", "nelson 6"], 0.6), (["western electric 3", "nelson 5"], 0.6)],
)
def test_run_rules_take_as_long_as_simulated(names: list[str], shift: float) -> None:
    chance = np.random.default_rng(13)
    found = []
    for _ in range(150):
        z = chance.normal(shift, 1, 15_000).tolist()
        first = run_rules(z, names)
        assert first is not None
        found.append(first)
    slack = 4 * float(np.std(found)) / math.sqrt(len(found))
    assert run_rules_run_length(shift, names) == pytest.approx(np.mean(found), abs=slack)


@given(st.floats(0.0001, 0.9999), st.integers(1, 500))
def test_chi_square_is_as_in_scipy(share: float, degrees: int) -> None:
    assert chi_square_quantile(share, degrees) == pytest.approx(stats.chi2.ppf(share, degrees), rel=1e-8)


@given(st.floats(-1, 1), st.floats(0.1, 2), st.integers(2, 300))
def test_capability_is_largest_in_the_middle_and_lies_in_its_interval(
    mean: float, sigma: float, n: int
) -> None:
    assume(abs(mean) > 1e-6)
    found, middle = capability(mean, sigma, -3, 3, 0, n), capability(0, sigma, -3, 3, 0, n)
    assert found.cpk < found.cp == pytest.approx(middle.cpk)
    assert found.cpm is not None and found.cpm < found.cp
    assert found.cp_interval and found.cp_interval[0] < found.cp
    assert found.cpk_interval and found.cpk_interval[0] < found.cpk < found.cpk_interval[1]


def test_the_intervals_of_capability_hold_nineteen_times_in_twenty() -> None:
    """2,000 samples of 30 from a known normal; 95 % with four standard errors of slack."""
    chance, held_cp, held_cpk = np.random.default_rng(14), 0, 0
    for _ in range(2000):
        x = chance.normal(0.5, 1, 30)
        found = capability(float(x.mean()), float(x.std(ddof=1)), -4, 4, n=30)
        assert found.cp_interval and found.cpk_interval
        held_cp += found.cp_interval[0] <= 4 / 3 <= found.cp_interval[1]
        held_cpk += found.cpk_interval[0] <= 3.5 / 3 <= found.cpk_interval[1]
    assert abs(held_cp / 2000 - 0.95) < 0.02
    assert abs(held_cpk / 2000 - 0.95) < 0.025  # the interval of Cpk is an approximation


def test_shares_lost_have_limits_between_none_and_all() -> None:
    found = proportion_limits([0, 1, 3], [10, 40, 30])
    assert [limit.centre for limit in found] == [0.05] * 3
    assert all(0 <= limit.lower < limit.upper <= 1 for limit in found)
    assert found[0].upper > found[1].upper


@pytest.mark.parametrize(
    "asked",
    [
        lambda: control_factors(1),
        lambda: control_factors(2.5),  # type: ignore[arg-type]
        lambda: individuals_limits([1.0]),
        lambda: individuals_limits([1.0, math.nan]),
        lambda: ewma([], 0, 1, 0.2, 3),
        lambda: ewma([1.0], 0, 0, 0.2, 3),
        lambda: ewma([1.0], 0, 1, 1.2, 3),
        lambda: cusum([1.0], 0, -0.5, 4),
        lambda: cusum([1.0], math.inf, 0.5, 4),
        lambda: run_rules([0.0], "nelson 9"),
        lambda: run_rules([0.0], []),
        lambda: ewma_run_length(math.nan, 0.2, 3),
        lambda: ewma_run_length(0, 0.2, -3),
        lambda: cusum_run_length(0, 0.5, 0),
        lambda: run_rules_run_length(0, "nelson 3"),
        lambda: capability(0, -1, -3, 3),
        lambda: capability(0, 1, 3, -3),
        lambda: capability(0, 1, -3, 3, n=1),
        lambda: capability(0, 1, -3, 3, n=2.5),  # type: ignore[arg-type]
        lambda: capability(0, 1, -3, 3, level=1.0),
        lambda: proportion_limits([5], 4),
    ],
)
def test_what_cannot_be_worked_out_is_said(asked: object) -> None:
    with pytest.raises(NotPossible):
        asked()  # type: ignore[operator]


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (lambda: run_rules([math.nan], "nelson 1"), "the values are numbers, not nan."),
        (lambda: individuals_limits([1e308, 0]), "the values are numbers from -1e+18 to 1e+18, not 1e+308."),
        (lambda: ewma_run_length(0, 2, 3), "the weight is a number above 0 and at most 1, not 2."),
        (lambda: individuals_limits([3.0]), "the values: 1 given, at least 2 needed."),
        (
            lambda: control_factors(10**9),
            "the size of a sample is a whole number from 2 to 1,000, not 1000000000.",
        ),
    ],
)
def test_a_refusal_says_what_would_do(asked: Callable[[], object], said: str) -> None:
    with pytest.raises(NotPossible) as refused:
        asked()
    assert refused.value.what_happened == f"This cannot be worked out: {said}"
