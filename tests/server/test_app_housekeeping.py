"""What the server does by itself: each once, also after a night asleep."""

import logging
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from easelside.clock import FakeClock, SystemClock
from easelside.errors import DiskFull
from easelside.forecast.current import Current
from easelside.forecast.sweep import NOTE
from easelside.housekeeping import nightly
from easelside.logbook.backups import kept
from easelside.logbook.book import Logbook

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def logbook(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path, clock, durable=False)
    yield book
    book.close()


def wait_until(holds: Callable[[], bool]) -> None:
    for _ in range(1200):
        if holds():
            return
        time.sleep(0.05)
    raise AssertionError("it did not come about in a minute")


def test_a_day_has_one_backup_however_often_the_job_runs(logbook: Logbook, clock: FakeClock) -> None:
    for _ in range(3):
        nightly.daily_backup(logbook, clock)
    assert [made.name for made in kept(logbook.folder)] == ["workshop-2026-11-25.db"]
    clock.forward(days=1)
    nightly.daily_backup(logbook, clock)
    assert len(kept(logbook.folder)) == 2


def test_due_care_is_one_line_in_the_log_however_often_the_job_runs(
    logbook: Logbook, clock: FakeClock, caplog: pytest.LogCaptureFixture
) -> None:
    task = "019aba0f-f7c0-7000-8000-000000000001"
    logbook.write("care_task", task, {"what": "oil", "every_days": 1, "since": "2026-11-01T08:00:00.000Z"})
    with caplog.at_level(logging.INFO, logger="easelside.housekeeping"):
        for _ in range(3):
            nightly.care_sweep(logbook, Current(logbook), clock)
            clock.forward(hours=1)
    assert [record.getMessage() for record in caplog.records] == [f"Care is due: oil ({task})"]


def test_all_its_jobs_run_soon_after_the_start(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nightly, "SOON_S", 0)
    clock = SystemClock()
    book = Logbook.open(tmp_path, clock, durable=False)
    since = "2026-01-01T08:00:00.000Z"
    book.write("care_task", "019aba0f-f7c0-7000-8000-000000000001", {"every_days": 1, "since": since})
    scheduler = nightly.start(book, Current(book), clock)
    try:
        wait_until(lambda: len(kept(tmp_path)) == 1 and book.noted(NOTE) is not None and book.slips() != [])
    finally:
        scheduler.shutdown(wait=True)
        book.close()


def test_missed_runs_are_made_up_once(logbook: Logbook, clock: FakeClock) -> None:
    scheduler = nightly.start(logbook, Current(logbook), clock)
    try:
        for job in scheduler.get_jobs():
            assert job.coalesce
            assert job.max_instances == 1
            assert job.misfire_grace_time >= 12 * 3600
    finally:
        scheduler.shutdown(wait=False)


def test_a_job_that_fails_is_one_line_that_says_what_to_do(caplog: pytest.LogCaptureFixture) -> None:
    def full() -> None:
        raise DiskFull

    nightly.told(full)()
    (record,) = caplog.records
    assert "Free some space" in record.getMessage()
    assert record.exc_info is None
