"""Torn files, flipped bits, full and failing disks, two owners, tables gone: nothing acknowledged is lost."""

import io
import random
import resource
import shutil
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa
from werkzeug.test import TestResponse

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.errors import (
    DamagedLogbook,
    DiskFull,
    EaselsideError,
    FolderInUse,
    NotReadableHere,
    StorageFailed,
)
from easelside.logbook.book import Logbook
from easelside.logbook.folder import DATABASE, Owner
from easelside.settings import Settings
from tests.faults_catalogue.running import Server
from tests.faults_catalogue.test_server_killed import new_id, written

clock = FakeClock()
TOLD = ("changes", "records", "pieces", "head")


def filled(folder: Path, rows: int, **how: Any) -> Logbook:
    book = Logbook.open(folder, clock, **how)
    session = book.new_id()
    for n in range(rows):
        book.write("piece", book.new_id(), {"session": session, "number": n, "note": "words " * 10})
    return book


def copy_of(folder: Path, to: Path) -> Path:
    """The files as a killed server leaves them: the write-ahead log not yet written back."""
    to.mkdir()
    for file in folder.glob(f"{DATABASE}*"):
        shutil.copyfile(file, to / file.name)
    return to


def test_a_log_that_was_torn_anywhere_opens_at_a_whole_commit(tmp_path: Path) -> None:
    folder = tmp_path / "workshop"
    book = Logbook.open(folder, clock)
    ends = [book.end()]
    for n in range(20):
        book.write("note", book.new_id(), {"text": f"{n} " * 20})
        ends.append(book.end())
    killed = copy_of(folder, tmp_path / "killed")
    book.close()
    log = f"{DATABASE}-wal"
    whole = (killed / log).read_bytes()
    chance = random.Random(5)
    cuts = [0, *(chance.randrange(len(whole)) for _ in range(25)), len(whole)]
    torn = [whole[:cut] for cut in cuts] + [whole[:-4096] + bytes(4096), None]
    found = []
    for n, content in enumerate(torn):
        here = copy_of(killed, tmp_path / f"torn{n}")
        if content is None:
            (here / log).unlink()
        else:
            (here / log).write_bytes(content)
        opened = Logbook.open(here, clock)
        assert opened.end() in ends
        assert opened.check().problems == []
        found.append(opened.end()["seq"])
        opened.close()
    assert max(found) == 20 and min(found) < 20


