"""How many blades does this workshop need, how long are they away, and what if it has fewer?"""

from collections.abc import Iterator
from datetime import datetime

from easelside.blades.grinding import blades_needed, chance_without, share_without, turnaround
from easelside.blades.life import LifeFit
from easelside.care.fit import PACE_DAYS, events_ahead, present_pace
from easelside.care.pace import Pace
from easelside.forecast.edge_slips import FEW, LEVELS, lives_of, pace_body, pieces_by_day
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value

RISK = 0.05
MOST_SHOWN = 9
MOST_AWAY = 100  # blades at one time: beyond that the records are no workshop's
DAY_S = 86_400


def slips(past: Past) -> Iterator[Slip]:
    lives = lives_of(past)
    away = days_away(past)
    pace = present_pace(*pieces_by_day(past, None))
    yield Slip("grinding", "workshop", len(away), _body(lives.fit, away, pace, int(lives.ended.sum())))


def days_away(past: Past) -> list[float]:
    """Days from each sending of a blade until it was back."""
    sent: dict[str, datetime] = {}
    found: list[float] = []
    for move in past.timeline.moves:
        if move.what == "sent":
            sent.setdefault(move.blade, move.at)
        elif move.what in ("back", "fitted") and move.blade in sent:
            found.append((move.at - sent.pop(move.blade)).total_seconds() / DAY_S)
        elif move.what == "retired":
            sent.pop(move.blade, None)
    return found


def _body(fit: LifeFit, away: list[float], pace: Pace | None, ended: int) -> dict[str, Value]:
    way = turnaround(away)
    body: dict[str, Value] = {
        "pieces_per_edge": round(fit.mean_left, 1),
        "turnaround_days": round(way.days, 2),
        "sendings": way.seen,
        "risk": RISK,
        "wanting": max(0, FEW - ended),
    }
    if pace is None:
        return body
    per_day = pace.pieces_per_day
    mean = per_day * way.days / fit.mean_left
    if mean > MOST_AWAY:
        return body
    lower, median, upper = (
        round(n * pace.per_event) for n in events_ahead(pace.events, pace.exposure_days, PACE_DAYS, LEVELS)
    )
    return body | {
        "pace": pace_body(pace),
        "needed": blades_needed(fit.mean_left, per_day, way.days, RISK),
        "ahead": {"days": PACE_DAYS, "lower": lower, "median": median, "upper": upper},
        "without": [
            [
                n,
                round(chance_without(n, fit.mean_left, per_day, way.days), 4),
                round(share_without(n, mean), 5),
            ]
            for n in range(1, MOST_SHOWN)
        ],
    }
