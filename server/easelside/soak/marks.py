"""What did the maker find when cane came out of the water: still hard, good, too soft; what did it weigh?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace
from typing import Any

from easelside.arguments import above_zero, number, several, whole
from easelside.errors import NotPossible
from easelside.soak.model import MARKS

LONGEST_S = 30 * 86400.0  # nobody leaves cane in water for a month
MOST_ALIKE, MOST_MARKS = 100_000, 20_000
COLDEST_C, HOTTEST_C = -5.0, 100.0  # of water, and of the room that it stands in

BETWEEN = {
    "thickness_mm": (0.01, 100.0),
    "weight_before_g": (0.001, 1e6),
    "weight_after_g": (0.001, 1e6),
    "temperature_c": (COLDEST_C, HOTTEST_C),
    "room_c": (COLDEST_C, HOTTEST_C),
}


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
    each = several(given, "the marks", most=MOST_MARKS)
    return [_checked(one if isinstance(one, SoakMark) else _read(one)) for one in each]


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
    if one.mark is not None and (not isinstance(one.mark, str) or one.mark not in MARKS):
        raise NotPossible(detail=f"a mark is {', '.join(MARKS)}, not {one.mark!r}")
    numbers: dict[str, Any] = {
        name: number(value, name, least, most)
        for name, (least, most) in BETWEEN.items()
        if (value := getattr(one, name)) is not None
    }
    one = replace(
        one,
        soak_s=above_zero(one.soak_s, "the time in water in seconds (soak_s)", LONGEST_S),
        times=whole(one.times, "the number of soaks alike (times)", 1, MOST_ALIKE),
        **numbers,
    )
    if (one.weight_gain or 0.0) < 0:
        raise NotPossible(detail="cane does not come out of the water lighter than it went in")
    return one
