"""The open lines on which changes are told, and who is at which machine."""

import json
import threading
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from easelside.errors import NoLineFree
from easelside.pairing.streams import Line, Lines
from easelside.units import write_instant
from easelside.web.serving import AT_CLOSING, FOR_EXCHANGES, THREADS
from tests.server.pairing_house import Browser, House

ID = "019aba0f-f7c0-7000-8000-{:012}"


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    found = House(tmp_path / "workshop")
    yield found
    found.app.extensions[AT_CLOSING]()
    found.book.close()


class Listener:
    """Reads a line in a thread of its own, as a browser does; `heard` holds (event, data)."""

    def __init__(self, browser: Browser, device: str) -> None:
        self.answer = browser.ask("GET", f"/api/events?device={device}")
        assert self.answer.status_code == 200
        self.heard: list[tuple[str, Any]] = []
        self.is_over = False
        self._thread = threading.Thread(target=self._listen, daemon=True)
        self._thread.start()
        self.wait_for("now")

    def _listen(self) -> None:
        for part in self.answer.iter_encoded():
            lines = dict(line.split(": ", 1) for line in part.decode().split("\n") if ": " in line)
            if "event" in lines:
                self.heard.append((lines["event"], json.loads(lines["data"])))
        self.answer.close()
        self.is_over = True

    def named(self, name: str) -> list[tuple[str, Any]]:
        return [one for one in self.heard if one[0] == name]

    def wait_for(self, name: str, count: int = 1) -> tuple[str, Any]:
        until = time.monotonic() + 30
        while len(self.named(name)) < count:
            assert time.monotonic() < until, f"{name} was not heard {count} times: {self.heard}"
            time.sleep(0.002)
        return self.named(name)[count - 1]

    def wait_until_over(self) -> None:
        self._thread.join(30)
        assert self.is_over


def change(kind: str, record: int, device: str, n: int, made: str, **set: object) -> dict[str, Any]:
    return {"id": ID.format(n), "v": 1, "kind": kind, "record": ID.format(record), "device": device,
            "made": made, "set": set, "saw": dict.fromkeys(set), "back": False}  # fmt: skip


def put_in(house: House, browser: Browser, device: str, n: int) -> None:
    sent = browser.exchange(device, [change("soak", 500 + n, device, n, house.book.now(), pieces=6)])
    assert sent.json["accepted"], sent.text


def test_a_change_on_one_device_is_told_to_the_others_and_not_to_itself(house: House) -> None:
    phone, tablet = house.paired(), house.paired()
    on_phone, on_tablet = Listener(phone, "phone"), Listener(tablet, "tablet")
    on_machine = Listener(house.machine(), "kiosk")
    put_in(house, phone, "phone", 1)
    for other in (on_tablet, on_machine):
        other.wait_for("changed")
    put_in(house, tablet, "tablet", 2)
    on_phone.wait_for("changed")
    assert len(on_phone.named("changed")) == 1


def test_a_record_written_over_rest_is_told_too(house: House) -> None:
    listening = Listener(house.paired(), "phone")
    assert house.machine().ask("POST", "/api/soaks", {}).status_code == 201
    listening.wait_for("changed")


def test_an_exchange_that_brings_nothing_is_told_to_nobody(house: House) -> None:
    listening = Listener(house.paired(), "phone")
    house.machine().exchange("kiosk")
    put_in(house, house.machine(), "kiosk", 1)
    listening.wait_for("changed")
    assert len(listening.named("changed")) == 1


def test_a_second_line_of_a_device_ends_its_first_and_says_why(house: House) -> None:
    phone = house.paired()
    first = Listener(phone, "phone")
    second = Listener(phone, "phone-in-another-store")
    first.wait_until_over()
    assert first.heard[-1][0] == "replaced"
    put_in(house, house.machine(), "kiosk", 1)
    second.wait_for("changed")


def test_withdrawing_a_device_ends_its_line(house: House) -> None:
    phone = house.paired()
    listening = Listener(phone, "phone")
    (device,) = house.machine().devices()
    house.machine().ask("DELETE", f"/api/phones/{device['id']}")
    listening.wait_until_over()
    assert listening.heard[-1][0] == "ended"


