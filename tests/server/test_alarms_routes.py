"""Bell and calendar over REST: what a phone or a calendar gets, and what stays private."""

import json
import logging
import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from werkzeug.test import TestResponse

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.forecast.current import WORKSHOP
from easelside.logbook.book import Logbook
from easelside.pairing import routes as pairing
from easelside.settings import Settings
from easelside.web.doors import OwnOnly
from tests.published.ical_lines import Part, plain, read

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
SOAK, TASK, BATCH, LATER, MACHINE = (f"019aba0f-f7c0-7000-8000-00000000000{n}" for n in range(1, 6))


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def logbook(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path / "workshop", clock, durable=False)
    book.write("workshop", WORKSHOP, {"time_zone": "Europe/Berlin", "name": "Under the lime tree"})
    book.write("batch", BATCH, {"label": "D1", "planned_day": "2026-12-01"})
    put_in = "2026-11-25T14:00:00.000Z"
    book.write("soak", SOAK, {"put_in": put_in, "soak_s": 1800, "jar": "2", "pieces": 24, "batch": BATCH})
    book.write("care_task", TASK, {"what": "oil", "every_days": 3, "since": "2026-11-24T08:00:00.000Z"})
    yield book
    book.close()


@pytest.fixture
def app(logbook: Logbook, clock: FakeClock) -> Flask:
    return create_app(Settings(":unused:"), clock, logbook)


class Browser:
    def __init__(self, app: Flask) -> None:
        self._client = app.test_client()

    def __call__(self, method: str, path: str, body: Any = None, **headers: str) -> TestResponse:
        named = {"Host": "localhost", **{name.replace("_", "-"): value for name, value in headers.items()}}
        return self._client.open(path, method=method, json=body, headers=named)


@pytest.fixture
def ask(app: Flask) -> Browser:
    return Browser(app)


def events(answer: TestResponse) -> dict[str, Part]:
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return {event.value("UID").split("@")[0]: event for event in read(answer.data).all("VEVENT")}


def said(answer: TestResponse) -> Any:
    return answer.json


def feed_of(ask: Browser) -> str:
    path: str = said(ask("POST", "/api/calendar", {}))["path"]
    return path


def test_one_soak_is_one_event_with_its_alarm(ask: Browser) -> None:
    answer = ask("GET", f"/api/soaks/{SOAK}/event.ics")
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    (event,) = events(answer).values()
    assert event.value("DTSTART") == "20261125T143000Z"
    assert plain(event.value("SUMMARY")) == "Batch D1, 24 pieces, jar 2: ready"
    assert len(event.all("VALARM")) == 2
    assert "METHOD" not in read(answer.data).names()


def test_an_event_keeps_its_name_and_counts_its_changes(
    ask: Browser, logbook: Logbook, clock: FakeClock
) -> None:
    def event_now() -> tuple[str, str, str]:
        (event,) = events(ask("GET", f"/api/soaks/{SOAK}/event.ics")).values()
        return event.value("UID"), event.value("SEQUENCE"), event.value("DTSTAMP")

    uid = f"soak-{SOAK}@easelside.invalid"
    assert event_now() == (uid, "0", "20261125T140000Z")
    clock.forward(minutes=5)
    assert event_now() == (uid, "0", "20261125T140000Z")
    logbook.write("soak", SOAK, {"soak_s": 2400})
    assert event_now() == (uid, "1", "20261125T140500Z")
    clock.forward(minutes=5)
    logbook.write("soak", SOAK, {"note": "says nothing about when"})
    assert event_now() == (uid, "1", "20261125T140500Z")
    clock.set(NOW)  # a clock put back takes no stamp back
    logbook.write("soak", SOAK, {"soak_s": 3000})
    assert event_now() == (uid, "2", "20261125T140500Z")


def test_a_soak_that_does_not_say_how_long_is_in_the_calendar_and_calls_as_the_maker_does_it(
    ask: Browser, logbook: Logbook
) -> None:
    logbook.write("workshop", WORKSHOP, {"soak_warm_s": 2700})
    logbook.write("soak", LATER, {"put_in": "2026-11-25T14:00:00.000Z"})
    assert b"20261125T144500Z" in ask("GET", f"/api/soaks/{LATER}/event.ics").data


def test_a_soak_that_never_went_in_has_no_event(ask: Browser, logbook: Logbook) -> None:
    logbook.write("soak", LATER, {"soak_s": 1800})
    assert ask("GET", f"/api/soaks/{LATER}/event.ics").status_code == 404
    assert ask("GET", f"/api/soaks/{MACHINE}/event.ics").status_code == 404


def test_the_feed_shows_soaks_care_and_planned_sessions(ask: Browser) -> None:
    found = events(ask("GET", feed_of(ask)))
    shown = {uid: (plain(e.value("SUMMARY")), e.value("DTSTART")) for uid, e in found.items()}
    assert shown == {
        f"soak-{SOAK}": ("Batch D1, 24 pieces, jar 2: ready", "20261125T143000Z"),
        f"care-{TASK}": ("Oil the pivot", "20261127"),
        f"planned-{BATCH}": ("Profile batch D1", "20261201"),
    }


