"""What share of a normal distribution lies where, and what is the area below a smooth curve?"""

from functools import cache
from math import cos, erfc, exp, pi, sqrt


def below(z: float) -> float:
    """The standard normal's share below z."""
    return 0.5 * erfc(-z / sqrt(2))


def density(z: float) -> float:
    return exp(-z * z / 2) / sqrt(2 * pi)


@cache
def gauss_legendre(n: int) -> tuple[tuple[float, float], ...]:
    """Nodes and weights on [-1, 1], by Newton's iteration from Chebyshev's guess."""
    found = []
    for i in range(n):
        x = cos(pi * (i + 0.75) / (n + 0.5))
        for _ in range(100):
            p, _, slope = _legendre(n, x)
            step = p / slope
            x -= step
            if abs(step) < 1e-15:
                break
        _, _, slope = _legendre(n, x)
        found.append((x, 2 / ((1 - x * x) * slope * slope)))
    return tuple(found)


def _legendre(n: int, x: float) -> tuple[float, float, float]:
    p, before = 1.0, 0.0
    for k in range(n):
        p, before = ((2 * k + 1) * x * p - k * before) / (k + 1), p
    return p, before, n * (x * p - before) / (x * x - 1)
