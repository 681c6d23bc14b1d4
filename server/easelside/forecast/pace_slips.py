"""How long does a piece of each lot take, and how many turns? What the phone goes by at the bench."""

from collections.abc import Iterator

import numpy as np

from easelside.forecast.past import Past, Pieces
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.profiling.fit import MinutesFit, fit_minutes
from easelside.profiling.pace import ENOUGH
from easelside.profiling.turns_fit import TurnsFit, fit_turns

AT_LEAST = 12  # pieces in all, before anything is fitted


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
    known = [lot for lot, n in enumerate(by_lot) if n >= ENOUGH]
    usual = _usual(fit, known or [int(by_lot.argmax())])
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
            "machines": {
                id: round(float(fit.machine[i]), 4)
                for i, id in enumerate(past.machines)
                if i < len(fit.machine) and fit.machine[i] != 0
            },
            **usual,
            "last": past.lots[last],  # the lot that stands in for one that is not known yet
        },
    )
    for lot, id in enumerate(past.lots):
        n = int(by_lot[lot])
        if n == 0:
            continue
        body: dict[str, Value] = {
            "centre": round(float(fit.centre[lot]), 4),
            "error": round(float(fit.error[lot]), 4),
        }
        if n < ENOUGH:
            body["wanting"] = ENOUGH - n
        elif len(known) > 1:
            body["beside"] = _beside(fit, lot, known, past)
        yield Slip("minutes", id, n, body)


def _usual(fit: MinutesFit, known: list[int]) -> dict[str, Value]:
    """Where lots lie, and how much they differ: of a lot that is not known."""
    centres = fit.centre[known]
    weights = fit.pieces[known].astype(np.float64)
    differ = float(np.sqrt((3 * 0.12**2 + ((centres - centres.mean()) ** 2).sum()) / (2 + len(known))))
    return {"centre": round(float(centres @ weights / weights.sum()), 4), "error": round(differ, 4)}


def _beside(fit: MinutesFit, lot: int, known: list[int], past: Past) -> Value:
    """How much slower or faster than the other lots, in log minutes, with its standard error."""
    others = [each for each in known if each != lot]
    weights = fit.pieces[others].astype(np.float64)
    weights /= weights.sum()
    slower = float(fit.centre[lot] - fit.centre[others] @ weights)
    error = float(np.sqrt(fit.error[lot] ** 2 + (weights**2) @ fit.error[others] ** 2))
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
