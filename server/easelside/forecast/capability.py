"""Does the thickness that this machine gives fit between what the maker allows?

Cp, Cpk, Cpm: NIST/SEMATECH e-Handbook, doi 10.18434/M32189, section 6.1.6; intervals: Cp by chi-square, Cpk
by the normal approximation of A. F. Bissell, Applied Statistics 39 (1990) 331-340.
"""

from dataclasses import dataclass
from math import exp, lgamma, log, sqrt
from statistics import NormalDist

from easelside.arguments import above_zero, chance, number, whole
from easelside.errors import NotPossible

Interval = tuple[float, float]
MOST_READINGS = 100_000


@dataclass(frozen=True)
class Capability:
    """`cpm` needs a target, the 95 % intervals need the number of readings; None without."""

    cp: float
    cpk: float
    cpm: float | None
    cp_interval: Interval | None
    cpk_interval: Interval | None


def capability(
    mean: float,
    sigma: float,
    lower: float,
    upper: float,
    target: float | None = None,
    n: int | None = None,
    level: float = 0.95,
) -> Capability:
    """Mean, sigma, limits and target in one unit; `n` readings gave them."""
    mean, sigma = number(mean, "the mean"), above_zero(sigma, "sigma")
    lower, upper = number(lower, "the lower limit"), number(upper, "the upper limit")
    if not lower < upper:
        raise NotPossible(detail="the lower limit has to lie below the upper one")
    level = chance(level, "the level")
    cp = (upper - lower) / (6 * sigma)
    cpk = min(upper - mean, mean - lower) / (3 * sigma)
    cpm = None
    if target is not None:
        cpm = (upper - lower) / (6 * sqrt(sigma**2 + (mean - number(target, "the target")) ** 2))
    if n is None:
        return Capability(cp, cpk, cpm, None, None)
    n = whole(n, "the number of readings", 2, MOST_READINGS)
    rest, degrees = (1 - level) / 2, n - 1
    of_cp = tuple(cp * sqrt(chi_square_quantile(p, degrees) / degrees) for p in (rest, 1 - rest))
    reach = NormalDist().inv_cdf(1 - rest) * sqrt(1 / (9 * n) + cpk * cpk / (2 * degrees))
    return Capability(cp, cpk, cpm, (of_cp[0], of_cp[1]), (cpk - reach, cpk + reach))


def chi_square_share(x: float, degrees: float) -> float:
    """The share of chi-square below x: the regularised lower gamma function, by series or fraction."""
    if x <= 0:
        return 0.0
    a, half = degrees / 2, x / 2
    scale = exp(a * log(half) - half - lgamma(a))
    if half < a + 1:
        term = total = 1 / a
        k = a
        while abs(term) > 1e-17 * total:
            k += 1
            term *= half / k
            total += term
        return scale * total
    tiny = 1e-300
    b = half + 1 - a
    c, d = 1 / tiny, 1 / b
    h = d
    for i in range(1, 100_000):
        an = -i * (i - a)
        b += 2
        d = 1 / (an * d + b or tiny)
        c = b + an / c or tiny
        h *= d * c
        if abs(d * c - 1) < 1e-16:
            break
    return 1 - scale * h


def chi_square_quantile(share: float, degrees: float) -> float:
    """Where chi-square's share below reaches `share`, by bisection from Wilson and Hilferty's guess."""
    z = NormalDist().inv_cdf(share)
    guess = max(degrees * (1 - 2 / (9 * degrees) + z * sqrt(2 / (9 * degrees))) ** 3, 1e-12)
    low, high = guess, guess
    while chi_square_share(low, degrees) > share:
        low /= 2
    while chi_square_share(high, degrees) < share:
        high *= 2
    for _ in range(200):
        middle = (low + high) / 2
        if not low < middle < high:
            break
        low, high = (middle, high) if chi_square_share(middle, degrees) < share else (low, middle)
    return (low + high) / 2
