"""The name on the network, asked for by another machine's means, on loopback."""

import socket
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from typing import TypeVar

import pytest
from zeroconf import IPVersion, ServiceInfo, Zeroconf

from easelside.trust.addresses import private_addresses
from easelside.trust.announcing import KIND, Announcer
from easelside.trust.rules import is_private

HOST = "127.0.0.1"
PATIENCE_MS = 5000


Result = TypeVar("Result")


def by_a_thread(work: Callable[[], Result]) -> Result:
    """As the server does it. Where browser tests ran before, an event loop goes on in this thread."""
    with ThreadPoolExecutor(1) as threads:
        return threads.submit(work).result()


class Announcing:
    """An announcer, spoken to by another thread."""

    def __init__(self) -> None:
        self.own = by_a_thread(Announcer)

    def say(self, name: str, port: int, addresses: list[str]) -> bool:
        return by_a_thread(lambda: self.own.say(name, port, addresses))


@pytest.fixture
def announcer() -> Iterator[Announcing]:
    found = Announcing()
    yield found
    by_a_thread(found.own.stop)


def heard(name: str) -> tuple[list[str], int | None, str | None]:
    return by_a_thread(lambda: resolved(name))


def resolved(name: str) -> tuple[list[str], int | None, str | None]:
    """Addresses, port and host name of a service, as another program resolves them."""
    with closing(Zeroconf(interfaces=[HOST], ip_version=IPVersion.V4Only)) as phone:
        asked = ServiceInfo(KIND, f"Easelside {name}.{KIND}")
        if not asked.request(phone, PATIENCE_MS):
            return [], None, None
        return asked.parsed_addresses(), asked.port, asked.server


def test_the_name_is_heard_with_its_address_and_port(announcer: Announcing) -> None:
    assert announcer.say("bench-7f3a.local", 8443, [HOST])
    assert heard("bench-7f3a") == ([HOST], 8443, "bench-7f3a.local.")


def test_what_is_said_already_is_not_begun_anew(announcer: Announcing) -> None:
    announcer.say("bench-7f3b.local", 8443, [HOST])
    voice = announcer.own._voice
    announcer.say("bench-7f3b.local", 8443, [HOST])
    assert announcer.own._voice is voice
    announcer.say("bench-7f3b.local", 8444, [HOST])
    assert heard("bench-7f3b")[1] == 8444


def test_without_a_network_nothing_is_said_and_nothing_breaks(announcer: Announcing) -> None:
    assert announcer.say("bench-7f3c.local", 8443, []) is False
    assert announcer.say("bench-7f3c.local", 8443, ["192.168.254.253"]) is False  # not an address of ours


def test_only_private_addresses_of_this_machine_are_offered() -> None:
    found = private_addresses()
    assert all(is_private(at) and not at.startswith("127.") for at in found)
    for at in found:
        with closing(socket.socket()) as line:
            line.bind((at, 0))  # it is really ours
