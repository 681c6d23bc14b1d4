"""A new certificate under a running server; clients that must refuse; doors that open and shut."""

import datetime
import http.client
import json
import socket
import ssl
import threading
from pathlib import Path

import pytest
from cryptography import x509

from easelside.app import create_app
from easelside.clock import FakeClock, SystemClock
from easelside.errors import CertificateUnusable, PortTaken
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.trust.authority import make_authority, make_paper
from easelside.trust.model import Names
from easelside.web import listening
from easelside.web.listening import Listening
from easelside.web.papers import OwnPapers
from tests.faults_catalogue.phones_door import HOST, Door, open_door
from tests.faults_catalogue.running import free_port


def shown(door: Door) -> x509.Certificate:
    """The certificate of a fresh handshake, as a phone that trusts the workshop gets it."""
    with door.line() as line:
        der = line.getpeercert(binary_form=True)
    assert der
    return x509.load_der_x509_certificate(der)


def asked(line: ssl.SSLSocket, name: str) -> int:
    """The status of one request on a line that stays open."""
    line.sendall(f"GET /probe HTTP/1.1\r\nHost: {name}\r\n\r\n".encode())
    answer = http.client.HTTPResponse(line)
    answer.begin()
    assert b"workshop" in answer.read()
    return answer.status


class RealThenMoved(FakeClock):
    """Begins now, as the TLS library reads the machine's own clock; patience runs as it does."""

    def __init__(self) -> None:
        super().__init__(SystemClock().now())

    def monotonic_s(self) -> float:
        return SystemClock().monotonic_s()


def test_a_certificate_made_new_is_shown_to_the_next_and_open_connections_go_on(tmp_path: Path) -> None:
    clock = RealThenMoved()
    with open_door(tmp_path / "workshop", clock) as door, door.line() as open_line:
        before = shown(door)
        assert asked(open_line, door.facts.name) == 200
        clock.set(clock.now() - datetime.timedelta(days=2))  # the clock was wrong at the start, and put right
        door.listening.look()
        after = shown(door)
        assert after.serial_number != before.serial_number
        assert after.issuer == before.issuer
        assert asked(open_line, door.facts.name) == 200
        door.listening.look()
        assert shown(door).serial_number == after.serial_number


def test_a_restarted_server_is_trusted_by_the_phones_that_it_had(tmp_path: Path) -> None:
    with open_door(tmp_path / "workshop") as door:
        phone = door.trusting()
    with open_door(tmp_path / "workshop") as door, door.line(context=phone) as line:
        assert asked(line, door.facts.name) == 200


def test_every_name_and_address_of_the_workshop_is_good(tmp_path: Path) -> None:
    with open_door(tmp_path / "workshop") as door:
        for name in (door.facts.name, "localhost", HOST):
            with door.line(name) as line:
                assert line.version() in ("TLSv1.3", "TLSv1.2")


def test_a_phone_that_does_not_trust_the_workshop_gets_no_further(tmp_path: Path) -> None:
    with open_door(tmp_path / "workshop") as door:
        with pytest.raises(ssl.SSLCertVerificationError, match=r"unable to get local issuer|self-signed"):
            door.line(context=ssl.create_default_context())
        assert door.ask("/probe")[0] == 200


def test_a_name_that_is_not_the_workshops_is_refused(tmp_path: Path) -> None:
    with (
        open_door(tmp_path / "workshop") as door,
        pytest.raises(ssl.SSLCertVerificationError, match="mismatch"),
    ):
        door.line("bench-0000.local")


@pytest.fixture
def own_pair(tmp_path: Path) -> tuple[Path, Path, bytes]:
    """A maker's own certificate and key in two files, and what signed it."""
    authority = make_authority(SystemClock().now(), "")
    names = Names(frozenset({"reeds.internal"}), frozenset())
    pem = make_paper(authority, names, SystemClock().now())
    key, _, certificate = pem.partition(b"-----BEGIN CERTIFICATE")
    files = tmp_path / "own.crt", tmp_path / "own.key"
    files[0].write_bytes(b"-----BEGIN CERTIFICATE" + certificate)
    files[1].write_bytes(key)
    return *files, authority.der


