"""Has it really changed?"""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from easelside.errors import NotPossible
from easelside.set_up.comparing_fit import compare, compare_means

values = st.lists(st.floats(0.1, 2), min_size=2, max_size=12)


@given(values, values, st.booleans())
def test_two_means_agree_with_another_library(one: list[float], other: list[float], pooled: bool) -> None:
    assume(max(one) - min(one) > 1e-3 and max(other) - min(other) > 1e-3)
    sides = [(len(side), float(stats.tmean(side)), float(stats.tstd(side))) for side in (one, other)]
    (n, mean, sd), (other_n, other_mean, other_sd) = sides
    found = compare_means(mean, sd, n, other_mean, other_sd, other_n, pooled=pooled)
    theirs = stats.ttest_ind(one, other, equal_var=pooled)
    assert (found.t, found.by_chance) == pytest.approx((theirs.statistic, theirs.pvalue), abs=1e-9)
    assert found.df == pytest.approx(theirs.df)


def test_values_and_their_means_say_the_same() -> None:
    found = compare([0.50, 0.51, 0.49], [0.45, 0.44, 0.46])
    assert found.t > 6 and found.by_chance < 0.005


@pytest.mark.parametrize(
    ("before", "after"),
    [([0.5], [0.4, 0.41]), ([0.5, 0.5], [0.4, 0.4]), ([0.5, math.nan], [0.4, 0.41]), ([], [])],
)
def test_too_little_is_refused(before: list[float], after: list[float]) -> None:
    with pytest.raises(NotPossible):
        compare(before, after)
