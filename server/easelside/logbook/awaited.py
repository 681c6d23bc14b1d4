"""A change arrives after what had replaced it: what has to stand over it all the same?

Only after a restore: a phone that never heard the answer sends a change anew, and the clocks may have been
turned since it was first judged, while another phone has long brought what was written over it. So each
field remembers, for every change that somebody saw and that is not here yet, what replaced it (10).
"""

from collections.abc import Mapping

from easelside.logbook.model import Field, Fields
from easelside.logbook.rules import saw_it

Awaited = dict[str, dict[str, Field]]  # field: {change that is not here yet: the last that replaced it}


def is_odd(saw: Mapping[str, str | None], fields: Fields) -> bool:
    """Did an edit see something that does not stand? In quiet times none does."""
    for name, seen in saw.items():
        if seen is not None:
            present = fields.get(name)
            if present is None or present["change"] != seen:
                return True
    return False


def note(waiting: dict[str, Field], mine: Field, present: Field | None, *, held: bool) -> Field | None:
    """One more edit of a field; answers what had replaced it before it came.

    `present`: what stood before it. `held`: its own change is still to come. `waiting` is changed in place.
    """
    change, saw, back = mine["change"], mine["saw"], mine["back"]
    over = _over(waiting, mine)
    if not held:
        waiting.pop(change, None)
    last = mine if over is None else over
    for other, replaced_by in waiting.items():
        if saw_it(saw, back, replaced_by):
            waiting[other] = last
    if held:
        waiting.setdefault(change, last)
    if saw is not None and (present is None or not saw_it(saw, back, present)):
        known = waiting.get(saw)
        if known is None or (not back and (known["back"] or mine["when"] > known["when"])):
            waiting[saw] = last
    return over


def _over(waiting: dict[str, Field], mine: Field) -> Field | None:
    """Who saw what a take-back takes back counts as having seen the take-back too (5)."""
    change, saw = mine["change"], mine["saw"]
    over = waiting.get(change)
    if over is not None and over["change"] != change:
        return over
    over = waiting.get(saw) if mine["back"] and saw is not None else None
    if over is None or over["change"] in (change, saw) or (over["back"] and over["saw"] == saw):
        return None
    return over
