"""Starting enough, and how sure a share is: against published tables and other programs."""

import pytest

from easelside.forecast.beta import beta_quantile
from easelside.forecast.rules import clopper_pearson, jeffreys, pieces_to_start, wilson
from easelside.forecast.shares import chance_if_alike
from easelside.forecast.yields import beta_binomial
from tests.published.reference import reference, within


@pytest.mark.parametrize(
    "name",
    [
        "pieces to start so that P(at least 5 good) >= 0.90, yield known",
        "pieces to start so that P(at least 10 good) >= 0.90, yield known",
        "pieces to start so that P(at least 20 good) >= 0.90, yield known",
        "pieces to start so that P(at least 24 good) >= 0.90, yield known",
        "same with 0.95, k = 10",
        "same with 0.95, k = 20",
    ],
)
def test_pieces_to_start_with_a_known_yield(name: str) -> None:
    told = reference(name)
    wanted, chance = told.inputs["k"], told.inputs["confidence"]
    assert told.agrees_with([pieces_to_start(wanted, known, chance) for known in told.inputs["p"]])


@pytest.mark.parametrize(
    "name",
    [
        "pieces to start when yield was seen as 18/20 (Jeffreys prior, beta-binomial), 90 %",
        "pieces to start when yield was seen as 9/10 (Jeffreys prior, beta-binomial), 90 %",
        "pieces to start when yield was seen as 16/20 (Jeffreys prior, beta-binomial), 90 %",
        "pieces to start when yield was seen as 8/10 (Jeffreys prior, beta-binomial), 90 %",
    ],
)
def test_pieces_to_start_from_counts(name: str) -> None:
    told = reference(name)
    seen = (told.inputs["good"], told.inputs["tried"])
    assert told.agrees_with([pieces_to_start(wanted, seen, 0.9) for wanted in told.inputs["k"]])


def test_chances_of_good_ones() -> None:
    """beta-binomial pmf"""
    told = reference("beta-binomial pmf")
    n, a, b = (told.inputs[name] for name in ("n", "a", "b"))
    assert told.agrees_with([beta_binomial(x, n, a, b) for x in told.inputs["x"]])


@pytest.mark.parametrize(
    ("name", "interval"),
    [
        ("Wilson score interval, 95 %", wilson),
        ("Clopper-Pearson interval, 95 %", clopper_pearson),
        ("Jeffreys interval, 95 %", jeffreys),
    ],
)
def test_intervals_of_a_share(name: str, interval: object) -> None:
    assert callable(interval)
    told = reference(name)
    assert told.agrees_with([interval(x, n, 0.95) for x, n in told.inputs["x_n"]])


def test_pieces_that_span_nearly_all() -> None:
    """distribution-free tolerance: smallest n for 95/95 one-sided, 90/90 one-sided, 95/95 two-sided

    One of n lies in the outermost twentieth: one success of a yield of a twentieth; two for both ends.
    """
    told = reference(
        "distribution-free tolerance: smallest n for 95/95 one-sided, 90/90 one-sided, 95/95 two-sided"
    )
    assert told.agrees_with(
        [pieces_to_start(1, 0.05, 0.95), pieces_to_start(1, 0.1, 0.9), pieces_to_start(2, 0.05, 0.95)]
    )


def test_so_few_good_ones_by_chance() -> None:
    """tea tasting, all eight cups right: one-sided p"""
    told = reference("tea tasting, all eight cups right: one-sided p")
    first, other = told.inputs["table"]
    found = chance_if_alike(other[0], sum(other), first[0], sum(first))
    assert found == pytest.approx(1 / 70, abs=1e-13)
    assert within(found, told.expected, {"abs": 5e-12})  # it is told to ten figures only


def test_the_quantiles_of_the_beta_distribution() -> None:
    # by hand: beta(1, b) is 1 - (1 - p)^(1/b),
    # beta(a, 1) is p^(1/a), beta(1/2, 1/2) is the square of the sine of half of pi p (the arcsine law)
    assert beta_quantile(0.9, 1, 5) == pytest.approx(1 - 0.1 ** (1 / 5), rel=1e-12)
    assert beta_quantile(0.9, 5, 1) == pytest.approx(0.9 ** (1 / 5), rel=1e-12)
    assert beta_quantile(1 / 3, 0.5, 0.5) == pytest.approx(0.25, rel=1e-12)
