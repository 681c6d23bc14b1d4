"""How long do edges last here, how much is left in each, and on which day is it off?"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from math import ceil, floor
from weakref import WeakKeyDictionary

import numpy as np
import numpy.typing as npt

from easelside.batches.rules import cut_pieces
from easelside.blades.fit import life_of
from easelside.blades.kinds import last_otherwise
from easelside.blades.life import LifeFit, pieces_left, quantiles_left, survival
from easelside.blades.wear_fit import Wear, fit_wear, hardness_of_lots
from easelside.care.fit import OTHERWISE_DAYS, present_pace
from easelside.care.pace import Pace
from easelside.care.quiet_day import change_day
from easelside.forecast.edge_end import end_days
from easelside.forecast.past import EdgeLife, Past
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.units import count, day_of, days_after

LEVEL = 0.9
LEVELS = (0.05, 0.5, 0.95)
PARTS = tuple((k + 0.5) / 9 for k in range(9))  # counts of pieces left, each as likely as the others
FEW = 4  # ended edges from which on the maker's own say more than common practice
BLUNT_FROM = 0.5  # of the usual count: an edge taken out earlier was not worn off. Common practice, no source
USUAL_PIECES = 200
MOST_STEPS = 80
DAY_S = 86_400


Kind = tuple[str, str] | None  # ("blade" or "machine", its id) of edges that last otherwise; None: all others


@dataclass(frozen=True)
class Lives:
    """Edges as life tables want them, in the order of `past.edges`."""

    pieces: npt.NDArray[np.float64]
    worn: npt.NDArray[np.float64]  # the same in ordinary pieces, where hard cane is known to wear more
    ended: npt.NDArray[np.bool_]
    kinds: tuple[Kind, ...]
    fits: Mapping[Kind, LifeFit]
    wear: Wear | None
    hardness: npt.NDArray[np.float64]  # by lot

    @property
    def fit(self) -> LifeFit:
        """Of all edges but those that are known to last otherwise."""
        return self.fits[None]

    def of(self, kind: Kind) -> npt.NDArray[np.bool_]:
        """Which edges are of a kind."""
        return np.array([k == kind for k in self.kinds], np.bool_)


_known: WeakKeyDictionary[Past, Lives] = (
    WeakKeyDictionary()
)  # for two makers of slips, while one past is at hand


def lives_of(past: Past) -> Lives:
    if past not in _known:
        _known[past] = _lives(past)
    return _known[past]


def _lives(past: Past) -> Lives:
    edges = past.edges
    pieces = np.array([edge.pieces for edge in edges], np.float64)
    ended = np.array([is_worn_off(past, edge) for edge in edges], np.bool_)
    cut, last_lot = _cut_by_lot(past, pieces)
    timed = past.pieces.whole
    hardness = hardness_of_lots(
        past.pieces.minutes[timed],
        past.pieces.lot[timed],
        past.pieces.age[timed].astype(np.float64),
        len(past.lots),
    )
    with_nothing = np.append(hardness, 0.0)
    wear = fit_wear(cut, ended, last_lot, with_nothing) if len(edges) else None
    worn = cut @ np.exp(wear.power * with_nothing) if wear else pieces
    kinds = _kinds(past, worn, ended)
    fits: dict[Kind, LifeFit] = {}
    for kind in {None, *kinds}:
        here = np.array([k == kind for k in kinds], np.bool_)
        fits[kind] = life_of(worn[here].tolist(), ended[here].tolist(), LEVEL)
    return Lives(pieces, worn, ended, kinds, fits, wear, hardness)


def _kinds(past: Past, worn: npt.NDArray[np.float64], ended: npt.NDArray[np.bool_]) -> tuple[Kind, ...]:
    """Blades of another steel, and machines that wear an edge otherwise, speak for themselves."""
    kinds: list[Kind] = [None] * len(worn)
    for what, ids in (
        ("blade", [edge.blade for edge in past.edges]),
        ("machine", [edge.machine for edge in past.edges]),
    ):
        rest = [i for i, kind in enumerate(kinds) if kind is None]
        apart = last_otherwise(worn[rest].tolist(), ended[rest].tolist(), [ids[i] for i in rest])
        for i in rest:
            id = ids[i]
            if id is not None and id in apart:
                kinds[i] = (what, id)
    return tuple(kinds)


def is_worn_off(past: Past, edge: EdgeLife) -> bool:
    """Was it given up, or laid aside, after half of its usual count or more? Else it only lasted so long."""
    where = past.timeline.now.places.get(edge.blade)
    current = past.timeline.now.edge_of(edge.blade)
    is_current = current is not None and current.life == edge.life
    laid_aside = is_current and where is not None and where.where != "on_machine"
    return (edge.ended is not None or laid_aside) and edge.pieces >= BLUNT_FROM * bow_after(
        past, edge.machine
    )


def bow_after(past: Past, machine: str | None) -> int:
    """The maker's own count after which the edge is looked at."""
    fact = past.fact("machine", machine)
    return (count(fact.fields, "bow_after_pieces") if fact else None) or USUAL_PIECES


