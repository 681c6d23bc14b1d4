"""When is this lot ready, by what the maker found so far?

Marks, weighings and what water each soak had come in. Times are counted as effective times (jar.py) and by
the square of the thickness, so that a warm half hour and a night tell of the same cane. The model itself is
in posterior_fit.py.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

import numpy as np

from easelside.arguments import above_zero
from easelside.soak.drying import equilibrium_moisture_percent as equilibrium_moisture_percent
from easelside.soak.jar import (
    ACTIVATION_KJ_MOL,
    ACTIVATION_SD_KJ_MOL,
    COOLING_S,
    GAS_CONSTANT,
    LONG,
    ROOM_C,
    ZERO_C,
    Jar,
)
from easelside.soak.jar import arrhenius_ratio as arrhenius_ratio
from easelside.soak.marks import LONGEST_S, SoakMark, read_marks
from easelside.soak.posterior_fit import LEVEL, Posterior, Real
from easelside.soak.practice import ENOUGH_MARKS, THICKNESS_MM, WARM_C, practice_s
from easelside.soak.uptake import time_to_fraction as time_to_fraction
from easelside.soak.uptake import uptake_fraction as uptake_fraction
from easelside.soak.weighing import ready_by_weight

NODES, WEIGHTS = np.polynomial.legendre.leggauss(32)
SHORTEST_S = 1.0
TELLING = 0.3  # of ln: where warmth moves the marks apart by less, they tell nothing of it


@dataclass(frozen=True)
class ReadyTime:
    """Seconds in water as most of the marks had it: poured at `temperature_c`, in a room of `room_c`.

    `ready_s`: the usual time, when half of the soaks are ready; `lower_s` to `upper_s`: where that lies,
    9 times in 10. `next_lower_s` to `next_upper_s`: where the next soak is ready, 9 times in 10. `best_s`:
    when "good" is most likely. `too_soft_s`, and the same two for the next soak: only where there are such
    marks. `wanting`: how many marks more until they say more than practice.
    """

    ready_s: float
    lower_s: float
    upper_s: float
    best_s: float
    too_soft_s: float | None
    observations: int
    wanting: int
    next_lower_s: float
    next_upper_s: float
    next_too_soft_lower_s: float | None
    next_too_soft_upper_s: float | None
    temperature_c: float
    room_c: float | None
    thickness_mm: float
    at_c: float  # the jar's mean, at which effective times are counted
    activation_kj_mol: float
    activation_sd_kj_mol: float
    spread: float
    window: float


def fit_ready_time(marks: Iterable[object], practice_ready_s: float | None = None) -> ReadyTime:
    """The ready time of one lot from its marks (`SoakMark`, or mappings and objects with its fields).

    `practice_ready_s`: what to start from, seconds in the water that most marks had; None: common practice.
    Without marks: common practice in warm water. NotPossible for marks that cannot be.
    """
    found = [mark for mark in read_marks(marks) if mark.tells]
    poured, room, thick = _usual(found)
    start_s = practice_s(poured, thick)
    if practice_ready_s is not None:
        start_s = above_zero(practice_ready_s, "the time of practice in seconds", LONGEST_S, SHORTEST_S)
    jar = Jar(poured, room)
    at_c = _mean_c(start_s if not found else _middle([m.soak_s for m in found]), jar)

    @cache
    def effective(step: float) -> tuple[Real, float]:
        kj_mol = energy_at(step)
        practice = math.log(jar.effective_s(start_s, at_c, kj_mol))
        return log_effective(found, at_c, kj_mol, thick), practice

    waters = len({round(m.temperature_c) for m in found})
    tells_energy = waters > 1 and float(np.ptp(effective(1.0)[0] - effective(-1.0)[0])) > TELLING
    post = Posterior(found, effective, tells_energy, ready_by_weight(found, effective(0.0)[0].tolist()))
    energy = energy_at(post.energy_step)

    def seconds(log_dose: float) -> float:
        return jar.time_s(math.exp(log_dose), at_c, energy)

    ready, lower, upper = (seconds(post.middle(q)) for q in (0.5, (1 - LEVEL) / 2, (1 + LEVEL) / 2))
    next_lower, next_upper = (seconds(v) for v in post.next_ready())
    soft, soft_lower, soft_upper = (seconds(v) for v in post.too_soft())
    has_soft = any(m.mark == "too_soft" for m in found)
    told = sum(m.times for m in found if m.mark is not None)
    return ReadyTime(
        ready_s=ready,
        lower_s=lower,
        upper_s=upper,
        best_s=seconds(post.best()),
        too_soft_s=soft if has_soft else None,
        observations=sum(m.times for m in found),
        wanting=max(0, ENOUGH_MARKS - told),
        next_lower_s=next_lower,
        next_upper_s=next_upper,
        next_too_soft_lower_s=soft_lower if has_soft else None,
        next_too_soft_upper_s=soft_upper if has_soft else None,
        temperature_c=poured,
        room_c=room,
        thickness_mm=thick,
        at_c=at_c,
        activation_kj_mol=energy,
        activation_sd_kj_mol=post.energy_sd * ACTIVATION_SD_KJ_MOL,
        spread=post.mean_spread,
        window=post.mean_window,
    )


def log_effective(marks: list[SoakMark], at_c: float, energy: float, thickness_mm: float) -> Real:
    """ln of each mark's effective seconds at `at_c`, for cane of `thickness_mm`; Jar.effective_s for many."""
    if not marks:
        return np.empty(0)
    time, poured = np.array([(m.soak_s, m.temperature_c) for m in marks], float).T
    room = np.array([m.temperature_c if m.room_c is None else m.room_c for m in marks], float)
    thick = np.array([m.thickness_mm or thickness_mm for m in marks], float)
    span = np.minimum(time, LONG * COOLING_S)
    at = span[:, None] * (NODES + 1) / 2
    warm = room[:, None] + (poured - room)[:, None] * np.exp(-at / COOLING_S)
    dose = _speed(warm, at_c, energy) @ WEIGHTS * span / 2 + (time - span) * _speed(room, at_c, energy)
    return np.asarray(np.log(dose * (thickness_mm / thick) ** 2))


