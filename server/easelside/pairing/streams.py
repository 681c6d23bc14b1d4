"""Who hears at once that something was written? One open line a device, as many as there are threads for.

Each line holds a thread of the server while it is open, so a device has one, and there are never more than
leave some for the exchanges. Whoever finds no place asks once in a while instead.
"""

import json
from collections.abc import Callable
from threading import Condition
from typing import Any

from easelside.errors import NoLineFree

STILL_HERE_S = 15.0
GATHER_S = 0.1  # thirty devices that tap at once are told of together
AGAIN_MS = 3000  # how soon a browser opens a cut line again
Facts = Callable[[], Any]


class Line:
    """What one device hears, as server-sent events; an iterator that a WSGI server writes out and closes."""

    def __init__(self, lines: "Lines", key: str, by: str, facts: Facts) -> None:
        self._lines = lines
        self._facts = facts
        self._news = Condition()
        self._is_first = True
        self._is_changed = False
        self._end: str | None = None
        self._is_over = False
        self.key = key
        self.by = by

    def tell(self) -> None:
        with self._news:
            if not self._is_changed:
                self._is_changed = True
                self._news.notify()

    def end(self, why: str) -> None:
        with self._news:
            self._end = self._end or why
            self._news.notify()

    def __iter__(self) -> "Line":
        return self

    def __next__(self) -> bytes:
        if self._is_over:
            raise StopIteration
        if self._is_first and self._end is None:
            self._is_first = False
            return f"retry: {AGAIN_MS}\n".encode() + event("now", self._facts())
        with self._news:
            self._news.wait_for(lambda: self._is_changed or self._end is not None, STILL_HERE_S)
            if self._is_changed:
                self._news.wait_for(lambda: self._end is not None, GATHER_S)
            end, changed, self._is_changed = self._end, self._is_changed, False
        if end is not None:
            self._is_over = True
            return event(end, None)
        return event("changed", self._facts()) if changed else b": still here\n\n"

    def close(self) -> None:
        self._lines.leave(self)


class Lines:
    def __init__(self, most: int) -> None:
        self._most = most
        self._lock = Condition()
        self._open: dict[str, Line] = {}

    def open(self, key: str, by: str, facts: Facts) -> Line:
        """A line for the device `key`, whose changes are written as `by`; the one it had is ended.

        `facts` are what goes out with each event. Raises NoLineFree.
        """
        line = Line(self, key, by, facts)
        with self._lock:
            earlier = self._open.get(key)
            if earlier is None and len(self._open) >= self._most:
                raise NoLineFree
            self._open[key] = line
        if earlier is not None:
            earlier.end("replaced")
        return line

    def leave(self, line: Line) -> None:
        with self._lock:
            if self._open.get(line.key) is line:
                del self._open[line.key]

    def tell(self, by: str) -> None:
        """Something was written as `by`: everybody else hears it."""
        for line in self._now_open():
            if line.by != by or not by:
                line.tell()

    def end(self, key: str) -> None:
        """The device may not listen any more."""
        for line in self._now_open():
            if line.key == key:
                line.end("ended")

    def close(self) -> None:
        """A server stops: no thread may wait any longer. Who listens at another door comes back itself."""
        for line in self._now_open():
            line.end("closing")

    def count(self) -> int:
        return len(self._now_open())

    def _now_open(self) -> list[Line]:
        with self._lock:
            return list(self._open.values())


def event(name: str, data: Any) -> bytes:
    """One event as the HTML standard writes it; JSON has no line breaks of its own."""
    return f"event: {name}\ndata: {json.dumps(data)}\n\n".encode()
