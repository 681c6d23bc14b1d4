"""How fast does the work go now, and what does that say about the days to come?"""

from collections.abc import Sequence
from dataclasses import dataclass

from easelside.care.waiting import next_due_days
from easelside.errors import NotPossible


@dataclass(frozen=True)
class Pace:
    """Work of some days as a gamma-Poisson rate.

    Pieces come by the batch, not one by one: `per_event` of them count as one event, so that the number of
    events scatters as a Poisson number does (the pieces' sum of squares a day over their sum: a compound
    Poisson process). `events` of them came in `exposure_days`.
    """

    events: float
    exposure_days: float
    per_event: float

    def events_for(self, pieces: float) -> float:
        """Events until so many pieces more are cut; that is within a batch, so half a one comes on top."""
        return pieces / self.per_event + 0.5 if pieces > 0 else 0.0

    @property
    def pieces_per_day(self) -> float:
        return self.events * self.per_event / self.exposure_days


def pace_of(pieces_by_day: Sequence[int], exposure_days: float) -> Pace | None:
    """The pace from the pieces of each day at the bench; None where nothing was cut."""
    if exposure_days <= 0 or any(n < 0 for n in pieces_by_day):
        raise NotPossible(
            detail=f"{exposure_days} days with pieces {list(pieces_by_day)[:5]}; none is below 0"
        )
    total = sum(pieces_by_day)
    if total == 0:
        return None
    per_event = sum(n * n for n in pieces_by_day) / total
    return Pace(total / per_event, exposure_days, per_event)


def days_until(pace: Pace, pieces: float, levels: Sequence[float]) -> tuple[float, ...]:
    """Days until so many pieces more, at the present pace, not later than that with each of these chances."""
    return next_due_days(pace.events, pace.exposure_days, pace.events_for(pieces), levels)
