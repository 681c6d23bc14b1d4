"""One exchange: what is asked, what is answered, what is refused, and what a new phone starts from."""

import gzip
import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import flask
import pytest
from flask.testing import FlaskClient

from easelside.clock import FakeClock
from easelside.errors import EndNotKnown, Malformed, TooLarge
from easelside.exchange.routes import answer, blueprint
from easelside.exchange.schemas import read
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id

PHONE = "0000000d-0000-7000-8000-00000000000a"
SOAK = "0000000e-0000-7000-8000-000000000001"


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def book(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path / "workshop", clock, durable=False)
    yield opened
    opened.close()


def change(n: int, **parts: Any) -> dict[str, Any]:
    plain = {"id": time_ordered_id(n, b"c" * 10), "v": 1, "kind": "soak", "record": SOAK, "device": PHONE}
    plain |= {
        "made": "2026-11-25T13:00:00.000Z",
        "set": {"pieces": n},
        "saw": {"pieces": None},
        "back": False,
    }
    return plain | parts


def exchange(book: Logbook, changes: list[Any] | None = None, **parts: Any) -> Any:
    body = {"device": PHONE, "device_now": book.now(), "logbook": book.id, "changes": changes or []}
    return json.loads(answer(book, read(json.dumps(body | parts).encode())))


def test_a_new_device_learns_which_logbook_this_is_and_nothing_of_it_is_taken(book: Logbook) -> None:
    told = exchange(book, [change(1)], logbook=None)
    assert (told["logbook"], told["restored"], told["accepted"]) == (book.id, False, [])
    assert told["end"] == {"seq": 0, "hash": ""}
    assert book.end()["seq"] == 0


def test_what_was_sent_is_accepted_and_others_pull_it(book: Logbook) -> None:
    told = exchange(book, [change(1)])
    assert [(one["seq"], one["won"], one["lost"]) for one in told["accepted"]] == [(1, ["pieces"], {})]
    assert (told["changes"], told["cursor"], told["more"]) == ([], 1, False)
    pulled = exchange(book, device="0000000d-0000-7000-8000-00000000000b")
    sent = {**change(1), "seq": 1, "when": "2026-11-25T13:00:00.000Z", "won": ["pieces"]}
    assert pulled["changes"] == [sent]


def test_a_change_made_by_another_device_is_accepted_too(book: Logbook) -> None:
    told = exchange(book, [change(1, device="server")])
    assert told["accepted"][0]["won"] == ["pieces"]


def test_pulling_goes_on_page_by_page_until_nothing_more_is_there(book: Logbook) -> None:
    exchange(book, [change(n) for n in range(1, 8)])
    after, seen = 0, []
    while True:
        told = exchange(book, after=after, limit=3)
        seen += [row["seq"] for row in told["changes"]]
        after = told["cursor"]
        if not told["more"]:
            break
    assert seen == [1, 2, 3, 4, 5, 6, 7]


def test_another_logbook_is_told_of_the_restore_and_nothing_is_taken(book: Logbook) -> None:
    told = exchange(book, [change(1)], logbook=time_ordered_id(9, b"x" * 10))
    assert (told["restored"], told["logbook"], told["accepted"]) == (True, book.id, [])
    assert book.end()["seq"] == 0


def test_an_end_that_the_logbook_does_not_have_gives_it_a_new_id(book: Logbook) -> None:
    before = book.id
    told = exchange(book, [change(1)], end={"seq": 7, "hash": "00" * 32})
    assert told["restored"] and told["logbook"] == book.id != before
    assert book.end()["seq"] == 0
    again = exchange(book, [change(1)], logbook=before, end={"seq": 7, "hash": "00" * 32})
    assert again["logbook"] == told["logbook"]


