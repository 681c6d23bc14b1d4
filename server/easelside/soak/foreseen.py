"""From a lot's slip: when is it ready, best, too soft, in this water?

The phone reckons the same (webclient/src/soak/foreseen_rules.ts), held to it by
tests/shared_cases/foreseen_soak.json. A slip tells doses: ln of effective seconds at `at_c` for cane of
`thickness_mm`.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from easelside.arguments import above_zero, number
from easelside.errors import NotPossible
from easelside.soak.jar import COOLING_S, Jar
from easelside.soak.marks import COLDEST_C, HOTTEST_C

ALMOST_SURELY = 1.6448536269514722  # standard normal: 9 times in 10 within plus or minus this


@dataclass(frozen=True)
class Foreseen:
    """Seconds in water. `lower_s` to `upper_s`: where the next soak is ready, 9 times in 10."""

    ready_s: float
    lower_s: float
    upper_s: float
    best_s: float
    too_soft_s: float | None
    too_soft_lower_s: float | None
    too_soft_upper_s: float | None


# what a slip's body may say; a dose is ln of seconds
BETWEEN = {
    "at_c": (COLDEST_C, HOTTEST_C),
    "energy": (0.0, 300.0),
    "energy_sd": (0.0, 300.0),
    "thickness_mm": (0.01, 100.0),
    "cooling_s": (1.0, 1e6),
}
DOSES = (-50.0, 50.0)


def _told(name: str, said: object) -> float | None:
    least, most = BETWEEN.get(name, DOSES)
    is_number = isinstance(said, (int, float)) and not isinstance(said, bool)
    return float(said) if is_number and least <= said <= most else None  # type: ignore[operator, arg-type]


def foresee(
    body: Mapping[str, object], poured_c: float, room_c: float | None, thickness_mm: float | None = None
) -> Foreseen | None:
    """What a slip's body says of water poured at `poured_c` in a room of `room_c` (None: held warm).

    `thickness_mm` None: as the slip's cane. None where the slip cannot say.
    """
    if not isinstance(body, Mapping):
        raise NotPossible(detail="a slip's body tells names and numbers")
    told = {name: v for name, said in body.items() if (v := _told(name, said)) is not None}
    poured_c = number(poured_c, "the water's temperature in °C", COLDEST_C, HOTTEST_C)
    if room_c is not None:
        room_c = number(room_c, "the room's temperature in °C", COLDEST_C, HOTTEST_C)
    if thickness_mm is not None:
        thickness_mm = above_zero(thickness_mm, "a thickness in mm", *BETWEEN["thickness_mm"][::-1])
    if not {"at_c", "energy", "energy_sd", "thickness_mm", "ready", "low", "high", "best"} <= told.keys():
        return None
    at_c, energy = told["at_c"], told["energy"]
    jar = Jar(poured_c, room_c, told.get("cooling_s", COOLING_S))
    thicker = 2 * math.log((thickness_mm or told["thickness_mm"]) / told["thickness_mm"])

    def seconds(log_dose: float) -> float:
        return jar.time_s(math.exp(log_dose + thicker), at_c, energy)

    ready_s = seconds(told["ready"])

    def log_dose(kj_mol: float) -> float:
        return math.log(jar.effective_s(ready_s, at_c, kj_mol))

    # how much less sure it is in water other than the marks'
    elsewhere = ALMOST_SURELY * told["energy_sd"] * abs(log_dose(energy + 1) - log_dose(energy))

    def between(middle: float, low: float, high: float) -> tuple[float, float]:
        return (
            seconds(middle - math.hypot(middle - low, elsewhere)),
            seconds(middle + math.hypot(high - middle, elsewhere)),
        )

    lower_s, upper_s = between(told["ready"], told["low"], told["high"])
    best_s = seconds(told["best"])
    if not {"soft", "soft_low", "soft_high"} <= told.keys():
        return Foreseen(ready_s, lower_s, upper_s, best_s, None, None, None)
    soft_range = between(told["soft"], told["soft_low"], told["soft_high"])
    return Foreseen(ready_s, lower_s, upper_s, best_s, seconds(told["soft"]), *soft_range)