def test_the_feed_shows_a_change_of_blade_on_the_quiet_day_before_a_batch(
    ask: Browser, logbook: Logbook
) -> None:
    change = {"what": "change", "every_days": 7, "since": "2026-11-24T08:00:00.000Z"}
    logbook.write("care_task", TASK, change)
    found = events(ask("GET", feed_of(ask)))
    assert found[f"planned-{BATCH}"].value("DTSTART") == "20261201"
    assert found[f"care-{TASK}"].value("DTSTART") == "20261129"


def test_the_feed_is_the_same_bytes_until_something_changes(
    ask: Browser, logbook: Logbook, clock: FakeClock
) -> None:
    path = feed_of(ask)
    first = ask("GET", path)
    clock.forward(hours=1)
    again = ask("GET", path)
    assert again.data == first.data
    tag = first.headers["ETag"]
    assert (ask("GET", path, If_None_Match=tag).status_code, again.headers["ETag"]) == (304, tag)
    logbook.write("batch", BATCH, {"planned_day": "2026-12-02"})
    assert ask("GET", path, If_None_Match=tag).status_code == 200


def test_a_batch_that_is_closed_is_planned_no_more(ask: Browser, logbook: Logbook) -> None:
    logbook.write("batch", BATCH, {"closed": True})
    assert f"planned-{BATCH}" not in events(ask("GET", feed_of(ask)))


def test_there_is_no_feed_until_its_address_is_made_and_none_after_it_is_withdrawn(ask: Browser) -> None:
    assert ask("GET", "/api/calendar").json == {"on": False, "since": None}
    assert ask("GET", "/api/calendar/.ics").status_code == 404
    assert ask("GET", "/api/calendar/guess.ics").status_code == 404
    path = feed_of(ask)
    assert ask("GET", "/api/calendar").json == {"on": True, "since": "2026-11-25T14:00:00.000Z"}
    assert ask("GET", path).status_code == 200
    newer = feed_of(ask)
    assert [ask("GET", path).status_code, ask("GET", newer).status_code] == [404, 200]
    assert ask("DELETE", "/api/calendar").status_code == 204
    assert ask("GET", newer).status_code == 404


def test_the_private_address_is_told_as_other_devices_find_it_with_its_square(
    logbook: Logbook, clock: FakeClock
) -> None:
    way = OwnOnly()
    ask = Browser(create_app(Settings(":unused:"), clock, logbook, way=way))
    alone = said(ask("POST", "/api/calendar", {}))
    assert (alone["address"], alone["square"]) == (None, None)  # no other device finds this machine
    way.address = "https://bench-7f3a.local:8443/"
    made = said(ask("POST", "/api/calendar", {}))
    assert made["address"] == f"https://bench-7f3a.local:8443{made['path']}"
    assert made["square"] == pairing.drawn(made["address"])


def test_the_private_address_has_256_bits_and_is_kept_nowhere(
    ask: Browser, logbook: Logbook, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    with caplog.at_level(logging.DEBUG):
        path = feed_of(ask)
        token = re.fullmatch(r"/api/calendar/([\w-]{43})\.ics", path)[1]  # type: ignore[index]
        ask("GET", path)
    out = tmp_path / "export.json"
    with out.open("wb") as file:
        logbook.export_json(file)
    snapshot = ask("GET", "/api/exchange/snapshot").data
    written = b"".join(file.read_bytes() for file in tmp_path.rglob("*") if file.is_file())
    assert token.encode() not in written + snapshot
    assert token not in caplog.text


def test_a_fault_while_the_feed_is_made_logs_no_private_address(
    ask: Browser, app: Flask, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    path = feed_of(ask)

    def fails(*_: object) -> None:
        raise RuntimeError("in the middle")

    monkeypatch.setattr("easelside.alarms.calendar.feed", fails)
    assert ask("GET", path).status_code == 500
    assert "/api/calendar/<string:token>.ics" in caplog.text
    assert path not in caplog.text


def test_another_sites_page_cannot_make_an_address_or_switch_push_on(ask: Browser) -> None:
    foreign = {"Origin": "https://evil.example"}
    assert ask("POST", "/api/calendar", {}, **foreign).status_code == 403
    assert ask("PUT", "/api/push", {"on": True}, **foreign).status_code == 403
    assert said(ask("GET", "/api/calendar"))["on"] is False


def test_the_bell_tells_whether_it_is_there(ask: Browser) -> None:
    assert ask("GET", "/api/bell").json == {"there": False, "ringing": False, "works": None}
    assert ask("POST", "/api/bell/trial", {}).status_code == 202


def test_the_interface_describes_calendars_bell_and_push(ask: Browser) -> None:
    paths = said(ask("GET", "/api/openapi.json"))["paths"]
    assert set(paths["/api/calendar"]) >= {"get", "post", "delete"}
    assert set(paths["/api/push"]) >= {"get", "put"}
    feed = paths["/api/calendar/{token}.ics"]["get"]["responses"]
    assert "text/calendar" in json.dumps(feed["200"])
