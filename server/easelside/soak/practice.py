"""What does common practice say of a soak, until a maker's own marks say better? No source for any of it."""

import math
from collections.abc import Callable
from dataclasses import replace

from easelside.soak.jar import ZERO_C
from easelside.soak.model import Soak
from easelside.units import Fields, number

WARM_C, WARM_S = 38.0, 1800.0  # half an hour
COLD_C, COLD_S = 12.0, 14400.0  # several hours
PRESET_C = {"cold": COLD_C, "room": 20.0, "warm": WARM_C, "overnight": 20.0}
OVERNIGHT_S = 36000.0
PRACTICE_S = {"warm": WARM_S, "overnight": OVERNIGHT_S, "cold": COLD_S, "room": COLD_S}
HABITS = {  # where the workshop's own record says the maker's
    "warm": "soak_warm_s",
    "overnight": "soak_overnight_s",
    "cold": "soak_cold_s",
    "room": "soak_cold_s",
}
THICKNESS_MM = 1.25  # gouged bassoon cane
ENOUGH_MARKS = 8  # from so many marks on, a maker's own are spoken of


def planned_s(water: str | None, workshop: Fields) -> float:
    """Seconds in this water (not said: warm), as the maker does it, else by practice. As on the phone."""
    name = water if water in HABITS else "warm"
    habit = number(workshop, HABITS[name])
    return habit if habit is not None and habit > 0 else PRACTICE_S[name]


def as_usual(soak: Soak, workshop: Callable[[], Fields]) -> Soak:
    """One of which nobody said how long takes what is usual; the workshop is asked only then."""
    said = soak.soak_s is not None and soak.soak_s > 0
    return soak if said else replace(soak, soak_s=planned_s(soak.water, workshop()))


def practice_s(poured_c: float, thickness_mm: float = THICKNESS_MM) -> float:
    """Seconds until ready in water of this temperature: by Arrhenius between half an hour and four hours.

    Thickness by its square.
    """
    per_kelvin = math.log(COLD_S / WARM_S) / (1 / (COLD_C + ZERO_C) - 1 / (WARM_C + ZERO_C))
    times = math.exp(per_kelvin * (1 / (poured_c + ZERO_C) - 1 / (WARM_C + ZERO_C)))
    return WARM_S * times * (thickness_mm / THICKNESS_MM) ** 2
