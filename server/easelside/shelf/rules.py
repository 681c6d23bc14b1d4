"""Is this record in play: would somebody at the bench want it at hand today?"""

from collections.abc import Iterable
from datetime import datetime, timedelta

from easelside.logbook.model import Record, Value, is_removed
from easelside.units import read_instant

ALWAYS = frozenset({"workshop", "device", "machine", "setting", "blade", "blade_move", "lot", "care_task"})
LATELY = {  # how long a record stays at hand after its last change  # common practice, no source
    "soak": timedelta(days=2),
    "session": timedelta(days=7),
    "piece": timedelta(days=2),
    "tally": timedelta(days=30),
    "batch": timedelta(days=30),
    "care_done": timedelta(days=400),
}
OTHERS = timedelta(days=30)
OPEN_UNTIL = {"soak": "taken_out", "session": "ended", "batch": "closed"}


def _said(record: Record, name: str) -> Value:
    field = record["fields"].get(name)
    return None if field is None else field["value"]


def is_in_play(record: Record, now: datetime) -> bool:
    """Furniture always; soaks, sessions and batches until they are done; the rest for some days."""
    if is_removed(record["fields"]):
        return False
    kind = record["kind"]
    if kind in ALWAYS:
        return True
    if kind in OPEN_UNTIL and not _said(record, OPEN_UNTIL[kind]):
        return True
    last = read_instant(record["when"])
    return last is not None and last >= now - LATELY.get(kind, OTHERS)


def needed_since(moves: Iterable[Record], tasks: Iterable[Record], dones: Iterable[Record]) -> str | None:
    """Since when a phone needs every piece and tally to count for itself.

    The earliest of: the first fitting of each edge that is not ground away yet, and each care task's
    last done (or the start of its counting). None where nothing counts.
    """
    starts: list[str] = []
    since: dict[str, str] = {}
    for task in tasks:
        start = _said(task, "since")
        if not is_removed(task["fields"]):
            since[task["id"]] = start if isinstance(start, str) else task["when"]
    for done in dones:
        task_id, at = _said(done, "task"), _said(done, "at")
        if _said(done, "what") == "done" and task_id in since and isinstance(at, str):
            if not is_removed(done["fields"]):
                since[task_id] = max(since[task_id], at)
    starts.extend(since.values())
    starts.extend(_begun_edges(moves))
    return min(starts, default=None)


def _begun_edges(moves: Iterable[Record]) -> list[str]:
    """When each edge was first fitted that is not ground away: in use, ready, in the box or sent."""
    said = [
        (at, _said(move, "blade"), _said(move, "what"))
        for move in moves
        if not is_removed(move["fields"]) and isinstance(at := _said(move, "at"), str)
    ]
    begun: dict[Value, str] = {}
    for at, blade, what in sorted(said, key=lambda move: move[0]):
        if what == "fitted":
            begun.setdefault(blade, at)
        elif what in ("ground", "back", "retired"):
            begun.pop(blade, None)
    return list(begun.values())
