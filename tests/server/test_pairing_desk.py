"""Pairing over the whole server in process: codes, cookies, roles, withdrawing; no secret is found."""

import io
import json
import logging
import os
import stat
import threading
from collections.abc import Iterator
from http.cookies import SimpleCookie
from pathlib import Path

import pytest

from easelside.errors import DiskFull
from easelside.forecast.csv_files import write_csv
from easelside.pairing import store
from easelside.pairing.desk import Desk, hashed
from tests.server.pairing_house import ADDRESS, COOKIE, Browser, House, stands_in


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    found = House(tmp_path / "workshop")
    yield found
    found.book.close()


def code_of(answer: object) -> tuple[int, str]:
    return answer.status_code, answer.json["code"]  # type: ignore[attr-defined]


def wrong(code: str) -> str:
    return f"{(int(code) + 1) % 1_000_000:06}"


def test_the_machine_s_own_browser_opens_at_once_as_maker(house: House) -> None:
    who = house.machine().who()
    assert (who["comes_in"], who["at_machine"], who["role"]) == (True, True, "maker")
    assert house.machine().exchange().status_code == 200


@pytest.mark.parametrize(
    "path",
    ["/api/health", "/api/soaks", "/api/exchange/snapshot", "/api/docs", "/api/openapi.json", "/api/events",
     "/api/phones", "/api/at_machines", "/api/nothing",
     "/api/past/soak/019aba0f-f7c0-7000-8000-000000000000"],
)  # fmt: skip
def test_an_unpaired_device_reads_nothing(house: House, path: str) -> None:
    assert code_of(house.phone().ask("GET", path)) == (403, "not_paired")


def test_an_unpaired_device_writes_nothing(house: House) -> None:
    assert code_of(house.phone().exchange()) == (403, "not_paired")
    assert code_of(house.phone().ask("POST", "/api/soaks", {})) == (403, "not_paired")
    assert code_of(house.phone().ask("POST", "/api/phones/codes", {})) == (403, "not_paired")


def test_an_unpaired_device_gets_the_screens_and_hears_that_it_is_not_paired(house: House) -> None:
    assert house.phone().ask("GET", "/").status_code in (200, 503)  # 503: the screens are not built here
    who = house.phone().who()
    assert (who["comes_in"], who["why"], who["role"]) == (False, "not_paired", None)


@pytest.mark.parametrize(
    "headers", [{"X_Forwarded_For": "192.168.7.20"}, {"Forwarded": "for=x"}, {"Via": "1.1 x"}]
)
def test_what_a_proxy_passes_on_is_not_at_the_machine(house: House, headers: dict[str, str]) -> None:
    assert code_of(house.machine().ask("GET", "/api/health", **headers)) == (403, "not_paired")


def test_six_figures_pair_a_phone_which_then_works(house: House) -> None:
    phone = house.phone()
    answer = phone.pair(house.machine().code()["figures"], name="Window phone")
    assert (answer.status_code, answer.json["role"], answer.json["name"]) == (201, "maker", "Window phone")
    assert phone.exchange().status_code == 200
    assert phone.who()["name"] == "Window phone"


def test_the_square_holds_the_address_with_a_code_of_80_bits_behind_the_hash(house: House) -> None:
    made = house.machine().code()
    code = made["link"].removeprefix(f"{ADDRESS}#/p/")
    assert len(code) == 16 and set(code) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZ234567")
    assert made["square"].startswith("<svg") and "viewBox" in made["square"]
    assert house.phone().pair(code).status_code == 201


def test_a_code_lets_in_one_device_in_either_spelling(house: House) -> None:
    made = house.machine().code()
    assert house.phone().pair(made["figures"]).status_code == 201
    assert code_of(house.phone().pair(made["figures"])) == (403, "code_not_taken")
    assert code_of(house.phone().pair(made["link"][-16:])) == (403, "code_not_taken")


def test_a_code_is_too_old_after_ten_minutes(house: House) -> None:
    made = house.machine().code()
    house.clock.forward(minutes=10)
    assert code_of(house.phone().pair(made["figures"])) == (403, "code_not_taken")
    assert house.machine().ask("GET", "/api/phones").json["invitation"] is None


