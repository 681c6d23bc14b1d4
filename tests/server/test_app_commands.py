"""The command line: what each command says of itself, and what it does."""

import errno
import json
import os
import re
import signal
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from easelside.__main__ import main
from easelside.clock import SystemClock
from easelside.logbook.book import Logbook
from easelside.settings import own_folder

ROOT = Path(__file__).parents[2]
COMMANDS = sorted(main.commands)
SERVER = [sys.executable, "-m", "easelside"]
ENVIRONMENT = {**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT / "server"), str(ROOT)])}


def run(*words: object) -> Result:
    return CliRunner().invoke(main, [str(word) for word in words])


@contextmanager
def serving(*words: object) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """A server of its own process, and the address that it prints."""
    process = subprocess.Popen(
        [*SERVER, *map(str, words)],
        env=ENVIRONMENT,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    try:
        assert process.stdout is not None
        said = []
        for line in process.stdout:
            said.append(line)
            if found := re.search(r"http://\S+", line):
                yield process, found[0]
                return
        raise AssertionError("".join(said))
    finally:
        process.kill()
        process.wait(10)


def health(address: str) -> dict[str, object]:
    with urllib.request.urlopen(f"{address}api/health", timeout=10) as answer:
        found: dict[str, object] = json.load(answer)
    return found


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    """A data folder with one soak in it."""
    folder = tmp_path / "workshop"
    book = Logbook.open(folder, SystemClock(), durable=False)
    book.write("soak", "019aba0f-f7c0-7000-8000-000000000001", {"jar": "1", "pieces": 24})
    book.close()
    return folder


def test_the_commands_are_those_that_the_project_promises() -> None:
    assert {"serve", "demo", "check", "backup", "restore", "export"} <= set(COMMANDS)


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_says_in_plain_words_what_it_does_with_one_example(command: str) -> None:
    said = run(command, "--help")
    assert said.exit_code == 0
    (example,) = re.findall(r"Example:\n\s+(easelside .+)", said.output)
    assert example.split()[1] == command
    first = said.output.split("\n\n")[1].strip()
    assert len(first.split()) > 5
    assert first.endswith(".")


@pytest.mark.parametrize("command", COMMANDS)
def test_every_example_is_one_that_the_command_would_take(command: str) -> None:
    (example,) = re.findall(r"Example:\n\s+(easelside .+)", run(command, "--help").output)
    offered = {name for option in main.commands[command].params for name in option.opts}
    assert {word for word in example.split() if word.startswith("--")} <= offered


def test_the_own_folder_is_the_platforms_and_the_address_this_machines() -> None:
    assert "easelside" in str(own_folder()).lower()
    options = {option.name: option for option in main.commands["serve"].params}
    assert (options["host"].default, options["port"].default) == ("127.0.0.1", 8765)


def test_serve_prints_its_address_answers_and_stops_cleanly_on_sigterm(tmp_path: Path) -> None:
    with serving("serve", "--data", tmp_path / "new", "--port", 0) as (process, address):
        assert address.startswith("http://127.0.0.1:")
        assert health(address)["wrong"] == []
        process.send_signal(signal.SIGTERM)
        assert process.wait(10) == 0
        assert process.stdout is not None
        assert "Traceback" not in process.stdout.read()
    assert run("check", "--data", tmp_path / "new").exit_code == 0


def test_a_second_server_on_one_folder_is_refused_and_told_which_has_it(tmp_path: Path) -> None:
    words = ["serve", "--data", str(tmp_path / "one"), "--port", "0"]
    with serving(*words) as (process, address):
        second = subprocess.run(
            [*SERVER, *words], env=ENVIRONMENT, capture_output=True, text=True, timeout=20, check=False
        )
        assert health(address)["wrong"] == []
    assert second.returncode == 1
    assert f"process {process.pid}" in second.stderr
    assert "Traceback" not in second.stderr


def test_a_port_that_is_taken_is_named(tmp_path: Path) -> None:
    with serving("serve", "--data", tmp_path / "one", "--port", 0) as (_, address):
        port = address.split(":")[2].strip("/")
        words = ["serve", "--data", str(tmp_path / "two"), "--port", port]
        second = subprocess.run(
            [*SERVER, *words], env=ENVIRONMENT, capture_output=True, text=True, timeout=30, check=False
        )
    assert second.returncode == 1
    assert f"port {port}" in second.stderr


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.7", "::"])
def test_no_address_is_served_where_others_could_reach_it(tmp_path: Path, host: str) -> None:
    said = run("serve", "--data", tmp_path / "one", "--host", host, "--port", 0)
    assert said.exit_code == 1
    assert "paired" in said.output


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("demo", "--port", 99999), "99999 is not in the range 0<=x<=65535"),
        (("serve", "--phones-port", -1), "-1 is not in the range 0<=x<=65535"),
        (("demo", "--time-zone", "Mars/X"), "Mars/X is no time zone. Give one by its IANA name"),
        (("demo", "--time-zone", ""), "is no time zone"),
    ],
)
def test_a_port_or_a_time_zone_that_cannot_be_is_named_before_anything_starts(
    words: tuple[object, ...], said: str
) -> None:
    told = run(*words)
    assert told.exit_code == 2
    assert said in told.output
    assert "Traceback" not in told.output


def test_check_tells_that_all_is_well(workshop: Path) -> None:
    said = run("check", "--data", workshop)
    assert said.exit_code == 0
    assert "1 changes, 1 records" in said.output


def test_check_names_a_flipped_letter_and_what_to_do_and_ends_with_one(workshop: Path) -> None:
    import sqlite3

    with sqlite3.connect(workshop / "workshop.db") as database:
        database.execute('UPDATE changes SET row = replace(row, \'"jar":"1"\', \'"jar":"7"\')')
    said = run("check", "--data", workshop)
    assert said.exit_code == 1
    assert "1" in said.output
    assert "restore" in said.output