def test_a_device_that_names_wrong_ends_makes_it_begin_anew_once_an_hour_and_nothing_is_lost(
    book: Logbook, clock: FakeClock
) -> None:
    """Whoever is let in could send every phone through all that it holds, again and again."""
    exchange(book, [change(1)])
    wrong = {"seq": 1, "hash": "00" * 32}
    first = exchange(book, [], end=wrong)["logbook"]
    for end in (wrong, {"seq": 2**40, "hash": "11" * 32}):
        with pytest.raises(EndNotKnown):
            exchange(book, [change(2)], end=end)
    assert book.id == first
    told = exchange(book, [change(2)], end=book.end())
    assert not told["restored"] and len(told["accepted"]) == 1
    clock.forward(hours=1)
    assert exchange(book, [], end=wrong)["logbook"] == book.id != first
    assert book.end()["seq"] == 2


def test_two_phones_that_notice_it_at_once_get_one_new_id(book: Logbook) -> None:
    before = book.id
    book.was_put_back("phone", before)
    once = book.id
    book.was_put_back("tablet", before)
    assert book.id == once != before


def test_after_a_restart_a_folder_put_back_is_noticed_at_once(tmp_path: Path, clock: FakeClock) -> None:
    for _ in range(2):
        with Logbook.open(tmp_path / "w", clock) as book:
            told = exchange(book, [], end={"seq": 7, "hash": "00" * 32})
            assert told["restored"] and told["logbook"] == book.id


def test_the_id_survives_a_restart(tmp_path: Path, clock: FakeClock) -> None:
    book = Logbook.open(tmp_path / "w", clock)
    id = book.begin_anew()
    book.close()
    book = Logbook.open(tmp_path / "w", clock)
    assert book.id == id
    book.close()


BAD = {
    "bad_id": {"id": "1"},
    "bad_record": {"record": "SOAK"},
    "bad_kind": {"kind": "so ak"},
    "bad_device": {"device": "a b"},
    "bad_time": {"made": "2026-02-30T13:00:00.000Z"},
    "bad_version": {"v": 0},
    "bad_field": {"set": {"": 1}, "saw": {}},
    "bad_saw": {"saw": {"pieces": "x"}},
    "too_many": {"set": {f"f{n}": 1 for n in range(501)}, "saw": {}},
    "too_large": {"set": {"pieces": "w" * 70_000}},
    "too_deep": {"set": {"pieces": [[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]}},
    "not_a_change": {"set": []},
}


@pytest.mark.parametrize("code", BAD)
def test_a_malformed_change_is_refused_and_what_stands_behind_it_is_not_held_up(
    book: Logbook, code: str
) -> None:
    bad = change(1) | BAD[code]
    told = exchange(book, [change(2), bad, change(3)])
    assert [(one["code"], one["id"]) for one in told["refused"]] == [(code, bad["id"])]
    assert told["refused"][0]["problem"].endswith(".")
    assert [one["id"] for one in told["accepted"]] == [change(2)["id"], change(3)["id"]]


def test_odd_but_well_formed_values_are_kept_word_for_word(book: Logbook) -> None:
    odd = {"pieces": "ten", "x": [1, 2.5, None, {"ü": "\u0000 ✂"}], "y": 1e300, "z": -0.0, "": None}
    del odd[""]
    exchange(book, [change(1, set=odd, saw={}, kind="kind_of_tomorrow")])
    record = book.record("kind_of_tomorrow", SOAK)
    assert record is not None
    assert {name: field["value"] for name, field in record["fields"].items()} == odd


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"\xff\xfe",
        b"[]",
        b"{",
        b'{"device": 1}',
        b'{"device":"a","device_now":"yesterday","logbook":null}',
        b'{"device":"a","device_now":"2026-11-25T13:00:00.000Z","logbook":"x"}',
        b'{"device":"a","device_now":"2026-11-25T13:00:00.000Z","logbook":null,"after":-1}',
        b'{"device":"a","device_now":"2026-11-25T13:00:00.000Z","logbook":null,"limit":0}',
        b'{"device":"a","device_now":"2026-11-25T13:00:00.000Z","logbook":null,"end":{"seq":1}}',
        b'{"changes":' + b"[" * 100_000,
        b'{"device":NaN}',
    ],
)
def test_a_request_that_is_none_is_answered_with_one_sentence(body: bytes) -> None:
    with pytest.raises(Malformed) as told:
        read(body)
    assert len(told.value.what_happened) < 300


