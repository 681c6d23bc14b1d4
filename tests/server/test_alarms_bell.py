"""The bench's bell: the maker's own command, as it was given, until somebody silences it."""

import json
import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import pytest

from easelside.alarms import bell as bells
from easelside.alarms.bell import Bell
from easelside.alarms.model import Facts
from easelside.alarms.watch import NAME, Alarms
from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.units import write_instant

ROOT = Path(__file__).parents[2]
NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
SOAK = "019aba0f-f7c0-7000-8000-000000000001"
NOTES_DOWN = "import json, sys; open(sys.argv[1], 'a').write(json.dumps(sys.argv[2:]) + '\\n')"


def comes_about(holds: Callable[[], bool], seconds: float = 10) -> bool:
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        if holds():
            return True
        time.sleep(0.02)
    return False


@pytest.fixture(autouse=True)
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bells, "PAUSE_S", 0.05)


@pytest.fixture
def note(tmp_path: Path) -> Path:
    return tmp_path / "rung"


def rung(note: Path) -> list[list[str]]:
    return [json.loads(line) for line in note.read_text().splitlines()] if note.exists() else []


def noting(note: Path, *words: str) -> Bell:
    return Bell((sys.executable, "-c", NOTES_DOWN, str(note), *words))


def test_it_rings_again_and_again_until_it_is_silenced(note: Path) -> None:
    bell = noting(note)
    bell.ring(True)
    assert comes_about(lambda: len(rung(note)) >= 3)
    bell.ring(False)
    assert comes_about(lambda: bell._thread is None)
    count = len(rung(note))
    time.sleep(0.3)
    assert len(rung(note)) == count
    assert bell.works is True
    bell.close()


def test_no_shell_reads_the_command(note: Path, tmp_path: Path) -> None:
    words = ["; touch broken", "$(touch broken)", "a  b", "*", "'\""]
    bell = noting(note, *words)
    bell.try_once()
    assert comes_about(lambda: rung(note) == [words])
    bell.close()
    assert [path.name for path in tmp_path.iterdir()] == ["rung"]


def test_a_long_ring_is_cut_when_it_is_silenced() -> None:
    bell = Bell((sys.executable, "-c", "import time; time.sleep(60)"))
    bell.ring(True)
    time.sleep(0.3)
    bell.ring(False)
    assert comes_about(lambda: bell._thread is None)
    bell.close()


@pytest.mark.parametrize(
    "command", [("no-such-program-here",), (sys.executable, "-c", "raise SystemExit(3)")]
)
def test_a_bell_that_does_not_work_says_so_once(
    command: tuple[str, ...], caplog: pytest.LogCaptureFixture
) -> None:
    bell = Bell(command)
    assert bell.works is None
    bell.ring(True)
    assert comes_about(lambda: bell.works is False)
    time.sleep(0.3)
    bell.close()
    assert len(caplog.records) == 1
    assert "--bell" in caplog.records[0].getMessage()


def test_a_closed_bell_stays_still(note: Path) -> None:
    bell = noting(note)
    bell.close()
    bell.ring(True)
    bell.try_once()
    time.sleep(0.2)
    assert rung(note) == []


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock(NOW)


@pytest.fixture
def bench(tmp_path: Path, clock: FakeClock, note: Path) -> Iterator[tuple[Alarms, Logbook]]:
    book = Logbook.open(tmp_path / "workshop", clock, durable=False)
    app = create_app(Settings(":unused:", bell=noting(note).command), clock, book)
    alarms: Alarms = app.extensions[NAME]
    yield alarms, book
    alarms.bell.close()
    book.close()


def test_a_soak_rings_the_bench_until_another_device_silences_it(
    bench: tuple[Alarms, Logbook], clock: FakeClock, note: Path
) -> None:
    alarms, book = bench
    book.write("soak", SOAK, {"put_in": write_instant(NOW), "soak_s": 1800})
    alarms.look()
    assert not alarms.bell.is_ringing
    clock.forward(minutes=30)
    alarms.look()
    assert alarms.bell.is_ringing
    assert comes_about(lambda: rung(note) != [])
    book.write("soak", SOAK, {"silenced_at": write_instant(clock.now())}, device="another phone")
    alarms.look()
    assert not alarms.bell.is_ringing


