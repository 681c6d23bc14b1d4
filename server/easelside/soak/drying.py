"""How dry does cane become in the air of this room, and how soon?

Wood Handbook (Forest Products Laboratory, FPL-GTR-282, 2021), ch. 4, Eq. 4-5; made for wood, taken for cane.
"""

import math

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
    if not COLDEST_C <= temperature_c <= HOTTEST_C:
        raise NotPossible(detail=f"the air is {COLDEST_C:g} to {HOTTEST_C:g} °C, not {temperature_c}")
    if not 0 <= relative_humidity_percent <= 100:
        raise NotPossible(detail=f"the air's humidity is 0 to 100 %, not {relative_humidity_percent}")
    w, k, k1, k2 = (c0 + c1 * temperature_c + c2 * temperature_c**2 for c0, c1, c2 in (W, K, K1, K2))
    kh = k * relative_humidity_percent / 100
    taken = k1 * kh + 2 * k1 * k2 * kh**2
    return 1800 / w * (kh / (1 - kh) + taken / (1 + k1 * kh + k1 * k2 * kh**2))


def moisture_in_air_percent(
    time_s: float,
    from_percent: float,
    equilibrium_percent: float,
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> float:
    """Percent of water after `time_s` in the air, for a piece that went into it with `from_percent`."""
    gone = uptake_fraction(time_s, diffusivity_m2_s, thickness_mm, open_faces, biot)
    return from_percent + (equilibrium_percent - from_percent) * gone


def dry_back_s(
    from_percent: float,
    to_percent: float,
    equilibrium_percent: float,
    diffusivity_m2_s: float,
    thickness_mm: float,
    open_faces: int = 2,
    biot: float | None = None,
) -> float:
    """Seconds in air from one moisture to another; NotPossible where the room's air never brings it there."""
    if to_percent == from_percent:
        return 0.0
    if from_percent == equilibrium_percent:
        raise NotPossible(detail=f"in this air the cane stays at {from_percent:g} %")
    share = (to_percent - from_percent) / (equilibrium_percent - from_percent)
    if math.isnan(share) or not 0 <= share < 1:
        way = f"from {from_percent:g} to {to_percent:g} %"
        raise NotPossible(detail=f"in air of {equilibrium_percent:g} % cane never goes {way}")
    return time_to_fraction(share, diffusivity_m2_s, thickness_mm, open_faces, biot)
