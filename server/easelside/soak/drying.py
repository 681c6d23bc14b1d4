"""How dry does cane become in the air of this room, and how soon?

Wood Handbook (Forest Products Laboratory, FPL-GTR-282, 2021), ch. 4, Eq. 4-5; made for wood, taken for cane.
"""

import math
from dataclasses import dataclass

from easelside.arguments import number
from easelside.errors import NotPossible
from easelside.soak.uptake import time_to_fraction, uptake_fraction

# c0 + c1 T + c2 T^2, T in °C
W = (349.0, 1.29, 0.0135)
K = (0.805, 0.000736, -0.00000273)
K1 = (6.27, -0.00938, -0.000303)
K2 = (1.91, 0.0407, -0.000293)
COLDEST_C, HOTTEST_C = (
    -40.0,
    150.0,
)  # beyond, the polynomials lead nowhere; the handbook's table: -1 to 132 °C


def equilibrium_moisture_percent(temperature_c: float, relative_humidity_percent: float) -> float:
    """Water in wood left long enough in such air, percent of its oven-dry weight.

    `temperature_c` -40 to 150, `relative_humidity_percent` 0 to 100; NotPossible for anything else.
    """
    temperature_c = number(temperature_c, "the air's temperature in °C", COLDEST_C, HOTTEST_C)
    humidity = number(relative_humidity_percent, "the air's humidity in %", 0, 100)
    w, k, k1, k2 = (c0 + c1 * temperature_c + c2 * temperature_c**2 for c0, c1, c2 in (W, K, K1, K2))
    kh = k * humidity / 100
    taken = k1 * kh + 2 * k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + taken / (1 + k1 * kh + k1 * k2 * kh**2))


@dataclass(frozen=True)
class Drying:
    """A piece that went into the air with `from_percent` of water, on its way to the air's own."""

    from_percent: float
    equilibrium_percent: float
    diffusivity_m2_s: float
    thickness_mm: float
    open_faces: int = 2
    biot: float | None = None

    def percent_after(self, time_s: float) -> float:
        gone = uptake_fraction(time_s, self.diffusivity_m2_s, self.thickness_mm, self.open_faces, self.biot)
        return self.from_percent + (self.equilibrium_percent - self.from_percent) * gone

    def seconds_to(self, percent: float) -> float:
        """NotPossible where this air never brings it there."""
        if percent == self.from_percent:
            return 0.0
        if self.from_percent == self.equilibrium_percent:
            raise NotPossible(detail=f"in this air the cane stays at {self.from_percent:g} %")
        share = (percent - self.from_percent) / (self.equilibrium_percent - self.from_percent)
        if math.isnan(share) or not 0 <= share < 1:
            way = f"from {self.from_percent:g} to {percent:g} %"
            raise NotPossible(detail=f"in air of {self.equilibrium_percent:g} % cane never goes {way}")
        return time_to_fraction(share, self.diffusivity_m2_s, self.thickness_mm, self.open_faces, self.biot)
