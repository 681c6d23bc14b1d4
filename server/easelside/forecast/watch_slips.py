"""By what is each machine's edge watched: what is usual there, and how much has to speak against it?"""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from easelside.blades.model import Edge
from easelside.forecast.past import Past, Pieces
from easelside.forecast.slip import Slip
from easelside.forecast.usual_fit import GOOD_AT_FIRST, NEEDED, Usual, good_pieces, good_stretch, usual
from easelside.forecast.watch_fit import Cut, Found, WatchedBy, watch_edge
from easelside.forecast.watching import (
    BLUNT_LOSES,
    DECISION,
    KEENER,
    ONCE_IN,
    known_rules,
    once_in,
    readings_drift,
)
from easelside.logbook.model import Value
from easelside.set_up.model import POINTS, read_reading, read_setting
from easelside.units import flag, number, words

KIND = "watch"
LOTS = 12  # the newest that were cut here: a phone has no older ones in play
READINGS_SIGMA_MM = 0.015  # a dial gauge on wet cane; common practice, no source


@dataclass(frozen=True)
class Watched:
    """One machine's watch: its edge, what is usual, what it is watched by; the good stretch in pieces."""

    machine: int
    edge: Edge | None
    usual: Usual | None
    by: WatchedBy | None
    good: int
    pieces: int


def slips(past: Past) -> Iterator[Slip]:
    for machine, id in enumerate(past.machines):
        here = past.pieces.machine == machine
        if not here.any():
            continue
        watched = watch_of(past, machine)
        yield Slip(KIND, id, watched.usual.pieces if watched.usual else watched.pieces, _body(past, watched))


def watch_of(past: Past, machine: int) -> Watched:
    fact = past.of("machine")[machine]
    p, here = past.pieces, past.pieces.machine == machine
    ended = [e.pieces for e in past.edges if e.ended is not None and e.machine == fact.id and e.pieces > 0]
    good = good_pieces(ended, number(fact.fields, "good_pieces"))
    stretch = np.flatnonzero(here & (p.edge >= 0))
    stretch = stretch[good_stretch(p.edge[stretch], p.age[stretch], good)]
    found = None
    if len(stretch):
        found = usual(
            p.minutes[stretch],
            p.lot[stretch],
            p.age[stretch],
            p.session[stretch],
            p.outcome[stretch] == 2,
            p.whole[stretch],
        )
    by = None
    if found is not None:
        decision = KEENER if flag(fact.fields, "watch_keener") else DECISION
        by = WatchedBy(found.sigma, found.tau, found.loses, BLUNT_LOSES, good, decision)
    counted = int((p.whole[stretch] & np.isfinite(p.minutes[stretch])).sum())
    return Watched(machine, past.timeline.now.edge_on(fact.id), found, by, good, counted)


def cuts_on(past: Past, pieces: Pieces, watched: Watched, edge: Edge) -> list[Cut]:
    """An edge's pieces, as the watch takes them."""
    assert watched.usual is not None
    at = next((i for i, e in enumerate(past.edges) if (e.blade, e.life) == (edge.blade, edge.life)), -1)
    here = np.flatnonzero(pieces.edge == at) if at >= 0 else np.zeros(0, np.int64)
    lot, age = pieces.lot[here], pieces.age[here].astype(np.float64)
    minutes = np.where(pieces.whole[here] & (pieces.minutes[here] > 0), pieces.minutes[here], np.nan)
    off = np.log(minutes) - watched.usual.expected(lot, age)
    error = watched.usual.unsure(lot)
    straight = [fact.fields.get("check/edge") == "good" for fact in past.of("session")]
    return [
        Cut(
            float(age[i]),
            str(lot[i]),
            str(pieces.session[k]),
            bool(straight[pieces.session[k]]) if pieces.session[k] >= 0 else False,
            float(off[i]),
            float(error[i]),
            bool(pieces.outcome[k] == 2),
        )
        for i, k in enumerate(here)
    ]


def found_now(past: Past, watched: Watched) -> Found | None:
    """How the edge that is in the machine stands; None where there is none, or nothing to go by."""
    if watched.edge is None or watched.by is None:
        return None
    return watch_edge(watched.by, cuts_on(past, past.pieces, watched, watched.edge))


def _body(past: Past, watched: Watched) -> dict[str, Value]:
    by, known, edge = watched.by, watched.usual, watched.edge
    fact = past.of("machine")[watched.machine]
    rules = known_rules(words(fact.fields, "watch_rules"))
    readings = _readings(past, fact.id)
    body: dict[str, Value] = {"good": watched.good, "good_is_usual": watched.good == GOOD_AT_FIRST}
    if edge is not None:
        body["edge"] = {"blade": edge.blade, "life": edge.life}
    if readings:
        body["readings"] = readings
    if by is None or known is None:
        return {**body, "wanting": max(1, NEEDED - watched.pieces)}
    found = found_now(past, watched)
    if found is not None and found.named is not None:
        body["named"] = {"age": found.named, "onset": found.onset, "rise": round(found.rise, 3)}
    return {
        **body,
        "sigma": round(by.sigma, 4),
        "tau": round(by.tau, 4),
        "loses": round(by.loses, 4),
        "blunt_loses": by.blunt_loses,
        "decision": by.decision,
        "by_age": round(known.by_age, 4),
        "new": [round(known.new_centre, 4), round(known.new_error, 4)],
        "lots": _lots(past, watched.machine, known),
        "rules": list(rules),
        "once_in": once_in(by.decision, rules, bool(readings)),
        "choices": {"usual": ONCE_IN[DECISION], "keener": ONCE_IN[KEENER]},
    }


def _lots(past: Past, machine: int, known: Usual) -> dict[str, Value]:
    """The newest lots: {id: [centre, error]} in log minutes on a fresh edge."""
    p = past.pieces
    newest: list[int] = []
    for lot in dict.fromkeys(p.lot[p.machine == machine][::-1][:20_000].tolist()):
        if lot >= 0 and lot < len(known.centre) and np.isfinite(known.centre[lot]):
            newest.append(lot)
    return {
        past.lots[lot]: [round(float(known.centre[lot]), 4), round(float(known.error[lot]), 4)]
        for lot in newest[:LOTS]
    }


def _readings(past: Past, machine: str) -> list[Value]:
    """Thickness at each point since the machine was last set: does it drift?"""
    set_at = max(
        (s.at for f in past.of("setting") if (s := read_setting(f.id, f.fields)) and s.machine == machine),
        default=None,
    )
    all_of = [r for f in past.of("reading") if (r := read_reading(f.fields)) and r.machine == machine]
    found: list[Value] = []
    for point in POINTS:
        for wet in (True, False):
            one = sorted((r for r in all_of if r.point == point and r.wet is wet), key=lambda r: r.at)
            since = [r.value_mm for r in one if set_at is None or r.at >= set_at]
            drift = readings_drift(since, _sigma_mm([r.value_mm for r in one]))
            if drift is not None:
                centre, lower, upper, signal = drift
                found.append(
                    {
                        "point": point,
                        "wet": wet,
                        "centre": round(centre, 4),
                        "lower": round(lower, 4),
                        "upper": round(upper, 4),
                        "drifted_at": signal,
                        "values": [round(v, 3) for v in since[-40:]],
                    }
                )
    return found


def _sigma_mm(values: list[float]) -> float:
    """By the moving ranges of all readings at a point, as if ten of them were known beforehand."""
    ranges = np.abs(np.diff(np.array(values, np.float64)))
    own = float((ranges / 1.128379).sum())  # d2 of two: ASTM E2587
    return (10 * READINGS_SIGMA_MM + own) / (10 + len(ranges))
