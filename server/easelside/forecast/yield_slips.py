"""How many of each lot came out good at each stage? Counts, from which the phone says how many to start."""

from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime

import numpy as np

from easelside.batches.model import STAGES
from easelside.batches.rules import good_of, lost_of
from easelside.forecast.beta import beta_quantile
from easelside.forecast.past import Past
from easelside.forecast.shares import JEFFREYS, Share, chance_if_alike
from easelside.forecast.slip import Slip
from easelside.forecast.yields_fit import between_lots
from easelside.logbook.model import Value
from easelside.units import day_of, text

ENOUGH = 15  # pieces of a lot after which it speaks for itself
MOST_LOTS = 24  # the lots that were cut last: others are not started any more
MOST_BATCHES = 12
STAGE = "profiled"  # what a maker calls good, when the stage is not said

Seen = Counter[str]  # good, second, lost
_OUTCOMES = ("good", "second", "lost")


def slips(past: Past) -> Iterator[Slip]:
    of_batch = _by_batch(past)
    lot_of = {fact.id: text(fact.fields, "lot") for fact in past.of("batch")}
    of_lot: dict[str, dict[str, Seen]] = {}
    batches: dict[str, list[str]] = {}
    for (batch, stage), seen in of_batch.items():
        if lot := lot_of.get(batch):
            of_lot.setdefault(lot, {}).setdefault(stage, Counter()).update(seen)
            if stage == STAGE:
                batches.setdefault(lot, []).append(batch)
    if not of_lot:
        return
    last, began = _last_cut(past, lot_of), _began(past)
    newest = sorted(of_lot, key=lambda lot: (last.get(lot, 0.0), lot), reverse=True)
    everything = _together(of_lot)
    yield Slip("yields", "all", _tried(everything.get(STAGE, Counter())), _of_all(past, of_lot, newest))
    for lot in newest[:MOST_LOTS]:
        seen = of_lot[lot].get(STAGE, Counter())
        others = everything.get(STAGE, Counter()) - seen
        body: dict[str, Value] = {
            "stages": _in_order({stage: [of[o] for o in _OUTCOMES] for stage, of in of_lot[lot].items()}),
            "share": _share(Share(seen["good"] + JEFFREYS, _tried(seen) - seen["good"] + JEFFREYS)),
            "batches": _batches(past, began, batches.get(lot, []), of_batch),
        }
        if _tried(seen) < ENOUGH:
            body["wanting"] = ENOUGH - _tried(seen)
        elif _tried(others) >= ENOUGH:
            tried, other = _tried(seen), _tried(others)
            body["others"] = [others["good"], other]
            body["by_chance"] = round(chance_if_alike(seen["good"], tried, others["good"], other), 4)
        yield Slip("yields", lot, _tried(seen), body)


def _share(share: Share) -> list[Value]:
    """Between which shares of good ones the true one lies, 9 times in 10."""
    return [round(beta_quantile(beyond, share.a, share.b), 4) for beyond in (0.05, 0.95)]


def _in_order(stages: Mapping[str, Value]) -> dict[str, Value]:
    return {stage: stages[stage] for stage in STAGES if stage in stages}


def _tried(seen: Mapping[str, int]) -> int:
    return sum(seen[outcome] for outcome in _OUTCOMES)


def _by_batch(past: Past) -> dict[tuple[str, str], Seen]:
    """{(batch, stage): good, second, lost}, pieces and tallies; where a batch stood at first is no count."""
    found: dict[tuple[str, str], Seen] = {}
    known = past.pieces.batch >= 0
    cell = past.pieces.batch[known].astype(np.int64) * 3 + past.pieces.outcome[known]
    cut = np.bincount(cell, minlength=3 * len(past.batches)).reshape(-1, 3)
    for at in np.flatnonzero(cut.sum(axis=1)):
        found[past.batches[at], STAGE] = Counter(dict(zip(_OUTCOMES, cut[at].tolist(), strict=True)))
    for tally in past.counting.tallies:
        if tally.batch and tally.stage and not tally.opening:
            seen = Counter(good=good_of(tally), second=tally.second, lost=lost_of(tally))
            found.setdefault((tally.batch, tally.stage), Counter()).update(seen)
    return found


def _together(of_lot: Mapping[str, Mapping[str, Seen]]) -> dict[str, Seen]:
    found: dict[str, Seen] = {}
    for stages in of_lot.values():
        for stage, seen in stages.items():
            found.setdefault(stage, Counter()).update(seen)
    return found


def _last_cut(past: Past, lot_of: Mapping[str, str | None]) -> dict[str, float]:
    """When a piece of each lot was last cut or written up, in seconds."""
    found: dict[str, float] = {}
    latest = np.zeros(len(past.lots))
    known = past.pieces.lot >= 0
    np.maximum.at(latest, past.pieces.lot[known], past.pieces.at_s[known])
    for lot, at in zip(past.lots, latest.tolist(), strict=True):
        found[lot] = at
    for tally in past.counting.tallies:
        of = lot_of.get(tally.batch or "")
        if of and tally.at is not None:
            found[of] = max(found.get(of, 0.0), tally.at.timestamp())
    return found


def _of_all(past: Past, of_lot: Mapping[str, Mapping[str, Seen]], newest: list[str]) -> dict[str, Value]:
    stages: dict[str, Value] = {}
    for stage in {stage for seen in of_lot.values() for stage in seen}:
        lots = [seen[stage] for seen in of_lot.values() if _tried(seen.get(stage, Counter()))]
        counts = [(seen["good"], _tried(seen)) for seen in lots]
        to_come: Share = between_lots(counts)
        stages[stage] = {
            "a": round(to_come.a, 3),
            "b": round(to_come.b, 3),
            "share": _share(to_come),
            "good": sum(good for good, _ in counts),
            "tried": sum(tried for _, tried in counts),
            "lots": len(counts),
        }
    with_it = [lot for lot in newest if _tried(of_lot[lot].get(STAGE, Counter()))]
    lots_seen: list[Value] = [
        [past.label("lot", lot) or "?", of_lot[lot][STAGE]["good"], _tried(of_lot[lot][STAGE])]
        for lot in with_it[:MOST_BATCHES]
    ]
    return {"stages": _in_order(stages), "lots": lots_seen}


def _batches(
    past: Past, began: Mapping[str, str], batches: list[str], of_batch: Mapping[tuple[str, str], Seen]
) -> list[Value]:
    """[label, day begun, good, tried] of a lot's batches at the machine, oldest first."""
    mine = sorted(batches, key=lambda batch: (began.get(batch, ""), batch))
    return [
        [
            past.label("batch", batch) or "?",
            began.get(batch),
            of_batch[batch, STAGE]["good"],
            _tried(of_batch[batch, STAGE]),
        ]
        for batch in mine[-MOST_BATCHES:]
    ]


def _began(past: Past) -> dict[str, str]:
    """The day on which the first piece of each batch was cut or written up."""
    first: dict[str, float] = {}
    known = np.flatnonzero(past.pieces.batch >= 0)
    which, at = np.unique(past.pieces.batch[known], return_index=True)
    for batch, index in zip(which.tolist(), at.tolist(), strict=True):
        first[past.batches[batch]] = float(past.pieces.at_s[known[index]])
    for tally in past.counting.tallies:
        if tally.batch and tally.at is not None and tally.stage == STAGE:
            at_s = tally.at.timestamp()
            first[tally.batch] = min(first.get(tally.batch, at_s), at_s)
    zone = past.zone
    return {
        batch: day_of(datetime.fromtimestamp(at_s, UTC), zone).isoformat() for batch, at_s in first.items()
    }
