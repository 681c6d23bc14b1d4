"""When is this cane ready?"""

from datetime import datetime, timedelta

from easelside.soak.model import Soak
from easelside.units import CLOCK_TOLERANCE


def put_in_at(soak: Soak) -> datetime | None:
    """When it went into the water, with a badly set phone clock put right.

    A time that a person typed carries no difference and is taken as it is; so is a clock within ten minutes.
    """
    if soak.put_in is None or soak.put_in_skew is None or abs(soak.put_in_skew) <= CLOCK_TOLERANCE:
        return soak.put_in
    try:
        return soak.put_in - soak.put_in_skew
    except OverflowError:
        return soak.put_in


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