def test_a_new_code_ends_the_one_before_it_and_so_does_a_restart(house: House) -> None:
    first, second = house.machine().code(), house.machine().code()
    assert first["figures"] == second["figures"] or house.phone().pair(first["link"][-16:]).status_code == 403
    house.clock.forward(seconds=1)
    house.open_again()
    assert code_of(house.phone().pair(second["figures"])) == (403, "code_not_taken")


def test_a_guess_right_after_a_wrong_one_is_not_looked_at(house: House) -> None:
    figures = house.machine().code()["figures"]
    assert code_of(house.phone().pair(wrong(figures))) == (403, "code_not_taken")
    soon = house.phone().pair(figures)
    assert (*code_of(soon), soon.headers["Retry-After"]) == (429, "guessed_too_soon", "1")
    house.clock.forward(seconds=1)
    assert house.phone().pair(figures).status_code == 201


def test_three_wrong_figures_end_them(house: House) -> None:
    machine = house.machine()
    figures = machine.code()["figures"]
    for left in (2, 1, 0):
        assert house.phone().pair(wrong(figures)).status_code == 403
        assert machine.ask("GET", "/api/phones").json["invitation"]["figures_left"] == left
        house.clock.forward(seconds=30)
    assert code_of(house.phone().pair(figures)) == (403, "code_not_taken")


