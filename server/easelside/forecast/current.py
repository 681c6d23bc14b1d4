"""What follows from the records as they are now? Counted anew when the logbook has grown, else remembered."""

import threading
from collections.abc import Iterable
from datetime import datetime
from typing import Protocol
from zoneinfo import ZoneInfo

from easelside.batches.rules import Stand
from easelside.blades.model import BladeStand
from easelside.care.model import CareTask
from easelside.care.rules import Due
from easelside.forecast.counting import KINDS, Counting, Fact
from easelside.logbook.model import End, Record, values
from easelside.units import text, zone_of

WORKSHOP = "00000000-0000-8000-8000-000000000001"


class Source(Protocol):
    """What of a logbook is asked here."""

    def end(self) -> End: ...

    def record(self, kind: str, id: str) -> Record | None: ...

    def all_records(self, kind: str | None = None) -> Iterable[Record]: ...


def fact_of(record: Record) -> Fact:
    when = {name: field["when"] for name, field in record["fields"].items()}
    return Fact(record["kind"], record["id"], values(record["fields"]), when)


class Current:
    def __init__(self, source: Source) -> None:
        self._source = source
        self._lock = threading.Lock()
        self._as_of = -1
        self._zone = zone_of(None)
        self._counting = Counting([], self._zone)

    def counting(self) -> Counting:
        with self._lock:
            seq = self._source.end()["seq"]
            if seq != self._as_of:
                self._zone = self.zone()
                facts = [fact_of(r) for kind in KINDS for r in self._source.all_records(kind)]
                self._counting, self._as_of = Counting(facts, self._zone), seq
            return self._counting

    def zone(self) -> ZoneInfo:
        """The workshop's time zone; UTC until it is said."""
        workshop = self._source.record("workshop", WORKSHOP)
        return zone_of(text(values(workshop["fields"]), "time_zone") if workshop else None)

    def due(self, task: CareTask, now: datetime) -> Due:
        return self.counting().due(task, now)

    def all_due(self, now: datetime) -> dict[str, Due]:
        """Every task that is due, by its id."""
        counting = self.counting()
        found = {task.id: counting.due(task, now) for task in counting.tasks}
        return {id: due for id, due in found.items() if due.is_due}

    def stands(self, batch: str) -> dict[str, Stand]:
        return self.counting().batches.get(batch, {})

    def blade(self, blade: str) -> BladeStand:
        counting = self.counting()
        bench = counting.timeline.now
        edge = bench.edge_of(blade)
        return BladeStand(
            place=bench.places.get(blade),
            edge=edge,
            began=bench.began.get(edge) if edge else None,
            pieces=counting.edges.get(edge, 0) if edge else 0,
        )