def test_a_line_that_was_asked_for_just_before_its_device_was_withdrawn_says_nothing(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The two cross: the gate let it in, then a maker withdrew it, then the line was opened."""
    phone = house.paired()
    (device,) = house.machine().devices()
    opened = Lines.open

    def late(lines: Lines, *said: Any) -> Any:
        house.machine().ask("DELETE", f"/api/phones/{device['id']}")
        return opened(lines, *said)

    monkeypatch.setattr(Lines, "open", late)
    answer = phone.ask("GET", "/api/events?device=phone")
    assert b"".join(answer.iter_encoded()) == b"event: ended\ndata: null\n\n"


def test_there_are_never_more_lines_than_leave_threads_for_the_exchanges() -> None:
    lines = Lines(THREADS - FOR_EXCHANGES)
    kept = [lines.open(f"d{n}", "", lambda: None) for n in range(THREADS - FOR_EXCHANGES)]
    with pytest.raises(NoLineFree):
        lines.open("one more", "", lambda: None)
    lines.open("d0", "", lambda: None)  # a device that has one may open it anew
    kept[1].close()
    lines.open("one more", "", lambda: None)
    assert lines.count() == THREADS - FOR_EXCHANGES


def test_whoever_finds_no_line_is_told_to_ask_by_itself(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> Line:
        raise NoLineFree

    monkeypatch.setattr(Lines, "open", full)
    answer = house.machine().ask("GET", "/api/events")
    assert (answer.status_code, answer.json["code"]) == (503, "no_line_free")


def test_asking_for_the_head_of_the_line_holds_no_place(house: House) -> None:
    for n in range(THREADS):
        assert house.machine().ask("HEAD", f"/api/events?device=d{n}").status_code == 200
    Listener(house.machine(), "d")


def test_when_the_server_stops_no_line_holds_it_up(house: House) -> None:
    listening = Listener(house.machine(), "kiosk")
    house.app.extensions[AT_CLOSING]()
    listening.wait_until_over()


def test_who_listens_at_another_door_comes_back_after_one_was_shut(house: House) -> None:
    house.app.extensions[AT_CLOSING]()
    listening = Listener(house.machine(), "kiosk")
    put_in(house, house.paired(), "phone", 1)
    listening.wait_for("changed")


def test_many_changes_while_nobody_reads_are_told_once() -> None:
    line = Lines(3).open("d", "", lambda: {"at": []})
    next(line)
    for _ in range(50):
        line.tell()
    assert next(line).startswith(b"event: changed\n")
    line.end("ended")
    assert next(line).startswith(b"event: ended\n")
    with pytest.raises(StopIteration):
        next(line)


def sit_down(house: House, browser: Browser, device: str, session: int, machine: str, n: int) -> None:
    now = house.book.now()
    begun = change("session", session, device, n, now, machine=machine, began=now)
    assert browser.exchange(device, [begun]).json["accepted"]


def at_machines(browser: Browser) -> list[tuple[str, str, str]]:
    return [
        (one["machine"], one["device"], one["at"])
        for one in browser.ask("GET", "/api/at_machines").json["at"]
    ]


def test_it_is_seen_who_is_at_which_machine(house: House) -> None:
    phone, tablet = house.paired(), house.paired()
    sit_down(house, tablet, "tablet", 900, "door", 1)
    earlier = house.book.now()
    house.clock.forward(minutes=3)
    sit_down(house, phone, "phone", 901, "window", 2)
    now = house.book.now()
    assert at_machines(phone) == [("window", "phone", now), ("door", "tablet", earlier)]


def test_a_piece_moves_the_moment_and_a_closed_session_takes_its_device_away(house: House) -> None:
    phone = house.paired()
    sit_down(house, phone, "phone", 900, "door", 1)
    house.clock.forward(minutes=8)
    phone.exchange(
        "phone", [change("piece", 700, "phone", 2, house.book.now(), session=ID.format(900), number=1)]
    )
    assert at_machines(phone) == [("door", "phone", house.book.now())]
    house.clock.forward(minutes=1)
    phone.exchange("phone", [change("piece", 700, "phone", 3, house.book.now(), note="nick")])
    assert at_machines(phone) == [("door", "phone", house.book.now())]
    house.book.write("session", ID.format(900), {"ended": house.book.now()})
    assert at_machines(phone) == []


def test_who_is_at_a_machine_is_known_after_a_restart_and_forgotten_over_night(house: House) -> None:
    phone = house.paired()
    sit_down(house, phone, "phone", 900, "door", 1)
    began = house.book.now()
    house.open_again()
    assert at_machines(phone) == [("door", "phone", began)]
    house.clock.forward(hours=13)
    assert at_machines(phone) == []


def test_the_line_brings_who_is_where_with_each_change(house: House) -> None:
    listening = Listener(house.machine(), "kiosk")
    assert listening.named("now")[0][1] == {"at": []}
    sit_down(house, house.paired(), "phone", 900, "door", 1)
    told = listening.wait_for("changed")[1]["at"]
    assert [(one["machine"], one["device"]) for one in told] == [("door", "phone")]


def test_an_old_change_that_arrives_late_does_not_put_its_device_at_the_machine_now(house: House) -> None:
    phone = house.paired()
    sit_down(house, phone, "phone", 900, "door", 1)
    old = write_instant(house.clock.now() - timedelta(hours=20))
    late = change("piece", 700, "tablet", 2, old, session=ID.format(900), number=1)
    house.paired().exchange("tablet", [late])
    assert [device for _, device, _ in at_machines(phone)] == ["phone"]
