"""How does the server run? One process, threads, until it is told to stop."""

import errno
import signal
import threading
from collections.abc import Callable
from types import FrameType

from cheroot.wsgi import Server
from flask import Flask

from easelside.errors import NotLoopback, PortTaken
from easelside.settings import LOOPBACK
from easelside.web.guard import READ_AWAY

THREADS = 32
FOR_EXCHANGES = 12  # of them, never held by a device that listens for changes
AT_CLOSING = "at_closing"  # in the application's extensions: what ends the requests that have no end
WAITING = 64
PATIENCE_S = 10  # for a client that stops in the middle of a request
LONGEST_HEAD = 32 * 1024
STOP_S = 5


def serve(app: Flask, host: str, port: int, opened: Callable[[str], None]) -> None:
    """Serves until SIGTERM or Ctrl-C; `opened` gets the address (port 0: any free one). Main thread only.

    Raises NotLoopback, PortTaken.
    """
    if host not in LOOPBACK:
        raise NotLoopback(host=host)
    server = Server(
        (host, port),
        app,
        numthreads=THREADS,
        request_queue_size=WAITING,
        timeout=PATIENCE_S,
        shutdown_timeout=STOP_S,
    )
    server.max_request_header_size = LONGEST_HEAD
    # The application refuses above 1 MiB with a sentence; this is for what does not even say its length.
    server.max_request_body_size = 2 * READ_AWAY
    try:
        server.prepare()
    except OSError as refusal:
        if _is_taken(refusal):
            raise PortTaken(port=port) from refusal
        raise

    def stop(_signal: int, _frame: FrameType | None) -> None:
        app.extensions.get(AT_CLOSING, lambda: None)()
        threading.Thread(target=server.stop, name="stopping").start()

    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, stop)
    opened(f"http://{f'[{host}]' if ':' in host else host}:{server.bind_addr[1]}/")
    server.serve()


def _is_taken(refusal: OSError) -> bool:
    # cheroot raises a new OSError that carries the system's only in its words
    return refusal.errno == errno.EADDRINUSE or f"[Errno {errno.EADDRINUSE}]" in str(refusal)