def test_a_database_cut_at_a_page_is_told_in_one_sentence(tmp_path: Path) -> None:
    filled(tmp_path / "workshop", 60).close()
    size = (tmp_path / "workshop" / DATABASE).stat().st_size
    for n in range(1, size // 4096):
        here = copy_of(tmp_path / "workshop", tmp_path / f"cut{n}")
        with (here / DATABASE).open("r+b") as file:
            file.truncate(n * 4096)
        with pytest.raises(EaselsideError) as told:
            book = Logbook.open(here, clock)
            problems = book.check().problems
            book.close()
            raise DamagedLogbook(detail=problems[0].what)
        assert told.value.what_to_do


def content(file: Path) -> Any:
    connection = sqlite3.connect(file)
    connection.text_factory = bytes
    try:
        return [connection.execute(f"SELECT * FROM {table}").fetchall() for table in TOLD]
    except sqlite3.DatabaseError:
        return None
    finally:
        connection.close()


def test_every_bit_that_flips_in_the_records_is_found_and_named(tmp_path: Path) -> None:
    filled(tmp_path / "workshop", 150).close()
    before = content(tmp_path / "workshop" / DATABASE)
    good = (tmp_path / "workshop" / DATABASE).read_bytes()
    chance = random.Random(11)
    found = 0
    for n in range(80):
        here = tmp_path / f"flip{n}"
        here.mkdir()
        bad = bytearray(good)
        place = chance.randrange(len(bad))
        bad[place] ^= 1 << chance.randrange(8)
        (here / DATABASE).write_bytes(bad)
        after = content(here / DATABASE)
        try:
            book = Logbook.open(here, clock, look_only=True)
            problems = book.check().problems
            book.close()
        except DamagedLogbook:
            found += 1
            continue
        if problems:
            found += 1
            assert all(problem.where and problem.what and problem.what_to_do for problem in problems)
        else:
            assert after == before, f"bit at {place} changed the records and was not found"
    assert found > 40


def test_the_command_check_names_a_changed_row_and_fails(tmp_path: Path) -> None:
    folder = tmp_path / "workshop"
    filled(folder, 30).close()
    with sqlite3.connect(folder / DATABASE) as connection:
        connection.execute("UPDATE changes SET row = replace(row, 'words', 'sword') WHERE seq = 17")
    connection.close()
    command = [sys.executable, "-m", "easelside", "check", "--data", str(folder)]
    said = subprocess.run(command, capture_output=True, text=True, env={"PYTHONPATH": "server"}, timeout=60)
    assert said.returncode != 0
    assert "row 17" in said.stdout + said.stderr


def changed(folder: Path, order: str) -> None:
    with sqlite3.connect(folder / DATABASE) as connection:
        connection.execute(order)
    connection.close()


def test_a_changed_row_is_not_taken_along_into_an_export(tmp_path: Path) -> None:
    folder = tmp_path / "workshop"
    filled(folder, 1200).close()
    changed(folder, "UPDATE changes SET row = replace(row, 'words', 'sword') WHERE seq = 100")
    command = [sys.executable, "-m", "easelside", "export", str(tmp_path / "all.json"), "--as", "json"]
    command += ["--data", str(folder)]
    said = subprocess.run(command, capture_output=True, text=True, env={"PYTHONPATH": "server"}, timeout=60)
    assert said.returncode == 1
    assert "row 100 is not what was written" in said.stderr and "Traceback" not in said.stderr
    assert list(tmp_path.iterdir()) == [folder]


def test_rows_that_are_gone_at_the_end_are_missed_by_an_export(tmp_path: Path) -> None:
    filled(tmp_path, 30).close()
    changed(tmp_path, "DELETE FROM changes WHERE seq > 20")
    book = Logbook.open(tmp_path, clock, look_only=True)
    with pytest.raises(DamagedLogbook, match="the last row is 20"):
        book.export_json(io.BytesIO())
    book.close()


def test_a_record_that_cannot_be_read_is_told_by_whatever_meets_it_and_by_health(tmp_path: Path) -> None:
    filled(tmp_path / "workshop", 5).close()
    changed(tmp_path / "workshop", "UPDATE records SET fields = '{' || fields WHERE seq = 3")
    book = Logbook.open(tmp_path / "workshop", clock)
    client = create_app(Settings(":unused:"), clock, book).test_client()

    def ask(path: str) -> TestResponse:
        return client.get(path, headers={"Host": "localhost"})

    assert ask("/api/health").json["wrong"] == []
    for path in (f"/api/pieces/{book.changes_after(2, 1)[0]['record']}", "/api/exchange/snapshot"):
        told = ask(path)
        assert (told.status_code, told.json["code"]) == (503, "damaged_logbook")
    assert [wrong["code"] for wrong in ask("/api/health").json["wrong"]] == ["damaged_logbook"]
    with pytest.raises(DamagedLogbook):
        book.state_hash()
    with pytest.raises(DamagedLogbook):
        book.write("piece", book.changes_after(2, 1)[0]["record"], {"note": "more"})
    book.close()


def limit_pages(book: Logbook, more: int | None) -> None:
    """The database may grow by so many pages (4 KiB); None: as much as it likes."""
    book._engine.dispose()
    limits.clear()
    if more is not None:
        with book.view() as view:
            limits.append(view.exec_driver_sql("PRAGMA page_count").scalar_one() + more)
        book._engine.dispose()


limits: list[int] = []


def test_a_full_disk_takes_nothing_half_and_reads_go_on(tmp_path: Path) -> None:
    book = filled(tmp_path / "workshop", 20)

    @sa.event.listens_for(book._engine, "connect")
    def _limit(connection: sqlite3.Connection, _record: Any) -> None:
        connection.execute(f"PRAGMA max_page_count={limits[0] if limits else 2**30}").close()

    for room in range(0, 12, 2):
        limit_pages(book, room)
        acknowledged = book.end()
        with pytest.raises(DiskFull):
            for _ in range(500):
                book.write("note", book.new_id(), {"text": "words " * 50})
                acknowledged = book.end()
        assert book.end() == acknowledged
        assert len(book.records("piece", limit=100)) == 20
        assert [wrong["code"] for wrong in book.health()["wrong"]] == ["disk_full"]
        assert not book.health()["writable"]
        limit_pages(book, None)
        book.write("note", book.new_id(), {"text": "there is room again"})
        assert book.end()["seq"] == acknowledged["seq"] + 1
    assert book.check().problems == []
    assert book.health()["wrong"] == []
    book.close()


def test_a_server_whose_disk_takes_no_more_answers_and_recovers_by_itself(tmp_path: Path) -> None:
    with Server(tmp_path / "workshop") as server:
        logbook = server.wait_until_it_answers()["logbook"]
        device = new_id()

        def send() -> tuple[int, Any]:
            change = {"id": new_id(), "v": 1, "kind": "note", "record": new_id(), "device": device}
            change |= {"made": written(), "set": {"text": "words " * 900}, "saw": {}, "back": False}
            body = {"device": device, "device_now": written(), "logbook": logbook, "changes": [change]}
            return server.ask("POST", "/api/exchange", body | {"after": 2**52})

        acknowledged = sum(send()[0] == 200 for _ in range(5))
        log = tmp_path / "workshop" / f"{DATABASE}-wal"
        unlimited = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, (log.stat().st_size + 9000, unlimited[1]))
        refusals = []
        for _ in range(12):
            status, told = send()
            if status == 200:
                acknowledged += 1
            else:
                refusals.append((status, told))
        assert refusals and {status for status, _ in refusals} <= {503, 507}
        assert all(told["detail"] for _, told in refusals)
        status, told = server.ask("GET", "/api/health")
        assert status in (200, 503)
        assert server.ask("GET", "/api/machines")[0] == 200
        resource.prlimit(server.process.pid, resource.RLIMIT_FSIZE, unlimited)
        until = time.monotonic() + 5
        while send()[0] != 200:
            assert time.monotonic() < until
            time.sleep(0.1)
        acknowledged += 1
        server.kill()
    book = Logbook.open(tmp_path / "workshop", clock)
    assert len(book.records("note", limit=100)) == acknowledged
    assert book.check().problems == []
    book.close()