def _speed(warm: Real, at_c: float, energy: float) -> Real:
    return np.asarray(np.exp(energy * 1000 / GAS_CONSTANT * (1 / (at_c + ZERO_C) - 1 / (warm + ZERO_C))))


def _usual(marks: list[SoakMark]) -> tuple[float, float | None, float]:
    """Water, room and thickness of the mark in the middle, by water."""
    if not marks:
        return WARM_C, ROOM_C, THICKNESS_MM
    poured = _middle([m.temperature_c for m in marks for _ in range(m.times)])
    rooms = [m.room_c for m in marks if m.temperature_c == poured]
    thicks = [m.thickness_mm for m in marks if m.thickness_mm is not None]
    room = max(set(rooms), key=lambda r: (rooms.count(r), r is not None, r or 0.0))
    return poured, room, _middle(thicks) if thicks else THICKNESS_MM


def _middle(values: list[float]) -> float:
    return sorted(values)[(len(values) - 1) // 2]


def _mean_c(time_s: float, jar: Jar) -> float:
    """The temperature at which the usual soak would have done in the same time what its jar did."""
    if jar.room_c is None:
        return jar.poured_c
    faster = jar.effective_s(time_s, jar.poured_c, ACTIVATION_KJ_MOL) / time_s
    kelvin = 1 / (1 / (jar.poured_c + ZERO_C) - GAS_CONSTANT / 1000 / ACTIVATION_KJ_MOL * math.log(faster))
    return kelvin - ZERO_C


def energy_at(step: float) -> float:
    return max(0.0, ACTIVATION_KJ_MOL + step * ACTIVATION_SD_KJ_MOL)
