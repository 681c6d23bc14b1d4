"""How far has the water come into a piece after so long?

A piece is taken as a flat sheet that takes water in through its faces (J. Crank, The Mathematics of
Diffusion, 2nd ed., Oxford 1975, ch. 3 and 4). The length that counts, `a`, is half the thickness when both
faces are open and the whole thickness when one is sealed; a Biot number is h a / D with that same `a`.
How wet it is at one depth, and a block, are for the checks against published tables alone.
"""

import math
from collections.abc import Iterable
from functools import lru_cache
from typing import overload

from easelside.arguments import above_zero, number, whole
from easelside.errors import NotPossible

SHORT = 0.2  # D t / a^2 below which the short-time series needs fewer terms; both agree on either side
SHORT_WITH_FILM = 0.03  # below it the water from one face has not met that from the other, to 16 digits
TERMS = 12


@overload
def uptake_fraction(
    time_s: float,
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> float: ...
@overload
def uptake_fraction(
    time_s: Iterable[float],
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> list[float]: ...
def uptake_fraction(
    time_s: float | Iterable[float],
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> float | list[float]:
    """Water taken in so far, as a share (0 to 1) of all that a sheet takes in; of several times, a list.

    `time_s` >= 0 in seconds; `diffusivity_m2_s` and `thickness_mm` > 0; `open_faces` 1 or 2; `biot` > 0 is
    the surface film's (h a / D, `a` as above), None: the face is wet through at once. Else NotPossible.
    """
    per_s, film = _per_second(diffusivity_m2_s, thickness_mm, open_faces), _film(biot)
    if isinstance(time_s, Iterable):
        return [_uptake(_time(each) * per_s, film) for each in time_s]
    return _uptake(_time(time_s) * per_s, film)


def time_to_fraction(
    fraction: float,
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> float:
    """Seconds until the share `fraction` (0 to below 1) of all the water is in; else as uptake_fraction."""
    per_s, film = _per_second(diffusivity_m2_s, thickness_mm, open_faces), _film(biot)
    fraction = number(fraction, "a share of the water", 0, 1)
    if fraction == 1:
        raise NotPossible(detail="the last of the water never comes in: a share is below 1")
    return _scaled_time(fraction, film) / per_s


def concentration_fraction(
    from_middle: float, time_s: float, diffusivity_m2_s: float, thickness_mm: float, open_faces: int = 2
) -> float:
    """How wet it is at one depth, 0 (as dry as before) to 1 (as at the face); faces wet through at once.

    `from_middle`: 0 at the middle of the sheet (or at the sealed face) to 1 at an open face. Crank, eq. 4.17
    and 4.18 (numbers from memory).
    """
    from_middle = number(from_middle, "a depth, 0 the middle and 1 a face,", 0, 1)
    tau = _time(time_s) * _per_second(diffusivity_m2_s, thickness_mm, open_faces)
    if tau == 0:
        return 1.0 if from_middle == 1 else 0.0
    if tau < SHORT:
        root = 2 * math.sqrt(tau)
        return sum(
            _sign(n)
            * (math.erfc((2 * n + 1 - from_middle) / root) + math.erfc((2 * n + 1 + from_middle) / root))
            for n in range(TERMS)
        )
    odd = [2 * n + 1 for n in range(TERMS)]
    left = sum(
        _sign(n) / k * math.exp(-k * k * math.pi**2 * tau / 4) * math.cos(k * math.pi * from_middle / 2)
        for n, k in enumerate(odd)
    )
    return 1 - 4 / math.pi * left


def uptake_of_block(fractions: Iterable[float]) -> float:
    """Share of the water in a block, from the shares of the sheets that its pairs of faces would make.

    The product rule for a constant surface, 1 - (1 - F1)(1 - F2)(1 - F3): how the ends add to the faces.
    """
    return 1 - math.prod(1 - each for each in fractions)


@lru_cache(maxsize=64)
def film_roots(biot: float, count: int) -> tuple[float, ...]:
    """The first `count` roots of beta tan(beta) = biot, rising (Crank, table 4.2, number from memory)."""
    if not (biot > 0 and math.isfinite(biot)):
        raise NotPossible(detail=f"a film's Biot number is above 0, not {biot}")
    return tuple(_film_root(biot, n) for n in range(count))


def _film_root(biot: float, n: int) -> float:
    low, high = n * math.pi, (n + 0.5) * math.pi
    sign = _sign(n)
    while True:
        middle = (low + high) / 2
        if middle <= low or middle >= high:
            return middle
        if sign * (middle * math.sin(middle) - biot * math.cos(middle)) > 0:
            high = middle
        else:
            low = middle


def _sign(n: int) -> int:
    return -1 if n % 2 else 1


def _time(time_s: float) -> float:
    return number(time_s, "a time in water in seconds", 0)


def _film(biot: float | None) -> float | None:
    if biot is None or (isinstance(biot, float) and biot == math.inf):
        return None
    return above_zero(biot, "a film's Biot number")


def _per_second(diffusivity_m2_s: float, thickness_mm: float, open_faces: int) -> float:
    """D / a^2."""
    diffusivity = above_zero(diffusivity_m2_s, "a diffusivity in m2/s", 1e6, 1e-20)
    thickness = above_zero(thickness_mm, "a thickness in mm", 1e6, 1e-6)
    return diffusivity / (thickness * 1e-3 / whole(open_faces, "the number of open faces", 1, 2)) ** 2


def _uptake(tau: float, film: float | None) -> float:
    if tau == 0:
        return 0.0
    if film is not None:
        return _short_with_film(tau, film) if tau < SHORT_WITH_FILM else _long_with_film(tau, film)
    return short_time(tau) if tau < SHORT else long_time(tau)


def short_time(tau: float) -> float:
    """Uptake at tau = D t / a^2 by the series that is quick when little water is in yet."""
    root = math.sqrt(tau)
    inner = sum(_sign(n) * _ierfc(n / root) for n in range(1, TERMS))
    return 2 * root * (1 / math.sqrt(math.pi) + 2 * inner)


def long_time(tau: float) -> float:
    """Uptake at tau = D t / a^2 by the series that is quick when most of the water is in."""
    squares = [(2 * n + 1) ** 2 * math.pi**2 for n in range(TERMS)]
    return 1 - sum(8 / k * math.exp(-k * tau / 4) for k in squares)


def _long_with_film(tau: float, film: float) -> float:
    total = 1.0
    for beta in film_roots(film, TERMS):
        square = beta * beta
        total -= 2 * film * film * math.exp(-square * tau) / (square * (square + film * film + film))
    return total


def _short_with_film(tau: float, film: float) -> float:
    """Into a thick body through a film: (e^(z^2) erfc z - 1 + 2 z / sqrt(pi)) / L with z = L sqrt(tau)."""
    z = film * math.sqrt(tau)
    if z < 0.1:  # the first terms cancel: add what is left of e^(z^2) erfc z = sum (-z)^k / gamma(1 + k / 2)
        return sum((-z) ** k / math.gamma(1 + k / 2) for k in range(2, 18)) / film
    return (_scaled_erfc(z) - 1 + 2 * z / math.sqrt(math.pi)) / film


def _scaled_erfc(z: float) -> float:
    if z < 3:
        return math.exp(z * z) * math.erfc(z)
    below = z
    for k in range(80, 0, -1):
        below = z + k / 2 / below
    return 1 / (math.sqrt(math.pi) * below)


def _ierfc(z: float) -> float:
    return math.exp(-z * z) / math.sqrt(math.pi) - z * math.erfc(z)


def _scaled_time(fraction: float, film: float | None) -> float:
    low, high = 0.0, 1.0
    while _uptake(high, film) < fraction:
        low, high = high, 2 * high
    while True:
        middle = (low + high) / 2
        if middle <= low or middle >= high:
            return middle
        if _uptake(middle, film) < fraction:
            low = middle
        else:
            high = middle
