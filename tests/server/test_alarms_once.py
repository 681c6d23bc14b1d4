"""Each message once: over restarts, a kill in the middle of sending, a machine that slept."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from easelside.clock import FakeClock, SystemClock
from easelside.logbook.book import Logbook
from easelside.units import write_instant
from tests.server.push_service import PushService, push_service
from tests.server.test_alarms_push import NOW, PHONE, SOAK, TASK, Bench

ROOT = Path(__file__).parents[2]

# The server's own parts, with the one setting that no command line has, on a clock that the test may move on.
# It says when each look at what is due, and each at what there is to carry, began, once that is through.
SERVER = """
import sys
import threading
import time
from datetime import datetime, timedelta
from pathlib import Path
from easelside.alarms.watch import NAME
from easelside.app import create_app
from easelside.clock import SystemClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings

folder, ahead_s = Path(sys.argv[1]), Path(sys.argv[2])

class Moved(SystemClock):
    def now(self) -> datetime:
        return super().now() + timedelta(seconds=float(ahead_s.read_text() or 0))

def told(what, act):
    def through():
        began = time.time()
        found = act()
        print(what, began, flush=True)
        return found
    return through

clock = Moved()
app = create_app(Settings(folder, loopback_push=True), clock, Logbook.open(folder, clock, durable=False))
alarms = app.extensions[NAME]
alarms.look = told("looked", alarms.look)
alarms.postman.carry_one = told("carried", alarms.postman.carry_one)
alarms.start()
threading.Event().wait(120)
"""


@pytest.fixture
def service() -> Iterator[PushService]:
    with push_service() as found:
        yield found


def test_a_restart_says_nothing_again(tmp_path: Path, service: PushService) -> None:
    clock = FakeClock(NOW)
    first = Bench(tmp_path, clock)
    first.on(service)
    first.soak_ready()
    first.book.write("care_task", TASK, {"what": "oil", "every_days": 1, "since": "2026-11-01T08:00:00.000Z"})
    first.round()
    first.killed()
    for hours in (1, 5, 20):
        clock.forward(hours=hours)
        again = Bench(tmp_path, clock)
        again.book.forget_begun()
        again.round()
        again.killed()
    assert sorted(service.titles()) == ["Jar 2: ready", "Oil the pivot"]


def test_what_was_laid_out_before_a_kill_is_sent_after_it(tmp_path: Path, service: PushService) -> None:
    clock = FakeClock(NOW)
    first = Bench(tmp_path, clock)
    first.on(service)
    first.soak_ready()
    first.alarms.look()
    first.killed()
    again = Bench(tmp_path, clock)
    again.alarms.postman._logbook.forget_begun()
    again.round()
    again.killed()
    assert service.titles() == ["Jar 2: ready"]


def test_a_soak_that_was_ready_while_the_server_was_off_is_said_when_it_is_back(
    tmp_path: Path, service: PushService
) -> None:
    clock = FakeClock(NOW)
    first = Bench(tmp_path, clock)
    first.on(service)
    first.book.write("soak", SOAK, {"put_in": write_instant(NOW), "soak_s": 1800})
    first.round()
    first.killed()
    clock.forward(hours=3)
    again = Bench(tmp_path, clock)
    again.round()
    again.round()
    again.killed()
    assert [came.shown()["body"] for came in service.came] == ["Its time in water was over at 14:30."]


def test_a_clock_that_goes_back_says_nothing_again(tmp_path: Path, service: PushService) -> None:
    clock = FakeClock(NOW)
    bench = Bench(tmp_path, clock)
    bench.on(service)
    bench.soak_ready()
    bench.round()
    clock.set(NOW - timedelta(hours=1))
    bench.round()
    clock.set(NOW + timedelta(seconds=1))
    bench.round()
    bench.killed()
    assert service.titles() == ["Jar 2: ready"]


def started(folder: Path, ahead_s: Path) -> subprocess.Popen[str]:
    paths = os.pathsep.join([str(ROOT / "server"), str(ROOT)])
    process = subprocess.Popen(
        [sys.executable, "-c", SERVER, str(folder), str(ahead_s)],
        env={**os.environ, "PYTHONPATH": paths},
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    goes_on(process)
    return process


def goes_on(process: subprocess.Popen[str]) -> None:
    """Until it has looked at what is due, and then at what there is to carry, twice over from now."""
    now, to_come = time.time(), ["looked", "carried"] * 2
    assert process.stdout is not None
    for line in process.stdout:
        what, began = line.split()
        if what == to_come[0] and float(began) > now:
            del to_come[0]
            if not to_come:
                return
    raise AssertionError("the server ended")


def stopped(process: subprocess.Popen[str]) -> None:
    process.kill()
    process.wait(10)
    if process.stdout is not None:
        process.stdout.close()


def prepared(folder: Path, service: PushService, ready_in_s: float) -> None:
    clock = SystemClock()
    book = Logbook.open(folder, clock, durable=False)
    now = clock.now()
    book.note("push", json.dumps({"contact": None}))
    said = {"device": f"here {PHONE}", "endpoint": f"{service.origin}/send/one", "origin": "http://localhost"}
    book.subscribe("x" * 32, **said, since=write_instant(now), **service.keys())
    put_in = write_instant(now + timedelta(seconds=ready_in_s - 1800))
    book.write("soak", SOAK, {"put_in": put_in, "soak_s": 1800, "jar": "2"})
    book.close()


@pytest.fixture
def ahead_s(tmp_path: Path) -> Path:
    """How far the clock of a server in a process of its own is ahead of ours."""
    file = tmp_path / "ahead"
    file.write_text("0")
    return file


def test_a_server_killed_while_the_push_service_answers_does_not_send_it_again(
    tmp_path: Path, ahead_s: Path, service: PushService
) -> None:
    folder = tmp_path / "workshop"
    prepared(folder, service, 3600)
    first = started(folder, ahead_s)
    try:
        service.hold.clear()
        ahead_s.write_text("3600")
        assert service.arrived.wait(60)
    finally:
        stopped(first)
    service.hold.set()
    second = started(folder, ahead_s)
    stopped(second)
    assert len(service.came) == 1
    book = Logbook.open(folder, SystemClock(), durable=False)
    assert (book.waiting(), len(book.said())) == (set(), 1)
    book.close()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no signal that pauses a process")
def test_a_paused_process_says_what_became_due_meanwhile_and_once(
    tmp_path: Path, ahead_s: Path, service: PushService
) -> None:
    folder = tmp_path / "workshop"
    prepared(folder, service, 3600)
    process = started(folder, ahead_s)
    try:
        process.send_signal(signal.SIGSTOP)
        os.waitpid(process.pid, os.WUNTRACED)
        ahead_s.write_text("3600")
        assert service.came == []
        process.send_signal(signal.SIGCONT)
        assert service.arrived.wait(60)
        goes_on(process)
    finally:
        stopped(process)
    assert service.titles() == ["Jar 2: ready"]
