"""Has it really changed? Two means against worked examples."""

import pytest

from easelside.set_up.comparing_fit import compare, compare_means
from tests.published.reference import reference, within


def test_two_ways_of_working() -> None:
    """Welch t test, assembly times"""
    told = reference("Welch t test, assembly times")
    found = compare(told.inputs["old"], told.inputs["new"])
    expected = {name: told.expected[name] for name in ("t", "df", "p_two_sided")}
    assert within({"t": found.t, "df": found.df, "p_two_sided": found.by_chance}, expected, told.tolerance)


def test_means_that_others_worked_out() -> None:
    """Welch t from summary statistics, car mileage"""
    told = reference("Welch t from summary statistics, car mileage")
    (one, other), (sd, other_sd), (n, other_n) = (told.inputs[name] for name in ("mean", "sd", "n"))
    welch = compare_means(one, sd, n, other, other_sd, other_n)
    student = compare_means(one, sd, n, other, other_sd, other_n, pooled=True)
    found = {"t_welch": welch.t, "df_welch": welch.df, "t_pooled": student.t, "df_pooled": student.df}
    assert told.agrees_with(found)
    assert welch.by_chance == pytest.approx(0, abs=1e-20)
