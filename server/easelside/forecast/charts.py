"""Does this still run as in the good stretch? Limits, running means and sums, and the two sets of run rules.

Factors: ASTM E2587; individuals, EWMA, CUSUM: NIST/SEMATECH e-Handbook, doi 10.18434/M32189, section 6.3.2;
run rules: L. S. Nelson, J. Quality Technology 16 (1984) 237-239; Western Electric, Statistical Quality
Control Handbook (1956). Standard library only: this is evaluated, not fitted.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from math import exp, gamma, lgamma, sqrt

from easelside.arguments import above_zero, number, numbers, several, whole
from easelside.errors import NotPossible
from easelside.forecast.normal import below, density, gauss_legendre


@dataclass(frozen=True)
class ControlFactors:
    """For samples of `n` from a normal distribution, in its sigmas (or mean ranges, or mean s)."""

    n: int
    d2: float
    d3: float
    c4: float
    A2: float
    A3: float
    B3: float
    B4: float
    D3: float
    D4: float


@dataclass(frozen=True)
class IndividualsLimits:
    centre: float
    lower: float
    upper: float
    moving_range_upper: float
    moving_range_mean: float


@dataclass(frozen=True)
class Limits:
    centre: float
    lower: float
    upper: float


@dataclass(frozen=True)
class MeanRangeLimits:
    """X-bar and R of equal subgroups; `sigma` is the mean range over d2."""

    mean: Limits
    range: Limits
    sigma: float


@dataclass(frozen=True)
class Ewma:
    """`values` begins with the target: one more than was given. `signals` count the given values from 1."""

    values: tuple[float, ...]
    lower: float
    upper: float
    signals: tuple[int, ...]
    first_signal: int | None


@dataclass(frozen=True)
class Cusum:
    """Sums above and below the target, one for each value. `signals` count from 1."""

    high: tuple[float, ...]
    low: tuple[float, ...]
    signals: tuple[int, ...]
    first_signal: int | None


def control_factors(n: int) -> ControlFactors:
    """Full precision: d2 and d3 by integrating the distribution of the normal range. n from 2 up to 1000."""
    return _control_factors(whole(n, "the size of a sample", 2, 1000))


@cache
def _control_factors(n: int) -> ControlFactors:
    d2, d3 = _range_mean_and_sd(n)
    # gamma(n/2) leaves the floats at n = 343: its logarithm does not, but is less exact near 1
    c4 = sqrt(2 / (n - 1)) * (gamma(n / 2) / gamma((n - 1) / 2) if n < 340 else _gamma_ratio(n))
    of_s, of_range = 3 * sqrt(1 - c4 * c4) / c4, 3 * d3 / d2
    return ControlFactors(
        n=n,
        d2=d2,
        d3=d3,
        c4=c4,
        A2=3 / (d2 * sqrt(n)),
        A3=3 / (c4 * sqrt(n)),
        B3=max(0.0, 1 - of_s),
        B4=1 + of_s,
        D3=max(0.0, 1 - of_range),
        D4=1 + of_range,
    )


def _gamma_ratio(n: int) -> float:
    return exp(lgamma(n / 2) - lgamma((n - 1) / 2))


def _range_mean_and_sd(n: int) -> tuple[float, float]:
    """E[W] and the standard deviation of W = max - min of n standard normals.

    P(W <= w) = n times the integral over x of phi(x) (Phi(x + w) - Phi(x))^(n-1) (Tippett 1925); then
    E[W] = integral of 1 - P, E[W^2] = integral of 2 w (1 - P). Over x the trapezoid rule is exact to
    rounding, because what is integrated dies out at both ends.
    """
    step, ends, widest = 0.0625, 8.5, 15.0
    xs = [-ends + i * step for i in range(int(2 * ends / step) + 1)]
    lower = [below(x) for x in xs]
    weights = [n * step * density(x) for x in xs]
    mean = square = 0.0
    for node, weight in gauss_legendre(96):
        w = widest * (1 + node) / 2
        inside = sum(p * (below(x + w) - b) ** (n - 1) for p, x, b in zip(weights, xs, lower, strict=True))
        beyond = widest / 2 * weight * (1 - min(1.0, inside))
        mean += beyond
        square += 2 * w * beyond
    return mean, sqrt(square - mean * mean)


def individuals_limits(values: Sequence[float]) -> IndividualsLimits:
    """Three sigma by the mean moving range of two: limits for single values in the order they came."""
    found = numbers(values, "the values", 2)
    of_two = control_factors(2)
    ranges = [abs(b - a) for a, b in pairwise(found)]
    mean_range = sum(ranges) / len(ranges)
    centre = sum(found) / len(found)
    reach = 3 * mean_range / of_two.d2
    return IndividualsLimits(centre, centre - reach, centre + reach, of_two.D4 * mean_range, mean_range)


def mean_range_limits(subgroups: Sequence[Sequence[float]]) -> MeanRangeLimits:
    """X-bar and R charts of subgroups of one size."""
    groups = [numbers(group, "the values of a subgroup", 2) for group in several(subgroups, "the subgroups")]
    if not groups or len({len(group) for group in groups}) != 1:
        raise NotPossible(detail="subgroups have to be of one size")
    of_n = control_factors(len(groups[0]))
    grand = sum(map(sum, groups)) / (len(groups) * len(groups[0]))
    mean_range = sum(max(group) - min(group) for group in groups) / len(groups)
    return MeanRangeLimits(
        mean=Limits(grand, grand - of_n.A2 * mean_range, grand + of_n.A2 * mean_range),
        range=Limits(mean_range, of_n.D3 * mean_range, of_n.D4 * mean_range),
        sigma=mean_range / of_n.d2,
    )


def proportion_limits(counts: Sequence[float], tried: float | Sequence[float]) -> tuple[Limits, ...]:
    """Three sigma for the share lost (a p chart): limits for each count, of `tried` pieces each."""
    found = numbers(counts, "the counts", least=0)
    each = tried if isinstance(tried, Iterable) else [tried] * len(found)
    of = numbers(each, "the numbers tried", least=1)
    if len(of) != len(found) or any(c > n for c, n in zip(found, of, strict=True)):
        raise NotPossible(detail="each count has to lie between none and all that were tried")
    share = sum(found) / sum(of)
    reach = [3 * sqrt(share * (1 - share) / n) for n in of]
    return tuple(Limits(share, max(0.0, share - r), min(1.0, share + r)) for r in reach)


def ewma(values: Sequence[float], target: float, sigma: float, weight: float, width: float) -> Ewma:
    """The exponentially weighted mean; its limits are those of the long run, width sigma sqrt(w/(2-w))."""
    found = numbers(values, "the values")
    weight = above_zero(weight, "the weight", 1)
    reach = above_zero(width, "the width") * above_zero(sigma, "sigma") * sqrt(weight / (2 - weight))
    mean = number(target, "the target")
    means = [mean]
    for value in found:
        mean = weight * value + (1 - weight) * mean
        means.append(mean)
    lower, upper = target - reach, target + reach
    signals = tuple(i for i, m in enumerate(means) if i and not lower <= m <= upper)
    return Ewma(tuple(means), lower, upper, signals, signals[0] if signals else None)


def cusum(values: Sequence[float], target: float, allowance: float, decision: float) -> Cusum:
    """The tabular CUSUM, both sides; `allowance` and `decision` in the units of the values."""
    found = numbers(values, "the values")
    target, allowance = number(target, "the target"), number(allowance, "the allowance", 0)
    decision = above_zero(decision, "the decision")
    high, low = [0.0], [0.0]
    for value in found:
        high.append(max(0.0, high[-1] + value - target - allowance))
        low.append(max(0.0, low[-1] + target - allowance - value))
    signals = tuple(i for i in range(1, len(high)) if max(high[i], low[i]) > decision)
    return Cusum(tuple(high[1:]), tuple(low[1:]), signals, signals[0] if signals else None)


def _some_of(some: int, last: int, beyond: float) -> Callable[[Sequence[float]], bool]:
    """`some` of the `last` beyond so many sigma, all on one side; the newest is one of them."""

    def signals(z: Sequence[float]) -> bool:
        of = z[-last:]
        up, down = sum(v > beyond for v in of), sum(v < -beyond for v in of)
        return (up >= some and z[-1] > beyond) or (down >= some and z[-1] < -beyond)

    return signals


def _steady(z: Sequence[float]) -> bool:
    steps = [b - a for a, b in zip(z[-6:], z[-5:], strict=False)]
    return len(steps) == 5 and (all(s > 0 for s in steps) or all(s < 0 for s in steps))


def _alternating(z: Sequence[float]) -> bool:
    steps = [b - a for a, b in zip(z[-14:], z[-13:], strict=False)]
    return len(steps) == 13 and all(a * b < 0 for a, b in pairwise(steps))


def _all_last(last: int, holds: Callable[[float], bool]) -> Callable[[Sequence[float]], bool]:
    return lambda z: len(z) >= last and all(holds(v) for v in z[-last:])


RULES: dict[str, Callable[[Sequence[float]], bool]] = {
    "nelson 1": _some_of(1, 1, 3),
    "nelson 2": _some_of(9, 9, 0),
    "nelson 3": _steady,
    "nelson 4": _alternating,
    "nelson 5": _some_of(2, 3, 2),
    "nelson 6": _some_of(4, 5, 1),
    "nelson 7": _all_last(15, lambda v: abs(v) < 1),
    "nelson 8": _all_last(8, lambda v: abs(v) > 1),
    "western electric 1": _some_of(1, 1, 3),
    "western electric 2": _some_of(2, 3, 2),
    "western electric 3": _some_of(4, 5, 1),
    "western electric 4": _some_of(8, 8, 0),
}
LOOKS_BACK = 15


def rule_names(rules: str | Sequence[str]) -> tuple[str, ...]:
    """Rules by name, as "nelson 2" or "western electric 4"; NotPossible for a name that is none."""
    said = [rules] if isinstance(rules, str) else several(rules, "the rules", most=len(RULES))
    names = tuple(" ".join(name.lower().split()) if isinstance(name, str) else repr(name) for name in said)
    unknown = [name[:40] for name in names if name not in RULES]
    if unknown or not names:
        raise NotPossible(detail=f"the rules are nelson 1 to 8 and western electric 1 to 4, not {unknown}")
    return names


def run_rules(z: Sequence[float], rules: str | Sequence[str]) -> int | None:
    """The first value at which one of the rules signals, counted from 1; None where none does.

    `z`: values less the centre, in sigma.
    """
    found, names = numbers(z, "the values", 0), rule_names(rules)
    for i in range(1, len(found) + 1):
        newest = found[max(0, i - LOOKS_BACK) : i]
        if any(RULES[name](newest) for name in names):
            return i
    return None
