"""How long does the server wait for one client, when others want their turn?

A thread is taken only by a connection on which something was said; a request has to be there whole in time,
and its answer has to be taken in at some pace; and when every thread is taken, those that have waited longest
for the rest of a request, or that take their answer in slowly, are let go.
"""

import logging
import socket
import sys
import threading
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from cheroot.connections import ConnectionManager
from cheroot.server import HTTPConnection, HTTPRequest
from cheroot.wsgi import Server

from easelside.web.pace import HEAD_S, IDLE_S, Elapsed, Held, PatientEnd, Reader, Writer
from easelside.web.tls import HANDSHAKE, QuietSocket

log = logging.getLogger("easelside.web")

WHEN_FULL_S = 1.0  # while every thread is taken
FULL_PACE = 400_000
UNSENT = 128 * 1024  # what our system keeps for a client: else megabytes for each that reads nothing
MOST_OPEN = 300  # connections that wait; a system gives a process some 1,024 files for all its doors
BURST = 100  # more than that many above it are turned away at once
WAITING = 64
LONGEST_HEAD = 32 * 1024
CUT_S = 2.0
STOP_S = 5

ForPlainHttp = Callable[[str], bytes]
Admits = Callable[[str], bool]


class Request(HTTPRequest):  # type: ignore[misc]
    def parse_request(self) -> None:
        super().parse_request()
        self.conn.raw.expect_body()

    def send_headers(self) -> None:
        writer, self.conn.wfile = self.conn.wfile, Held(self.conn.wfile)
        try:
            super().send_headers()
        finally:
            self.conn.wfile = writer

    def respond(self) -> None:
        super().respond()
        self.conn.wfile.flush()


class Visit(HTTPConnection):  # type: ignore[misc]
    """One connection. `spoke`: something has come in on it; `served`: requests answered."""

    RequestHandlerClass = Request

    def __init__(self, server: "PatientServer", sock: socket.socket, makefile: Any) -> None:
        super().__init__(server, sock, makefile)
        sock.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, UNSENT)
        self.raw = PatientEnd(sock, server.elapsed)
        self.rfile = Reader(self.raw, self.rbufsize)
        self.wfile = Writer(sock, server.elapsed)
        self.spoke = False
        self.served = 0

    def communicate(self) -> bool:
        self.raw.begin()
        self.wfile.begin()
        if self.served == 0 and isinstance(self.socket, QuietSocket) and not self._shake_hands():
            return False
        self.served += 1
        return bool(super().communicate())

    def _shake_hands(self) -> bool:
        """False where nothing can come of it: the client left, does not trust us, or speaks plain HTTP."""
        try:
            first = self.socket.first_byte()
            if first is None:
                return False
            if first != HANDSHAKE:
                if self.server.for_plain_http is not None:
                    reached_at = self.socket.getsockname()[0]
                    self.socket.say_plainly(self.server.for_plain_http(reached_at))
                return False
            self.socket.settimeout(HEAD_S)
            self.raw.waits = True
            self.socket.do_handshake()
        except OSError as ended:
            log.debug("No TLS with %s: %s", self.remote_addr, ended)
            return False
        finally:
            self.raw.waits = False
            self.socket.settimeout(IDLE_S)
        return True

    def let_go_if_slow(self, now_s: float, patience_s: float) -> None:
        if (self.raw.waits and now_s - self.raw.began > patience_s) or (
            self.wfile.too_long_s(patience_s, FULL_PACE) > 0
        ):
            with suppress(OSError):  # it may have gone by itself
                self.socket.shutdown(socket.SHUT_RDWR)


class _Waiting(ConnectionManager):  # type: ignore[misc]
    def _expire(self, threshold: float) -> None:
        super()._expire(threshold)
        self.server.make_room()

        self._drop_those_above(self.server.most_open)

    def _drop_those_above(self, most: int) -> None:
        """Closes those that are idle longest, first of all those that never said a thing."""
        idle = [(fd, conn) for fd, conn in self._selector.connections if conn is not self.server]
        idle.sort(key=lambda at: (at[1].served > 0, at[1].last_used))
        for handle, conn in idle[: max(0, len(idle) - most)]:
            self._selector.unregister(handle)
            conn.close()

    def is_full(self) -> bool:
        return bool(self._num_connections >= self.server.most_open + BURST)


def _cut(workers: list[Any]) -> None:
    for worker in workers:
        conn = worker.conn
        if conn is not None:
            with suppress(OSError):
                conn.socket.shutdown(socket.SHUT_RDWR)


class PatientServer(Server):  # type: ignore[misc]
    """cheroot's server with the patience above. `elapsed`: seconds that only go forward."""

    ConnectionClass = Visit

    def __init__(
        self,
        at: tuple[str, int],
        app: Any,
        *,
        threads: int,
        elapsed: Elapsed,
        longest_body: int,
        most_open: int = MOST_OPEN,
        for_plain_http: ForPlainHttp | None = None,
        admits: Admits | None = None,
    ) -> None:
        """`for_plain_http`: a whole answer for whoever speaks plain HTTP to this address of ours, not TLS.

        `admits`: whether anything at all is heard from that address; None: from every one.
        """
        super().__init__(
            at,
            app,
            numthreads=threads,
            request_queue_size=WAITING,
            timeout=IDLE_S,
            shutdown_timeout=STOP_S,
        )
        self.elapsed = elapsed
        self.most_open = self.keep_alive_conn_limit = most_open
        self.for_plain_http = for_plain_http
        self.admits = admits
        self.max_request_header_size = LONGEST_HEAD
        self.max_request_body_size = longest_body

    def prepare(self) -> None:
        super().prepare()
        self._connections._selector.close()
        self._connections: _Waiting = _Waiting(self)

    def process_conn(self, conn: Visit) -> None:
        """A worker takes it once there is something to read; cheroot's own waits for that in a worker."""
        if conn.spoke:
            super().process_conn(conn)
            return
        conn.spoke = True
        is_stranger = self.admits is not None and not self.admits(conn.remote_addr or "")
        if is_stranger or self._connections.is_full():
            conn.close()
        else:
            self._connections.put(conn)

    def stop(self) -> None:
        """What is still being said after CUT_S is cut off: an open line has no end of its own."""
        workers = list(self.requests._threads)
        cutting = threading.Timer(CUT_S, _cut, [workers])
        cutting.daemon = True
        cutting.start()
        super().stop()

    def make_room(self) -> None:
        """Looked at twice a second: where requests queue for a thread, the slow ones lose theirs."""
        if self.requests.qsize == 0 or self.requests.idle > 0:
            return
        now_s = self.elapsed()
        for worker in list(self.requests._threads):
            conn = worker.conn
            if conn is not None:
                conn.let_go_if_slow(now_s, WHEN_FULL_S)

    def error_log(self, msg: str = "", level: int = logging.INFO, traceback: bool = False) -> None:
        """cheroot tells every client that leaves in the middle as an error; that is a phone's daily life."""
        told = traceback and not isinstance(sys.exc_info()[1], OSError)
        log.log(level if told else logging.DEBUG, "%s", msg, exc_info=told)
