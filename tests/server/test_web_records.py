"""The records over REST: what is shown, what can be written, what is refused."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from easelside.app import create_app
from easelside.batches.schemas import BatchSchema, TallySchema
from easelside.blades.schemas import BladeMoveSchema
from easelside.care.schemas import CareDoneSchema, CareTaskSchema
from easelside.clock import FakeClock
from easelside.forecast.current import WORKSHOP
from easelside.logbook.book import Logbook
from easelside.logbook.ids import piece_id
from easelside.profiling.schemas import PieceSchema, SessionSchema
from easelside.set_up.schemas import MachineSchema, SettingSchema
from easelside.settings import Settings
from easelside.soak.schemas import SoakSchema

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MACHINE, BLADE, BATCH, SESSION, PIECE, TASK = (f"019aba0f-f7c0-7000-8000-00000000000{n}" for n in range(1, 7))


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def logbook(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path / "workshop", clock, durable=False)
    yield book
    book.close()


class Browser:
    """Asks the server by its own name."""

    def __init__(self, client: FlaskClient) -> None:
        self._client = client

    def __call__(self, method: str, path: str, json: Any = None, **headers: str) -> TestResponse:
        named = {"Host": "localhost", **{name.replace("_", "-"): value for name, value in headers.items()}}
        return self._client.open(path, method=method, json=json, headers=named)


@pytest.fixture
def ask(logbook: Logbook, clock: FakeClock) -> Browser:
    return Browser(create_app(Settings(":unused:"), clock, logbook).test_client())


def test_a_soak_begins_now_where_it_does_not_say_when(ask: Browser) -> None:
    made = ask("POST", "/api/soaks", {"soak_s": 1800, "pieces": 24, "water": "warm"})
    assert made.status_code == 201
    assert made.json["put_in"] == "2026-11-25T14:00:00.000Z"
    assert made.json["ready_at"] == "2026-11-25T14:30:00.000Z"
    assert ask("GET", made.headers["Location"]).json == made.json


@pytest.mark.parametrize(("water", "ready"), [("warm", "14:45:00"), ("cold", "18:00:00"), (None, "14:45:00")])
def test_a_soak_stays_in_as_long_as_the_maker_does_it_or_by_practice_where_it_is_not_said(
    ask: Browser, logbook: Logbook, water: str | None, ready: str
) -> None:
    logbook.write("workshop", WORKSHOP, {"soak_warm_s": 2700})
    made = ask("POST", "/api/soaks", {} if water is None else {"pieces": 6, "water": water})
    assert made.json["ready_at"] == f"2026-11-25T{ready}.000Z"


@pytest.mark.parametrize("soak_s", [{}, {"soak_s": None}, {"soak_s": 0}])
def test_a_soak_that_came_without_its_time_is_ready_when_the_phone_says_so(
    ask: Browser, logbook: Logbook, soak_s: dict[str, Any]
) -> None:
    logbook.write("soak", PIECE, {"put_in": "2026-11-25T14:00:00.000Z", "water": "warm", **soak_s})
    assert ask("GET", f"/api/soaks/{PIECE}").json["ready_at"] == "2026-11-25T14:30:00.000Z"


def test_times_with_an_offset_are_kept_in_utc(ask: Browser) -> None:
    made = ask("POST", "/api/soaks", {"put_in": "2026-11-25T13:36:00+01:00"})
    assert made.json["put_in"] == "2026-11-25T12:36:00.000Z"


def test_a_change_is_one_row_in_the_logbook_that_saw_what_stood_there(ask: Browser, logbook: Logbook) -> None:
    id = ask("POST", "/api/soaks", {"jar": "1"}).json["id"]
    ask("PATCH", f"/api/soaks/{id}", {"jar": "2", "mark": "good"})
    first, second = logbook.changes_after(0)
    assert second["set"] == {"jar": "2", "mark": "good"}
    assert second["saw"] == {"jar": first["id"], "mark": None}


def test_null_takes_back_what_was_said(ask: Browser) -> None:
    id = ask("POST", "/api/soaks", {"jar": "1", "pieces": 6}).json["id"]
    assert "jar" not in ask("PATCH", f"/api/soaks/{id}", {"jar": None}).json


def test_an_empty_change_adds_no_row(ask: Browser, logbook: Logbook) -> None:
    id = ask("POST", "/api/soaks", {"jar": "1"}).json["id"]
    assert ask("PATCH", f"/api/soaks/{id}", {}).status_code == 200
    assert logbook.end()["seq"] == 1


def test_a_change_onto_what_was_read_is_taken_and_onto_an_older_state_refused(ask: Browser) -> None:
    made = ask("POST", "/api/soaks", {"jar": "1"})
    at, tag = made.headers["Location"], made.headers["ETag"]
    assert ask("PATCH", at, {"jar": "2"}, If_Match=tag).status_code == 200
    late = ask("PATCH", at, {"jar": "3"}, If_Match=tag)
    assert (late.status_code, late.json["code"]) == (412, "changed_since")
    assert ask("GET", at).json["jar"] == "2"


def test_what_the_reader_has_already_is_not_sent_again(ask: Browser) -> None:
    made = ask("POST", "/api/soaks", {"jar": "1"})
    again = ask("GET", made.headers["Location"], If_None_Match=made.headers["ETag"])
    assert (again.status_code, again.data) == (304, b"")


READERS = {
    "soak": (SoakSchema, "soak", "readSoak"),
    "blade_move": (BladeMoveSchema, "blades", "readMove"),
    "care_task": (CareTaskSchema, "care", "readTask"),
    "care_done": (CareDoneSchema, "care", "readDone"),
    "session": (SessionSchema, "profiling", "readSession"),
    "piece": (PieceSchema, "profiling", "readPiece"),
    "batch": (BatchSchema, "batches", "readBatch"),
    "tally": (TallySchema, "batches", "readTally"),
    "machine": (MachineSchema, "set_up", "readMachine"),
    "setting": (SettingSchema, "set_up", "readSetting"),
}


@pytest.mark.parametrize("kind", READERS)
def test_every_field_that_the_phone_reads_has_a_place_of_its_own(kind: str) -> None:
    schema, room, reader = READERS[kind]
    source = (Path(__file__).parents[2] / f"webclient/src/{room}/model.ts").read_text("utf-8")
    start = source.index(f"export function {reader}(")
    names = set(re.findall(r'\(row, "(\w+)"\)', source[start : source.index("\n}\n", start)]))
    assert len(names) > 4
    assert names - schema().fields.keys() == set()


def test_the_plan_of_a_row_of_soaks_is_shown_as_what_it_is(ask: Browser, logbook: Logbook) -> None:
    plan = {"of_pieces": 24, "every_s": 1080, "run": BATCH, "next_silenced_at": "2026-11-25T14:00:00.000Z"}
    logbook.write("soak", PIECE, {**plan, "colour": "blue"})
    shown = ask("GET", f"/api/soaks/{PIECE}").json
    assert shown == shown | plan
    assert shown["more"] == {"colour": "blue"}


@pytest.mark.parametrize(
    ("said", "where"),
    [
        ({"pieces": "24"}, "json.pieces"),
        ({"pieces": True}, "json.pieces"),
        ({"pieces": 1.5}, "json.pieces"),
        ({"pieces": -1}, "json.pieces"),
        ({"pieces": 10_000}, "json.pieces"),
        ({"pieces": 99_999_999_999}, "json.pieces"),
        ({"soak_s": 10**9}, "json.soak_s"),
        ({"water": "lukewarm"}, "json.water"),
        ({"batch": "D1"}, "json.batch"),
        ({"put_in": "yesterday"}, "json.put_in"),
        ({"put_in": "2026-11-25T14:00:00"}, "json.put_in"),
        ({"put_in": "2026-11-25"}, "json.put_in"),
        ({"colour": "blue"}, "json.colour"),
        ({"id": "mine"}, "json.id"),
    ],
    ids=str,
)
def test_a_value_out_of_its_bounds_is_named(
    ask: Browser, logbook: Logbook, said: dict[str, Any], where: str
) -> None:
    answer = ask("POST", "/api/soaks", said)
    assert answer.status_code == 422
    assert list(answer.json["errors"]) == [where]
    assert where in answer.json["detail"]
    assert logbook.end()["seq"] == 0


def test_care_is_bounded_as_on_the_screen(ask: Browser) -> None:
    most = {"every_pieces": 100_000, "every_sessions": 1000, "every_days": 3650}
    assert ask("POST", "/api/care-tasks", {"what": "oil", **most}).status_code == 201
    for name, value in most.items():
        answer = ask("POST", "/api/care-tasks", {"what": "oil", name: value + 1})
        assert (answer.status_code, list(answer.json["errors"])) == (422, [f"json.{name}"])


def test_a_list_is_read_page_by_page_newest_first_removed_ones_left_out(
    ask: Browser, clock: FakeClock
) -> None:
    made = []
    for jar in range(7):
        clock.forward(seconds=1)
        made.append(ask("POST", "/api/soaks", {"jar": str(jar)}).json["id"])
    ask("PATCH", f"/api/soaks/{made[4]}", {"removed": True})
    first = ask("GET", "/api/soaks?limit=3").json
    second = ask("GET", f"/api/soaks?limit=3&after={first['next']}").json
    assert [soak["jar"] for soak in first["items"]] == ["6", "5", "3"]
    assert [soak["jar"] for soak in second["items"]] == ["2", "1", "0"]
    rest = second["next"] and ask("GET", f"/api/soaks?limit=3&after={second['next']}").json
    assert not rest or rest == {"items": [], "next": None}


def test_only_a_removed_that_is_false_shows_a_record_again(ask: Browser) -> None:
    at = ask("POST", "/api/soaks", {"jar": "1"}).headers["Location"]
    ask("PATCH", at, {"removed": True})
    ask("PATCH", at, {"jar": "2"})
    assert ask("GET", "/api/soaks").json["items"] == []
    ask("PATCH", at, {"removed": False})
    assert [soak["jar"] for soak in ask("GET", "/api/soaks").json["items"]] == ["2"]


def test_what_is_in_play_leaves_out_a_soak_of_last_week(ask: Browser, clock: FakeClock) -> None:
    ask("POST", "/api/soaks", {"jar": "old", "taken_out": "2026-11-25T14:00:00Z"})
    clock.forward(days=7)
    ask("POST", "/api/soaks", {"jar": "new"})
    assert [soak["jar"] for soak in ask("GET", "/api/soaks?in_play=true").json["items"]] == ["new"]
    assert len(ask("GET", "/api/soaks").json["items"]) == 2


def test_odd_and_unknown_fields_are_shown_apart_and_word_for_word(ask: Browser, logbook: Logbook) -> None:
    logbook.write("machine", MACHINE, {"name": "Window", "bow_after_pieces": "many", "wheel": {"mm": [1]}})
    shown = ask("GET", f"/api/machines/{MACHINE}").json
    assert shown["name"] == "Window"
    assert shown["more"] == {"bow_after_pieces": "many", "wheel": {"mm": [1]}}


def test_a_field_that_bears_a_name_of_ours_is_an_odd_one(ask: Browser, logbook: Logbook) -> None:
    logbook.write("session", SESSION, {"set_up": True, "check/edge": "good"})
    logbook.write("piece", PIECE, {"outcome": "good", "turns": 7, "turns/p": ["2026-11-25T14:00:00.000Z"]})
    session, piece = (ask("GET", f"/api/{path}").json for path in (f"sessions/{SESSION}", f"pieces/{PIECE}"))
    assert (session["set_up"], session["more"]) == ({"edge": "good"}, {"set_up*": True})
    assert (piece["outcomes"], piece["turns"]) == ([], {"p": ["2026-11-25T14:00:00.000Z"]})
    assert "outcome" not in piece
    assert piece["more"] == {"outcome*": "good", "turns*": 7}


def test_what_is_only_read_cannot_be_written(ask: Browser) -> None:
    answer = ask("POST", "/api/machines", {"name": "Window"})
    assert (answer.status_code, answer.json["code"]) == (405, "not_done_here")
    assert "GET" in answer.headers["Allow"]


def cut_with_blade(logbook: Logbook) -> None:
    logbook.write("workshop", WORKSHOP, {"time_zone": "Europe/Berlin"})
    logbook.write("blade", BLADE, {"label": "4"})
    at = "2026-11-20T09:00:00.000Z"
    logbook.write("blade_move", TASK, {"blade": BLADE, "machine": MACHINE, "what": "fitted", "at": at})
    logbook.write("session", SESSION, {"machine": MACHINE, "check/edge": "good", "wind/oiled": True})
    said = {"session": SESSION, "number": 1, "batch": BATCH, "at": "2026-11-21T09:00:00.000Z"}
    logbook.write("batch", BATCH, {"label": "D1"})
    logbook.write("piece", PIECE, {**said, "outcome/a": "good"})
    logbook.write("piece", PIECE, {"outcome/b": "lost"})


def test_a_blade_says_where_it_is_and_what_its_edge_has_cut(ask: Browser, logbook: Logbook) -> None:
    cut_with_blade(logbook)
    blade = ask("GET", f"/api/blades/{BLADE}").json
    assert blade["place"] == {"where": "on_machine", "machine": MACHINE, "since": "2026-11-20T09:00:00.000Z"}
    assert blade["edge"] == {"life": 1, "began": "2026-11-20T09:00:00.000Z", "pieces": 1}


def test_a_blade_that_never_moved_has_neither_place_nor_edge(ask: Browser, logbook: Logbook) -> None:
    logbook.write("blade", BLADE, {"label": "5"})
    blade = ask("GET", f"/api/blades/{BLADE}").json
    assert (blade["place"], blade["edge"]) == (None, None)


def test_a_piece_shows_both_outcomes_and_what_it_counts_as(ask: Browser, logbook: Logbook) -> None:
    cut_with_blade(logbook)
    piece = ask("GET", f"/api/pieces/{PIECE}").json
    assert {"change": "a", "outcome": "good"} in piece["outcomes"]
    assert {"change": "b", "outcome": "lost"} in piece["outcomes"]
    assert piece["outcome"] == piece["outcomes"][-1]["outcome"]
    assert len(piece["outcomes"]) == 2


def test_pieces_are_listed_as_they_came_in_by_session_batch_and_outcome(
    ask: Browser, logbook: Logbook
) -> None:
    for number in range(1, 8):
        said = {"session": SESSION if number < 6 else TASK, "number": number, "batch": BATCH}
        id = piece_id(said["session"], number)
        logbook.write("piece", id, {**said, "outcome/a": "lost" if number % 2 else "good"})
    logbook.write("piece", piece_id(SESSION, 2), {"removed": True})

    def listed(query: str) -> list[int]:
        numbers: list[int] = []
        cursor: str | None = "0"
        while cursor is not None:
            page = ask("GET", f"/api/pieces?limit=2&after={cursor}&{query}").json
            numbers += [piece["number"] for piece in page["items"]]
            cursor = page["next"]
        return numbers

    assert listed("") == [1, 3, 4, 5, 6, 7]
    assert listed(f"session={SESSION}") == [1, 3, 4, 5]
    assert listed(f"batch={BATCH}&outcome=lost") == [1, 3, 5, 7]
    assert listed(f"machine={MACHINE}") == []


def test_a_batch_says_where_it_stands(ask: Browser, logbook: Logbook) -> None:
    cut_with_blade(logbook)
    tally = {"batch": BATCH, "stage": "profiled", "started": 5, "good": 4, "lost_by": {"split": 1}}
    logbook.write("tally", TASK, tally)
    stands = ask("GET", f"/api/batches/{BATCH}").json["stands"]["profiled"]
    assert (stands["good"] + stands["second"] + stands["lost"]) == 6


def test_a_sessions_checklist_is_read_and_written_line_by_line(ask: Browser, logbook: Logbook) -> None:
    cut_with_blade(logbook)
    at = f"/api/sessions/{SESSION}/checks"
    said = {"set_up": {"projection": "needs_work"}, "wind_down": {"oiled": None, "jars": True}}
    answer = ask("PATCH", at, said)
    assert answer.json["set_up"] == {"edge": "good", "projection": "needs_work"}
    assert answer.json["wind_down"] == {"jars": True}
    assert ask("GET", at).json == answer.json
    assert ask("GET", f"/api/sessions/{SESSION}").json["set_up"] == answer.json["set_up"]


@pytest.mark.parametrize(
    "said",
    [{"set_up": {"edge": "fine"}}, {"set_up": {"ears": "good"}}, {"wind_down": {"oiled": "yes"}}],
    ids=str,
)
def test_a_line_that_no_checklist_has_is_refused(ask: Browser, logbook: Logbook, said: Any) -> None:
    cut_with_blade(logbook)
    assert ask("PATCH", f"/api/sessions/{SESSION}/checks", said).status_code == 422


def test_care_is_due_after_its_days_and_no_more_once_done(ask: Browser, clock: FakeClock) -> None:
    task = ask("POST", "/api/care-tasks", {"what": "oil", "machine": MACHINE, "every_days": 3})
    assert (task.json["due_day"], task.json["is_due"]) == ("2026-11-28", False)
    clock.forward(days=3)
    assert ask("GET", task.headers["Location"]).json["is_due"] is True
    ask("POST", "/api/care-done", {"task": task.json["id"]})
    after = ask("GET", task.headers["Location"]).json
    assert (after["due_day"], after["is_due"]) == ("2026-12-01", False)


def test_care_put_off_waits_for_its_day(ask: Browser, clock: FakeClock) -> None:
    task = ask("POST", "/api/care-tasks", {"what": "oil", "every_days": 1})
    clock.forward(days=2)
    ask("POST", "/api/care-done", {"task": task.json["id"], "what": "put_off", "until_day": "2026-11-30"})
    after = ask("GET", task.headers["Location"]).json
    assert (after["due_day"], after["put_off_until"], after["is_due"]) == ("2026-11-30", "2026-11-30", False)


def test_an_unknown_record_is_a_sentence_with_its_kind(ask: Browser) -> None:
    answer = ask("PATCH", f"/api/care-tasks/{TASK}", {"note": "x"})
    assert answer.status_code == 404
    assert answer.json["detail"] == f"There is no care task with the id {TASK}."


def test_health_names_the_logbook_its_end_and_the_clock(ask: Browser, logbook: Logbook) -> None:
    ask("POST", "/api/soaks", {})
    health = ask("GET", "/api/health").json
    assert (health["logbook"], health["seq"], health["wrong"]) == (logbook.id, 1, [])
    assert health["now"] == "2026-11-25T14:00:00.000Z"
