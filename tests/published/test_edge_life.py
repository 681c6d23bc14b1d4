"""Lives of edges, waits and rates, held against published tables and worked examples."""

import pytest

from easelside.blades.fit import fit_life
from easelside.blades.life import LifeFit, chance_of_lasting, log_rank, pieces_left, survival
from easelside.care.fit import events_ahead, poisson_interval, rate_interval, same_rate
from easelside.care.waiting import next_due_days
from tests.published.reference import reference, within

NIST = "Weibull maximum likelihood with right censoring"
REMISSION = "Kaplan-Meier and Greenwood standard error, 6-MP arm"
TENTHS = (0.05, 0.1, 0.5, 0.9, 0.95)


def fit_of_nist(level: float = 0.95) -> LifeFit:
    inputs = reference(NIST).inputs
    failed, still = inputs["failures_h"], inputs["censored_h"]
    return fit_life(failed + still, [True] * len(failed) + [False] * len(still), level)


def test_weibull_by_maximum_likelihood_with_edges_still_cutting() -> None:
    """Weibull maximum likelihood with right censoring"""
    expected, fit = reference(NIST).expected, fit_of_nist()
    assert fit.shape == pytest.approx(expected["beta"], abs=0.00006)
    assert fit.scale == pytest.approx(expected["eta"], abs=0.002)
    assert (fit.mean, fit.standard_deviation) == pytest.approx((expected["mean"], expected["sd"]), abs=0.002)
    assert (fit.log_likelihood, fit.aic) == pytest.approx((expected["loglik"], expected["AIC"]), abs=0.006)
    assert fit.aic < expected["lognormal_AIC"]
    assert (fit.ended, fit.observations) == (10, 20)


def test_intervals_by_the_observed_information() -> None:
    """Weibull log-scale 95 % intervals for the same fit (observed information)"""
    fit = fit_of_nist()
    assert reference("Weibull log-scale 95 % intervals for the same fit (observed information)").agrees_with(
        {"eta": fit.scale_interval, "beta": fit.shape_interval}
    )


def test_what_is_left_when_so_much_has_lasted() -> None:
    """residual life with that fit: P(survive 100 h more | alive at 200 h), and P(survive 300 h)"""
    r = reference("residual life with that fit: P(survive 100 h more | alive at 200 h), and P(survive 300 h)")
    fit = fit_of_nist()
    found = {"conditional": chance_of_lasting(fit, 200, 100), "S300": chance_of_lasting(fit, 0, 300)}
    assert r.agrees_with(found)
    # The same said the other way round: 100 are left with that chance.
    one_sided = 2 * r.expected["conditional"] - 1
    assert pieces_left(fit, 200, one_sided).lower == pytest.approx(100, abs=0.01)


def test_kaplan_meier_with_greenwoods_error() -> None:
    """Kaplan-Meier and Greenwood standard error, 6-MP arm"""
    r = reference(REMISSION)
    weeks, came = zip(*r.inputs["time_event"], strict=True)
    found = survival(weeks, [bool(e) for e in came])
    steps = {"t": found.times, "S": found.survival, "se": found.standard_error, "median": found.median}
    assert r.agrees_with(steps)


def test_log_rank_between_two_groups() -> None:
    """log-rank test, 6-MP against placebo"""
    r = reference("log-rank test, 6-MP against placebo")
    weeks, came = zip(*r.inputs["arm1"], strict=True)
    others = r.inputs["arm2_all_events"]
    found = log_rank(weeks, [bool(e) for e in came], others, [True] * len(others))
    assert r.agrees_with({"chi2": found.chi_square, "p": found.p})


def test_exact_interval_of_a_poisson_mean() -> None:
    """exact 95 % interval for a Poisson mean"""
    r = reference("exact 95 % interval for a Poisson mean")
    assert r.agrees_with([poisson_interval(k) for k in r.inputs["k"]])


def test_exact_interval_of_a_rate() -> None:
    """exact 95 % interval for a rate, 24 events in 5 months"""
    r = reference("exact 95 % interval for a rate, 24 events in 5 months")
    assert r.agrees_with(rate_interval(r.inputs["k"], r.inputs["T"]))


def test_how_many_come_next_month() -> None:
    """predictive count next month after 24 in 5 months, Jeffreys prior: 2.5, 50, 97.5 % points"""
    r = reference("predictive count next month after 24 in 5 months, Jeffreys prior: 2.5, 50, 97.5 % points")
    inputs = r.inputs
    found = events_ahead(inputs["shape"], inputs["exposure"], inputs["next"], (0.025, 0.5, 0.975))
    assert r.agrees_with(found)


@pytest.mark.parametrize(
    "name",
    [
        "time until the next 10 pieces after 20 in 10 h: 5, 10, 50, 90, 95 % points",
        "time until the next 12 pieces after 8 in 4 h: 5, 10, 50, 90, 95 % points",
    ],
)
def test_the_wait_for_so_many_more(name: str) -> None:
    r = reference(name)
    found = next_due_days(r.inputs["k"], r.inputs["T"], r.inputs["N"], TENTHS)
    assert r.agrees_with(found)


def test_two_rates_held_against_each_other() -> None:
    """two Poisson rates, 0 in 100 against 3 in 100"""
    r = reference("two Poisson rates, 0 in 100 against 3 in 100")
    (mine, theirs), (n, m) = r.inputs["k"], r.inputs["n"]
    found = same_rate(mine, n, theirs, m)
    assert r.agrees_with({"z": found.z, "p": found.p})


def test_ball_bearings_all_of_which_failed() -> None:
    """Ball bearings of Lieblein and Zelen, J. Res. NBS 57 (1956) 273-316: the classic complete sample.

    Maximum likelihood as printed in Lawless, Statistical Models and Methods for Lifetime Data (2003), example
    5.2.2 (from memory): shape 2.10, scale 81.88 million turns.
    """
    turns = (
        "17.88 28.92 33.00 41.52 42.12 45.60 48.48 51.84 51.96 54.12 55.56 67.80 68.64 68.64 68.88 84.12"
        " 93.12 98.64 105.12 105.84 127.92 128.04 173.40"
    ).split()
    fit = fit_life([float(t) for t in turns], [True] * len(turns))
    assert within((fit.shape, fit.scale), (2.10, 81.88), {"abs": 0.006})
