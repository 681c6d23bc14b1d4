"""Counts that are kept up while the logbook grows equal those counted from all that it holds."""

import random
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from easelside.clock import FakeClock
from easelside.forecast.counting import Counting
from easelside.forecast.current import WORKSHOP, Current, fact_of
from easelside.forecast.sweep import sweep
from easelside.logbook.book import Logbook
from easelside.logbook.ids import piece_id
from easelside.units import write_instant, zone_of

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
ZONE = "America/New_York"
SEED = 20261125


def name(kind: int, number: int) -> str:
    return f"019aba0f-f7c0-7000-8{kind:03x}-{number:012x}"


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def logbook(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path, clock, durable=False)
    book.write("workshop", WORKSHOP, {"time_zone": ZONE})
    yield book
    book.close()


def ago(**by: float) -> str:
    return write_instant(NOW - timedelta(**by))


def something_happens(book: Logbook, clock: FakeClock, chance: random.Random, step: int) -> None:
    """One change of a kind that counts, anywhere in the last half year, told at once or only today."""
    days = chance.uniform(0, 180)
    clock.set(NOW - timedelta(days=days) if chance.random() < 0.7 else NOW)
    at, machine, batch = ago(days=days), name(1, chance.randint(1, 2)), name(2, step % 3)
    match chance.randint(0, 7):
        case 0:
            what = chance.choice(("fitted", "fitted", "ground", "sent", "back", "retired", "taken_out"))
            move = {"blade": name(3, chance.randint(1, 3)), "machine": machine, "what": what, "at": at}
            book.write("blade_move", name(4, step), move)
        case 1:
            book.write("blade_move", name(4, chance.randint(0, step)), {"at": at})
        case 2:
            tally = {
                "batch": batch,
                "stage": "profiled",
                "machine": machine,
                "at": at,
                "started": 9,
                "good": 8,
            }
            book.write("tally", name(5, step), tally)
        case 3:
            book.write("care_task", name(6, step % 2), {"machine": machine, "every_pieces": 9, "since": at})
        case 4:
            book.write("care_done", name(7, step), {"task": name(6, step % 2), "at": at, "what": "done"})
        case 5:
            book.write(
                "piece", piece_id(name(8, 1), chance.randint(1, 9)), {"removed": chance.random() < 0.5}
            )
        case _:
            number = chance.randint(1, 9)
            said = {"session": name(8, 1), "number": number, "machine": machine, "batch": batch, "at": at}
            outcome = chance.choice(("good", "second", "lost", None))
            book.write("piece", piece_id(name(8, 1), number), {**said, f"outcome/{step % 4}": outcome})


@pytest.mark.parametrize("start", range(4))
def test_kept_up_counts_equal_counts_from_scratch(logbook: Logbook, clock: FakeClock, start: int) -> None:
    chance, current = random.Random(SEED + start), Current(logbook)
    for step in range(60):
        something_happens(logbook, clock, chance, step)
        if chance.random() < 0.4:
            current = Current(logbook) if chance.random() < 0.3 else current
            whole = Counting(map(fact_of, logbook.all_records()), zone_of(ZONE))
            kept = current.counting(NOW)
            for task in whole.tasks:
                assert kept.due(task, NOW) == whole.due(task, NOW), (SEED + start, step)
            for blade in (name(3, n) for n in (1, 2, 3)):
                found, bench = current.blade(blade, NOW), whole.timeline.now
                edge = bench.edge_of(blade)
                assert (found.edge, found.place) == (edge, bench.places.get(blade))
                if edge is not None and found.place is not None and found.place.where != "retired":
                    assert found.pieces == whole.edges[edge], (SEED + start, step)
            for batch in (name(2, n) for n in range(3)):
                assert current.stands(batch) == whole.batches.get(batch, {}), (SEED + start, step)


def test_the_workshops_zone_is_followed_when_it_changes(logbook: Logbook) -> None:
    current = Current(logbook)
    assert current.counting(NOW) is current.counting(NOW)
    logbook.write("care_task", name(6, 1), {"every_days": 1, "since": "2026-11-25T03:00:00.000Z"})
    (task,) = current.counting(NOW).tasks
    assert str(current.due(task, NOW).due_day) == "2026-11-25"
    logbook.write("workshop", WORKSHOP, {"time_zone": "Asia/Tokyo"})
    assert str(current.due(task, NOW).due_day) == "2026-11-26"


def test_care_that_becomes_due_is_told_once_and_again_only_after_it_was_done(
    logbook: Logbook, clock: FakeClock
) -> None:
    logbook.write("care_task", name(6, 1), {"what": "oil", "every_days": 3, "since": ago(days=1)})

    def told() -> list[str]:
        # a new Current each time: what was told outlives a restart
        return [task.id for task in sweep(logbook, Current(logbook), clock.now())]

    assert told() == []
    clock.forward(days=2)
    assert told() == [name(6, 1)]
    clock.forward(days=2)
    assert told() == []
    logbook.write(
        "care_done", name(7, 1), {"task": name(6, 1), "at": write_instant(clock.now()), "what": "done"}
    )
    assert told() == []
    clock.forward(days=3)
    assert told() == [name(6, 1)]


def test_a_batch_that_is_planned_later_moves_a_change_of_blade(logbook: Logbook, clock: FakeClock) -> None:
    logbook.write("care_task", name(6, 1), {"what": "change", "every_days": 3, "since": ago(days=1)})
    current = Current(logbook)
    (task,) = current.counting(NOW).tasks
    assert str(current.due(task, NOW).roughly_day) == "2026-11-27"
    clock.forward(minutes=1)
    logbook.write("batch", name(2, 1), {"planned_day": "2026-11-28"})
    assert str(current.due(task, NOW).roughly_day) == "2026-11-26"
    logbook.write("batch", name(2, 1), {"closed": True})
    assert str(current.due(task, NOW).roughly_day) == "2026-11-27"


def test_looking_for_due_care_leaves_the_phones_slips_alone(logbook: Logbook, clock: FakeClock) -> None:
    logbook.write("care_task", name(6, 1), {"what": "oil", "every_days": 3, "since": ago(days=9)})
    assert sweep(logbook, Current(logbook), clock.now())
    assert logbook.slips() == []
