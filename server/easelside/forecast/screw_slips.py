"""What does a turn of each screw really do, and how much do pieces differ while it stays where it is?

From pieces measured before and after a turn, and from those measured since the last one.
"""

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from statistics import fmean, stdev

from easelside.errors import NotPossible
from easelside.forecast.capability import capability
from easelside.forecast.charts import individuals_limits
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.set_up.comparing_fit import compare
from easelside.set_up.model import POINTS, TURN_SENSES, Reading, Setting, read_reading, read_setting
from easelside.set_up.rules import height_mm, pitch_mm
from easelside.set_up.screw import MOST
from easelside.set_up.screw_fit import Measured, fit_screw
from easelside.units import Fields, number, text, write_instant

MOST_SHOWN = 24  # moves that stand in the slip, the newest
ENOUGH = 8  # readings since the last move, from which on their limits are told; a judgement
NEWEST = 60  # readings that are looked at for it


@dataclass(frozen=True)
class _Move:
    """A stop that went up by so much (down where negative), and how long it stood before and after."""

    since: datetime
    at: datetime
    until: datetime | None
    raised_mm: float
    turned_back: bool
    same_blade: bool


def slips(past: Past) -> Iterator[Slip]:
    settings: dict[str, list[Setting]] = {}
    readings: dict[tuple[str, str], list[Reading]] = {}
    for fact in past.of("setting"):
        if setting := read_setting(fact.id, fact.fields):
            settings.setdefault(setting.machine, []).append(setting)
    for fact in past.of("reading"):
        if reading := read_reading(fact.fields):
            readings.setdefault((reading.machine, reading.point), []).append(reading)
    for machine in past.machines:
        fact_of_it = past.fact("machine", machine)
        fields: Fields = fact_of_it.fields if fact_of_it else {}
        stood = sorted(settings.get(machine, ()), key=lambda each: (each.at, each.id))
        for point in POINTS:
            measured = sorted(readings.get((machine, point), ()), key=lambda each: each.at)
            moves = list(_moves(stood, point, fields))
            if measured or moves:
                body = _body(moves, measured) | _usual(_stands(stood, point, measured), point, fields)
                yield Slip("screw", f"{machine}/{point}", len(measured), body)


def _moves(settings: Sequence[Setting], point: str, machine: Fields) -> Iterator[_Move]:
    """`settings`: oldest first. One that leaves this stop and the blade as they were changes nothing."""
    stretches = _stretches(settings, point)
    last_up: bool | None = None
    for i, (earlier, later) in enumerate(pairwise(stretches)):
        raised = _raised_mm(earlier, later, point, machine)
        if raised is None or abs(raised) < 1e-6:
            continue
        turned_back = last_up is not None and (raised > 0) != last_up
        last_up = raised > 0
        until = stretches[i + 2].at if i + 2 < len(stretches) else None
        yield _Move(earlier.at, later.at, until, raised, turned_back, earlier.blade == later.blade)


def _stretches(settings: Sequence[Setting], point: str) -> list[Setting]:
    """The first setting of each stretch in which stop and blade stayed as they were."""
    stretches: list[Setting] = []
    for setting in settings:
        last = stretches[-1] if stretches else None
        if not last or (last.blade, last.stops.get(point)) != (setting.blade, setting.stops.get(point)):
            stretches.append(setting)
    return stretches


def _stands(settings: Sequence[Setting], point: str, readings: Sequence[Reading]) -> list[Reading]:
    """The readings since stop and blade stand as they do, all wet or all dry as the newest is."""
    stretches = _stretches(settings, point)
    since = [reading for reading in readings if not stretches or reading.at >= stretches[-1].at]
    return [reading for reading in since if reading.wet == since[-1].wet][-NEWEST:]