def test_text_that_is_no_unicode_is_no_json_and_the_phone_then_sends_one_by_one(book: Logbook) -> None:
    head = {"device": PHONE, "device_now": book.now(), "logbook": book.id}
    body = json.dumps(head | {"changes": [change(1, set={"pieces": "\ud800"}), change(2)]}).encode()
    with pytest.raises(Malformed):
        read(body)
    assert exchange(book, [change(2)])["accepted"][0]["id"] == change(2)["id"]


def test_more_than_a_mebibyte_is_too_large() -> None:
    with pytest.raises(TooLarge):
        read(b" " * (1024 * 1024 + 1))


def test_the_server_tells_its_time_and_what_is_safe(book: Logbook, clock: FakeClock) -> None:
    exchange(book, [change(1), change(2)])
    assert exchange(book)["safe"] == 0
    book.backup()
    exchange(book, [change(3)])
    told = exchange(book)
    assert (told["safe"], told["now"]) == (2, "2026-11-25T14:00:00.000Z")


# the snapshot


@pytest.fixture
def web(book: Logbook, clock: FakeClock) -> FlaskClient:
    app = flask.Flask("test")
    app.register_blueprint(blueprint(book, clock))
    return app.test_client()


def test_a_snapshot_holds_what_is_in_play_and_the_last_ninety_days(
    web: FlaskClient, book: Logbook, clock: FakeClock
) -> None:
    blade, old_note, old_piece, counted = (book.new_id() for _ in range(4))
    book.write("blade", blade, {"label": "4"})
    book.write("note", old_note, {"text": "long ago"})
    book.write("piece", old_piece, {"number": 1})
    clock.forward(days=10)
    machine = book.new_id()
    fitted = {"blade": blade, "machine": machine, "what": "fitted", "at": book.now()}
    book.write("blade_move", book.new_id(), fitted)
    clock.forward(days=1)
    book.write("piece", counted, {"number": 2, "machine": machine})
    clock.forward(days=100)
    new_note = book.new_id()
    book.write("note", new_note, {"text": "today"})
    told = web.get("/api/exchange/snapshot").json
    assert told is not None
    ids = {record["id"] for record in told["records"]}
    assert {blade, new_note, counted} <= ids
    assert ids.isdisjoint({old_note, old_piece})
    assert (told["cursor"], told["end"], told["logbook"]) == (6, book.end(), book.id)
    (note,) = (record for record in told["records"] if record["id"] == new_note)
    assert note["fields"]["text"]["value"] == "today" and note["fields"]["text"]["seq"] == 6


def test_a_snapshot_is_compressed_where_the_phone_takes_it(web: FlaskClient, book: Logbook) -> None:
    book.write("blade", book.new_id(), {"label": "4"})
    packed = web.get("/api/exchange/snapshot", headers={"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert json.loads(gzip.decompress(packed.data)) == web.get("/api/exchange/snapshot").json


def test_a_snapshot_and_the_rows_behind_it_are_the_whole(
    web: FlaskClient, book: Logbook, clock: FakeClock
) -> None:
    exchange(book, [change(1)])
    told = web.get("/api/exchange/snapshot").json
    assert told is not None
    clock.forward(minutes=1)
    exchange(book, [change(2, saw={"pieces": change(1)["id"]}, made="2026-11-25T14:00:30.000Z")])
    rows = exchange(book, after=told["cursor"])["changes"]
    assert [row["set"] for row in rows] == [{"pieces": 2}]
    assert told["records"][0]["fields"]["pieces"]["value"] == 1


def test_a_phones_clock_is_seen_at_each_exchange(book: Logbook, clock: FakeClock) -> None:
    ahead = clock.now() + timedelta(hours=1)
    device_now = ahead.isoformat(timespec="milliseconds").replace("+00:00", "Z")
    told = exchange(book, [change(1, made="2026-11-25T14:30:00.000Z")], device_now=device_now)
    assert told["accepted"][0]["when"] == "2026-11-25T13:30:00.000Z"
