"""How likely is a share that is not known exactly? The beta distribution, without any library."""

import math

from easelside.errors import NotPossible

_TINY = 1e-300
_PRECISE = 1e-16


def log_beta(a: float, b: float) -> float:
    """Logarithm of the beta function; `a` and `b` above 0."""
    return math.lgamma(a) + math.lgamma(b) - math.lgamma(a + b)


def beta_below(x: float, a: float, b: float) -> float:
    """
    The chance that a share with the beta distribution (a, b) lies below x.

    The regularised incomplete beta function, by its continued fraction: Abramowitz and Stegun, Handbook of
    Mathematical Functions (1964), 26.5.8, evaluated by the modified method of Lentz.
    """
    if not (a > 0 and b > 0 and math.isfinite(a + b)):
        raise NotPossible(detail="both parameters of a beta distribution are numbers above 0")
    if x <= 0 or x >= 1:
        return 0.0 if x <= 0 else 1.0
    front = math.exp(a * math.log(x) + b * math.log1p(-x) - log_beta(a, b))
    if x < (a + 1) / (a + b + 2):
        return front * _fraction(x, a, b) / a
    return 1 - front * _fraction(1 - x, b, a) / b


def _fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1 / _away_from_zero(1 - (a + b) * x / (a + 1))
    found = d
    for m in range(1, 10_000):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            d = 1 / _away_from_zero(1 + term * d)
            c = _away_from_zero(1 + term / c)
            found *= c * d
        if abs(c * d - 1) < _PRECISE * 4:
            break
    return found


def _away_from_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def beta_quantile(chance: float, a: float, b: float) -> float:
    """The share below which a beta distribution (a, b) lies with that chance; `chance` from 0 to 1."""
    if not 0 <= chance <= 1:
        raise NotPossible(detail="a chance lies between 0 and 1")
    low, high = 0.0, 1.0
    if chance in (low, high):
        return chance
    while True:
        middle = (low + high) / 2
        if middle in (low, high):
            return middle
        if beta_below(middle, a, b) < chance:
            low = middle
        else:
            high = middle
