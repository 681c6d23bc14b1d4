"""How far must a stop's screw be turned, so that the pieces come out as thick as they are wanted?

Heights and thicknesses are mm. A stop that goes up leaves the cane thicker there. What a turn really does is
`effect` times its height, less what is lost when the screw is turned the other way than the last time, plus
what the lock nut does when it is tightened.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

from easelside.errors import NotPossible
from easelside.set_up.rules import turn_degrees

AGREEING = 3  # pieces: fewer say nothing
MOST = 6  # the last ones; what is older was cut in another state of edge and hand
SMALLEST_MM = 0.01  # what a dial gauge shows; less is not turned for
LEVEL_Z = 1.6448536269514722  # 9 times in 10


@dataclass(frozen=True)
class ScrewEffect:
    """What a screw does; `covariance` of (effect, backlash_mm, creep_mm), lower triangle row by row."""

    effect: float = 1.0
    backlash_mm: float = 0.02
    creep_mm: float = 0.0
    covariance: tuple[float, float, float, float, float, float] = (0.0625, 0.0, 0.0004, 0.0, 0.0, 0.0001)
    repeats_mm: float = 0.006  # what is left when the same turn is made again
    piece_mm: float = 0.015  # one piece from the next
    moves: int = 0


@dataclass(frozen=True)
class Move:
    """`raise_mm` is how far the stop has to go up (down where negative), between `low_mm` and `high_mm`."""

    off_mm: float  # how much too thick the pieces are
    pieces: int
    raise_mm: float
    low_mm: float
    high_mm: float


def off_by(
    readings_mm: Sequence[float], wanted_mm: float, piece_mm: float
) -> tuple[float, float, int] | None:
    """
    How much too thick the last pieces are, its standard error, and how many they are; newest reading last.

    None while fewer than three were measured.
    """
    last = list(readings_mm)[-MOST:]
    if len(last) < AGREEING:
        return None
    if not all(math.isfinite(value) for value in (*last, wanted_mm)):
        raise NotPossible(detail="a thickness is a finite number of mm")
    spread = max(piece_mm, stdev(last)) if len(last) > AGREEING else piece_mm
    return fmean(last) - wanted_mm, spread / math.sqrt(len(last)), len(last)


def move_for(
    readings_mm: Sequence[float],
    wanted_mm: float,
    effect: ScrewEffect,
    last_raised: bool | None,
) -> Move | None:
    """
    How far to move the stop; None where too few pieces were measured, or those agree with what is wanted.

    `last_raised`: which way the screw went the last time; None: not known, nothing is lost by turning back.
    The phone says it (`moveFor` in webclient/src/set_up/foreseen_rules.ts), held to this by
    tests/shared_cases/screw.json.
    """
    found = off_by(readings_mm, wanted_mm, effect.piece_mm)
    if found is None:
        return None
    off, error, pieces = found
    if abs(off) < max(SMALLEST_MM, 2 * error):
        return None
    up = off < 0
    sign = 1.0 if up else -1.0
    lost = sign if last_raised is not None and last_raised != up else 0.0
    height = (-off - effect.creep_mm + effect.backlash_mm * lost) / effect.effect
    kk, bk, bb, ck, cb, cc = effect.covariance
    spread = kk * height**2 + bb * lost**2 + cc - 2 * bk * height * lost + 2 * ck * height - 2 * cb * lost
    wide = LEVEL_Z * math.sqrt(spread + error**2 + effect.repeats_mm**2) / effect.effect
    return Move(off, pieces, height, height - wide, height + wide)


def clockwise_degrees(raise_mm: float, pitch_mm: float, lowers: str) -> float:
    """Degrees to turn for a height, clockwise positive; `lowers` is the sense that lowers the stop."""
    degrees = turn_degrees(raise_mm, pitch_mm)
    return -degrees if lowers == "clockwise" else degrees
