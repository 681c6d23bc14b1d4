"""When is cane of each lot ready, and when too soft? For the phone, which reckons it for any water.

A lot's slip holds doses (easelside.soak.foreseen) and what they rest on; "all" is for lots without marks yet.
"""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import asdict, replace
from functools import lru_cache

from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.soak.dry_back import dry_back
from easelside.soak.fit import ReadyTime, fit_ready_time
from easelside.soak.jar import COOLING_S, ROOM_C, Jar
from easelside.soak.marks import SoakMark
from easelside.soak.model import MARKS, Soak, read_soak
from easelside.soak.practice import HABITS, PRESET_C
from easelside.soak.rules import put_in_at, taken_out_at
from easelside.units import Fields, number, text

ALL = "all"
SHORTEST_S, LONGEST_S = 60.0, 7 * 86400.0
LONGEST_DRY_S = 86400.0  # next day's "dry enough" tells when it was said, not when it was so
MOST_POINTS = 60  # of the chart

Seen = tuple[str, SoakMark]  # water, what was found


def slips(past: Past) -> Iterator[Slip]:
    workshop = next((fact.fields for fact in past.of("workshop")), {})
    of_lot: dict[str, list[Seen]] = {ALL: []}
    for lot, water, mark in _seen(past):
        of_lot[ALL].append((water, mark))
        if lot is not None:
            of_lot.setdefault(lot, []).append((water, mark))
    dried = _dried_s(past)
    for subject in sorted(of_lot):
        yield _slip(subject, of_lot[subject], workshop, dried)


def _dried_s(past: Past) -> list[float]:
    """How long waterlogged cane lay in the air until the maker said that it was dry enough, seconds."""
    soaks = (read_soak(fact.id, fact.fields) for fact in past.of("soak") if "dried_at" in fact.fields)
    times = ((s.dried_at - s.drying_since).total_seconds() for s in soaks if s.dried_at and s.drying_since)
    return [time for time in times if SHORTEST_S <= time <= LONGEST_DRY_S]


def _seen(past: Past) -> Iterator[tuple[str | None, str, SoakMark]]:
    for fact in past.of("soak"):
        if fact.fields.get("mark") is None and fact.fields.get("weight_after_g") is None:
            continue
        soak = read_soak(fact.id, fact.fields)
        if soak.purpose not in (None, "profile"):
            continue
        batch = past.fact("batch", soak.batch)
        lot = soak.lot or (text(batch.fields, "lot") if batch else None)
        bought = past.fact("lot", lot)
        thick = number(bought.fields, "gouge_mm") if bought else None
        mark = _mark(soak, thick if thick and 0.2 <= thick <= 5 else None)
        if mark is not None:
            yield lot, soak.water or "warm", mark


def _mark(soak: Soak, thickness_mm: float | None) -> SoakMark | None:
    into, out = put_in_at(soak), taken_out_at(soak)
    if into is None or out is None:
        return None
    soak_s = round((out - into).total_seconds() / 60) * 60.0  # nobody takes cane out to the second
    before, after = soak.weight_before_g, soak.weight_after_g
    weighed = before is not None and after is not None and 0 < before < after
    mark = soak.mark if soak.mark in MARKS else None
    if not SHORTEST_S <= soak_s <= LONGEST_S or (mark is None and not weighed):
        return None
    poured = soak.water_c if soak.water_c is not None else PRESET_C.get(soak.water or "warm", ROOM_C)
    return SoakMark(
        soak_s,
        mark,
        min(99.0, max(0.0, poured)),
        thickness_mm,
        ROOM_C,
        before if weighed else None,
        after if weighed else None,
    )


def _slip(subject: str, seen: list[Seen], workshop: Fields, dried_s: list[float]) -> Slip:
    waters = Counter(water for water, _ in seen)
    usual = waters.most_common(1)[0][0] if waters else "warm"
    habit = number(workshop, HABITS.get(usual, "soak_warm_s"))
    alike = Counter(mark for _, mark in seen)
    marks = tuple(
        _times(mark, count) for mark, count in sorted(alike.items(), key=lambda item: item[0].soak_s)
    )
    found = _fitted(marks, habit if habit and SHORTEST_S <= habit <= LONGEST_S else None)
    dry = dry_back(dried_s, found.thickness_mm)
    body = _body(found, marks, waters)
    body["dry"] = {name: round(value) for name, value in asdict(dry).items()}
    return Slip("soak", subject, found.observations, body)


def _times(mark: SoakMark, count: int) -> SoakMark:
    return replace(mark, times=count)


@lru_cache(maxsize=512)
def _fitted(marks: tuple[SoakMark, ...], habit_s: float | None) -> ReadyTime:
    """Kept: most of the lots stand as they were when something new is written."""
    return fit_ready_time(marks, habit_s)


def _body(found: ReadyTime, marks: tuple[SoakMark, ...], waters: Counter[str]) -> dict[str, Value]:
    jar = Jar(found.temperature_c, found.room_c)

    def log_dose(time_s: float) -> float:
        return round(math.log(jar.effective_s(time_s, found.at_c, found.activation_kj_mol)), 4)

    counts = Counter[str]()
    for mark in marks:
        counts[mark.mark or "weighed"] += mark.times
    body: dict[str, Value] = {
        "wanting": found.wanting,
        "at_c": round(found.at_c, 4),
        "energy": round(found.activation_kj_mol, 2),
        "energy_sd": round(found.activation_sd_kj_mol, 2),
        "thickness_mm": round(found.thickness_mm, 3),
        "room_c": ROOM_C,
        "cooling_s": COOLING_S,
        "poured_c": found.temperature_c,
        "ready": log_dose(found.ready_s),
        "low": log_dose(found.next_lower_s),
        "high": log_dose(found.next_upper_s),
        "usual_low": log_dose(found.lower_s),
        "usual_high": log_dose(found.upper_s),
        "best": log_dose(found.best_s),
        "spread": round(found.spread, 4),
        "window": round(found.window, 4),
        "marks": dict(counts),
        "waters": dict(waters),
        "points": _points(marks),
    }
    soft = (found.too_soft_s, found.next_too_soft_lower_s, found.next_too_soft_upper_s)
    for name, value in zip(("soft", "soft_low", "soft_high"), soft, strict=True):
        if value is not None:
            body[name] = log_dose(value)
    return body


def _points(marks: tuple[SoakMark, ...]) -> list[Value]:
    """[minutes in water, °C poured, mark, how many], those that are many first to stay."""
    points = Counter[tuple[int, float, str]]()
    for mark in marks:
        if mark.mark is not None:
            points[(round(mark.soak_s / 60), mark.temperature_c, mark.mark)] += mark.times
    kept = sorted(points.most_common(MOST_POINTS))
    return [[minutes, poured, mark, times] for (minutes, poured, mark), times in kept]
