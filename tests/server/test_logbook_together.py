"""Requests that arrive while another is being stored share its next commit, each judged by itself."""

import threading
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from easelside.clock import FakeClock
from easelside.errors import StorageFailed
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id
from easelside.logbook.model import Answer, Change, End
from easelside.logbook.rules import Clocks
from easelside.logbook.together import Letter, Together

NOW = "2026-11-25T14:00:00.000Z"
CLOCKS = Clocks(NOW, NOW, timedelta(0), None)
WAIT_S = 10


def letter(device: str) -> Letter:
    return Letter(device, NOW, CLOCKS, [], [])


def answer_to(one: Letter) -> Answer:
    return Answer(accepted=[], offered=[], end=End(seq=0, hash=one.device), now=one.now)


def change(number: int, name: str = "pieces") -> Change:
    return Change(
        id=time_ordered_id(number, b"c" * 10),
        v=1,
        kind="soak",
        record=time_ordered_id(1, b"r" * 10),
        device="phone",
        made=NOW,
        set={name: number},
        saw={name: None},
        back=False,
    )


class SlowStore:
    """A store whose first commit lasts until `go_on`; `refuses` names devices that cannot be stored."""

    def __init__(self, *refuses: str) -> None:
        self.commits: list[list[str]] = []
        self.began, self.go_on = threading.Event(), threading.Event()
        self._refuses = refuses

    def __call__(self, letters: list[Letter]) -> list[Answer]:
        devices = [one.device for one in letters]
        if not self.began.is_set():
            self.began.set()
            assert self.go_on.wait(WAIT_S)
        if set(devices) & set(self._refuses):
            raise StorageFailed(detail="refused")
        self.commits.append(devices)
        return [answer_to(one) for one in letters]


def hand_in_while_busy(store: SlowStore, devices: list[str]) -> dict[str, str]:
    """The first device's request is being stored when the others arrive. What each was told."""
    together, told = Together(store), dict[str, str]()

    def hand_in(device: str) -> None:
        try:
            told[device] = together.hand_in(letter(device))["end"]["hash"]
        except StorageFailed:
            told[device] = "refused"

    threads = [threading.Thread(target=hand_in, args=(device,)) for device in devices]
    threads[0].start()
    assert store.began.wait(WAIT_S)
    for number, thread in enumerate(threads[1:], 1):
        thread.start()
        while together.waiting() < number:
            pass
    store.go_on.set()
    for thread in threads:
        thread.join(WAIT_S)
        assert not thread.is_alive()
    return told


def test_those_that_wait_are_stored_by_one_commit_and_each_gets_its_own_answer() -> None:
    store = SlowStore()
    told = hand_in_while_busy(store, ["a", "b", "c", "d"])
    assert told == {"a": "a", "b": "b", "c": "c", "d": "d"}
    assert [sorted(devices) for devices in store.commits] == [["a"], ["b", "c", "d"]]


def test_one_that_cannot_be_stored_keeps_no_other_from_it() -> None:
    store = SlowStore("c")
    told = hand_in_while_busy(store, ["a", "b", "c", "d"])
    assert told == {"a": "a", "b": "b", "c": "refused", "d": "d"}
    assert sorted(device for devices in store.commits for device in devices) == ["a", "b", "d"]


def test_no_more_than_sixteen_share_a_commit() -> None:
    store = SlowStore()
    devices = [f"{number}" for number in range(24)]
    assert hand_in_while_busy(store, devices) == {device: device for device in devices}
    assert [len(some) for some in store.commits] == [1, 16, 7]


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path / "workshop", FakeClock(), durable=False)
    yield opened
    opened.close()


def stored(book: Logbook, *requests: list[Change]) -> list[Answer]:
    return book._store([Letter(f"d{n}", NOW, CLOCKS, some, []) for n, some in enumerate(requests)])


def test_a_change_that_comes_twice_in_one_commit_is_stored_once(book: Logbook) -> None:
    first, second = stored(book, [change(1)], [change(1), change(2, "water")])
    assert first["accepted"][0] == second["accepted"][0]
    assert [row["id"] for row in book.changes_after(0)] == [change(1)["id"], change(2)["id"]]


def test_a_shared_commit_says_what_two_commits_would_have_said(book: Logbook, tmp_path: Path) -> None:
    requests = [change(1), change(3)], [change(2), change(4, "water")]
    together = stored(book, *requests)
    with Logbook.open(tmp_path / "other", FakeClock(), durable=False) as other:
        apart = [stored(other, request)[0] for request in requests]
        assert together == apart
        assert book.end() == other.end() and book.state_hash() == other.state_hash()
    assert book.check().content


def test_of_a_shared_commit_that_fails_nothing_is_stored(
    book: Logbook, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise sa.exc.OperationalError("COMMIT", None, OSError("disk I/O error"))

    with monkeypatch.context() as broken:
        broken.setattr(book._engine.dialect, "do_commit", refuse)
        with pytest.raises(StorageFailed):
            stored(book, [change(1)], [change(2)])
    assert book.end()["seq"] == 0 and book.changes_after(0) == []
    assert book.check().content
