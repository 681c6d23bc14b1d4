"""When is this care due: by pieces, by sessions or by days, whichever comes first?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal
from zoneinfo import ZoneInfo

from easelside.care.model import CareDone, CareTask
from easelside.care.waiting import next_due_days as next_due_days
from easelside.units import day_of, days_after

PACE_DAYS = 28  # the present pace: pieces a calendar day over the last four weeks


@dataclass(frozen=True)
class Due:
    """How far off a care task is.

    `due_day` is by days alone, `roughly_day` the earliest of that and the pieces at the present pace; neither
    lies before the day until which it was put off. What is left is negative where it is overdue. `moved`: it
    is a change of blade, and `roughly_day` its quiet day, before or after the day on which it would fall.
    """

    due_day: date | None
    due_pieces_left: int | None
    due_sessions_left: int | None
    put_off_until: date | None
    roughly_day: date | None
    is_due: bool
    moved: Literal["before", "after"] | None = None


def counting_since(task: CareTask, dones: Iterable[CareDone]) -> datetime | None:
    """The last time that it was done; else the instant from which the task counts."""
    times = [d.at for d in dones if d.task == task.id and d.what == "done" and d.at is not None]
    return max(times) if times else task.since


def put_off_until(task: CareTask, dones: Iterable[CareDone]) -> date | None:
    """The day of the last putting off, where it was not done since."""
    dones = list(dones)
    since = counting_since(task, dones)
    later = [
        (d.at, d.id, d.until_day)
        for d in dones
        if d.task == task.id and d.what == "put_off" and d.at is not None and (since is None or d.at >= since)
    ]
    return max(later)[2] if later else None


def due_of(
    task: CareTask,
    dones: Sequence[CareDone],
    pieces: Sequence[tuple[datetime, int]],
    sessions: Sequence[datetime],
    now: datetime,
    zone: ZoneInfo,
) -> Due:
    """How far off a task is, from what was cut (instant, pieces) and when sessions on its machine began."""
    since, today, until = counting_since(task, dones), day_of(now, zone), put_off_until(task, dones)
    due_day = days_after(day_of(since, zone), task.every_days) if since and task.every_days else None
    done_pieces = sum(n for at, n in pieces if since is None or at > since)
    done_sessions = sum(1 for at in sessions if since is None or at > since)
    pieces_left = task.every_pieces - done_pieces if task.every_pieces else None
    sessions_left = task.every_sessions - done_sessions if task.every_sessions else None
    rough = [d for d in (due_day, _pace_day(pieces_left, pieces, now, zone)) if d is not None]
    if sessions_left is not None and sessions_left <= 0:
        rough.append(today)
    ripe = any(d <= today for d in rough)
    return Due(
        due_day=_not_before(due_day, until),
        due_pieces_left=pieces_left,
        due_sessions_left=sessions_left,
        put_off_until=until,
        roughly_day=_not_before(min(rough), until) if rough else None,
        is_due=ripe and (until is None or today >= until),
    )


def _pace_day(
    left: int | None, pieces: Sequence[tuple[datetime, int]], now: datetime, zone: ZoneInfo
) -> date | None:
    if left is None:
        return None
    today = day_of(now, zone)
    if left <= 0:
        return today
    first = days_after(today, 1 - PACE_DAYS)
    cut = sum(n for at, n in pieces if first <= day_of(at, zone) <= today)
    return days_after(today, -(-left * PACE_DAYS // cut)) if cut else None


def _not_before(day: date | None, until: date | None) -> date | None:
    return day if day is None or until is None else max(day, until)