def test_ten_thousand_guesses_from_twenty_connections_hit_nothing(house: House) -> None:
    """The right ones are among them, far on; each connection sends them once more at its end."""
    figures = house.machine().code()["figures"]
    desk_answers: list[tuple[int, str]] = []
    wrongs = iter([*(f"{n:06}" for n in range(5000) if f"{n:06}" != figures), figures,
                   *(f"{n:06}" for n in range(5000, 10_000))])  # fmt: skip
    lock = threading.Lock()

    def go_on(browser: Browser) -> None:
        while True:
            with lock:
                code = next(wrongs, None)
            if code is None:
                desk_answers.append(code_of(browser.pair(figures)))
                return
            answer = browser.pair(code)
            if answer.status_code == 201:
                desk_answers.append((201, "hit"))
            with lock:
                house.clock.forward(seconds=0.05)

    threads = [threading.Thread(target=go_on, args=(house.phone(f"192.168.7.{n + 2}"),)) for n in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(120)
    assert desk_answers == [(403, "code_not_taken")] * 20
    assert house.machine().devices() == []


def test_the_cookie_is_for_this_host_alone_and_no_script_reads_it(house: House) -> None:
    answer = house.phone().pair(house.machine().code()["figures"])
    cookie = SimpleCookie(answer.headers["Set-Cookie"])[COOKIE]
    assert len(answer.headers.getlist("Set-Cookie")) == 1
    assert (cookie["secure"], cookie["httponly"], cookie["samesite"]) == (True, True, "Lax")
    assert (cookie["path"], cookie["domain"], cookie["max-age"]) == ("/", "", str(400 * 24 * 3600))
    assert "partitioned" not in answer.headers["Set-Cookie"].lower()
    assert len(cookie.value) == 43  # 256 bits in base64url without its padding
    assert answer.headers["Cache-Control"] == "no-store"


def test_the_cookie_is_given_again_on_each_visit(house: House) -> None:
    phone = house.paired()
    token = phone.token()
    cookie = SimpleCookie(phone.ask("GET", "/api/who").headers["Set-Cookie"])[COOKIE]
    assert (cookie.value, cookie["max-age"]) == (token, str(400 * 24 * 3600))


def test_nobody_who_is_not_let_in_is_given_a_cookie(house: House) -> None:
    phone = house.phone()
    phone.client.set_cookie(COOKIE, "made-up", domain="bench-7f3a.local", secure=True)
    assert "Set-Cookie" not in phone.ask("GET", "/api/who").headers
    assert "Set-Cookie" not in house.phone().pair("000000").headers


def test_a_paired_phone_is_known_after_the_server_was_started_again(house: House) -> None:
    phone = house.paired(name="Tablet")
    house.open_again()
    assert phone.who()["name"] == "Tablet"
    assert phone.exchange().status_code == 200


def test_a_withdrawn_device_is_refused_with_a_code_of_its_own_and_known_as_such_after_a_restart(
    house: House,
) -> None:
    phone = house.paired()
    (device,) = house.machine().devices()
    assert house.machine().ask("DELETE", f"/api/phones/{device['id']}").status_code == 204
    for _ in range(2):
        assert code_of(phone.exchange()) == (403, "withdrawn")
        assert code_of(phone.ask("GET", "/api/events")) == (403, "withdrawn")
        assert phone.who()["why"] == "withdrawn"
        house.open_again()


@pytest.mark.parametrize("how", ["withdrawn", "made a hand"])
def test_a_code_that_a_device_made_ends_with_its_right_to_make_one(house: House, how: str) -> None:
    """Else it would come in again as somebody new."""
    phone, machine = house.paired(), house.machine()
    (device,) = machine.devices()
    code = phone.code()["figures"]
    if how == "withdrawn":
        machine.ask("DELETE", f"/api/phones/{device['id']}")
    else:
        machine.ask("PATCH", f"/api/phones/{device['id']}", {"role": "hand"})
    assert code_of(house.phone().pair(code)) == (403, "code_not_taken")


def test_a_device_that_is_withdrawn_while_it_asks_for_a_code_gets_none(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    phone = house.paired()
    (device,) = house.machine().devices()
    invite = Desk.invite

    def late(desk: Desk, *said: object) -> object:
        house.machine().ask("DELETE", f"/api/phones/{device['id']}")
        return invite(desk, *said)  # type: ignore[arg-type]

    monkeypatch.setattr(Desk, "invite", late)
    assert code_of(phone.ask("POST", "/api/phones/codes", {})) == (403, "makers_only")


def test_a_code_that_somebody_else_made_stands_on(house: House) -> None:
    house.paired()
    (device,) = house.machine().devices()
    code = house.machine().code()["figures"]
    house.machine().ask("DELETE", f"/api/phones/{device['id']}")
    assert house.phone().pair(code).status_code == 201


def test_a_device_stays_withdrawn_where_the_server_s_clock_begins_in_the_past(house: House) -> None:
    """A small server without a clock battery does so at every start."""
    phone = house.paired()
    (device,) = house.machine().devices()
    house.machine().ask("DELETE", f"/api/phones/{device['id']}")
    house.clock.forward(days=-300)
    house.open_again()
    assert code_of(phone.exchange()) == (403, "withdrawn")


def test_a_withdrawn_device_can_be_paired_again_in_its_old_place(house: House) -> None:
    phone = house.paired(name="Tablet")
    before = phone.token()
    (device,) = house.machine().devices()
    house.machine().ask("DELETE", f"/api/phones/{device['id']}")
    assert phone.pair(house.machine().code()["figures"]).status_code == 201
    (again,) = house.machine().devices()
    assert (again["id"], again["name"], again["withdrawn"]) == (device["id"], "Tablet", None)
    assert phone.token() != before


def test_a_withdrawn_device_taken_off_the_list_is_a_stranger(house: House) -> None:
    phone = house.paired()
    (device,) = house.machine().devices()
    for _ in range(2):
        assert house.machine().ask("DELETE", f"/api/phones/{device['id']}").status_code == 204
    assert code_of(phone.exchange()) == (403, "not_paired")
    assert code_of(house.machine().ask("DELETE", f"/api/phones/{device['id']}")) == (404, "unknown_device")


def test_a_hand_works_at_the_bench_and_does_not_look_after_the_house(house: House) -> None:
    maker, hand = house.paired(), house.paired("hand")
    (target,) = [one for one in maker.devices() if one["role"] == "maker"]
    assert hand.exchange().status_code == 200
    assert hand.ask("POST", "/api/soaks", {}).status_code == 201
    its = f"/api/phones/{target['id']}"
    for how, path, body in [
        ("GET", "/api/phones", None), ("POST", "/api/phones/codes", {}),
        ("DELETE", "/api/phones/codes", None), ("DELETE", its, None), ("DELETE", f"{its}/", None),
        ("PATCH", its, {"role": "hand"}), ("POST", "/api/calendar", {}),
    ]:  # fmt: skip
        assert code_of(hand.ask(how, path, body)) == (403, "makers_only"), path
    assert maker.exchange().status_code == 200


def test_a_paired_maker_makes_codes_too(house: House) -> None:
    maker = house.paired()
    assert house.phone().pair(maker.code("hand")["figures"]).json["role"] == "hand"


def test_a_device_is_named_given_another_role_and_told_when_it_was_last_seen(house: House) -> None:
    phone = house.paired(name="x")
    (device,) = house.machine().devices()
    house.clock.forward(minutes=7)
    phone.exchange()
    house.machine().ask("PATCH", f"/api/phones/{device['id']}", {"name": " Door\ttablet ", "role": "hand"})
    (after,) = house.machine().devices()
    assert (after["name"], after["role"]) == ("Door tablet", "hand")
    assert after["seen"] == house.book.now() != device["seen"]
    assert phone.who()["role"] == "hand"


def test_when_a_device_was_last_seen_outlives_a_restart_to_five_minutes(house: House) -> None:
    phone = house.paired()
    house.clock.forward(hours=3)
    phone.exchange()
    seen = house.book.now()
    house.open_again()
    assert house.machine().devices()[0]["seen"] == seen


def test_the_name_in_the_records_goes_before_the_one_it_was_paired_with(house: House) -> None:
    house.paired(name="Phone", device="phone-1")
    house.book.write("device", "phone-1", {"name": "Water jar"})
    assert house.machine().devices()[0]["name"] == "Water jar"


@pytest.mark.parametrize(
    ("headers", "status"),
    [({"Origin": "https://elsewhere.example"}, 403), ({"Origin": "null"}, 403),
     ({"Sec_Fetch_Site": "cross-site"}, 403),
     ({"Origin": "https://bench-7f3a.local:8443", "Sec_Fetch_Site": "same-origin"}, 201)],
)  # fmt: skip
def test_another_site_s_page_cannot_pair_through_this_browser(
    house: House, headers: dict[str, str], status: int
) -> None:
    figures = house.machine().code()["figures"]
    assert house.phone().ask("POST", "/api/pair", {"code": figures}, **headers).status_code == status


def test_another_site_s_page_cannot_listen_through_the_machine_s_browser(house: House) -> None:
    for headers in (
        {"Sec_Fetch_Site": "cross-site", "Sec_Fetch_Mode": "cors"},
        {"Origin": "https://x.example"},
    ):
        assert code_of(house.machine().ask("GET", "/api/events", **headers)) == (403, "foreign_origin")


def test_a_frame_in_another_site_s_page_takes_no_line_from_those_who_listen(house: House) -> None:
    framed = {"Sec_Fetch_Site": "cross-site", "Sec_Fetch_Mode": "navigate", "Sec_Fetch_Dest": "iframe"}
    assert house.machine().ask("GET", "/api/events?device=1", **framed).status_code == 403
    followed = {**framed, "Sec_Fetch_Dest": "document"}
    assert house.machine().ask("GET", "/api/health", **followed).status_code == 200


def test_a_page_in_the_clear_under_our_name_is_not_ours(house: House) -> None:
    """Whoever sits on the network can show such a page, and a browser may send our cookie with it."""
    phone = house.paired()
    ours, forged = (f"{scheme}://bench-7f3a.local:8443" for scheme in ("https", "http"))
    assert phone.ask("POST", "/api/soaks", {"pieces": 6}, Origin=ours).status_code == 201
    assert phone.ask("POST", "/api/soaks", {"pieces": 6}, Origin=forged).status_code == 403
    machine = house.machine()
    assert machine.ask("POST", "/api/soaks", {}, Origin="http://localhost:8765").status_code == 201
    assert machine.ask("POST", "/api/soaks", {}, Origin="https://localhost:8765").status_code == 403


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "localhost", "127.0.0.1", "localhost.elsewhere.example"]
)
def test_a_foreign_host_is_refused_at_the_phones_door_before_any_pairing(house: House, host: str) -> None:
    phone = house.paired()
    assert phone.ask("GET", "/api/health", Host=host).status_code == 421
    assert phone.ask("POST", "/api/pair", {"code": "428117"}, Host=host).status_code == 421


