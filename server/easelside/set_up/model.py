"""What is known of a machine, of one whole setting of it, and of a thickness that was measured?

A setting is never edited: a change is a new one, and the newest `at` is current.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from easelside.units import Fields, flag, instant, number, text

DOES = ("profile", "gouge", "shape", "tip", "other")
INSTRUMENTS = ("bassoon", "contrabassoon", "oboe", "cor_anglais", "other")
TURN_HABITS = ("passes", "halves")
TURN_SENSES = ("clockwise", "anticlockwise")
WAYS = ("turns", "mm", "words")
POINTS = ("middle", "shoulder")


@dataclass(frozen=True)
class Stop:
    """Where a stop stands: `way` is turns (clockwise from a mark) or mm (on a gauge); words are no number."""

    way: str
    value: float


@dataclass(frozen=True)
class Setting:
    id: str
    machine: str
    blade: str | None
    stops: Mapping[str, Stop]  # by point
    at: datetime


@dataclass(frozen=True)
class Reading:
    machine: str
    point: str
    value_mm: float
    wet: bool
    at: datetime


def read_setting(id: str, fields: Fields) -> Setting | None:
    """None where machine or time is not said."""
    machine, at = text(fields, "machine"), instant(fields, "at")
    if machine is None or at is None:
        return None
    stops = {point: stop for point in POINTS if (stop := _read_stop(fields.get(f"{point}_stop")))}
    return Setting(id, machine, text(fields, "blade"), stops, at)


def _read_stop(written: object) -> Stop | None:
    if not isinstance(written, Mapping):
        return None
    way, value = text(written, "way"), number(written, "value")
    return Stop(way, value) if way in ("turns", "mm") and value is not None else None


def read_reading(fields: Fields) -> Reading | None:
    """None where machine, point, time or a thickness above 0 is not said."""
    machine, point, at = text(fields, "machine"), text(fields, "point"), instant(fields, "at")
    value = number(fields, "value_mm")
    if machine is None or point not in POINTS or at is None or value is None or not 0 < value < 20:
        return None
    return Reading(machine, point, value, flag(fields, "wet"), at)
