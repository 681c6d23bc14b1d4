"""What did the maker find when cane came out of the water: still hard, good, too soft; what did it weigh?"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields

from easelside.errors import NotPossible
from easelside.soak.model import MARKS

COLDEST_C, HOTTEST_C = -5.0, 100.0  # of water, and of the room that it stands in


@dataclass(frozen=True)
class SoakMark:
    """One soak that came out, or `times` of them alike.

    `mark` "still_hard", "good" or "too_soft"; None where it was only weighed. `temperature_c` as the water
    was poured; `room_c` that of the room towards which it cools, None: the water was held warm.
    `thickness_mm` None: as all the others. Weights before and after in grams, both or none.
    """

    soak_s: float
    mark: str | None
    temperature_c: float = 20.0
    thickness_mm: float | None = None
    room_c: float | None = None
    weight_before_g: float | None = None
    weight_after_g: float | None = None
    times: int = 1

    @property
    def weight_gain(self) -> float | None:
        """Water taken in, as a share of the weight before."""
        if self.weight_before_g is None or self.weight_after_g is None:
            return None
        return self.weight_after_g / self.weight_before_g - 1

    @property
    def tells(self) -> bool:
        return self.mark is not None or self.weight_gain is not None


def read_marks(given: Iterable[object]) -> list[SoakMark]:
    """Marks from objects with these fields or from mappings; NotPossible for what cannot be."""
    return [_checked(one if isinstance(one, SoakMark) else _read(one)) for one in given]


def _read(one: object) -> SoakMark:
    said = {}
    for field in fields(SoakMark):
        value = one.get(field.name) if isinstance(one, Mapping) else getattr(one, field.name, None)
        if value is not None:
            said[field.name] = value
    if "soak_s" not in said:
        raise NotPossible(detail="a mark tells how long the cane was in the water (soak_s)")
    mark = said.get("mark")
    said["mark"] = mark.replace(" ", "_") if isinstance(mark, str) else mark
    return SoakMark(**{"mark": None, **said})


def _checked(one: SoakMark) -> SoakMark:
    if one.mark is not None and one.mark not in MARKS:
        raise NotPossible(detail=f"a mark is {', '.join(MARKS)}, not {one.mark!r}")
    for name in ("soak_s", "thickness_mm", "weight_before_g", "weight_after_g", "times"):
        value = getattr(one, name)
        if value is not None and not (_is_number(value) and 0 < value < math.inf):
            raise NotPossible(detail=f"{name} is above 0, not {value!r}")
    if (one.weight_gain or 0.0) < 0:
        raise NotPossible(detail="cane does not come out of the water lighter than it went in")
    for name in ("temperature_c", "room_c"):
        value = getattr(one, name)
        if value is not None and not (_is_number(value) and COLDEST_C <= value <= HOTTEST_C):
            raise NotPossible(detail=f"{name} is {COLDEST_C:g} to {HOTTEST_C:g} °C, not {value!r}")
    return one


def _is_number(value: object) -> bool:
    return not isinstance(value, (bool, str)) and hasattr(value, "__float__")
