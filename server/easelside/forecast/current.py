"""What follows from the records as they are now? Remembered, and counted anew when the logbook has grown.

Only what can still matter is read: every blade move, batch, care task and care done, and the sessions, pieces
and tallies since the oldest edge in use or the last time that some care was done.
"""

import threading
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from easelside.batches.model import Tally, read_tally
from easelside.batches.rules import Stand, is_edge_opening, stand_of
from easelside.blades.model import BladeStand
from easelside.care.model import CareTask
from easelside.care.rules import PACE_DAYS, Due, counting_since
from easelside.forecast.counting import KINDS, Counting, Fact
from easelside.logbook import asking
from easelside.logbook.book import Logbook
from easelside.logbook.model import Record, is_removed, values
from easelside.units import text, write_instant, zone_of

WORKSHOP = "00000000-0000-8000-8000-000000000001"
FRAME = (
    "blade_move",
    "batch",
    "care_task",
    "care_done",
)  # read whole: few, and how far back the rest matters
MOST_CAUGHT_UP = 2000
PAGE = 1000


def fact_of(record: Record) -> Fact:
    when = {name: field["when"] for name, field in record["fields"].items()}
    return Fact(record["kind"], record["id"], values(record["fields"]), when)


def needed_since(frame: Counting, now: datetime) -> datetime | None:
    """From when on sessions, pieces and tallies matter; None: all of them do."""
    bench = frame.timeline.now
    starts = [now - timedelta(days=PACE_DAYS + 2)]
    for blade, place in bench.places.items():
        edge = bench.edge_of(blade)
        if edge is not None and place.where != "retired":
            starts.append(bench.began[edge])
    for task in frame.tasks:
        since = counting_since(task, frame.dones)
        if since is None:
            return None
        starts.append(since)
    return min(starts)


class Current:
    def __init__(self, logbook: Logbook) -> None:
        self._logbook = logbook
        self._lock = threading.Lock()
        self._facts: dict[tuple[str, str], Fact] = {}
        self._since: datetime | None = None
        self._as_of = -1
        self._tallies: dict[str, list[Tally]] = {}
        self._tallies_as_of = -1
        self._zone = zone_of(None)
        self._counting = Counting([], self._zone)

    def counting(self, now: datetime) -> Counting:
        with self._lock, self._logbook.view() as view:
            seq = asking.end(view)["seq"]
            if seq != self._as_of:
                self._catch_up(view, now)
                self._zone = _zone(view)
                self._counting, self._as_of = Counting(self._facts.values(), self._zone), seq
            return self._counting

    def _catch_up(self, view: Any, now: datetime) -> None:
        touched = asking.changed_records(view, self._as_of, MOST_CAUGHT_UP) if self._as_of > 0 else None
        if touched is None:
            self._facts.clear()
            self._take(r for kind in FRAME for r in asking.all_records(view, kind))
        else:
            self._take(touched)
        frame = Counting((f for f in self._facts.values() if f.kind in FRAME), self._zone)
        since = needed_since(frame, now)
        if touched is None or (self._since is not None and (since is None or since < self._since)):
            # A record's last change is never earlier than what it tells about, but for a clock's ten minutes.
            at_least = write_instant(since - timedelta(hours=1)) if since else None
            rest = (kind for kind in KINDS if kind not in FRAME)
            self._take(r for kind in rest for r in asking.all_records(view, kind, at_least))
            self._since = since

    def _take(self, records: Iterator[Record] | list[Record]) -> None:
        for record in records:
            if record["kind"] in KINDS:
                self._facts[record["kind"], record["id"]] = fact_of(record)

    def zone(self) -> ZoneInfo:
        """The workshop's time zone; UTC until it is said."""
        with self._logbook.view() as view:
            return _zone(view)

    def due(self, task: CareTask, now: datetime) -> Due:
        return self.counting(now).due(task, now)

    def blade(self, blade: str, now: datetime) -> BladeStand:
        counting = self.counting(now)
        bench = counting.timeline.now
        edge = bench.edge_of(blade)
        return BladeStand(
            place=bench.places.get(blade),
            edge=edge,
            began=bench.began.get(edge) if edge else None,
            pieces=counting.edges.get(edge, 0) if edge else 0,
        )

    def stands(self, batch: str) -> dict[str, Stand]:
        """What came out of each stage of a batch, however old it is: pieces by the logbook's columns."""
        found = stand_of(self._tallies_of(batch)).get(batch, {})
        after = 0
        while rows := self._logbook.pieces(after, PAGE, batch=batch, removed=False):
            for row in rows:
                if row["outcome"]:
                    found.setdefault("profiled", Stand()).add(row["outcome"])
            after = rows[-1]["key"]
        return found

    def _tallies_of(self, batch: str) -> list[Tally]:
        with self._lock, self._logbook.view() as view:
            seq = asking.end(view)["seq"]
            if seq != self._tallies_as_of:
                self._tallies, self._tallies_as_of = _tallies_by_batch(view), seq
            return self._tallies.get(batch, [])


def _tallies_by_batch(view: Any) -> dict[str, list[Tally]]:
    zone, found = _zone(view), dict[str, list[Tally]]()
    for record in asking.all_records(view, "tally"):
        tally = read_tally(record["id"], values(record["fields"]), zone)
        if tally.batch and not is_edge_opening(tally) and not is_removed(record["fields"]):
            found.setdefault(tally.batch, []).append(tally)
    return found


def _zone(view: Any) -> ZoneInfo:
    workshop = asking.record(view, "workshop", WORKSHOP)
    return zone_of(text(values(workshop["fields"]), "time_zone") if workshop else None)
