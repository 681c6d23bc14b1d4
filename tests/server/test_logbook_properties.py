"""What holds for any changes at all: who saw wins, repeats do nothing, tables equal the fold."""

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id
from easelside.logbook.model import Change, fold

NOON = datetime(2026, 11, 25, 12, tzinfo=UTC)
RECORDS = [("soak", time_ordered_id(1, b"r" * 10)), ("piece", time_ordered_id(2, b"r" * 10))]
NAMES = ["pieces", "water"]
UNKNOWN = time_ordered_id(3, b"u" * 10)


def written(at: datetime) -> str:
    return at.isoformat(timespec="milliseconds").replace("+00:00", "Z")


@st.composite
def changes(draw: st.DrawFn) -> list[Change]:
    """Changes in order of arrival; each saw nothing, an earlier change, or one that nobody here knows."""
    made: list[Change] = []
    for n in range(draw(st.integers(1, 9))):
        kind, record = draw(st.sampled_from(RECORDS))
        names = draw(st.lists(st.sampled_from(NAMES), min_size=1, unique=True))
        here = [c["id"] for c in made if c["record"] == record] + [None, UNKNOWN]
        made.append(
            Change(
                id=time_ordered_id(1000 + n, b"c" * 10),
                v=1,
                kind=kind,
                record=record,
                device=draw(st.sampled_from(["a", "b", "c"])),
                made=written(NOON + timedelta(minutes=draw(st.integers(-30, 30)))),
                set={name: draw(st.sampled_from([None, n])) for name in names},
                saw={name: draw(st.sampled_from(here)) for name in names},
                back=draw(st.booleans()),
            )
        )
    return made


@contextmanager
def new_book() -> Iterator[Logbook]:
    place = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(prefix="easelside-", dir=place) as folder:
        book = Logbook.open(Path(folder), FakeClock(NOON), durable=False)
        try:
            yield book
        finally:
            book.close()


def stored(book: Logbook) -> dict[tuple[str, str], Any]:
    return {at: record["fields"] for at in RECORDS if (record := book.record(*at))}


def receive(book: Logbook, some: list[Change]) -> None:
    book.receive("a", written(NOON), some)


quick = settings(max_examples=60)


@quick
@given(changes())
def test_an_edit_that_saw_another_is_never_beaten_by_it(arriving: list[Change]) -> None:
    with new_book() as book:
        receive(book, arriving)
        for (_, record), fields in stored(book).items():
            for name, field in fields.items():
                saw_it = [
                    c for c in arriving if c["record"] == record and c["saw"].get(name) == field["change"]
                ]
                assert saw_it == []


@quick
@given(changes())
def test_a_take_back_never_undoes_what_came_after(arriving: list[Change]) -> None:
    with new_book() as book:
        known: dict[tuple[str, str], str] = {}
        sets: dict[str, set[str]] = {}
        for change in arriving:
            before = book.end()["seq"]
            receive(book, [change])
            row, *again = book.changes_after(before)
            for name in change["set"]:
                at, saw = (change["record"], name), change["saw"][name]
                if change["back"] and saw is not None and name in sets.get(saw, set()) and at in known:
                    assert (name in row["won"]) == (known[at] == saw)
                if name in row["won"]:
                    known[at] = change["id"]
            known.update({(one["record"], name): one["id"] for one in again for name in one["won"]})
            sets[change["id"]] = set(change["set"])


@quick
@given(changes(), st.data())
def test_a_repeat_changes_nothing(arriving: list[Change], data: st.DataObject) -> None:
    with new_book() as book:
        receive(book, arriving)
        end, before = book.end(), stored(book)
        repeats = data.draw(st.lists(st.sampled_from(arriving)))
        answer = book.receive("b", written(NOON + timedelta(days=3)), repeats)
        rows = {row["id"]: row for row in book.changes_after(0) if "held" not in row}
        assert (book.end(), stored(book)) == (end, before)
        for change, told in zip(repeats, answer["accepted"], strict=True):
            row = rows[change["id"]]
            assert (told["seq"], told["when"], told["won"]) == (row["seq"], row["when"], row["won"])


@quick
@given(changes())
def test_the_tables_equal_the_fold_of_the_changes(arriving: list[Change]) -> None:
    with new_book() as book:
        receive(book, arriving)
        folded: dict[tuple[str, str], Any] = {}
        for row in book.changes_after(0):
            at = row["kind"], row["record"]
            folded[at] = fold(folded.get(at, {}), row)
        assert folded == stored(book)
        assert book.check().problems == []
        state = book.state_hash()
        book.rebuild()
        assert (stored(book), book.state_hash()) == (folded, state)


@quick
@given(changes(), st.integers(1, 5))
def test_how_changes_are_split_into_exchanges_does_not_matter(arriving: list[Change], size: int) -> None:
    with new_book() as whole, new_book() as split:
        receive(whole, arriving)
        for start in range(0, len(arriving), size):
            receive(split, arriving[start : start + size])
        assert whole.changes_after(0) == split.changes_after(0)
        assert whole.end() == split.end()


@quick
@given(changes())
def test_every_change_is_kept_word_for_word(arriving: list[Change]) -> None:
    with new_book() as book:
        receive(book, arriving)
        rows: list[Any] = [row for row in book.changes_after(0) if "held" not in row]
        assert [
            {name: row[name] for name in change} for row, change in zip(rows, arriving, strict=True)
        ] == arriving
