"""When will this care be due, with its range, whichever of pieces, sessions and days comes first?"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from easelside.care.pace import Pace, days_until

By = Literal["pieces", "sessions", "days"]


@dataclass(frozen=True)
class Count:
    """`left` more of something that comes at a pace; None where no pace is known."""

    left: float
    pace: Pace | None


@dataclass(frozen=True)
class Outlook:
    """Days until it is due, not later than that with each of the levels; `by` what is likely first."""

    days: tuple[float, ...]
    by: By


def outlook(
    pieces: Count | None, sessions: Count | None, days_left: float | None, levels: Sequence[float]
) -> Outlook | None:
    """None where nothing says when.

    Pieces and sessions go fast or slowly together, so the earliest of them at each level is their earliest at
    that level.
    """
    waits: list[tuple[By, tuple[float, ...]]] = []
    counts: tuple[tuple[By, Count | None], ...] = (("pieces", pieces), ("sessions", sessions))
    for by, count in counts:
        if count is None:
            continue
        if count.left <= 0:
            waits.append((by, tuple(0.0 for _ in levels)))
        elif count.pace is not None:
            waits.append((by, days_until(count.pace, count.left, levels)))
    if days_left is not None:
        waits.append(("days", tuple(max(0.0, days_left) for _ in levels)))
    if not waits:
        return None
    middle = len(levels) // 2
    by = min(waits, key=lambda wait: wait[1][middle])[0]
    return Outlook(tuple(min(wait[k] for _, wait in waits) for k in range(len(levels))), by)
