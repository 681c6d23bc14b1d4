"""How far does a turn of a stop's screw move it, and how far must it be turned?"""

import re

from easelside.arguments import above_zero, number
from easelside.errors import NotPossible
from easelside.set_up.threads import COARSE_MM, FINE_MM, UNC, UNF
from easelside.units import MM_PER_INCH

LONGEST_SIZE = 20  # letters
MOST_MM, FINEST_MM = 1e6, 1e-3
COARSEST_MM = 6.0  # the coarsest pitch of ISO 261

_METRIC = re.compile(r"M\s*(\d+(?:[.,]\d+)?)(?:\s*[x×*]\s*(\d*[.,]?\d+))?", re.IGNORECASE)
_PITCH = re.compile(r"(\d*[.,]?\d+)\s*(mm|tpi)", re.IGNORECASE)
_UNIFIED = re.compile(r'((?:#|No\.?\s*)?\d+|\d+/\d+)(?:\s*"?\s*-\s*(\d+))?(?:\s*(UNC|UNF))?', re.IGNORECASE)


def pitch_mm(size: str) -> float:
    """
    How far one turn moves a screw of this size, mm: "M4" (coarse), "M4x0.5", "#8 UNC", "#8-32 UNC", "1/4-20",
    or what a pitch gauge says: "0.5 mm", "40 tpi".

    Numbered sizes may be written "No. 8" or without the "#". Raises NotPossible where the size says no
    pitch ("#8": coarse or fine?), is not known, or contradicts itself ("#8-36 UNC").
    Source: ISO 261:1998, ISO 262:1998; ASME B1.1-2003, with 25.4 mm to the inch.
    """
    written = _written(size)
    if said := _PITCH.fullmatch(written):
        pitch = _said_pitch(float(said[1].replace(",", ".")), said[2].lower())
    elif metric := _METRIC.fullmatch(written):
        pitch = _metric_pitch(_plain(metric[1]), metric[2])
    elif unified := _UNIFIED.fullmatch(written):
        pitch = _unified_pitch(_bare(unified[1]), unified[2], unified[3])
    else:
        pitch = None
    if pitch is None:
        raise NotPossible(
            detail=f"the size {size!r} says no pitch; it is written as M4, M4x0.5, #8-32 UNC or 1/4 UNF"
        )
    return pitch


def _written(size: object) -> str:
    if not isinstance(size, str) or len(size.strip()) > LONGEST_SIZE:
        raise NotPossible(detail="a size is a text such as M4, M4x0.5, #8-32 UNC or 1/4 UNF")
    return size.strip()


def _plain(digits: str) -> str:
    return f"{float(digits.replace(',', '.')):g}"


def _bare(size: str) -> str:
    """What "#8" and "No. 8" are without what stands before the number."""
    return size.lstrip("#NnOo. ")


def _said_pitch(said: float, unit: str) -> float | None:
    pitch = said if unit == "mm" or said == 0 else MM_PER_INCH / said
    return pitch if 0 < pitch <= COARSEST_MM else None


def _metric_pitch(diameter: str, said: str | None) -> float | None:
    if said is None:
        return COARSE_MM.get(diameter)
    pitch = float(said.replace(",", "."))
    return pitch if 0 < pitch < float(diameter) else None


def _unified_pitch(size: str, said: str | None, series: str | None) -> float | None:
    if size not in UNC and size not in UNF:
        return None
    per_inch = None if said is None else int(said)
    if series is not None:
        of_series = (UNC if series.upper() == "UNC" else UNF).get(size)
        if of_series is None or per_inch not in (None, of_series):
            return None
        per_inch = of_series
    return MM_PER_INCH / per_inch if per_inch else None


def fine_pitches_mm(size: str) -> tuple[float, ...]:
    """The fine pitches in mm of a metric diameter by ISO 261 ("M8": 1 and 0.75); empty where it has none."""
    metric = _METRIC.fullmatch(_written(size))
    return FINE_MM.get(_plain(metric[1]), ()) if metric else ()


def major_diameter_mm(size: str) -> float:
    """
    The basic major diameter of a unified size, mm: "#8" is 0.060 in + 8 x 0.013 in, "1/4" a quarter inch.

    Raises NotPossible for a size that is not unified. Source: ASME B1.1-2003.
    """
    unified = _UNIFIED.fullmatch(_written(size))
    if unified is None:
        raise NotPossible(detail=f"{size!r} is no unified size; it is written as #8 or 1/4")
    bare = _bare(unified[1])
    if "/" not in bare:
        return MM_PER_INCH * (0.060 + int(bare) * 0.013)
    over, under = map(int, bare.split("/"))
    if under == 0:
        raise NotPossible(detail=f"{size!r} is no part of an inch")
    return MM_PER_INCH * over / under


def height_mm(turns: float, pitch_mm: float) -> float:
    """Height in mm that so many turns make, signed as the turns are; `pitch_mm` above 0."""
    return number(turns, "the number of turns", -MOST_MM, MOST_MM) * _pitch(pitch_mm)


def turn_degrees(height_mm: float, pitch_mm: float) -> float:
    """Degrees to turn for a height in mm, signed as the height is; `pitch_mm` above 0."""
    return 360 * number(height_mm, "the height in mm", -MOST_MM, MOST_MM) / _pitch(pitch_mm)


def _pitch(pitch_mm: object) -> float:
    return above_zero(pitch_mm, "a thread's pitch in mm", MOST_MM, FINEST_MM)
