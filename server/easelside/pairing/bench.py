"""Who is at which machine? Followed in the logbook by each device's last change to a session."""

from datetime import datetime
from threading import Lock
from typing import Any, Protocol

from easelside.clock import Clock
from easelside.pairing.rules import GONE_AFTER, Touch, at_machines
from easelside.units import read_instant, write_instant

LOOK_BACK = 3000  # rows at the start: more than half a day of a busy shop
PAGE = 500


class HasChanges(Protocol):
    """A logbook, as far as this question needs one."""

    def end(self) -> Any: ...
    def changes_after(self, seq: int, limit: int = 500) -> list[Any]: ...
    def record(self, kind: str, id: str) -> Any: ...


class AtTheBench:
    def __init__(self, book: HasChanges, clock: Clock) -> None:
        self._book = book
        self._clock = clock
        self._lock = Lock()
        self._is_stale = True
        self._seq: int | None = None
        self._last: dict[tuple[str, str], datetime] = {}  # by session and device
        self._sessions: dict[str, str] = {}  # of pieces
        self._shown: tuple[datetime, list[Touch]] | None = None

    def turn_stale(self) -> None:
        """Something was written: the logbook is read on at the next question, and not before."""
        self._is_stale = True

    def now(self) -> list[dict[str, str]]:
        """[{machine, session, device, at}], the latest first; sessions that are not closed only."""
        with self._lock:
            now = self._clock.now()
            if self._is_stale or self._shown is None or abs(now - self._shown[0]) > GONE_AFTER / 100:
                self._is_stale = False  # before reading: what is written meanwhile makes it stale again
                self._catch_up()
                self._shown = (now, at_machines(self._touches(now), now))
            return [
                {
                    "machine": touch.machine,
                    "session": touch.session,
                    "device": touch.device,
                    "at": write_instant(touch.at),
                }
                for touch in self._shown[1]
            ]

    def _catch_up(self) -> None:
        if self._seq is None:
            self._seq = max(0, self._book.end()["seq"] - LOOK_BACK)
        while rows := self._book.changes_after(self._seq, PAGE):
            for row in rows:
                self._take(row)
            self._seq = rows[-1]["seq"]
            if len(rows) < PAGE:
                return

    def _take(self, row: Any) -> None:
        session = row["record"] if row["kind"] == "session" else None
        if row["kind"] == "piece":
            session = self._session_of(row)
        at = read_instant(row["when"])
        if session is None or at is None:
            return
        key = (session, row["device"])
        if key not in self._last or self._last[key] < at:
            self._last[key] = at

    def _session_of(self, row: Any) -> str | None:
        id = row["record"]
        said = row["set"].get("session")
        if said is None and id not in self._sessions:
            record = self._book.record("piece", id)
            said = record and _value(record, "session")
        if isinstance(said, str):
            self._sessions[id] = said
        return self._sessions.get(id)

    def _touches(self, now: datetime) -> list[Touch]:
        """Of sessions that are open; what is too old is forgotten."""
        self._last = {key: at for key, at in self._last.items() if now - at <= GONE_AFTER}
        live = {session for session, _ in self._last}
        self._sessions = {piece: session for piece, session in self._sessions.items() if session in live}
        machines = {session: self._machine_of(session) for session in live}
        return [
            Touch(machine, session, device, at)
            for (session, device), at in self._last.items()
            if (machine := machines[session]) is not None
        ]

    def _machine_of(self, session: str) -> str | None:
        record = self._book.record("session", session)
        if (
            record is None
            or _value(record, "ended")
            or _value(record, "removed")
            or not _value(record, "began")
        ):
            return None
        machine = _value(record, "machine")
        return machine if isinstance(machine, str) else None


def _value(record: Any, name: str) -> Any:
    field = record["fields"].get(name)
    return None if field is None else field["value"]
