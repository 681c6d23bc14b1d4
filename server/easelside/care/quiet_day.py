"""On which day is a blade changed, so that it is never in front of a batch?"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal

from easelside.care.rules import Due
from easelside.units import days_after


@dataclass(frozen=True)
class ChangeDay:
    """`moved`: it stays on the day wanted, goes to a quiet day before, or after where none is before."""

    day: date
    moved: Literal["stays", "before", "after"]


def change_day(wanted: date, planned: Iterable[date], today: date) -> ChangeDay:
    """The quiet day for a change that is wanted on `wanted` (or today, where that has passed).

    A change takes an hour and patience: a day is quiet when no batch is planned for it or for the next. It
    moves to the last quiet day before; only where there is none from today on, to the first one after.
    """
    wanted = max(wanted, today)
    busy = set(planned)
    day = wanted
    while day >= today:
        if _is_quiet(day, busy):
            return ChangeDay(day, "stays" if day == wanted else "before")
        day = days_after(day, -1)
    day = days_after(wanted, 1)
    while not _is_quiet(day, busy):
        day = days_after(day, 1)
    return ChangeDay(day, "after")


def on_quiet_day(due: Due, planned: Iterable[date], today: date) -> Due:
    """The same change of blade, due on its quiet day: never before the day until which it was put off."""
    if due.roughly_day is None:
        return due
    earliest = max(today, due.put_off_until or today)
    change = change_day(due.roughly_day, planned, earliest)
    if change.moved == "stays":
        return due
    return replace(due, roughly_day=change.day, is_due=change.day <= today, moved=change.moved)


def _is_quiet(day: date, busy: set[date]) -> bool:
    return day not in busy and (day == date.max or days_after(day, 1) not in busy)
