"""Through which door did a request come in, and where do phones find this workshop?

The machine's own door is plain HTTP on loopback and opens at once. The phones' door is HTTPS on the
workshop's network, the proxy's door is for a trusted proxy that speaks HTTPS itself: who comes through these
must be paired. A door writes its name into the WSGI environment; nothing that a client sends can.
"""

from collections.abc import Collection, Mapping
from typing import Any, Protocol

from flask import Flask

from easelside.errors import SwitchElsewhere
from easelside.settings import LOOPBACK
from easelside.trust.model import Facts

DOOR = "easelside.door"
OWN, PHONES, PROXY = "own", "phones", "proxy"
NAME = "easelside.way_in"


class WayIn(Protocol):
    """What the rest of the server may know of the way in; it may change while the server runs."""

    @property
    def on(self) -> bool:
        """Whether other devices can reach this server now."""
        ...

    @property
    def address(self) -> str | None:
        """What a phone opens, with port and closing slash: `https://bench-7f3a.local:8443/`."""
        ...

    def hosts(self, door: str) -> Collection[str]:
        """The host names, lower case and without port, under which a door may be asked for."""
        ...

    def facts(self) -> Facts | None:
        """What a phone has to know to come in; None while it cannot."""
        ...

    def switch(self, on: bool) -> None:
        """Opens or shuts the way in, now and at the next start."""
        ...


class OwnOnly:
    """Nobody but this machine: how the server stands until phones are switched on."""

    on = False
    address: str | None = None

    def __init__(self, hosts: Collection[str] = LOOPBACK) -> None:
        self._hosts = frozenset(name.strip("[]").lower() for name in hosts)

    def hosts(self, door: str) -> Collection[str]:
        return self._hosts if door == OWN else ()

    def facts(self) -> Facts | None:
        return None

    def switch(self, on: bool) -> None:
        raise SwitchElsewhere


def door_of(environ: Mapping[str, Any]) -> str:
    """`own`, `phones` or `proxy`. Without a door's word for it, only this machine is at its own door."""
    said = environ.get(DOOR)
    if said in (OWN, PHONES, PROXY):
        return str(said)
    return OWN if environ.get("REMOTE_ADDR") in LOOPBACK else PHONES


def way_in(app: Flask) -> WayIn:
    found: WayIn = app.extensions[NAME]
    return found
