"""How many of each lot came out good at each stage? Counts, from which the phone says how many to start."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

import numpy as np
import numpy.typing as npt

from easelside.batches.model import STAGES
from easelside.batches.rules import good_of, lost_of
from easelside.forecast.past import Past
from easelside.forecast.shares import JEFFREYS, Share, chance_if_alike
from easelside.forecast.slip import Slip
from easelside.forecast.yields_fit import between_lots, share_range
from easelside.logbook.model import Value
from easelside.units import day_of, text

ENOUGH = 15  # pieces of a lot after which it speaks for itself
MOST_LOTS = 24  # the lots that were cut last: others are not started any more
MOST_SHOWN = 12  # batches of a lot, lots of them all: the last ones
STAGE = "profiled"  # what a maker calls good, when the stage is not said

Counts = npt.NDArray[np.int64]  # good, second, lost


def slips(past: Past) -> Iterator[Slip]:
    seen = _Seen(past)
    newest = seen.newest_lots()
    if not newest:
        return
    everything = seen.of_lots[STAGE].sum(axis=0) if STAGE in seen.of_lots else np.zeros(3, np.int64)
    yield Slip("yields", "all", int(everything.sum()), _of_all(past, seen, newest))
    for lot in newest[:MOST_LOTS]:
        good, tried = seen.of(lot, STAGE)
        others, other_tried = int(everything[0]) - good, int(everything.sum()) - tried
        body: dict[str, Value] = {
            "stages": {stage: _listed(seen.of_lots[stage][lot]) for stage in seen.stages_of(lot)},
            "share": _share(Share(good + JEFFREYS, tried - good + JEFFREYS)),
            "batches": seen.batches_of(lot),
        }
        if tried < ENOUGH:
            body["wanting"] = ENOUGH - tried
        elif other_tried >= ENOUGH:
            body["others"] = [others, other_tried]
            body["by_chance"] = round(chance_if_alike(good, tried, others, other_tried), 4)
        yield Slip("yields", past.lots[lot], tried, body)


class _Seen:
    """Pieces and tallies together, a row of counts each; where a batch stood at first is no count."""

    def __init__(self, past: Past) -> None:
        self._past = past
        lots = {lot: i for i, lot in enumerate(past.lots)}
        place = {batch: i for i, batch in enumerate(past.batches)}
        said = [lots.get(text(fact.fields, "lot") or "", -1) for fact in past.of("batch")]
        self._lot_of = np.array(said, np.int64).reshape(len(past.batches))
        pieces, n = past.pieces, len(past.batches)
        known = pieces.batch >= 0
        batch, at_s = pieces.batch[known], pieces.at_s[known]
        cut = np.bincount(batch.astype(np.int64) * 3 + pieces.outcome[known], minlength=3 * n)
        self._of_batches: dict[str, Counts] = {}
        if len(batch):
            self._of_batches[STAGE] = cut.reshape(n, 3)
        self._began, self._last = np.full(n, np.inf), np.full(n, -np.inf)
        self._began[batch[::-1]] = at_s[::-1]  # in the order of time: what is put in last stays
        self._last[batch] = at_s
        for tally in past.counting.tallies:
            i = place.get(tally.batch or "")
            if i is None or tally.stage not in STAGES or tally.opening:
                continue
            of_stage = self._of_batches.setdefault(tally.stage, np.zeros((n, 3), np.int64))
            of_stage[i] += (good_of(tally), tally.second, lost_of(tally))
            if tally.at is not None:
                at = tally.at.timestamp()
                self._last[i] = max(self._last[i], at)
                self._began[i] = min(self._began[i], at) if tally.stage == STAGE else self._began[i]
        with_lot = self._lot_of >= 0
        self.of_lots: dict[str, Counts] = {}
        for stage, counts in self._of_batches.items():
            self.of_lots[stage] = np.zeros((len(lots), 3), np.int64)
            np.add.at(self.of_lots[stage], self._lot_of[with_lot], counts[with_lot])

    def newest_lots(self) -> list[int]:
        """Every lot of which anything was counted, the one that was worked on last first."""
        with_lot = self._lot_of >= 0
        last = np.full(len(self._past.lots), -np.inf)
        np.maximum.at(last, self._lot_of[with_lot], self._last[with_lot])
        counted = [lot for lot in range(len(last)) if self.stages_of(lot)]
        return sorted(counted, key=lambda lot: (float(last[lot]), self._past.lots[lot]), reverse=True)

    def stages_of(self, lot: int) -> list[str]:
        """In the order of the work."""
        return [stage for stage in STAGES if stage in self.of_lots and self.of_lots[stage][lot].any()]

    def of(self, lot: int, stage: str) -> tuple[int, int]:
        """(good, tried)."""
        if stage not in self.of_lots:
            return 0, 0
        return int(self.of_lots[stage][lot][0]), int(self.of_lots[stage][lot].sum())

    def batches_of(self, lot: int) -> list[Value]:
        """[label, day begun, good, tried] of its last batches at the machine, oldest first."""
        if STAGE not in self._of_batches:
            return []
        counts, past = self._of_batches[STAGE], self._past
        mine = [int(i) for i in np.flatnonzero(self._lot_of == lot) if counts[i].any()]
        mine.sort(key=lambda i: (float(self._began[i]), past.batches[i]))
        return [
            [
                past.label("batch", past.batches[i]) or "?",
                self._day(float(self._began[i])),
                int(counts[i][0]),
                int(counts[i].sum()),
            ]
            for i in mine[-MOST_SHOWN:]
        ]

    def _day(self, at_s: float) -> str | None:
        if not np.isfinite(at_s):
            return None
        return day_of(datetime.fromtimestamp(at_s, UTC), self._past.zone).isoformat()


def _of_all(past: Past, seen: _Seen, newest: Sequence[int]) -> dict[str, Value]:
    stages: dict[str, Value] = {}
    for stage in (stage for stage in STAGES if stage in seen.of_lots):
        counts = [seen.of(lot, stage) for lot in newest if seen.of(lot, stage)[1]]
        to_come = between_lots(counts)
        stages[stage] = {
            "a": round(to_come.a, 3),
            "b": round(to_come.b, 3),
            "share": _share(to_come),
            "good": sum(good for good, _ in counts),
            "tried": sum(tried for _, tried in counts),
            "lots": len(counts),
        }
    with_it = [(lot, seen.of(lot, STAGE)) for lot in newest if seen.of(lot, STAGE)[1]]
    shown: list[Value] = [
        [past.label("lot", past.lots[lot]) or "?", good, tried] for lot, (good, tried) in with_it[:MOST_SHOWN]
    ]
    return {"stages": stages, "lots": shown}


def _listed(counts: Counts) -> list[Value]:
    return [int(count) for count in counts]


def _share(share: Share) -> list[Value]:
    """Between which shares of good ones the true one lies, 9 times in 10."""
    return [round(edge, 4) for edge in share_range(share, 0.9)]