def own_settings(folder: Path, certificate: Path | None, key: Path | None) -> Settings:
    return Settings(
        folder,
        HOST,
        0,
        phones=True,
        phones_host=HOST,
        phones_port=0,
        trust_port=0,
        certificate=certificate,
        key=key,
    )


def test_a_certificate_of_ones_own_is_shown_under_its_own_name(
    tmp_path: Path, own_pair: tuple[Path, Path, bytes]
) -> None:
    certificate, key, signer = own_pair
    (tmp_path / "workshop").mkdir()
    settings = own_settings(tmp_path / "workshop", certificate, key)
    listening = Listening(settings, SystemClock())
    with listening.running(create_app(settings, way=listening)):
        facts = listening.facts()
        assert facts is not None
        assert (facts.name, facts.trust_port, facts.certificate) == ("reeds.internal", None, None)
        assert listening.address == f"https://reeds.internal:{facts.port}/"
        assert "reeds.internal" in listening.hosts("phones")
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(cadata=signer)
        with (
            socket.create_connection((HOST, facts.port), 10) as plain,
            context.wrap_socket(plain, server_hostname="reeds.internal") as line,
        ):
            assert asked(line, "reeds.internal") == 200
    assert not (tmp_path / "workshop/authority.pem").exists()


def test_half_a_pair_and_a_pair_that_does_not_belong_together_are_told(
    tmp_path: Path, own_pair: tuple[Path, Path, bytes]
) -> None:
    certificate, key, _ = own_pair
    with pytest.raises(CertificateUnusable):
        Listening(own_settings(tmp_path, certificate, None), SystemClock())
    other = make_paper(make_authority(SystemClock().now(), ""), Names(frozenset({"a.local"}), frozenset()),
                       SystemClock().now())  # fmt: skip
    (tmp_path / "other.key").write_bytes(other.partition(b"-----BEGIN CERTIFICATE")[0])
    for wrong in (
        (certificate, tmp_path / "other.key"),
        (certificate, tmp_path / "none"),
        (key, certificate),
    ):
        with pytest.raises(CertificateUnusable):
            OwnPapers(*wrong)


def test_the_switch_opens_and_shuts_the_phones_door_and_is_kept(tmp_path: Path) -> None:
    folder = tmp_path / "workshop"
    with open_door(folder, phones=True) as door:
        said = door.ask_plain("/api/way_in", door.own_port, "PUT", {"on": False})
        assert (said[0], json.loads(said[2])["on"]) == (200, False)
        with pytest.raises(ConnectionRefusedError):
            door.plain()
        with pytest.raises(ConnectionRefusedError):
            door.ask_plain("/trust")
        said = door.ask_plain("/api/way_in", door.own_port, "PUT", {"on": True})
        told = json.loads(said[2])
        assert told["on"] is True
        assert told["begins"][0]["address"].endswith("/trust")
        assert told["begins"][0]["square"].startswith("<svg")
    settings = Settings(folder, HOST, 0)
    assert Listening(settings, SystemClock()).wants_phones() is True


def test_a_door_that_is_shut_cuts_the_open_lines_of_those_inside(tmp_path: Path) -> None:
    with open_door(tmp_path / "workshop") as door:
        invited = json.loads(door.ask_plain("/api/phones/codes", door.own_port, "POST", {"role": "hand"})[2])
        wanted = {"code": invited["figures"], "name": "tablet", "device": None}
        status, headers, _ = door.ask("/api/pair", "POST", wanted)
        assert status == 201
        token = headers["Set-Cookie"].partition(";")[0]
        with door.line() as line:
            head = f"GET /api/events HTTP/1.1\r\nHost: {door.facts.name}\r\nCookie: {token}\r\n\r\n"
            line.sendall(head.encode())
            heard = b""
            line.settimeout(5)
            while b"event: now" not in heard:
                heard += line.recv(4096)
            began = SystemClock().monotonic_s()
            assert door.ask_plain("/api/way_in", door.own_port, "PUT", {"on": False})[0] == 200
            assert SystemClock().monotonic_s() - began < 3
            rest = b"".join(iter(lambda: line.recv(4096), b""))  # comes to an end
            assert b"event: now" not in rest


def test_nobody_comes_in_for_phones_before_it_was_switched_on(tmp_path: Path) -> None:
    assert Listening(Settings(tmp_path, HOST, 0), SystemClock()).wants_phones() is False


