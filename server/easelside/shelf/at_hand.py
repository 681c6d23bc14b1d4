"""What is in play now, without a question to the logbook: TinyDB in memory, always behind one lock.

TinyDB alone corrupts under threads, and each write costs a pass over all it holds: some hundred records are
well, history belongs into the logbook. The shelf says which row it reflects; throwing it away is always safe.
"""

import threading
from datetime import datetime, timedelta
from typing import Any

from tinydb import TinyDB, where
from tinydb.storages import MemoryStorage
from tinydb.table import Document

from easelside.clock import Clock
from easelside.logbook import asking
from easelside.logbook.book import Logbook
from easelside.logbook.model import Record, values
from easelside.shelf.rules import ALWAYS, LATELY, OPEN_UNTIL, OTHERS, is_in_play
from easelside.units import write_instant

MOST_CAUGHT_UP = 500  # rows; beyond that it is quicker to begin afresh
LOOKED_OVER_EVERY = timedelta(minutes=1)


class Shelf:
    """Documents: {kind, id, seq, when, fields, said}, `said` being the plain values that stand.

    Empty until the first `catch_up`: ten years of records take a second, and no phone waits for it.
    """

    def __init__(self, book: Logbook, clock: Clock) -> None:
        self._book = book
        self._clock = clock
        self._lock = threading.RLock()
        self._places: dict[tuple[str, str], int] = {}
        self._next_place = 1
        self._db = TinyDB(storage=MemoryStorage)
        self._looked_over: datetime | None = None
        self.as_of_seq = -1

    def records(self, kind: str) -> list[Record]:
        """The records of a kind that are in play, in the order of their ids."""
        with self._lock:
            self.catch_up()
            found = self._db.search(where("kind") == kind)
        return sorted((_record(document) for document in found), key=lambda record: record["id"])

    def record(self, kind: str, id: str) -> Record | None:
        with self._lock:
            self.catch_up()
            place = self._places.get((kind, id))
            document = None if place is None else self._db.get(doc_id=place)
        return _record(document) if isinstance(document, Document) else None

    def __len__(self) -> int:
        with self._lock:
            self.catch_up()
            return len(self._places)

    def catch_up(self) -> None:
        """Take in the rows since the last look, and put away what is in play no more."""
        with self._lock, self._book.view() as view:
            now = self._clock.now()
            end = asking.end(view)["seq"]
            if self.as_of_seq > end or self.as_of_seq < 0:
                self._begin_afresh(view)
            elif self.as_of_seq < end:
                touched = asking.changed_records(view, self.as_of_seq, MOST_CAUGHT_UP)
                if touched is None:
                    self._begin_afresh(view)
                else:
                    self._put(touched)
            if self._looked_over is None:
                self._looked_over = now
            elif abs(now - self._looked_over) >= LOOKED_OVER_EVERY:
                self._put([_record(document) for document in self._db.all()])
                self._looked_over = now
            self.as_of_seq = end

    def _begin_afresh(self, view: Any) -> None:
        self._db.drop_tables()
        self._places.clear()
        now = self._clock.now()
        for kind in asking.kinds(view):
            bounded = kind not in ALWAYS and kind not in OPEN_UNTIL
            since = write_instant(now - LATELY.get(kind, OTHERS)) if bounded else None
            self._put(list(asking.all_records(view, kind, since)))

    def _put(self, records: list[Record]) -> None:
        now = self._clock.now()
        stay = [record for record in records if is_in_play(record, now)]
        gone = [self._places.pop(at) for r in records if (at := (r["kind"], r["id"])) in self._places]
        if gone:
            self._db.remove(doc_ids=gone)
        documents = []
        for record in stay:
            self._places[record["kind"], record["id"]] = self._next_place
            documents.append(Document({**record, "said": values(record["fields"])}, doc_id=self._next_place))
            self._next_place += 1
        if documents:
            self._db.insert_multiple(documents)


def _record(document: Any) -> Record:
    return Record(
        kind=document["kind"],
        id=document["id"],
        fields=document["fields"],
        seq=document["seq"],
        when=document["when"],
    )
