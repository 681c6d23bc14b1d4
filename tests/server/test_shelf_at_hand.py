"""The shelf: what is in play, as of which row, under threads, and as time passes."""

import threading
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.logbook.model import Record
from easelside.shelf.at_hand import Shelf
from easelside.shelf.rules import is_in_play, needed_since


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def book(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path / "workshop", clock, durable=False)
    yield opened
    opened.close()


def test_a_soak_is_at_hand_until_two_days_after_it_was_taken_out(book: Logbook, clock: FakeClock) -> None:
    shelf = Shelf(book, clock)
    soak = book.new_id()
    book.write("soak", soak, {"pieces": 10})
    clock.forward(days=40)
    assert [record["id"] for record in shelf.records("soak")] == [soak]
    book.write("soak", soak, {"taken_out": book.now()})
    assert len(shelf.records("soak")) == 1
    clock.forward(days=3)
    assert shelf.records("soak") == []


def test_what_is_removed_is_put_away_and_comes_back_when_shown_again(book: Logbook, clock: FakeClock) -> None:
    shelf = Shelf(book, clock)
    blade = book.new_id()
    book.write("blade", blade, {"label": "4", "removed": True})
    assert shelf.record("blade", blade) is None
    book.write("blade", blade, {"removed": False})
    record = shelf.record("blade", blade)
    assert record is not None and record == book.record("blade", blade)


def test_the_shelf_is_caught_up_before_each_read(book: Logbook, clock: FakeClock) -> None:
    shelf = Shelf(book, clock)
    for n in range(5):
        batch = book.new_id()
        book.write("batch", batch, {"label": f"D{n}", "pieces": n})
        assert shelf.record("batch", batch) == book.record("batch", batch)
        assert shelf.as_of_seq == book.end()["seq"]


def test_after_a_flood_of_rows_it_begins_afresh_and_holds_the_same(book: Logbook, clock: FakeClock) -> None:
    shelf = Shelf(book, clock)
    for n in range(600):
        book.write("machine", book.new_id(), {"name": f"{n}"}, saw={})
    assert len(shelf.records("machine")) == 600
    assert (
        shelf.records("machine")
        == Shelf(book, clock).records("machine")
        == book.records("machine", limit=700)
    )


def test_threads_that_read_while_others_write_never_see_it_torn(book: Logbook, clock: FakeClock) -> None:
    shelf = Shelf(book, clock)
    problems: list[BaseException] = []

    def write() -> None:
        for n in range(40):
            book.write("lot", book.new_id(), {"label": f"{n}", "note": f"{n}"})

    def read() -> None:
        try:
            for _ in range(60):
                for record in shelf.records("lot"):
                    assert record["fields"]["label"]["value"] == record["fields"]["note"]["value"]
        except BaseException as problem:
            problems.append(problem)

    threads = [threading.Thread(target=work) for work in (write, write, read, read)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert problems == []
    assert len(shelf.records("lot")) == 80


NOW = datetime(2026, 11, 25, 14, tzinfo=UTC)


def record(kind: str, days_ago: float, id: str = "x", **said: object) -> Record:
    when = (NOW - timedelta(days=days_ago)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    fields = {
        name: {"value": value, "change": "c", "seq": 1, "when": when, "back": False, "saw": None}
        for name, value in said.items()
    }
    return Record(kind=kind, id=id, fields=fields, seq=1, when=when)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("one", "in_play"),
    [
        (record("blade_move", 3000), True),
        (record("setting", 3000), True),
        (record("session", 300), True),
        (record("session", 300, ended="2026-01-30T14:00:00.000Z"), False),
        (record("session", 6, ended="2026-11-19T14:00:00.000Z"), True),
        (record("batch", 300), True),
        (record("batch", 300, closed=True), False),
        (record("piece", 1), True),
        (record("piece", 3), False),
        (record("care_done", 399), True),
        (record("kind_of_tomorrow", 29), True),
        (record("kind_of_tomorrow", 31), False),
        (record("machine", 1, removed=True), False),
    ],
)
def test_what_is_in_play(one: Record, in_play: bool) -> None:
    assert is_in_play(one, NOW) is in_play


def move(what: str, at: str, blade: str = "b", machine: str = "m") -> Record:
    return record("blade_move", 0, what=what, at=at, blade=blade, machine=machine)


def test_pieces_are_needed_since_the_oldest_edge_that_is_not_ground_away_was_first_fitted() -> None:
    moves = [
        move("fitted", "2026-01-01"),
        move("taken_out", "2026-02-01"),
        move("fitted", "2026-03-01"),
        move("fitted", "2025-01-01", blade="ground since"),
        move("ground", "2025-06-01", blade="ground since"),
    ]
    boxed = [move("fitted", "2025-03-01", blade="boxed"), move("taken_out", "2025-04-01", blade="boxed")]
    assert needed_since([*moves, *boxed], [], []) == "2025-03-01"
    assert needed_since(moves, [], []) == "2026-01-01"
    assert (
        needed_since([*moves, move("ground", "2026-04-01"), move("fitted", "2026-05-01")], [], [])
        == "2026-05-01"
    )


def test_pieces_are_needed_since_a_care_task_was_last_done() -> None:
    task = record("care_task", 0, id="t", since="2026-01-01")
    done = record("care_done", 0, task="t", what="done", at="2026-06-01")
    put_off = record("care_done", 0, task="t", what="put_off", at="2026-07-01")
    assert needed_since([], [task], []) == "2026-01-01"
    assert needed_since([], [task], [done, put_off]) == "2026-06-01"
    assert needed_since([], [], []) is None
