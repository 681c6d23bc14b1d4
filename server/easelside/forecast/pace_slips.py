"""How long does a piece of each lot take, and how many turns? What the phone goes by at the bench."""

from collections.abc import Iterator

import numpy as np

from easelside.forecast.past import Past, Pieces
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.profiling.fit import MACHINES_DIFFER, MinutesFit, fit_minutes
from easelside.profiling.pace import ENOUGH, Pace
from easelside.profiling.turns_fit import TurnsFit, fit_turns

AT_LEAST = 12  # pieces in all, before anything is fitted
LOTS_DIFFER, LOTS_WORTH = 0.12, 3.0  # log minutes, as if so many lots had said so; common practice, no source


def slips(past: Past) -> Iterator[Slip]:
    p = past.pieces
    timed = p.whole & np.isfinite(p.minutes) & (p.minutes > 0) & (p.lot >= 0)
    by_lot = np.bincount(p.lot[timed], minlength=len(past.lots))
    if int(timed.sum()) >= AT_LEAST:
        yield from _minutes(past, p, timed, by_lot)
    else:
        yield Slip("minutes", "all", int(timed.sum()), {"wanting": ENOUGH - int(timed.sum())})
    turned = timed & (p.turns > 0)
    if int(turned.sum()) >= AT_LEAST:
        fit = fit_turns(p.turns[turned], p.lot[turned], p.machine[turned], p.age[turned])
        yield Slip("turns", "all", int(turned.sum()), _turns_all(fit))
        for lot, id in enumerate(past.lots):
            n = int(fit.pieces[lot]) if lot < len(fit.pieces) else 0
            if n:
                yield Slip("turns", id, n, _turns_of(fit, lot, n))


def _minutes(past: Past, p: Pieces, timed: np.ndarray, by_lot: np.ndarray) -> Iterator[Slip]:
    fit = fit_minutes(p.minutes[timed], p.lot[timed], p.machine[timed], p.age[timed], p.session[timed])
    of = fit.pieces  # but for odd ones; a lot may have none else
    known = [lot for lot, n in enumerate(by_lot) if n >= ENOUGH and of[lot] > 0] or [int(of.argmax())]
    usual = fit.share(known)
    last = int(p.lot[timed][-1])
    yield Slip(
        "minutes",
        "all",
        int(timed.sum()),
        {
            "sigma": round(fit.sigma, 4),
            "tau": round(fit.tau, 4),
            "by_age": round(fit.by_age, 4),
            "by_long_use": round(fit.by_long_use, 4),
            "degrees": round(min(fit.degrees, 9999.0), 1),
            "slopes": [round(each, 6) for each in fit.pace_of(usual).slopes],
            "machines": {past.machines[i]: round(float(fit.machine[i]), 4) for i in _machines(past, fit)},
            "machines_differ": MACHINES_DIFFER,
            **_unsure(fit, usual, past, _lots_differ(fit, known)),
            "centre": round(fit.pace_of(usual).centre, 4),
            "last": past.lots[last],  # the lot that stands in for one that is not known yet
        },
    )
    for lot, id in enumerate(past.lots):
        n = int(by_lot[lot])
        if n == 0 or of[lot] == 0:
            continue
        body: dict[str, Value] = {
            "centre": round(float(fit.centre[lot]), 4),
            **_unsure(fit, fit.share([lot]), past),
        }
        if n < ENOUGH:
            body["wanting"] = ENOUGH - n
        elif len(known) > 1:
            body["beside"] = _beside(fit, lot, known)
        yield Slip("minutes", id, n, body)


def _machines(past: Past, fit: MinutesFit) -> list[int]:
    return [i for i in range(len(past.machines)) if i < len(fit.machine) and fit.machine_at[i] >= 0]


def _lots_differ(fit: MinutesFit, known: list[int]) -> float:
    """How much lots differ (log minutes): of a lot that is not known."""
    centres = fit.centre[known]
    own = float(((centres - centres.mean()) ** 2).sum())
    return float(np.sqrt((LOTS_WORTH * LOTS_DIFFER**2 + own) / (LOTS_WORTH + len(known) - 1)))


def _unsure(fit: MinutesFit, share: np.ndarray, past: Past, differ: float = 0.0) -> dict[str, Value]:
    """How well a lot is known on the machine with the most pieces, and (`on`) on each other one."""
    on: dict[str, Value] = {
        past.machines[i]: _error(fit.pace_of(share, i), differ)
        for i in _machines(past, fit)
        if fit.machine[i] != 0
    }
    error, *with_slopes = _error(fit.pace_of(share), differ)
    found: dict[str, Value] = {"error": error, "with_slopes": list(with_slopes)}
    return {**found, "on": on} if on else found


def _error(pace: Pace, differ: float) -> list[Value]:
    return [round(float(np.hypot(pace.error, differ)), 4), *(round(each, 6) for each in pace.with_slopes)]


def _beside(fit: MinutesFit, lot: int, known: list[int]) -> Value:
    """How much slower or faster than the other lots, in log minutes, with its standard error."""
    others = [each for each in known if each != lot]
    slower, error = fit.beside(lot, others)
    return {"slower": round(slower, 4), "error": round(error, 4), "lots": len(others)}


def _turns_all(fit: TurnsFit) -> dict[str, Value]:
    known = np.isfinite(fit.centre)
    weights = fit.pieces[known].astype(np.float64)
    return {
        "alpha": round(fit.alpha, 5),
        "spread": round(fit.spread, 4),
        "by_age": round(fit.by_age, 4),
        "centre": round(float(fit.centre[known] @ weights / weights.sum()), 4),
        "error": 0.12,
    }


def _turns_of(fit: TurnsFit, lot: int, n: int) -> dict[str, Value]:
    body: dict[str, Value] = {
        "centre": round(float(fit.centre[lot]), 4),
        "error": round(float(fit.error[lot]), 4),
    }
    return body if n >= ENOUGH else {**body, "wanting": ENOUGH - n}
