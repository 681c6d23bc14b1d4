"""How is one door opened, shut, and told from the others?"""

import errno
import os
import threading
from collections.abc import Callable, Iterable
from contextlib import suppress
from typing import Any

from easelside.errors import PortTaken
from easelside.web.doors import DOOR
from easelside.web.patience import PatientServer


def through(app: Callable[..., Iterable[bytes]], door: str) -> Callable[..., Iterable[bytes]]:
    def pass_on(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        environ[DOOR] = door
        return app(environ, start_response)

    return pass_on


def url(scheme: str, host: str, port: int) -> str:
    usual = {"http": 80, "https": 443}[scheme]
    named = f"[{host}]" if ":" in host else host
    return f"{scheme}://{named}/" if port == usual else f"{scheme}://{named}:{port}/"


def to_trust(trust_port: int | None, reached_at: str) -> bytes:
    """Who typed http:// at the phones' door is sent on: to the page that explains, where there is one."""
    where = "" if trust_port is None else f"Location: {url('http', reached_at, trust_port)}trust\r\n"
    words = b"This door speaks https only.\n"
    status = "307 Temporary Redirect" if where else "400 Bad Request"
    head = f"HTTP/1.1 {status}\r\n{where}Connection: close\r\nContent-Type: text/plain\r\n"
    return f"{head}Content-Length: {len(words)}\r\n\r\n".encode() + words


def shut(server: PatientServer) -> None:
    """Nobody comes in any more when this returns; whoever is inside is seen out behind it."""
    threading.Thread(target=server.stop, name="shutting", daemon=True).start()
    for _ in range(50):
        if server.socket is None:
            return
        threading.Event().wait(0.1)


def prepare(server: PatientServer) -> None:
    """Raises PortTaken."""
    # cheroot would take the socket that a service manager hands over in place of every door's own.
    os.environ.pop("LISTEN_PID", None)
    try:
        server.prepare()
    except OSError as refusal:
        with suppress(Exception):
            server.stop()
        if _is_taken(refusal):
            raise PortTaken(port=server.bind_addr[1]) from refusal
        raise


def _is_taken(refusal: OSError) -> bool:
    # cheroot raises a new OSError that carries the system's only in its words
    return refusal.errno == errno.EADDRINUSE or f"[Errno {errno.EADDRINUSE}]" in str(refusal)