def _cut_by_lot(
    past: Past, pieces: npt.NDArray[np.float64]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.int32]]:
    """Pieces by edge and lot, the last column those of no known lot (tallies too); and the lot cut last."""
    lots = len(past.lots)
    known = (past.pieces.edge >= 0) & (past.pieces.lot >= 0)
    cell = past.pieces.edge[known] * np.int64(lots + 1) + past.pieces.lot[known]
    cut = np.bincount(cell, minlength=len(pieces) * (lots + 1)).astype(np.float64)
    cut = cut.reshape(len(pieces), lots + 1)
    cut[:, lots] = np.maximum(0, pieces - cut.sum(axis=1))
    last = np.full(len(pieces), lots, np.int32)
    last[past.pieces.edge[known]] = past.pieces.lot[known]  # in the order of time: the last one stays
    return cut, last


def pieces_by_day(past: Past, machine: str | None) -> tuple[list[int], list[int]]:
    """(days ago, pieces) of each day of the last year at this machine; None: at all machines."""
    today = day_of(past.now, past.zone)
    first_s = (past.now - timedelta(days=OTHERWISE_DAYS + 1)).timestamp()
    here = past.pieces.at_s >= first_s
    if machine is not None:
        here &= past.pieces.machine == past.machines.index(machine)
    at_s = past.pieces.at_s[here]
    on = (at_s // DAY_S).astype(np.int64)
    found: dict[int, int] = {}
    for utc_day in np.unique(on):
        # The zone's offset at noon: an hour of error in the night of a clock change.
        noon = datetime.fromtimestamp(int(utc_day) * DAY_S + DAY_S / 2, UTC).astimezone(past.zone)
        offset = noon.utcoffset()
        local = (at_s[on == utc_day] + (offset.total_seconds() if offset else 0.0)) // DAY_S
        for day, n in zip(*np.unique(local, return_counts=True), strict=True):
            ago = (today - date(1970, 1, 1)).days - int(day)
            found[ago] = found.get(ago, 0) + int(n)
    for tally in past.counting.tallies:
        if tally.at is not None and cut_pieces(tally) and machine in (None, tally.machine):
            ago = (today - day_of(tally.at, past.zone)).days
            found[ago] = found.get(ago, 0) + cut_pieces(tally)
    days = sorted(ago for ago in found if 0 <= ago < OTHERWISE_DAYS)
    return days, [found[ago] for ago in days]


def slips(past: Past) -> Iterator[Slip]:
    lives = lives_of(past)
    yield Slip("edge", "all", len(lives.pieces), _all(past, lives))
    now = past.timeline.now
    for i, edge in enumerate(past.edges):
        current = now.edge_of(edge.blade)
        is_current = current is not None and current.life == edge.life
        if is_current and edge.ended is None and not lives.ended[i]:
            told = int(lives.ended[lives.of(lives.kinds[i])].sum())
            yield Slip("edge", edge.blade, told, _edge(past, lives, i, edge))


def _all(past: Past, lives: Lives) -> dict[str, Value]:
    return _law(lives, None) | {"wear": _wear(past, lives)}


def _law(lives: Lives, kind: Kind) -> dict[str, Value]:
    """The law of a kind of edge, and the steps that it rests on."""
    fit, here = lives.fits[kind], lives.of(kind)
    worn, over = lives.worn[here], lives.ended[here]
    ended = int(over.sum())
    body: dict[str, Value] = {
        "shape": round(fit.shape, 3),
        "scale": round(fit.scale, 1),
        "shape_interval": [round(v, 3) for v in fit.shape_interval],
        "scale_interval": [round(v, 1) for v in fit.scale_interval],
        "level": fit.level,
        "nodes": [[round(n.shape, 4), round(n.scale, 2), round(n.weight, 5)] for n in fit.nodes],
        "ended": ended,
        "cutting": len(worn) - ended,
        "wanting": max(0, FEW - ended) if kind is None else 0,
    }
    if ended:
        steps = survival(worn.tolist(), over.tolist())
        last = len(steps.times) - 1
        every = {*range(0, last, ceil(len(steps.times) / MOST_STEPS)), last}
        body["steps"] = [
            [
                round(steps.times[k]),
                round(steps.survival[k], 4),
                round(steps.standard_error[k], 4),
                steps.at_risk[k],
            ]
            for k in sorted(every)
        ]
    return body


def _wear(past: Past, lives: Lives) -> Value:
    if lives.wear is None:
        return None
    factors: dict[str, Value] = {
        lot: round(lives.wear.of(float(lives.hardness[i])), 3)
        for i, lot in enumerate(past.lots)
        if lives.hardness[i] != 0
    }
    return {
        "power": round(lives.wear.power, 3),
        "power_interval": [round(v, 3) for v in lives.wear.power_interval],
        "lots": factors,
    }


def _edge(past: Past, lives: Lives, i: int, edge: EdgeLife) -> dict[str, Value]:
    worn, kind = float(lives.worn[i]), lives.kinds[i]
    fit = lives.fits[kind]
    left = pieces_left(fit, worn, LEVEL)
    limit = bow_after(past, edge.machine)
    body: dict[str, Value] = {
        "machine": edge.machine,
        "life": edge.life,
        "pieces": edge.pieces,
        "worn": round(worn, 1),
        "left": {"median": round(left.median), "lower": floor(left.lower), "upper": ceil(left.upper)},
        "limit": limit,
        "look_at": min(limit, round(_sooner(fit))),
        "apart": kind[0] if kind else None,
        "law": _law(lives, kind) if kind else None,
    }
    held = past.timeline.now.places.get(edge.blade)
    machine = held.machine if held else None
    pace = present_pace(*pieces_by_day(past, machine)) if machine in past.machines else None
    if machine is not None and pace is not None:
        likely = quantiles_left(fit, worn, PARTS)
        body["pace"] = pace_body(pace)
        body |= _days(past, machine, end_days(likely, pace, LEVELS))
    return body


def _sooner(fit: LifeFit) -> float:
    """One edge in ten is off by this count."""
    return pieces_left(fit, 0, 0.8).lower


def pace_body(pace: Pace) -> Value:
    return {
        "events": round(pace.events, 3),
        "exposure_days": round(pace.exposure_days, 3),
        "per_event": round(pace.per_event, 3),
    }


def _days(past: Past, machine: str, days: Sequence[float]) -> dict[str, Value]:
    today = day_of(past.now, past.zone)
    lower, median, upper = (days_after(today, n) for n in outward(days))
    change = change_day(median, past.counting.planned_days(machine), today)
    return {
        "ends": {"lower": lower.isoformat(), "median": median.isoformat(), "upper": upper.isoformat()},
        "change": {"day": change.day.isoformat(), "moved": change.moved},
    }


def outward(days: Sequence[float]) -> tuple[int, int, int]:
    """Whole days from (lower, middle, upper): never a narrower range."""
    lower, median, upper = days
    return floor(lower), round(median), ceil(upper)