def test_check_of_a_folder_without_a_workshop_says_so(tmp_path: Path) -> None:
    said = run("check", "--data", tmp_path)
    assert said.exit_code == 1
    assert "There is no workshop in" in said.output


def test_a_backup_put_back_is_the_same_workshop_with_a_new_id(workshop: Path, tmp_path: Path) -> None:
    made = run("backup", "--data", workshop, "--into", tmp_path / "stick")
    assert made.exit_code == 0, made.output
    (copy,) = (tmp_path / "stick").glob("*.db")
    before = Logbook.open(workshop, SystemClock())
    id, state = before.id, before.state_hash()
    before.write("soak", "019aba0f-f7c0-7000-8000-000000000002", {"jar": "2"})
    before.close()
    said = run("restore", copy, "--data", workshop, "--yes")
    assert said.exit_code == 0, said.output
    after = Logbook.open(workshop, SystemClock())
    assert after.state_hash() == state
    assert after.id != id
    after.close()


def test_restore_asks_first_and_takes_a_no(workshop: Path, tmp_path: Path) -> None:
    run("backup", "--data", workshop, "--into", tmp_path / "stick")
    (copy,) = (tmp_path / "stick").glob("*.db")
    before = (workshop / "workshop.db").read_bytes()
    said = CliRunner().invoke(main, ["restore", str(copy), "--data", str(workshop)], input="n\n")
    assert said.exit_code == 1
    assert (workshop / "workshop.db").read_bytes() == before


def test_an_export_taken_into_an_empty_workshop_gives_the_same_state(workshop: Path, tmp_path: Path) -> None:
    out = run("export", tmp_path / "all.json", "--data", workshop, "--as", "json")
    back = run("import", tmp_path / "all.json", "--data", tmp_path / "other")
    assert (out.exit_code, back.exit_code) == (0, 0), out.output + back.output
    states = [re.findall(r"state (\w+)", said.output) for said in (out, back)]
    assert states[0] == states[1] != []


def test_an_import_into_a_workshop_with_records_is_refused(workshop: Path, tmp_path: Path) -> None:
    run("export", tmp_path / "all.json", "--data", workshop, "--as", "json")
    said = run("import", tmp_path / "all.json", "--data", workshop)
    assert said.exit_code == 1
    assert "already holds records" in said.output


@pytest.mark.parametrize(
    ("words", "file", "why"),
    [
        (("export", "there.json", "--as", "json"), "there.json", "File exists"),
        (("export", "there.json"), "there.json", "File exists"),
        (("export", "nowhere/all.json", "--as", "json"), "nowhere/all.json", "No such file"),
        (("serve", "--data", "there.json/new"), "there.json/new", "Not a directory"),
        (("import", "there.json", "--data", "locked"), "locked/in_use.lock", "Is a directory"),
        (("check", "--rebuild", "--data", "locked"), "locked/in_use.lock", "Is a directory"),
        (("restore", "there.json", "--yes", "--data", "locked"), "locked/in_use.lock", "Is a directory"),
    ],
    ids=lambda word: " ".join(word) if isinstance(word, tuple) else None,
)
def test_a_file_that_the_system_refuses_is_named_with_what_to_do(
    workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str], file: str, why: str
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "there.json").write_text("the maker's own")
    (tmp_path / "locked" / "in_use.lock").mkdir(parents=True)  # refused to everybody, whatever their rights
    said = run(*words, *(() if "--data" in words else ("--data", workshop)))
    assert (said.exit_code, type(said.exception)) == (1, SystemExit)
    assert f"{file} cannot be used: {why}" in said.output
    assert "name another file or folder" in said.output
    assert (tmp_path / "there.json").read_text() == "the maker's own"


def test_an_export_that_finds_no_room_leaves_no_half_of_it(
    workshop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("os.fsync", full)
    said = run("export", tmp_path / "all.json", "--data", workshop, "--as", "json")
    assert (said.exit_code, type(said.exception)) == (1, SystemExit)
    assert f"{tmp_path / 'all.json'} cannot be used: No space left" in said.output
    assert list(tmp_path.iterdir()) == [workshop]


def test_tables_for_a_spreadsheet_are_written_one_file_each(workshop: Path, tmp_path: Path) -> None:
    said = run("export", tmp_path / "tables", "--data", workshop)
    assert said.exit_code == 0, said.output
    tables = {path.name: path.read_bytes() for path in (tmp_path / "tables").glob("*.csv")}
    assert b"24" in tables["easelside-soaks.csv"]
    assert all(f"{name}" in said.output for name in tables)


def test_the_demo_is_a_filled_workshop_that_leaves_nothing_behind(tmp_path: Path) -> None:
    environment = {**ENVIRONMENT, "TMPDIR": str(tmp_path), "XDG_DATA_HOME": str(tmp_path / "own")}
    process = subprocess.Popen(
        [*SERVER, "demo"], env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )
    try:
        assert process.stdout is not None
        address = next(found[0] for line in process.stdout if (found := re.search(r"http://\S+", line)))
        seq = health(address)["seq"]
        assert isinstance(seq, int)
        assert seq > 500
        process.send_signal(signal.SIGINT)
        assert process.wait(15) == 0
    finally:
        process.kill()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("command", ["serve", "check", "backup"])
def test_a_database_s_address_is_not_taken_for_the_name_of_a_folder(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    told = run(command, "--data", "postgresql+psycopg://reeds@/workshop")
    assert told.exit_code == 2
    assert "is the address of a database; name a folder" in told.output
    assert list(tmp_path.iterdir()) == []
