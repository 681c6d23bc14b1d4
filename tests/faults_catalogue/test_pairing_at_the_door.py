"""Pairing through the real doors, the plain one and the TLS one for phones; what is left on the disk."""

import http.client
import json
import logging
import threading
from http.cookies import SimpleCookie
from pathlib import Path
from typing import Any

import pytest

from easelside.pairing.desk import hashed
from tests.faults_catalogue.phones_door import HOST, Door, open_door
from tests.server.pairing_house import stands_in

COOKIE = "__Host-dev"
GUESSERS = 20


@pytest.fixture
def door(tmp_path: Path) -> Any:
    with open_door(tmp_path / "workshop") as opened:
        yield opened


def at_machine(door: Door, how: str, path: str, body: object = None) -> Any:
    status, _, text = door.ask_plain(path, door.own_port, how, body)
    assert status < 300, text
    return json.loads(text) if text else None


def pair(door: Door, code: str) -> tuple[int, str | None]:
    status, headers, _ = door.ask("/api/pair", "POST", {"code": code})
    cookie = SimpleCookie(headers.get("Set-Cookie", "")).get(COOKIE)
    return status, cookie and cookie.value


def asked(door: Door, path: str, token: str | None, **how: Any) -> tuple[int, Any]:
    status, _, text = door.ask(path, headers={"Cookie": f"{COOKIE}={token}"} if token else {}, **how)
    return status, json.loads(text)


def test_a_phone_pairs_over_tls_by_the_square_works_and_is_withdrawn(door: Door) -> None:
    status, said = asked(door, "/api/health", None)
    assert (status, said["code"]) == (403, "not_paired")
    made = at_machine(door, "POST", "/api/phones/codes", {"role": "hand"})
    assert made["link"].startswith(f"https://{door.facts.name}:{door.port}/#/p/")
    status, token = pair(door, made["link"][-16:])
    assert (status, token and len(token)) == (201, 43)
    assert asked(door, "/api/health", token)[0] == 200
    status, said = asked(door, "/api/phones", token)
    assert (status, said["code"]) == (403, "makers_only")
    status, said = asked(door, "/api/way_in", token, how="PUT", body={"on": False})
    assert status == 403
    (device,) = at_machine(door, "GET", "/api/phones")["devices"]
    at_machine(door, "DELETE", f"/api/phones/{device['id']}")
    status, said = asked(door, "/api/health", token)
    assert (status, said["code"]) == (403, "withdrawn")


def test_the_phones_door_does_not_take_loopback_for_the_machine(door: Door) -> None:
    """The test's own connection comes from 127.0.0.1, and says whatever it likes."""
    for host in (f"{door.facts.name}:{door.port}", "localhost", "127.0.0.1"):
        status, _, text = door.ask("/api/phones", headers={"Host": host})
        assert (status, json.loads(text)["code"]) in {(403, "not_paired"), (421, "foreign_host")}


def test_a_change_at_the_machine_is_heard_over_tls(door: Door) -> None:
    _, token = pair(door, at_machine(door, "POST", "/api/phones/codes", {})["figures"])
    line = http.client.HTTPSConnection(HOST, door.port, timeout=8)
    line.sock = door.line()
    headers = {"Host": f"{door.facts.name}:{door.port}", "Cookie": f"{COOKIE}={token}"}
    line.request("GET", "/api/events?device=phone", headers=headers)
    answer = line.getresponse()
    assert answer.readline() == b"retry: 3000\n" and answer.readline() == b"event: now\n"
    assert answer.readline().startswith(b"data: ") and answer.readline() == b"\n"
    at_machine(door, "POST", "/api/soaks", {"pieces": 6})
    assert answer.readline() == b"event: changed\n"
    line.close()


def test_guessing_over_twenty_tls_connections_ends_the_figures_and_hits_nothing(door: Door) -> None:
    figures = at_machine(door, "POST", "/api/phones/codes", {})["figures"]
    wrong = iter([f"{n:06}" for n in range(400) if f"{n:06}" != figures])
    lock, heard = threading.Lock(), list[int]()

    def guess() -> None:
        while True:
            with lock:
                code = next(wrong, None)
            if code is None:
                return
            status, _ = pair(door, code)
            with lock:
                heard.append(status)

    guessers = [threading.Thread(target=guess) for _ in range(GUESSERS)]
    for one in guessers:
        one.start()
    for one in guessers:
        one.join(60)
    assert set(heard) <= {403, 429} and len(heard) >= 399
    assert at_machine(door, "GET", "/api/phones")["devices"] == []


def test_no_secret_is_in_the_folder_or_the_log_after_a_run_through_the_doors(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    folder = tmp_path / "workshop"
    with open_door(folder) as door:
        used = at_machine(door, "POST", "/api/phones/codes", {})
        _, token = pair(door, used["link"][-16:])
        assert token
        unused = at_machine(door, "POST", "/api/phones/codes", {})
        pair(door, "ABCDEFGH2345QRST")
        assert asked(door, "/api/soaks", token, how="POST", body={"pieces": 6})[0] == 201
        asked(door, "/api/no/such/place", token)
        door.ask_plain("/trust")
        lying = [(file, file.read_bytes()) for file in folder.rglob("*") if file.is_file()]
    lying += [(file, file.read_bytes()) for file in folder.rglob("*") if file.is_file()]
    secrets = [token, *(made[what] for made in (used, unused) for what in ("figures", "link"))]
    secrets += [made["link"][-16:] for made in (used, unused)]
    for secret in secrets:
        assert not [file.name for file, data in lying if stands_in(secret, data)]
        assert not stands_in(secret, caplog.text.encode())
    assert {file.name for file, data in lying if hashed(token).encode() in data} == {"paired.json"}
