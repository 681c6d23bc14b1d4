"""What does common practice say of a soak, until a maker's own marks say better? No source for any of it."""

import math

from easelside.soak.jar import GAS_CONSTANT, ZERO_C

WARM_C, WARM_S = 38.0, 1800.0  # half an hour
COLD_C, COLD_S = 12.0, 14400.0  # several hours
PRESET_C = {"cold": COLD_C, "room": 20.0, "warm": WARM_C, "overnight": 20.0}
THICKNESS_MM = 1.25  # gouged bassoon cane
ENOUGH_MARKS = 8  # from so many marks on, a maker's own are spoken of


def practice_s(poured_c: float, thickness_mm: float = THICKNESS_MM) -> float:
    """Seconds until ready in water of this temperature: by Arrhenius between half an hour and four hours.

    Thickness by its square.
    """
    per_kelvin = math.log(COLD_S / WARM_S) / (1 / (COLD_C + ZERO_C) - 1 / (WARM_C + ZERO_C))
    times = math.exp(per_kelvin * (1 / (poured_c + ZERO_C) - 1 / (WARM_C + ZERO_C)))
    return WARM_S * times * (thickness_mm / THICKNESS_MM) ** 2


def activation_of_practice_kj_mol() -> float:
    """The activation energy that the two figures of practice come to."""
    return GAS_CONSTANT / 1000 * math.log(COLD_S / WARM_S) / (1 / (COLD_C + ZERO_C) - 1 / (WARM_C + ZERO_C))
