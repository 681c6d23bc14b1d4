"""The whole server with its way in for phones, on loopback, in this process: a test holds its clock."""

import http.client
import json
import socket
import ssl
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

from easelside.app import create_app
from easelside.clock import Clock, SystemClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.web.listening import Listening

HOST = "127.0.0.1"


class Door:
    def __init__(self, listening: Listening, own_port: int) -> None:
        self.listening, self.own_port = listening, own_port
        facts = listening.facts()
        assert facts is not None
        assert facts.trust_port is not None
        self.facts = facts
        self.port, self.trust_port = facts.port, facts.trust_port

    def trusting(self) -> ssl.SSLContext:
        """What a phone knows that trusts the workshop and nobody else."""
        assert self.facts.certificate is not None
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=self.facts.certificate)
        return context

    def plain(self, timeout: float = 20) -> socket.socket:
        return socket.create_connection((HOST, self.port), timeout)

    def line(self, name: str | None = None, context: ssl.SSLContext | None = None) -> ssl.SSLSocket:
        """A TLS connection; the certificate is checked for the name, the announced one if none is said."""
        return (context or self.trusting()).wrap_socket(self.plain(), server_hostname=name or self.facts.name)

    def ask(
        self, where: str, how: str = "GET", body: object = None, headers: dict[str, str] | None = None
    ) -> tuple[int, dict[str, str], bytes]:
        """One request of a phone that trusts the workshop, on a connection of its own."""
        phone = http.client.HTTPSConnection(HOST, self.port, timeout=20)
        phone.sock = self.line()
        return _answer(phone, how, where, body, {"Host": f"{self.facts.name}:{self.port}", **(headers or {})})

    def ask_plain(
        self, where: str, port: int | None = None, how: str = "GET", body: object = None
    ) -> tuple[int, dict[str, str], bytes]:
        """At the trust page's port, or another one."""
        return _answer(
            http.client.HTTPConnection(HOST, port or self.trust_port, timeout=20), how, where, body, {}
        )


def _answer(
    line: http.client.HTTPConnection, how: str, where: str, body: object, headers: dict[str, str]
) -> tuple[int, dict[str, str], bytes]:
    with suppress_close(line):
        text = None if body is None else json.dumps(body).encode()
        kind = {"Content-Type": "application/json"} if body is not None else {}
        line.request(how, where, text, {**kind, **headers})
        heard = line.getresponse()
        return heard.status, dict(heard.getheaders()), heard.read()


@contextmanager
def suppress_close(line: http.client.HTTPConnection) -> Iterator[None]:
    try:
        yield
    finally:
        with suppress(OSError):
            line.close()


@contextmanager
def open_door(folder: Path, clock: Clock | None = None, **more: Any) -> Iterator[Door]:
    """Phones on, every port a free one."""
    clock = clock or SystemClock()
    given = {"phones": True, "phones_host": HOST, "phones_port": 0, "trust_port": 0, **more}
    settings = Settings(folder, HOST, 0, **given)
    listening = Listening(settings, clock)
    book = Logbook.open(folder, clock, durable=False)
    try:
        app = create_app(settings, clock, book, way=listening)
        with listening.running(app) as own:
            serving = threading.Thread(target=own.serve, name="own", daemon=True)
            serving.start()
            yield Door(listening, own.bind_addr[1])
        serving.join(10)
        assert not serving.is_alive()
    finally:
        book.close()
