"""A whole server in process, with a door for phones, for the tests of pairing."""

import re
from collections.abc import Collection
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.web.doors import OWN, PHONES, OwnOnly

NAME = "bench-7f3a.local"
ADDRESS = f"https://{NAME}:8443/"
LAN = "192.168.7.20"
COOKIE = "__Host-dev"


class OpenWay(OwnOnly):
    """Phones are switched on."""

    on = True
    address = ADDRESS

    def hosts(self, door: str) -> Collection[str]:
        return {OWN: ("localhost", "127.0.0.1", "bench"), PHONES: (NAME, "192.168.7.1")}.get(door, ())


class House:
    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.clock = FakeClock()
        self.book = Logbook.open(folder, self.clock, durable=False)
        self.app = create_app(Settings(folder), self.clock, self.book, way=OpenWay())

    def open_again(self) -> None:
        """The server is started again on the same folder."""
        self.book.close()
        self.book = Logbook.open(self.folder, self.clock, durable=False)
        self.app = create_app(Settings(self.folder), self.clock, self.book, way=OpenWay())

    def machine(self) -> "Browser":
        return Browser(self, "http://localhost:8765/", "127.0.0.1")

    def phone(self, peer: str = LAN) -> "Browser":
        return Browser(self, ADDRESS, peer)

    def paired(self, role: str = "maker", **said: str) -> "Browser":
        phone = self.phone()
        answer = phone.pair(self.machine().code(role)["figures"], **said)
        assert answer.status_code == 201, answer.text
        return phone


class Browser:
    """One browser with its own cookies, which speaks as a page of the client does."""

    def __init__(self, house: House, base: str, peer: str) -> None:
        self._house = house
        self.base = base
        self.peer = peer
        self.client: FlaskClient = house.app.test_client()

    def ask(self, how: str, path: str, body: Any = None, **headers: str) -> TestResponse:
        if self.client.application is not self._house.app:  # the server was started again
            cookies, self.client = self.client._cookies, self._house.app.test_client()
            self.client._cookies = cookies
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return self.client.open(
            path, method=how, base_url=self.base, json=body, headers=named,
            environ_overrides={"REMOTE_ADDR": self.peer},
        )  # fmt: skip

    def who(self) -> Any:
        return self.ask("GET", "/api/who").json

    def code(self, role: str = "maker") -> Any:
        answer = self.ask("POST", "/api/phones/codes", {"role": role})
        assert answer.status_code == 201, answer.text
        return answer.json

    def pair(self, code: str, **said: str) -> TestResponse:
        return self.ask("POST", "/api/pair", {"code": code, **said})

    def devices(self) -> list[Any]:
        return self.ask("GET", "/api/phones").json["devices"]

    def exchange(self, device: str = "a-phone", changes: Any = ()) -> TestResponse:
        book = self._house.book
        body = {"device": device, "device_now": book.now(), "logbook": book.id if changes else None}
        return self.ask("POST", "/api/exchange", {**body, "after": 0, "changes": list(changes)})

    def token(self) -> str:
        found = self.client.get_cookie(COOKIE, domain=NAME)
        assert found is not None
        return found.value


def stands_in(secret: str, data: bytes) -> bool:
    """Six figures inside a longer number or an id are chance, and no secret."""
    return (
        re.search(rb"(?<![0-9A-Za-z])" + re.escape(secret.encode()) + rb"(?![0-9A-Za-z])", data) is not None
    )