def test_a_foreign_host_is_refused_at_the_machine_itself(house: House) -> None:
    assert house.machine().ask("GET", "/api/who", Host="rebound.example").status_code == 421


def test_a_name_that_others_know_too_makes_nobody_the_machine_itself(house: House) -> None:
    assert code_of(house.machine().ask("GET", "/api/health", Host="bench")) == (403, "not_paired")


@pytest.mark.parametrize("body", [{}, [], {"code": 428117}, {"code": None}, {"code": {"a": 1}}, "428117"])
def test_a_pairing_that_says_no_code_is_malformed_and_no_guess(house: House, body: object) -> None:
    machine = house.machine()
    machine.code()
    assert code_of(house.phone().ask("POST", "/api/pair", body)) == (400, "malformed")
    assert machine.ask("GET", "/api/phones").json["invitation"]["figures_left"] == 3


def test_where_the_disk_is_full_nobody_is_paired_and_the_code_still_stands(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    figures = house.machine().code()["figures"]

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(store.os, "fsync", full)
    assert code_of(house.phone().pair(figures)) == (507, DiskFull.code)
    assert house.machine().devices() == []
    monkeypatch.undo()
    assert house.phone().pair(figures).status_code == 201


def test_a_torn_list_of_devices_is_set_aside_and_lets_nobody_in(house: House) -> None:
    phone = house.paired()
    file = house.folder / store.FILE
    file.write_bytes(file.read_bytes()[:-30])
    house.open_again()
    assert code_of(phone.exchange()) == (403, "not_paired")
    assert (house.folder / f"{store.FILE}.unreadable").exists()
    assert house.machine().exchange().status_code == 200


@pytest.mark.skipif(os.name == "nt", reason="rights are not told by these bits there")
def test_the_list_of_devices_is_for_its_owner_only(house: House) -> None:
    before = os.umask(0)
    try:
        house.paired()
    finally:
        os.umask(before)
    assert stat.S_IMODE((house.folder / store.FILE).stat().st_mode) == 0o600


def test_no_secret_lies_in_the_folder_the_log_or_an_export_after_a_day_s_work(
    house: House, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    machine = house.machine()
    made = machine.code()
    phone = house.phone()
    phone.pair(wrong(made["figures"]))
    house.clock.forward(seconds=2)
    answer = phone.pair(made["link"][-16:], name="Phone", device="phone-1")
    unused = machine.code("hand")
    phone.exchange("phone-1")
    phone.ask("POST", "/api/soaks", {})
    house.phone().ask("GET", f"/api/pair/{unused['link'][-16:]}")
    house.book.write("note", "n1", {"text": "x"})
    house.book.backup()
    whole = io.BytesIO()
    house.book.export_json(whole)
    (tmp_path / "whole.json").write_bytes(whole.getvalue())
    write_csv(house.book, tmp_path / "tables", lambda _: None)
    answers = json.dumps([machine.devices(), phone.who(), machine.ask("GET", "/api/phones").json])

    token = phone.token()
    secrets = [token, made["figures"], made["link"][-16:], unused["figures"], unused["link"][-16:]]
    written = [file.read_bytes() for file in tmp_path.rglob("*") if file.is_file()]
    assert len(written) > 8
    for secret in secrets:
        assert not [place for place in written if stands_in(secret, place)]
        assert not stands_in(secret, caplog.text.encode())
        assert not stands_in(secret, (answers + answer.text).encode())
    kept = [place for place in written if hashed(token).encode() in place]
    assert kept == [(house.folder / store.FILE).read_bytes()]
    assert hashed(token) not in answers