def test_the_switch_is_not_for_phones(tmp_path: Path) -> None:
    with open_door(tmp_path / "workshop") as door:
        assert door.ask("/api/way_in", "PUT", {"on": False})[0] == 403
        assert door.ask("/probe")[0] == 200


def test_the_doors_know_only_their_own_names(tmp_path: Path) -> None:
    """Another name is how a hostile page reaches into a house (DNS rebinding)."""
    with open_door(tmp_path / "workshop") as door:
        for name in (door.facts.name, HOST, "localhost"):
            assert door.ask("/api/who", headers={"Host": f"{name}:{door.port}"})[0] == 200
        for name in ("evil.example", "192.168.77.77", "bench-0000.local"):
            assert door.ask("/api/who", headers={"Host": name})[0] == 421


def test_a_door_that_is_taken_is_named_and_leaves_none_half_open(tmp_path: Path) -> None:
    with open_door(tmp_path / "one") as first:
        with (
            pytest.raises(PortTaken, match=str(first.port)),
            open_door(tmp_path / "two", phones_port=first.port),
        ):
            raise AssertionError("it opened")
        assert first.ask("/probe")[0] == 200


def test_a_switch_that_was_left_on_keeps_nobody_from_the_bench(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    """The port was taken by another program since; or the authority's file is torn."""
    folder = tmp_path / "workshop"
    folder.mkdir()
    (folder / "phones_on").touch()
    (folder / "authority.pem").write_bytes(b"torn")
    settings = Settings(folder, HOST, 0, phones_host=HOST, phones_port=0, trust_port=0)
    listening = Listening(settings, SystemClock())
    with listening.running(create_app(settings, way=listening)):
        assert listening.on is False
    assert "authority.pem" in caplog.text


def test_a_socket_handed_over_by_a_service_manager_never_becomes_a_door(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The machine's own door takes everybody for the maker: it must be on loopback whoever started us."""
    monkeypatch.setenv("LISTEN_PID", "1")
    with open_door(tmp_path / "workshop") as door:
        assert len({door.port, door.trust_port, door.own_port}) == 3
        assert door.ask_plain("/api/who", door.own_port)[0] == 200


def test_behind_a_proxy_only_its_name_is_known_and_everybody_must_be_paired(tmp_path: Path) -> None:
    port = free_port()
    with open_door(tmp_path / "workshop", behind_proxy="reeds.example", proxy_port=port) as door:
        assert door.listening.address == "https://reeds.example/"
        for host, status in (("reeds.example", 403), ("localhost", 421), (HOST, 421)):
            line = http.client.HTTPConnection(HOST, port, timeout=10)
            line.request("GET", "/api/phones", headers={"Host": host})
            assert line.getresponse().status == status
            line.close()
        assert door.ask_plain("/api/phones", door.own_port)[0] == 200


def test_whoever_comes_from_the_open_internet_hears_nothing_at_all(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A machine may have a public address beside its own network's."""
    monkeypatch.setattr(listening, "is_near", lambda _peer: False)
    with open_door(tmp_path / "workshop") as door:
        for ask in (lambda: door.ask("/probe"), lambda: door.ask_plain("/trust")):
            with pytest.raises((OSError, http.client.HTTPException)):
                ask()
        assert door.ask_plain("/api/health", door.own_port)[0] == 200


def test_the_machine_s_own_door_may_be_at_its_ipv6_loopback(tmp_path: Path) -> None:
    try:
        socket.create_server(("::1", 0), family=socket.AF_INET6).close()
    except OSError:
        pytest.skip("this machine has no IPv6")
    settings = Settings(tmp_path / "workshop", "::1", 0)
    way = listening.Listening(settings, SystemClock())
    with Logbook.open(tmp_path / "workshop", SystemClock(), durable=False) as book:
        app = create_app(settings, SystemClock(), book, way=way)
        with way.running(app) as own:
            threading.Thread(target=own.serve, daemon=True).start()
            assert way.own_address == f"http://[::1]:{own.bind_addr[1]}/"
            here = http.client.HTTPConnection("::1", own.bind_addr[1], timeout=10)
            here.request("GET", "/api/who")
            assert json.loads(here.getresponse().read())["at_machine"] is True
            here.request("GET", "/api/who", headers={"Host": "evil.example"})
            assert here.getresponse().status == 421
            here.close()