def fail_commits(book: Logbook, times: int) -> None:
    left = [times]

    @sa.event.listens_for(book._engine, "commit")
    def _fail(connection: sa.Connection) -> None:
        if left[0] > 0 and not connection.get_execution_options().get("reading"):
            left[0] -= 1
            refusal = sqlite3.OperationalError("disk I/O error")
            refusal.sqlite_errorname = "SQLITE_IOERR_FSYNC"
            raise sa.exc.OperationalError("COMMIT", {}, refusal)


def test_after_a_failed_sync_nothing_counts_until_the_logbook_was_read_back(tmp_path: Path) -> None:
    book = filled(tmp_path / "workshop", 5)
    end = book.end()
    fail_commits(book, 1)
    with pytest.raises(StorageFailed):
        book.write("note", book.new_id(), {"text": "not stored"})
    assert [wrong["code"] for wrong in book.health()["wrong"]] == ["storage_failed"]
    assert book.end() == end
    book.write("note", book.new_id(), {"text": "stored"})
    assert book.health()["wrong"] == []
    assert book.end()["seq"] == end["seq"] + 1
    assert book.check().problems == []
    book.close()


def test_after_a_failed_sync_a_logbook_that_lost_pages_takes_nothing_more(tmp_path: Path) -> None:
    book = filled(tmp_path / "workshop", 5)
    fail_commits(book, 1)
    with pytest.raises(StorageFailed):
        book.write("note", book.new_id(), {"text": "not stored"})
    with sqlite3.connect(tmp_path / "workshop" / DATABASE) as other:
        other.execute("UPDATE changes SET row = replace(row, 'words', 'sword') WHERE seq = 5")
    other.close()
    for _ in range(2):
        with pytest.raises(DamagedLogbook):
            book.write("note", book.new_id(), {"text": "not stored either"})
    assert not book.health()["writable"]
    book.close()


@pytest.mark.parametrize("nth", [1, 2, 3])
def test_a_sync_that_the_system_fails_is_not_acknowledged(tmp_path: Path, nth: int) -> None:
    """By strace where there is one; elsewhere the commit fails inside the process, as above."""
    strace = shutil.which("strace")
    folder = tmp_path / "workshop"
    if strace is None:
        book = filled(folder, nth)
        fail_commits(book, 1)
        with pytest.raises(StorageFailed):
            book.write("note", book.new_id(), {"text": "not stored"})
        book.close()
        return
    filled(folder, 3).close()
    script = (
        "import sys; from pathlib import Path\n"
        "from easelside.clock import SystemClock; from easelside.errors import StorageFailed\n"
        "from easelside.logbook.book import Logbook\n"
        "book = Logbook.open(Path(sys.argv[1]), SystemClock())\n"
        "for n in range(6):\n"
        "    try:\n"
        "        print('stored', book.write('note', book.new_id(), {'text': str(n)})['id'], flush=True)\n"
        "    except StorageFailed:\n"
        "        print('failed', n, flush=True)\n"
    )
    inject = f"inject=fdatasync:error=EIO:when={nth}"
    command = [strace, "-f", "-qq", "-o", "/dev/null", "-e", "trace=fdatasync", "-e", inject]
    command += [sys.executable, "-c", script, str(folder)]
    said = subprocess.run(command, capture_output=True, text=True, env={"PYTHONPATH": "server"}, timeout=120)
    lines = [line.split() for line in said.stdout.splitlines()]
    if "Operation not permitted" in said.stderr:
        pytest.fail(f"strace may not trace here: {said.stderr}")
    stored = [line[1] for line in lines if line[0] == "stored"]
    assert len(stored) >= 5 and len(stored) + sum(line[0] == "failed" for line in lines) == 6, said.stderr
    book = Logbook.open(folder, clock)
    assert set(stored) <= {row["id"] for row in book.changes_after(0)}
    assert book.check().problems == []
    book.close()


