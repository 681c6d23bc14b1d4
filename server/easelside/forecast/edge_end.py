"""In how many days will this edge be off, at the present pace?"""

from collections.abc import Sequence

from easelside.care.pace import Pace
from easelside.care.waiting import chance_by
from easelside.errors import NotPossible

HALVINGS = 40


def end_days(left: Sequence[float], pace: Pace, levels: Sequence[float]) -> tuple[float, ...]:
    """Days until the edge is off, not later than that with each of these chances.

    `left`: counts of pieces that it may still cut, each as likely as the others; the days that each takes are
    uncertain too.
    """
    if not left or not all(0 < level < 1 for level in levels):
        raise NotPossible(detail="no count of pieces left, or a level outside of 0 to 1")
    events = [pace.events_for(pieces) for pieces in left]

    def over_by(days: float) -> float:
        return sum(chance_by(pace.events, pace.exposure_days, n, days) for n in events) / len(events)

    found = []
    for level in levels:
        low, high = 0.0, pace.exposure_days
        while over_by(high) < level and high < 1e6:
            low, high = high, 2 * high
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            if over_by(middle) < level:
                low = middle
            else:
                high = middle
        found.append(high)
    return tuple(found)
