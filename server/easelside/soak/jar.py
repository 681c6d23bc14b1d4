"""How much does warm water speed a soak, in a jar that cools towards the room?

Speed by Arrhenius; the jar by Newton's law of cooling. What a soak did is told as an *effective time*: the
time that would have done the same in water held at one temperature.
"""

import math
from dataclasses import dataclass

from easelside.arguments import number
from easelside.errors import NotPossible

GAS_CONSTANT = 8.314462618  # J/(mol K), CODATA 2018, exact
ZERO_C = 273.15
ABSOLUTE_ZERO_C = -ZERO_C

# how much warmth speeds a soak, until a maker's own marks say: between 31 to 38 kJ/mol for wood's cell wall
# (J. F. Siau 1984, from memory) and the 59 that "half an hour at 38 °C or four hours at 12 °C" comes to;
# wide, because in jars that meet at the room's warmth those two want even more
ACTIVATION_KJ_MOL = 50.0
ACTIVATION_SD_KJ_MOL = 20.0

COOLING_S = 1500.0  # a jar is at the room within the hour: common practice, no source
ROOM_C = 20.0  # where nobody says how warm the room is: common practice, no source
LONG = 12  # after so many cooling times a jar is as warm as the room, to a ten-thousandth of a degree

# Gauss-Legendre, five points on -1 to 1 (Abramowitz and Stegun, table 25.4)
NODES = (0.0, 0.538469310105683, -0.538469310105683, 0.906179845938664, -0.906179845938664)
WEIGHTS = (0.568888888888889, 0.478628670499366, 0.478628670499366, 0.236926885056189, 0.236926885056189)


def arrhenius_ratio(temperature_c: float, reference_c: float, activation_kj_mol: float) -> float:
    """How many times faster it goes at `temperature_c` than at `reference_c`; activation >= 0, kJ/mol."""
    there, here = number(temperature_c, "a temperature"), number(reference_c, "a temperature")
    if min(there, here) <= ABSOLUTE_ZERO_C:
        raise NotPossible(detail=f"a temperature is above {ABSOLUTE_ZERO_C} °C, not {min(there, here)}")
    kj_mol = number(activation_kj_mol, "an activation energy in kJ/mol", 0)
    try:
        return _ratio(there, here, kj_mol)
    except OverflowError:
        raise NotPossible(detail=f"{reference_c} °C is too cold to compare {temperature_c} °C with") from None


@dataclass(frozen=True)
class Jar:
    """Water poured at `poured_c` in a room of `room_c`; None: it is held as it was poured."""

    poured_c: float
    room_c: float | None = None
    cooling_s: float = COOLING_S

    def water_c(self, time_s: float) -> float:
        """How warm the water is after `time_s`."""
        if self.room_c is None:
            return self.poured_c
        return self.room_c + (self.poured_c - self.room_c) * math.exp(-time_s / self.cooling_s)

    def effective_s(self, time_s: float, reference_c: float, activation_kj_mol: float) -> float:
        """Seconds at `reference_c` that do what `time_s` here did: the integral of the Arrhenius ratio."""
        if not 0 <= time_s < math.inf:
            raise NotPossible(detail=f"a time in water is 0 s or more, not {time_s}")
        if not self.cooling_s > 0:
            raise NotPossible(detail=f"a jar takes more than 0 s to cool, not {self.cooling_s}")
        at_first = arrhenius_ratio(self.poured_c, reference_c, activation_kj_mol)
        if self.room_c is None:
            return time_s * at_first
        span = min(time_s, LONG * self.cooling_s)
        parts = math.ceil(span / self.cooling_s)
        total = (time_s - span) * arrhenius_ratio(self.room_c, reference_c, activation_kj_mol)
        for part in range(parts):
            half = span / parts / 2
            middle = (2 * part + 1) * half
            total += half * sum(
                weight * _ratio(self.water_c(middle + half * node), reference_c, activation_kj_mol)
                for node, weight in zip(NODES, WEIGHTS, strict=True)
            )
        return total

    def time_s(self, dose_s: float, reference_c: float, activation_kj_mol: float) -> float:
        """Seconds here that do what `dose_s` at `reference_c` does: `effective_s` the other way round."""
        if not 0 <= dose_s < math.inf:
            raise NotPossible(detail=f"an effective time is 0 s or more, not {dose_s}")
        time_s = dose_s / arrhenius_ratio(self.poured_c, reference_c, activation_kj_mol)
        if self.room_c is None:
            return time_s
        # the speed only falls or only rises, so Newton's steps close in from one side
        for _ in range(60):
            done = self.effective_s(time_s, reference_c, activation_kj_mol)
            step = (dose_s - done) / _ratio(self.water_c(time_s), reference_c, activation_kj_mol)
            time_s = max(0.0, time_s + step)
            if abs(step) <= 1e-9 * max(1.0, time_s):
                break
        return time_s


def _ratio(temperature_c: float, reference_c: float, activation_kj_mol: float) -> float:
    return math.exp(
        activation_kj_mol * 1000 / GAS_CONSTANT * (1 / (reference_c + ZERO_C) - 1 / (temperature_c + ZERO_C))
    )
