"""From a lot's slip: when is it ready, best, too soft, in this water?

The phone reckons the same (webclient/src/soak/foreseen_rules.ts), held to it by
tests/shared_cases/foreseen_soak.json. A slip tells doses: ln of effective seconds at `at_c` for cane of
`thickness_mm`.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from easelside.soak.jar import COOLING_S, Jar

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


def foresee(
    body: Mapping[str, object], poured_c: float, room_c: float | None, thickness_mm: float | None = None
) -> Foreseen | None:
    """What a slip's body says of water poured at `poured_c` in a room of `room_c` (None: held warm).

    `thickness_mm` None: as the slip's cane. None where the slip cannot say.
    """
    told = {name: float(v) for name, v in body.items() if isinstance(v, (int, float)) and math.isfinite(v)}
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
