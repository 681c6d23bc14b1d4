"""Control charts, run lengths and capability against published tables and worked examples."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import pytest

from easelside.forecast import fit, rules
from easelside.forecast.run_lengths import run_rules_run_length
from tests.published.reference import Reference, reference, references

TOPIC = "4-spc"
# Its values are given with ten digits, half a unit of the last of which is more than its tolerance of 1e-9.
TEN_DIGITS = "EWMA example, full precision"


@dataclass(frozen=True)
class Charted:
    ewma: tuple[float, ...]
    UCL: float
    LCL: float
    flags: list[int]


def factor(r: Reference) -> list[float]:
    """The factor's name is a word of the reference's own name."""
    symbol = next(
        w.strip(",") for w in r.name.split() if w.strip(",") in "d2 d3 c4 A2 A3 B3 B4 D3 D4".split()
    )
    return [getattr(rules.control_factors(n), symbol) for n in r.inputs["n"]]


def ewma_lines(r: Reference) -> Charted | list[float]:
    i = r.inputs
    found = rules.ewma(i["x"], i["target"], i.get("s", 1.0), i["lambda"], i.get("k", 3))
    if not isinstance(r.expected, dict):
        return list(found.values)
    return Charted(found.values, found.upper, found.lower, list(found.signals))


def cusum_sums(r: Reference) -> dict[str, object]:
    i = r.inputs
    found = rules.cusum(i["x"], i["target"], i["k"], i.get("h", 4.1959))
    return {
        "S_hi": found.high,
        "S_lo": found.low,
        "first_signal_1based": found.first_signal,
        "signals_1based": found.signals,
    }


def ewma_lengths(r: Reference) -> list[float]:
    words = r.name.replace(",", "").split()
    weight, width = float(words[words.index("lambda") + 1]), float(words[words.index("L") + 1])
    return [rules.ewma_run_length(shift, weight, width) for shift in r.inputs["shift_sigma"]]


def cusum_lengths(r: Reference) -> list[float]:
    return [rules.cusum_run_length(shift, 0.5, 5) for shift in r.inputs["shift_sigma"]]


def western_electric_lengths(r: Reference) -> list[float]:
    names = [f"western electric {n}" for n in r.name.rsplit(" ", 1)[1].split("+")]
    return [run_rules_run_length(shift, names) for shift in r.inputs["shift_sigma"]]


def lengths_with_a_run(r: Reference) -> list[float]:
    of_run = {8: "western electric 4", 9: "nelson 2"}
    return [run_rules_run_length(0, ["nelson 1", of_run[run]]) for run in r.inputs["run"]]


def run_rule(r: Reference) -> dict[str, int | None]:
    """ "Nelson 5 / WE 2" names the same rule twice: both have to agree."""
    named = r.name.split(":")[0].removeprefix("run rule, ")
    found = {
        rules.run_rules(r.inputs["z"], [one.replace("WE", "western electric")]) for one in named.split(" / ")
    }
    assert len(found) == 1
    return {"first_signal_1based": found.pop()}


def cpm(r: Reference) -> float | None:
    i = r.inputs
    return rules.capability(i["mean"], i["s"], i["LSL"], i["USL"], target=i["target"]).cpm


def cp_intervals(r: Reference) -> list[tuple[float, float] | None]:
    """A spread of one sigma: limits 6 Cp apart."""
    cp = r.inputs["Cp"]
    return [rules.capability(0, 1, -3 * cp, 3 * cp, n=n).cp_interval for n in r.inputs["n"]]


def wafers(r: Reference) -> dict[str, object]:
    counts, n = r.inputs["counts"], r.inputs["n"]
    limits = rules.proportion_limits(counts, n)
    above = [i for i, (c, limit) in enumerate(zip(counts, limits, strict=True), 1) if c / n > limit.upper]
    first = limits[0]
    return {"centre": first.centre, "UCL": first.upper, "LCL": first.lower, "points_above_UCL_1based": above}


def rings_limits() -> Any:
    return rules.mean_range_limits(
        reference("X-bar and R, piston rings, 25 subgroups of 5").inputs["subgroups"]
    )


def rings(r: Reference) -> dict[str, object]:
    groups, found = r.inputs["subgroups"], rings_limits()
    signals = [
        i
        for i, group in enumerate(groups, 1)
        if not found.mean.lower <= sum(group) / 5 <= found.mean.upper
        or not found.range.lower <= max(group) - min(group) <= found.range.upper
    ]
    return {
        "grand_mean": found.mean.centre,
        "R_bar": found.range.centre,
        "UCL_x": found.mean.upper,
        "LCL_x": found.mean.lower,
        "UCL_R": found.range.upper,
        "LCL_R": found.range.lower,
        "sigma_R_over_d2": found.sigma,
        "signals": signals,
    }


def rings_capability(r: Reference) -> dict[str, float]:
    found = rings_limits()
    of = rules.capability(found.mean.centre, found.sigma, r.inputs["LSL"], r.inputs["USL"])
    return {"Cp": of.cp, "Cpk": of.cpk}


WORKED: tuple[tuple[str, Callable[[Reference], object]], ...] = (
    ("control-chart factor", factor),
    ("printed table of", factor),
    ("EWMA example", ewma_lines),
    ("tabular CUSUM", cusum_sums),
    ("two-sided CUSUM average run length", cusum_lengths),
    ("EWMA average run length", ewma_lengths),
    ("average run length with Western Electric tests", western_electric_lengths),
    ("in-control run length, test 1 plus a run", lengths_with_a_run),
    ("run rule,", run_rule),
    ("Cpm with target", cpm),
    ("95 % interval for Cp", cp_intervals),
    ("p chart", wafers),
    ("X-bar and R", rings),
    ("capability of the piston rings", rings_capability),
)


@pytest.mark.parametrize("r", references(TOPIC), ids=lambda r: r.name)
def test_what_is_published_comes_out(r: Reference) -> None:
    worked = next(work for start, work in WORKED if r.name.startswith(start))
    found = worked(r)
    if r.name == TEN_DIGITS:
        r = replace(r, tolerance={"abs": 5.1e-9})
    assert r.agrees_with(found), (r.source, found, r.expected)


def test_the_limits_of_the_published_ewma_example_are_told_to_all_their_digits() -> None:
    """NIST/SEMATECH e-Handbook, doi 10.18434/M32189, section 6.3.2.4: 50 -+ 3 s sqrt(0.3 / 1.7)."""
    i = reference("EWMA example, lambda 0.3, target 50, s 2.0539, 3 sigma asymptotic limits").inputs
    found = rules.ewma(i["x"], 50, 2.0539, 0.3, 3)
    assert [found.lower, found.upper] == pytest.approx([47.41157, 52.58843], abs=1e-5)


def test_the_run_length_of_single_values_is_one_in_three_hundred_and_seventy() -> None:
    """3 sigma limits: 1 / 0.0027 = 370.4; an EWMA of weight 1 is the same chart."""
    assert rules.run_rules_run_length(0, "nelson 1") == pytest.approx(370.398, rel=1e-5)
    assert rules.ewma_run_length(0, 1, 3) == pytest.approx(370.398, rel=1e-5)


def test_the_same_functions_stand_in_fit_and_in_rules() -> None:
    for name in ("control_factors", "individuals_limits", "ewma", "cusum", "run_rules", "capability"):
        assert getattr(fit, name) is getattr(rules, name)
    assert fit.ewma_run_length is rules.ewma_run_length
    assert fit.cusum_run_length is rules.cusum_run_length