def test_two_owners_of_one_folder_cannot_be(tmp_path: Path) -> None:
    book = filled(tmp_path / "workshop", 1)
    with pytest.raises(FolderInUse) as told:
        Logbook.open(tmp_path / "workshop", clock)
    assert "process" in told.value.what_happened
    beside = Logbook.open(tmp_path / "workshop", clock, look_only=True)
    assert beside.end() == book.end()
    beside.close()
    book.close()
    Logbook.open(tmp_path / "workshop", clock).close()


def test_a_folder_s_owner_leaves_in_peace_when_the_disk_did_not_take_its_name(tmp_path: Path) -> None:
    with room_for(0):
        Owner(tmp_path).leave()
    Owner(tmp_path).leave()


@contextmanager
def room_for(bytes: int) -> Iterator[None]:
    """No file of this process may grow beyond that."""
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (bytes, before[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, before)


def test_a_disk_that_is_full_at_the_start_is_told_as_full(tmp_path: Path) -> None:
    filled(tmp_path, 5).close()
    with room_for(1000), pytest.raises(DiskFull):
        Logbook.open(tmp_path, clock)
    Logbook.open(tmp_path, clock).close()


def test_a_workshop_that_was_closed_is_read_where_the_disk_takes_no_file_beside_it(tmp_path: Path) -> None:
    folder = tmp_path / "reeds 100 %"
    book = filled(folder, 5)
    state = book.state_hash()
    book.close()
    (folder / f"{DATABASE}-shm").symlink_to(
        tmp_path / "no" / "where"
    )  # that file cannot be made, with any rights
    book = Logbook.open(folder, clock, look_only=True)
    assert book.state_hash() == state
    assert book.check().problems == []
    assert book.backup(tmp_path / "stick").exists()
    book.close()


def test_what_a_killed_server_left_in_its_log_is_not_passed_over_where_the_disk_takes_no_file(
    tmp_path: Path,
) -> None:
    book = filled(tmp_path / "workshop", 5)
    killed = copy_of(tmp_path / "workshop", tmp_path / "killed")
    book.close()
    (killed / f"{DATABASE}-shm").unlink()
    (killed / f"{DATABASE}-shm").symlink_to(tmp_path / "no" / "where")
    with pytest.raises(NotReadableHere) as told:
        Logbook.open(killed, clock, look_only=True)
    assert str(killed) in told.value.what_happened


def test_a_second_server_on_the_folder_ends_with_a_sentence(tmp_path: Path) -> None:
    with Server(tmp_path / "workshop") as first:
        first.wait_until_it_answers()
        with Server(tmp_path / "workshop") as second:
            assert second.process.wait(30) != 0
            assert "in use by another Easelside" in second.log.read_text()
        assert first.ask("GET", "/api/health")[0] == 200


@pytest.mark.parametrize(
    "damage",
    [
        "DROP TABLE records",
        "DROP TABLE pieces",
        "DELETE FROM records",
        "DELETE FROM pieces",
        "DELETE FROM head",
        "UPDATE head SET folded = 10",
        "DROP TABLE head",
    ],
)
def test_tables_that_follow_from_the_changes_come_back(tmp_path: Path, damage: str) -> None:
    book = filled(tmp_path / "workshop", 40)
    before = book.state_hash(), book.end(), len(book.pieces())
    book.close()
    with sqlite3.connect(tmp_path / "workshop" / DATABASE) as connection:
        connection.execute(damage)
    connection.close()
    book = Logbook.open(tmp_path / "workshop", clock)
    assert (book.state_hash(), book.end(), len(book.pieces())) == before
    assert book.check().problems == []
    book.close()


def test_a_table_that_says_something_else_is_named_and_made_again(tmp_path: Path) -> None:
    book = filled(tmp_path / "workshop", 10)
    with sqlite3.connect(tmp_path / "workshop" / DATABASE) as connection:
        connection.execute("UPDATE pieces SET number = 99 WHERE number = 3")
    connection.close()
    (problem,) = book.check().problems
    assert problem.where == "table pieces" and "--rebuild" in problem.what_to_do
    book.rebuild()
    assert book.check().problems == []
    book.close()
