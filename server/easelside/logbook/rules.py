"""Two people wrote in the same field: whose word stands?

The logbook decides in order of arrival. Who saw what comes first; a clock decides only between edits that
did not see each other, and there the loser stays in the history. Numbers in the text are the rules' numbers.
"""

from collections.abc import Callable, Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

from easelside.logbook.model import Change, Field, Fields, Offer
from easelside.units import write_instant

TOLERANCE = timedelta(minutes=10)
LATEST = "9998-12-31T23:59:59.999Z"  # room above it for every later edit
_MS = timedelta(milliseconds=1)


def moment(instant: str) -> datetime:
    return datetime.fromisoformat(instant)


def just_after(instant: str) -> str:
    return write_instant(moment(instant) + _MS)


@dataclass(frozen=True)
class Clocks:
    """What is known about the time at one exchange. `off`: phone minus server, 0 within ten minutes (2)."""

    now: str
    latest: str
    off: timedelta
    last_exchange: str | None


def clocks_at(device_now: str, now: str, last_exchange: str | None) -> Clocks:
    there, here = moment(device_now), moment(now)
    off = there - here
    return Clocks(
        now=now,
        latest=write_instant(here + TOLERANCE),
        off=off if abs(off) > TOLERANCE else timedelta(0),
        last_exchange=last_exchange,
    )


def when_of(made: str, clocks: Clocks) -> str:
    """When a change counts as made (2): the phone's reading, put right by what is known about its clock."""
    when = made
    if clocks.off:
        try:
            when = write_instant(moment(made) - clocks.off)
        except OverflowError:
            when = clocks.now
    if when > clocks.latest and clocks.last_exchange is not None:
        when = clocks.last_exchange
    return min(when, clocks.now)


def saw_it(saw: str | None, back: bool, present: Field) -> bool:
    """Did the edit see the present winner? Who saw a change counts as having seen its take-back too (5)."""
    if present["change"] == saw:
        return True
    return not back and present["back"] and present["saw"] is not None and present["saw"] == saw


def _was_seen_by_winner(change_id: str, saw: str | None, back: bool, present: Field) -> bool:
    if present["saw"] is None:
        return False
    return present["saw"] == change_id or (back and present["saw"] == saw)


def _is_later(when: str, change_id: str, present: Field) -> bool:
    """At the very same millisecond the ids decide (3), so that it ends alike in whatever order they come."""
    return (when, change_id) > (present["when"], present["change"])


class Verdict(NamedTuple):
    """Which fields were won, and the `when` that the change has from now on."""

    won: list[str]
    when: str


def judge(
    change: Change,
    when: str,
    fields: Fields,
    *,
    knows: Callable[[str, str], bool],
    settled: Collection[str] = (),
) -> Verdict:
    """A change against the fields as they stand.

    `knows(change id, field)`: does the logbook hold that field of that change (5)?
    `settled`: fields whose outcome is fixed: held before (10), or lost under a logbook since put back (9).
    """
    if not fields and not settled:
        return Verdict(list(change["set"]), when)
    back = change["back"]
    saws = change["saw"]
    won: list[str] = []
    seen: list[str] = []
    by_when = False
    for name in change["set"]:
        if name in settled:
            continue
        present = fields.get(name)
        if present is None:
            won.append(name)
            by_when = True
            continue
        saw = saws.get(name)
        if saw_it(saw, back, present):
            won.append(name)
            seen.append(present["when"])
        elif _was_seen_by_winner(change["id"], saw, back, present):
            continue
        elif back and saw is not None and knows(saw, name):
            continue
        elif _is_later(when, change["id"], present):
            won.append(name)
            by_when = True
    if seen:
        at_least = just_after(max(seen))
        when = at_least if back and not by_when else max(when, at_least)
    return Verdict(won, when)


def still_settled(change: Change, once: Collection[str], fields: Fields) -> set[str]:
    """Of the fields with an outcome from before (lost under a lost logbook: 9; held: 10), those that keep it.

    Not where by now the very thing stands that the change saw: nothing is beaten by what it replaced.
    """
    saws, back = change["saw"], change["back"]
    return {name for name in once if name not in fields or not saw_it(saws.get(name), back, fields[name])}


def judge_offer(offer: Offer, fields: Fields) -> tuple[bool, str]:
    """A field that a phone held from before a restore (10): does it stand, and from when."""
    name = offer["field"]
    when = min(offer["when"], LATEST)
    present = fields.get(name)
    if present is None:
        return True, when
    if saw_it(offer["saw"], offer["back"], present):
        return True, max(when, just_after(present["when"]))
    if _was_seen_by_winner(offer["change"], offer["saw"], offer["back"], present):
        return False, when
    return _is_later(when, offer["change"], present), when


def server_clock_doubt(offs: Collection[timedelta]) -> timedelta | None:
    """Where devices agree against the server, how wrong its own clock may be (12); a message, no rule."""
    if len(offs) < 2 or any(abs(off) <= TOLERANCE for off in offs):
        return None
    if max(offs) - min(offs) > TOLERANCE:
        return None
    return sorted(offs)[len(offs) // 2]
