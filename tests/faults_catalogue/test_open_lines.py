"""Devices that listen for changes on a real server hear at once, and hold up neither others nor its end."""

import http.client
import json
import signal
import statistics
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from easelside.web.serving import FOR_EXCHANGES, THREADS
from tests.faults_catalogue.running import Server

MOST = THREADS - FOR_EXCHANGES


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Server]:
    with Server(tmp_path / "workshop") as running:
        running.wait_until_it_answers()
        yield running


class Listening:
    def __init__(self, server: Server, device: str) -> None:
        self.line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
        self.line.request("GET", f"/api/events?device={device}")
        self.answer = self.line.getresponse()

    def hear(self) -> str:
        """The name of the next event."""
        while text := self.answer.readline().decode():
            if text.startswith("event: "):
                return text[len("event: ") :].strip()
        return "over"

    def leave(self) -> None:
        self.answer.close()
        self.line.close()


def put_in(server: Server, n: int) -> None:
    assert server.ask("POST", "/api/soaks", {"pieces": n})[0] == 201


def test_twenty_devices_hear_of_a_change_at_once_while_others_work_and_one_more_is_refused(
    server: Server,
) -> None:
    listening = [Listening(server, f"d{n}") for n in range(MOST)]
    assert [one.hear() for one in listening] == ["now"] * MOST
    refused = Listening(server, "one-more")
    assert (refused.answer.status, json.loads(refused.answer.read())["code"]) == (503, "no_line_free")
    took: list[float] = []
    for n in range(1, 6):
        began = time.monotonic()
        put_in(server, n)
        assert {one.hear() for one in listening} == {"changed"}
        took.append(time.monotonic() - began)
    print(f"a change heard by {MOST} devices: median {statistics.median(took) * 1000:.0f} ms")
    for one in listening:
        one.leave()


def test_a_device_that_went_away_without_a_word_gives_its_place_back(server: Server) -> None:
    gone = [Listening(server, f"d{n}") for n in range(MOST)]
    for one in gone:
        one.hear()
        one.leave()
    until = time.monotonic() + 20
    status: Any = None
    n = 0
    while status != 200 and time.monotonic() < until:
        n += 1
        put_in(server, n)  # what is written to a cut line shows that it is cut
        again = Listening(server, "new")
        status = again.answer.status
        again.leave()
        time.sleep(0.1)
    assert status == 200


def test_the_server_says_that_it_closes_on_every_line_and_stops(server: Server) -> None:
    listening = [Listening(server, f"d{n}") for n in range(MOST)]
    for one in listening:
        one.hear()
    server.process.send_signal(signal.SIGTERM)
    assert {one.hear() for one in listening} == {"closing"}
    server.process.wait(60)
