"""Is what a rule was given something that it can reckon with?

For the rules that other programs call by name: each looks at its arguments here before it reckons, so that a
wrong one raises NotPossible with a sentence that names it, never an error of Python's. Numbers keep to bounds
far beyond anything at a bench, within which no power and no product leaves the floats.
"""

import math
from collections.abc import Iterable
from typing import SupportsFloat

from easelside.errors import NotPossible

MOST = 1e18  # a record has up to 1e15 (units.number), and sums of those are asked about too
LEAST = 1e-15  # of what has to be above 0
SUREST = 1e-12  # a chance keeps so far away from none and from certain


def _float(value: object) -> float:
    """nan for what is no number."""
    if type(value) is float:
        return value
    if isinstance(value, bool) or hasattr(value, "__len__") or not isinstance(value, SupportsFloat):
        return math.nan
    try:
        return float(value)
    except (TypeError, ValueError, OverflowError):
        return math.nan


def number(value: object, what: str, least: float = -MOST, most: float = MOST) -> float:
    """A finite number from `least` to `most`."""
    found = _float(value)
    if not least <= found <= most:
        raise NotPossible(detail=f"{what} is a number{_bounds(found, least, most)}, not {_shown(value)}")
    return found


def above_zero(value: object, what: str, most: float = MOST, least: float = LEAST) -> float:
    """A number above 0; what is so small that it might as well be 0 is refused with it."""
    found = _float(value)
    if not least <= found <= most:
        up_to = "" if most >= MOST and found < MOST else f" and at most {_told(most)}"
        from_ = "" if least <= LEAST and not 0 < found < 1 else f", {least:g} at least"
        raise NotPossible(detail=f"{what} is a number above 0{from_}{up_to}, not {_shown(value)}")
    return found


def whole(value: object, what: str, least: int = 0, most: int = 10_000_000) -> int:
    """A whole number; 3.0 counts as one."""
    found = _float(value)
    if not (least <= found <= most and found.is_integer()):
        raise NotPossible(detail=f"{what} is a whole number from {least:,} to {most:,}, not {_shown(value)}")
    return int(found)


def chance(value: object, what: str) -> float:
    """A share or a level that is neither none nor all."""
    found = _float(value)
    if not SUREST <= found <= 1 - SUREST:
        near = f" ({SUREST:g} from both at least)" if 0 < found < 1 else ""
        raise NotPossible(detail=f"{what} is a number between 0 and 1{near}, not {_shown(value)}")
    return found


def yes_or_no(value: object, what: str) -> bool:
    found = float(value) if isinstance(value, bool) else _float(value)
    if found not in (0.0, 1.0):
        raise NotPossible(detail=f"{what} is told by true or false, not by {_shown(value)}")
    return bool(found)


def several(values: object, what: str, least: int = 0, most: int = 1_000_000) -> tuple[object, ...]:
    """All in a list or the like, of which there are so many."""
    if isinstance(values, (str, bytes)) or not isinstance(values, Iterable):
        raise NotPossible(detail=f"{what} are a list, not {_shown(values)}")
    try:
        found = tuple(values)
    except TypeError:  # an array of numpy's without any dimension
        raise NotPossible(detail=f"{what} are a list, not {_shown(values)}") from None
    if not least <= len(found) <= most:
        many = f"at least {least:,} needed" if len(found) < least else f"at most {most:,} taken"
        raise NotPossible(detail=f"{what}: {len(found):,} given, {many}")
    return found


def numbers(
    values: object, what: str, least_many: int = 1, least: float = -MOST, most: float = MOST
) -> tuple[float, ...]:
    """Finite numbers, at least so many of them."""
    each = several(values, what, least_many)
    found = tuple(_float(value) for value in each)
    for value, read in zip(each, found, strict=True):
        if not least <= read <= most:
            raise NotPossible(detail=f"{what} are numbers{_bounds(read, least, most)}, not {_shown(value)}")
    return found


def _bounds(found: float, least: float, most: float) -> str:
    """What to say of them: a bound beyond all that is met only to a number that lies beyond it."""
    if (least > -MOST and most < MOST) or abs(found) > MOST:
        return f" from {_told(least)} to {_told(most)}"
    if least > -MOST:
        return f", {_told(least)} or more"
    return f", {_told(most)} at most" if most < MOST else ""


def _told(bound: float) -> str:
    return f"{bound:,.0f}" if bound == int(bound) and abs(bound) <= 1e9 else f"{bound:g}"


def _shown(value: object) -> str:
    """Short enough for a sentence."""
    try:
        said = repr(value)
    except (ValueError, RecursionError):  # a whole number of thousands of digits
        said = f"a {type(value).__name__}"
    return said if len(said) <= 40 else f"{said[:37]}..."