def test_the_next_group_of_a_staggered_row_rings_until_it_is_silenced_rings_again_and_goes_in(
    bench: tuple[Alarms, Logbook], clock: FakeClock
) -> None:
    alarms, book = bench
    row = {"soak_s": 7200, "pieces": 6, "of_pieces": 12, "every_s": 900}
    book.write("soak", SOAK, {"put_in": write_instant(NOW), **row})
    rang = []

    def look(**later: float) -> None:
        clock.forward(**later)
        alarms.look()
        rang.append(alarms.bell.is_ringing)

    look(minutes=14)
    look(minutes=1)
    again_at = write_instant(clock.now() + timedelta(minutes=5))
    silenced = {"next_silenced_at": write_instant(clock.now()), "next_rings_again_at": again_at}
    book.write("soak", SOAK, silenced, device="another phone")
    look()
    look(minutes=5)
    second = {"put_in": write_instant(clock.now()), "soak_s": 7200, "pieces": 6, "run": SOAK}
    book.write("soak", SOAK[:-1] + "9", second, device="phone")
    look()
    assert rang == [False, True, False, True, False]


def test_cane_that_dries_in_the_air_is_called_no_more(
    bench: tuple[Alarms, Logbook], clock: FakeClock
) -> None:
    alarms, book = bench
    book.write("soak", SOAK, {"put_in": write_instant(NOW - timedelta(minutes=30)), "soak_s": 1800})
    book.write("soak", SOAK, {"drying_since": write_instant(NOW)})
    alarms.look()
    assert not alarms.bell.is_ringing


def test_a_soak_that_nobody_answers_rings_five_minutes(
    bench: tuple[Alarms, Logbook], clock: FakeClock
) -> None:
    alarms, book = bench
    book.write("soak", SOAK, {"put_in": write_instant(NOW - timedelta(minutes=30)), "soak_s": 1800})
    rang = []
    for _ in range(7):
        alarms.look()
        rang.append(alarms.bell.is_ringing)
        clock.forward(minutes=1)
    assert rang == [True] * 5 + [False] * 2


def test_a_long_count_is_not_begun_again_at_once_and_the_bell_rings_by_the_one_before(
    bench: tuple[Alarms, Logbook], clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    alarms, book = bench
    book.write("soak", SOAK, {"put_in": write_instant(NOW), "soak_s": 2})
    count, counted = alarms._ask, []

    def slow(now: datetime) -> Facts:
        counted.append(now)
        clock.forward(seconds=0.2)
        return count(now)

    monkeypatch.setattr(alarms, "_ask", slow)
    rang = []
    for change in range(15):  # a change and a look every half second: the count of each would take two fifths
        book.write("note", SOAK, {"text": str(change)})
        alarms.look()
        rang.append(alarms.bell.is_ringing)
        clock.forward(seconds=0.5)
    gaps = [(later - sooner).total_seconds() for sooner, later in pairwise(counted)]
    assert len(gaps) >= 1
    assert min(gaps) >= 2
    assert rang[-1] is True


def test_while_many_changes_come_in_what_is_due_is_counted_every_five_seconds_and_once_they_are_through(
    bench: tuple[Alarms, Logbook], clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    alarms, book = bench
    count, counted = alarms._ask, []
    monkeypatch.setattr(alarms, "_ask", lambda now: (counted.append(clock.now()), count(now))[1])
    alarms.look()
    monkeypatch.setattr("easelside.alarms.watch.MANY", 3)
    for change in range(80):  # eight seconds of five changes between two looks, ten looks a second
        for more in range(5):
            book.write("note", SOAK, {"text": f"{change}, {more}"})
        clock.forward(seconds=0.1)
        alarms.look()
    since = [(at - NOW).total_seconds() for at in counted]
    assert len(since) == 2 and since[1] == pytest.approx(5.1, abs=0.2)
    clock.forward(seconds=0.5)
    alarms.look()
    assert len(counted) == 3


def asked(address: str, method: str, path: str, body: object) -> None:
    request = urllib.request.Request(address + path, json.dumps(body).encode(), method=method)
    request.add_header("Content-Type", "application/json")
    urllib.request.urlopen(request, timeout=10).close()


def test_the_command_line_takes_a_bell_word_by_word_and_rings_it(tmp_path: Path, note: Path) -> None:
    bell = [word for part in noting(note, "two words").command for word in ("--bell", part)]
    process = subprocess.Popen(
        [sys.executable, "-m", "easelside", "serve", "--port", "0", "--data", str(tmp_path / "own"), *bell],
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT / "server"), str(ROOT)])},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert process.stdout is not None
        address = next(found[0] for line in process.stdout if (found := re.search(r"http://\S+", line)))
        asked(address, "POST", "api/soaks", {"soak_s": 0.001})
        assert comes_about(lambda: ["two words"] in rung(note))
        process.send_signal(signal.SIGTERM)
        assert process.wait(15) == 0
        count = len(rung(note))
        time.sleep(1.5)
        assert len(rung(note)) == count
    finally:
        process.kill()
        process.wait(10)
        if process.stdout is not None:
            process.stdout.close()
