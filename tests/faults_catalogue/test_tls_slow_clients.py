"""Phones that fall asleep, stammer or only hold the line, beside one that works."""

import socket
import ssl
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest
from cheroot.ssl.builtin import BuiltinSSLAdapter
from cheroot.wsgi import Server

from easelside.clock import SystemClock
from easelside.trust.authority import make_authority, make_paper
from easelside.trust.model import Names
from easelside.web import patience
from easelside.web.serving import THREADS
from tests.faults_catalogue.phones_door import HOST, Door, open_door

AT_ONCE_S = 2.0  # a bench phone's exchange beside all of this; alone it takes some milliseconds


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Door]:
    with open_door(tmp_path_factory.mktemp("slow") / "workshop") as opened:
        yield opened


def longest_of(door: Door, times: int = 10) -> float:
    """Seconds of the slowest of some visits, each with a handshake of its own."""
    took = []
    for _ in range(times):
        began = time.monotonic()
        status, _, _ = door.ask("/api/who")
        took.append(time.monotonic() - began)
        assert status == 200
    return max(took)


def held(door: Door, stack: ExitStack, many: int, first: bytes = b"") -> list[socket.socket]:
    lines = []
    for _ in range(many):
        line = stack.enter_context(door.plain())
        if first:
            line.sendall(first)
        lines.append(line)
    return lines


def wait_until_closed(line: socket.socket, seconds: float) -> bool:
    line.settimeout(seconds)
    try:
        return line.recv(1) == b""
    except TimeoutError:
        return False
    except OSError:
        return True


def test_a_phone_that_says_nothing_at_all_holds_up_nobody(door: Door) -> None:
    with ExitStack() as stack:
        held(door, stack, 1)
        assert longest_of(door) < AT_ONCE_S


def test_the_library_s_own_way_of_speaking_tls_would_be_held_up(door: Door, tmp_path: Path) -> None:
    """The control: what the tests here see is not seen by luck."""
    paper = tmp_path / "paper.pem"
    authority = make_authority(SystemClock().now(), "")
    paper.write_bytes(
        make_paper(authority, Names(frozenset({"localhost"}), frozenset()), SystemClock().now())
    )
    server = Server((HOST, 0), lambda _environ, _start: [b""], numthreads=4)
    server.ssl_adapter = BuiltinSSLAdapter(str(paper), str(paper))
    trusting = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    trusting.load_verify_locations(cadata=authority.der)
    with server._run_in_thread(), ExitStack() as stack:
        at = server.bind_addr[:2]
        with socket.create_connection(at, 5) as alone:
            trusting.wrap_socket(alone, server_hostname="localhost").close()
        stack.enter_context(socket.create_connection(at))
        time.sleep(0.2)
        beside = stack.enter_context(socket.create_connection(at, AT_ONCE_S))
        with pytest.raises(TimeoutError):
            trusting.wrap_socket(beside, server_hostname="localhost")


def test_a_phone_that_falls_asleep_in_its_handshake_holds_up_nobody(door: Door) -> None:
    half_a_hello = bytes.fromhex("16030102000100")
    with ExitStack() as stack:
        (line,) = held(door, stack, 1, half_a_hello)
        assert longest_of(door) < AT_ONCE_S
        assert wait_until_closed(line, patience.HEAD_S + 3)


def test_two_hundred_idle_connections_beside_a_phone_are_not_noticed(door: Door) -> None:
    """More than there are threads: a connection takes one only once something comes in on it."""
    with ExitStack() as stack:
        lines = held(door, stack, 200)
        assert len(lines) > 4 * THREADS
        assert longest_of(door) < AT_ONCE_S
        assert wait_until_closed(lines[0], patience.IDLE_S + 3)


def test_idle_connections_above_the_limit_are_closed_the_oldest_first(door: Door) -> None:
    with ExitStack() as stack:
        lines = held(door, stack, patience.MOST_OPEN + 60)
        assert wait_until_closed(lines[0], 3)
        assert longest_of(door, 3) < AT_ONCE_S


