"""Waterlogged cane lies in the air: when does it cut again?

It starts from what a sheet of cane loses in a room's air (drying.py); the maker's own times, from "dry back"
to "dry enough", soon overrule that.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from easelside.errors import NotPossible
from easelside.soak.drying import Drying, equilibrium_moisture_percent
from easelside.soak.jar import ACTIVATION_KJ_MOL, ROOM_C, Jar, arrhenius_ratio
from easelside.soak.practice import THICKNESS_MM, WARM_C, WARM_S
from easelside.soak.uptake import time_to_fraction
from easelside.soak.weighing import FULL_GAIN, READY_SHARE

# starting values without a source
ROOM_HUMIDITY_PERCENT = 50.0
SURE_SD = 0.7  # of ln(time): 9 times in 10 between a third and three times of what the sheet says
EACH_SD = 0.4  # of one time about the maker's usual
ALMOST_SURELY = 1.6448536269514722  # standard normal: 9 times in 10 within plus or minus this


@dataclass(frozen=True)
class DryBack:
    """Seconds in the air. `lower_s` to `upper_s`: where the next time lies, 9 times in 10."""

    usual_s: float
    lower_s: float
    upper_s: float
    observations: int


def dry_back(times_s: Sequence[float], thickness_mm: float = THICKNESS_MM) -> DryBack:
    """From the maker's own times in seconds; without any, from the sheet alone."""
    for time_s in times_s:
        if not 0 < time_s < math.inf:
            raise NotPossible(detail=f"a time in the air is above 0 s, not {time_s}")
    start = math.log(by_the_sheet_s(thickness_mm))
    sure = 1 / SURE_SD**2 + len(times_s) / EACH_SD**2
    usual = (start / SURE_SD**2 + sum(map(math.log, times_s)) / EACH_SD**2) / sure
    side = ALMOST_SURELY * math.sqrt(1 / sure + EACH_SD**2)
    return DryBack(math.exp(usual), math.exp(usual - side), math.exp(usual + side), len(times_s))


def by_the_sheet_s(
    thickness_mm: float, room_c: float = ROOM_C, humidity_percent: float = ROOM_HUMIDITY_PERCENT
) -> float:
    """From full of water to as wet as a piece that cuts well, both faces to the room's air.

    How quickly water moves in cane is taken from common practice: ready after half an hour in a warm jar.
    """
    at_room_s = Jar(WARM_C, ROOM_C).effective_s(WARM_S, ROOM_C, ACTIVATION_KJ_MOL)
    a_m = THICKNESS_MM * 1e-3 / 2
    diffusivity = time_to_fraction(READY_SHARE, 1.0, 2000.0) * a_m**2 / at_room_s
    diffusivity *= arrhenius_ratio(room_c, ROOM_C, ACTIVATION_KJ_MOL)
    full = 100 * FULL_GAIN
    air = equilibrium_moisture_percent(room_c, humidity_percent)
    return Drying(full, air, diffusivity, thickness_mm).seconds_to(full * READY_SHARE)
