"""At what pace do the bytes of one connection have to come and go, however they trickle?

A timeout for each read or write alone would start anew with every byte.
"""

import socket
from collections.abc import Callable
from typing import Any

from cheroot.makefile import StreamReader

HEAD_S = 10.0  # from the first byte to the end of the headers, a handshake included
BODY_S = 30.0  # for a body of at most 4 MiB
IDLE_S = 10.0
ANSWER_S = 10.0  # of waiting for a client to take in what it asked for ...
ANSWER_PACE = 20_000  # ... and a second more for each so many bytes that it took
SLICE = 64 * 1024

Elapsed = Callable[[], float]


class PatientEnd(socket.SocketIO):
    """The raw end of a connection: a read fails once `until` has passed, however the bytes trickle in."""

    def __init__(self, sock: socket.socket, elapsed: Elapsed) -> None:
        super().__init__(sock, "rb")
        self._line, self._elapsed = sock, elapsed
        self.began = elapsed()
        self.until = self.began + HEAD_S
        self.waits = False

    def begin(self) -> None:
        self.began = self._elapsed()
        self.until = self.began + HEAD_S

    def expect_body(self) -> None:
        self.until = self._elapsed() + BODY_S

    def readinto(self, buffer: Any) -> int | None:
        left = self.until - self._elapsed()
        if left <= 0:
            raise TimeoutError("timed out")  # cheroot knows it by these words
        self._line.settimeout(min(left, IDLE_S))
        self.waits = True
        try:
            return super().readinto(buffer)
        finally:
            self.waits = False
            self._line.settimeout(IDLE_S)


class Writer:
    """The other end of it: counts how long the client lets us wait, however it trickles away."""

    def __init__(self, sock: socket.socket, elapsed: Elapsed) -> None:
        self._line, self._elapsed = sock, elapsed
        self._taken, self._waited_s = 0, 0.0
        self._waits_since: float | None = None
        self._held = b""
        self.bytes_written = 0

    def hold(self, data: bytes) -> None:
        """Goes out together with what is written next: one packet, one record of TLS."""
        self._held += data

    def flush(self) -> None:
        if self._held:
            self.write(b"")

    def begin(self) -> None:
        self._taken, self._waited_s = 0, 0.0

    def too_long_s(self, patience_s: float, pace: float) -> float:
        """By how much it has let us wait longer than that; negative: so much is left."""
        since = self._waits_since
        waited_s = self._waited_s + (0.0 if since is None else self._elapsed() - since)
        return waited_s - patience_s - self._taken / pace

    def write(self, data: bytes) -> int:
        held, self._held = self._held, b""
        rest = memoryview(held + data if held else data)
        while rest:
            rest = rest[self._send_some(rest[:SLICE]) :]
        return len(data)

    def _send_some(self, some: memoryview) -> int:
        left_s = -self.too_long_s(ANSWER_S, ANSWER_PACE)
        if left_s <= 0:
            raise TimeoutError("timed out")
        if left_s < IDLE_S:
            self._line.settimeout(left_s)
        self._waits_since = began = self._elapsed()
        try:
            sent = self._line.send(some)
        finally:
            self._waits_since = None
            self._waited_s += self._elapsed() - began
            if left_s < IDLE_S:
                self._line.settimeout(IDLE_S)
        self._taken += sent
        self.bytes_written += sent
        return sent


class Held:
    """In the place of the writer while headers are written."""

    def __init__(self, writer: Writer) -> None:
        self.write = writer.hold


class Reader(StreamReader):  # type: ignore[misc]
    def __init__(self, raw: PatientEnd, bufsize: int) -> None:
        super(StreamReader, self).__init__(raw, bufsize)  # cheroot's own makes a raw end that waits for ever
        self.bytes_read = 0
        self._pending = getattr(raw._line, "pending", lambda: 0)

    def has_data(self) -> bool:
        """Also what TLS has unpacked already, of which the socket itself knows nothing more."""
        return bool(super().has_data() or self._pending())