def _usual(readings: Sequence[Reading], point: str, machine: Fields) -> dict[str, Value]:
    """Between which limits pieces come out, and whether that fits what the maker allows, where said."""
    if len(readings) < ENOUGH:
        return {"usual": {"wanting": ENOUGH - len(readings)}}
    values = [reading.value_mm for reading in readings]
    limits = individuals_limits(values)
    usual: dict[str, Value] = {
        "pieces": len(values),
        "wet": readings[-1].wet,
        "lower": round(limits.lower, 4),
        "upper": round(limits.upper, 4),
    }
    wanted, give = number(machine, f"{point}_wanted_mm"), number(machine, f"{point}_give_mm")
    is_alike = (machine.get(f"{point}_wanted_wet") is not False) == readings[-1].wet
    if wanted is None or give is None or give <= 0 or not is_alike or stdev(values) == 0:
        return {"usual": usual}
    found = capability(fmean(values), stdev(values), wanted - give, wanted + give, n=len(values))
    for name, value, interval in (
        ("cp", found.cp, found.cp_interval),
        ("cpk", found.cpk, found.cpk_interval),
    ):
        usual[name] = [round(each, 3) for each in (value, *(interval or ()))]
    return {"usual": usual}


def _raised_mm(earlier: Setting, later: Setting, point: str, machine: Fields) -> float | None:
    """How far the stop went up by what was written down; None where that cannot be known."""
    was, now = earlier.stops.get(point), later.stops.get(point)
    if was is None or now is None or was.way != now.way:
        return None
    if was.way == "mm":
        return now.value - was.value
    thread, lowers = text(machine, f"{point}_thread"), text(machine, f"{point}_lowers")
    if thread is None or lowers not in TURN_SENSES:
        return None
    try:
        clockwise = height_mm(now.value - was.value, pitch_mm(thread))
    except NotPossible:
        return None
    return -clockwise if lowers == "clockwise" else clockwise


def _body(moves: Sequence[_Move], readings: Sequence[Reading]) -> dict[str, Value]:
    seen: list[tuple[_Move, Measured]] = []
    times = [reading.at for reading in readings]
    for move in moves:
        if not move.same_blade:  # no two blades are quite the same length
            continue
        first, turned = bisect_right(times, move.since), bisect_right(times, move.at)
        last = bisect_right(times, move.until) if move.until else len(times)
        before, after = _alike(readings[first:turned], readings[turned:last])
        if before and after:
            seen.append((move, Measured(move.raised_mm, move.turned_back, before, after)))
    found = fit_screw([measured for _, measured in seen])
    body: dict[str, Value] = {
        "effect": [round(value, 6) for value in (found.effect, found.backlash_mm, found.creep_mm)],
        "covariance": [round(value, 9) for value in found.covariance],
        "repeats_mm": found.repeats_mm,
        "piece_mm": round(found.piece_mm, 5),
        "moves": found.moves,
        "last_raised": moves[-1].raised_mm > 0 if moves else None,
        "seen": [
            [
                write_instant(move.at),
                round(measured.raised_mm, 4),
                round(fmean(measured.after_mm) - fmean(measured.before_mm), 4),
                len(measured.before_mm),
                len(measured.after_mm),
                _by_chance(measured),
            ]
            for move, measured in seen[-MOST_SHOWN:]
        ],
    }
    return body


def _by_chance(measured: Measured) -> float | None:
    """How often pieces differ so much where nothing was moved; None where they are too few or too alike."""
    try:
        return round(compare(measured.before_mm, measured.after_mm).by_chance, 4)
    except NotPossible:
        return None


def _alike(
    before: Sequence[Reading], after: Sequence[Reading]
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The last before a move and the first after it, both wet or both dry: wet cane is thicker."""
    best: tuple[tuple[float, ...], tuple[float, ...]] = ((), ())
    for wet in (False, True):
        first = tuple(each.value_mm for each in before if each.wet == wet)[-MOST:]
        then = tuple(each.value_mm for each in after if each.wet == wet)[:MOST]
        if min(len(first), len(then)) > min(len(best[0]), len(best[1])):
            best = first, then
    return best
