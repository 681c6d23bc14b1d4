"""Clients that ask for much and hardly take it in."""

import http.client
import socket
import threading
import time
from collections.abc import Iterable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

import pytest

from easelside.web import pace, patience
from easelside.web.patience import PatientServer
from tests.faults_catalogue.phones_door import HOST

NEVER = 1e9
WINDOW = 4096  # what the client's system takes in by itself
MUCH = 20_000_000  # more than the server's system takes over from it
THREADS = 3


def app(environ: dict[str, Any], start: Any) -> Iterable[bytes]:
    size = MUCH if environ["PATH_INFO"] == "/much" else 1_000_000 if environ["PATH_INFO"] == "/some" else 10
    start("200 OK", [("Content-Length", str(size))])
    return [b"x" * size]


@pytest.fixture
def server() -> Iterator[PatientServer]:
    with serving() as found:
        yield found


@contextmanager
def serving() -> Iterator[PatientServer]:
    server = PatientServer((HOST, 0), app, threads=THREADS, elapsed=time.monotonic, longest_body=1000)
    server.prepare()
    thread = threading.Thread(target=server.serve, daemon=True)
    thread.start()
    try:
        yield server
    finally:
        server.stop()
        thread.join(10)


def asked(server: PatientServer, stack: ExitStack, path: str) -> socket.socket:
    line = stack.enter_context(socket.socket())
    line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, WINDOW)
    line.settimeout(20)
    line.connect((HOST, server.bind_addr[1]))
    line.sendall(f"GET {path} HTTP/1.1\r\nHost: localhost\r\n\r\n".encode())
    return line


def served_s(server: PatientServer) -> float:
    """Seconds until somebody else is served."""
    began = time.monotonic()
    other = http.client.HTTPConnection(HOST, server.bind_addr[1], timeout=30)
    other.request("GET", "/")
    assert other.getresponse().read() == b"x" * 10
    other.close()
    return time.monotonic() - began


def served_beside_them_s(server: PatientServer) -> float:
    with ExitStack() as stack:
        for _ in range(THREADS):
            asked(server, stack, "/much")
        time.sleep(1)
        assert server.requests.idle == 0
        return served_s(server)


def test_answers_that_nobody_takes_in_cannot_hold_all_threads(server: PatientServer) -> None:
    assert served_beside_them_s(server) < 3


def test_the_control_without_that_patience_somebody_else_waits(
    server: PatientServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(patience, "WHEN_FULL_S", NEVER)
    assert served_beside_them_s(server) > 3


def thread_held_s(server: PatientServer, most_s: float) -> float:
    """How long a client holds its thread that takes in 2,000 bytes fifty times a second."""
    with ExitStack() as stack:
        line = asked(server, stack, "/much")
        time.sleep(0.5)
        assert server.requests.idle == THREADS - 1
        began = time.monotonic()
        while server.requests.idle < THREADS and time.monotonic() - began < most_s:
            line.recv(2000)
            time.sleep(0.02)
        return time.monotonic() - began


def test_an_answer_that_trickles_away_gives_its_thread_back(
    server: PatientServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A timeout for each write alone would start anew with every byte taken."""
    monkeypatch.setattr(pace, "ANSWER_S", 1.0)
    monkeypatch.setattr(pace, "ANSWER_PACE", MUCH)
    assert thread_held_s(server, 15) < 5


def test_the_control_without_a_pace_it_keeps_it(
    server: PatientServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pace, "ANSWER_S", NEVER)
    assert thread_held_s(server, 7) >= 7


def test_a_slow_phone_that_keeps_the_pace_gets_all_of_it(
    server: PatientServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pace, "ANSWER_S", 0.5)
    with ExitStack() as stack:
        line, taken = asked(server, stack, "/some"), 0
        while taken < 1_000_000:
            some = line.recv(20_000)
            assert some
            taken += len(some)
            time.sleep(0.02)
