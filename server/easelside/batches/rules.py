"""How many of a batch came through each stage, and what was lost on the way?"""

from collections.abc import Iterable
from dataclasses import dataclass

from easelside.batches.model import Tally


@dataclass
class Stand:
    """What came out of one stage: pieces good, second, lost."""

    good: int = 0
    second: int = 0
    lost: int = 0

    def add(self, outcome: str) -> None:
        """One piece with that outcome."""
        setattr(self, outcome, getattr(self, outcome) + 1)


def lost_of(tally: Tally) -> int:
    return sum(tally.lost_by.values())


def good_of(tally: Tally) -> int:
    """Good ones as written; where only the start and the losses are, the rest were good."""
    if tally.good is not None:
        return tally.good
    return max(0, (tally.started or 0) - tally.second - lost_of(tally))


def started_of(tally: Tally) -> int:
    """Pieces begun: as written, else all that came out, whatever became of them."""
    if tally.started is not None:
        return tally.started
    return good_of(tally) + tally.second + lost_of(tally)


def is_edge_opening(tally: Tally) -> bool:
    """ "About 150 on this edge already": counts on that edge and on nothing else."""
    return tally.opening and tally.batch is None


def cut_pieces(tally: Tally) -> int:
    """Pieces that this tally puts on an edge at its machine, an opening count left out."""
    return 0 if tally.opening or tally.stage != "profiled" else started_of(tally)


def stand_of(tallies: Iterable[Tally]) -> dict[str, dict[str, Stand]]:
    """{batch: {stage: Stand}} from tallies alone."""
    found: dict[str, dict[str, Stand]] = {}
    for tally in tallies:
        if tally.batch is None or tally.stage is None:
            continue
        stand = found.setdefault(tally.batch, {}).setdefault(tally.stage, Stand())
        stand.good += good_of(tally)
        stand.second += tally.second
        stand.lost += lost_of(tally)
    return found
