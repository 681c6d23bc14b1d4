"""When is this cane ready?"""

from datetime import datetime, timedelta

from easelside.soak.drying import equilibrium_moisture_percent as equilibrium_moisture_percent
from easelside.soak.foreseen import foresee as foresee
from easelside.soak.jar import arrhenius_ratio as arrhenius_ratio
from easelside.soak.model import Soak
from easelside.soak.staggered import plan as plan
from easelside.soak.uptake import time_to_fraction as time_to_fraction
from easelside.soak.uptake import uptake_fraction as uptake_fraction
from easelside.units import CLOCK_TOLERANCE


def put_in_at(soak: Soak) -> datetime | None:
    """When it went into the water, with a badly set phone clock put right.

    A time that a person typed carries no difference and is taken as it is; so is a clock within ten minutes.
    """
    return _corrected(soak.put_in, soak.put_in_skew)


def taken_out_at(soak: Soak) -> datetime | None:
    """When it came out, its phone's clock put right the same way."""
    return _corrected(soak.taken_out, soak.taken_out_skew)


def _corrected(said: datetime | None, skew: timedelta | None) -> datetime | None:
    if said is None or skew is None or abs(skew) <= CLOCK_TOLERANCE:
        return said
    try:
        return said - skew
    except OverflowError:
        return said


def ready_at(soak: Soak) -> datetime | None:
    """The moment that the planned time in water is over; None where either is not said."""
    put_in = put_in_at(soak)
    if put_in is None or soak.soak_s is None:
        return None
    try:
        return put_in + timedelta(seconds=soak.soak_s)
    except OverflowError:
        return None


def is_in_water(soak: Soak) -> bool:
    return soak.put_in is not None and soak.taken_out is None
