"""Is anything wrong with the logbook, and what can be done about it?"""

from collections.abc import Iterable
from datetime import timedelta
from typing import TypedDict

from easelside.errors import EaselsideError, StorageFailed
from easelside.logbook.words import SERVER_CLOCK


class Wrong(TypedDict):
    code: str
    what_happened: str
    what_to_do: str


class Health(TypedDict):
    """`seq`: the last row, -1 where the logbook cannot be read."""

    logbook: str
    seq: int
    now: str
    writable: bool
    wrong: list[Wrong]


def what_is_wrong(
    unreadable: Exception | None, known: Iterable[EaselsideError | None], clock_off: timedelta | None
) -> list[Wrong]:
    """`unreadable`: why it could not be read just now; `clock_off`: what the phones agree on (rule 12)."""
    every = list(known)
    if unreadable is not None and unreadable not in every:
        if isinstance(unreadable, EaselsideError):
            every.append(unreadable)
        else:
            every.append(StorageFailed(detail=str(unreadable)))
    wrong = [_told(problem.code, problem.what_happened, problem.what_to_do) for problem in every if problem]
    if clock_off is not None:
        happened, to_do = SERVER_CLOCK
        wrong.append(_told("server_clock", happened.format(minutes=-clock_off.total_seconds() / 60), to_do))
    return wrong


def _told(code: str, what_happened: str, what_to_do: str) -> Wrong:
    return {"code": code, "what_happened": what_happened, "what_to_do": what_to_do}