def test_half_handshakes_in_every_thread_are_let_go_for_who_speaks(door: Door) -> None:
    with ExitStack() as stack:
        held(door, stack, THREADS + 20, bytes.fromhex("16030102000100"))
        time.sleep(0.3)
        began = time.monotonic()
        assert door.ask("/api/who")[0] == 200
        assert time.monotonic() - began < 3 * (patience.WHEN_FULL_S + 0.6)


def test_slow_bodies_cannot_hold_all_threads(door: Door) -> None:
    """Each says that 1,000 bytes come, and sends one now and then."""
    with ExitStack() as stack:
        lines = []
        for _ in range(THREADS + 10):
            line = stack.enter_context(door.line())
            head = f"POST /api/pair HTTP/1.1\r\nHost: {door.facts.name}\r\nContent-Type: application/json\r\n"
            line.sendall(f"{head}Content-Length: 1000\r\n\r\n{{".encode())
            lines.append(line)
        for _ in range(3):
            for line in lines:
                try:
                    line.sendall(b" ")
                except OSError:
                    pass  # let go already
            time.sleep(0.1)
        began = time.monotonic()
        assert door.ask("/api/who")[0] == 200
        assert time.monotonic() - began < 3 * (patience.WHEN_FULL_S + 0.6)


def test_headers_that_trickle_in_end_after_a_fixed_time(door: Door) -> None:
    """A timeout for each read alone would start anew with every byte."""
    with door.line() as line:
        line.settimeout(0.5)
        line.sendall(b"GET /api/who HTTP/1.1\r\n")
        began, ended = time.monotonic(), None
        while ended is None and time.monotonic() - began < patience.HEAD_S + 5:
            try:
                line.sendall(b"x")
                if line.recv(1000):
                    ended = time.monotonic() - began
            except TimeoutError:
                continue
            except OSError:
                ended = time.monotonic() - began
    assert ended is not None
    assert patience.HEAD_S - 1 < ended < patience.HEAD_S + 3


def test_one_slow_body_among_free_threads_is_given_its_time(door: Door) -> None:
    """A phone at the edge of the network is slow too; nobody waits for it, so it is let be."""
    body = b'{"code": "123456", "name": "slow", "device": null}'
    with door.line() as line:
        head = f"POST /api/pair HTTP/1.1\r\nHost: {door.facts.name}\r\nContent-Type: application/json\r\n"
        line.sendall(f"{head}Content-Length: {len(body)}\r\nConnection: close\r\n\r\n".encode())
        for at in range(0, len(body), 10):
            time.sleep(2 * patience.WHEN_FULL_S / 3)
            line.sendall(body[at : at + 10])
        answer = b"".join(iter(lambda: line.recv(4096), b""))
    assert answer.startswith(b"HTTP/1.1 403"), answer[:200]
    assert b"code_not_taken" in answer


def test_many_requests_in_one_packet_are_all_answered(door: Door) -> None:
    """What TLS has unpacked already is not waited for on the socket."""
    one = f"GET /api/who HTTP/1.1\r\nHost: {door.facts.name}\r\n\r\n".encode()
    with door.line() as line:
        line.settimeout(5)
        line.sendall(one * 150)
        heard = b""
        while heard.count(b"HTTP/1.1 200") < 150:
            some = line.recv(65536)
            assert some, heard[-200:]
            heard += some


def test_plain_http_at_the_tls_door_is_sent_to_the_page_that_explains(door: Door) -> None:
    status, headers, _ = door.ask_plain("/", door.port)
    assert status == 307
    assert headers["Location"] == f"http://{HOST}:{door.trust_port}/trust"


def test_garbage_at_the_tls_door_ends_that_connection_only(door: Door) -> None:
    for garbage in (b"\x16\x03\x01\x00\x05hello", b"\x00" * 500, b"\x80\x2e\x01\x03\x01", b"SSH-2.0-x\r\n"):
        with door.plain(5) as line:
            line.sendall(garbage)
            try:
                while line.recv(1000):
                    pass  # an alert, or a plain answer, then the end: a wait of 5 s fails the test
            except ConnectionResetError:
                pass
    assert longest_of(door, 3) < AT_ONCE_S
