"""Looking after the logbook: backups, restoring, erasing, taking it elsewhere, whose folder it is."""

import errno
import io
import json
import sqlite3
import tempfile
import threading
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
import sqlalchemy as sa

from easelside import errors
from easelside.clock import FakeClock
from easelside.logbook import checking
from easelside.logbook.backups import kept, restore
from easelside.logbook.book import Logbook
from easelside.logbook.door import open_engine
from easelside.logbook.folder import DATABASE
from easelside.logbook.model import Change, Offer


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def book(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path / "workshop", clock, durable=False)
    yield opened
    opened.close()


def test_a_backup_a_day_is_kept_and_the_oldest_go(book: Logbook, clock: FakeClock) -> None:
    for _ in range(5):
        book.backup(keep=3)
        book.backup(keep=3)
        clock.forward(days=1)
    assert [file.name for file in kept(book.folder)] == [
        "workshop-2026-11-27.db",
        "workshop-2026-11-28.db",
        "workshop-2026-11-29.db",
    ]


def test_a_backup_under_writing_is_a_whole_prefix(book: Logbook, clock: FakeClock, tmp_path: Path) -> None:
    stop = threading.Event()

    def write() -> None:
        while not stop.is_set():
            book.write("note", book.new_id(), {"text": "words"})

    writers = [threading.Thread(target=write) for _ in range(2)]
    for writer in writers:
        writer.start()
    try:
        for n in range(5):
            before = book.end()
            made = book.backup(into=tmp_path / f"{n}")
            (tmp_path / f"from{n}").mkdir()
            (made).rename(tmp_path / f"from{n}" / DATABASE)
            with Logbook.open(tmp_path / f"from{n}", clock) as copy:
                assert copy.holds(before)
                assert book.holds(copy.end())
                assert copy.check().problems == []
    finally:
        stop.set()
        for writer in writers:
            writer.join()


def test_a_damaged_logbook_makes_no_backup_and_keeps_the_older_ones(book: Logbook, clock: FakeClock) -> None:
    for n in range(3):
        book.write("note", book.new_id(), {"text": f"words {n}"})
    good = book.backup(keep=1)
    assert book.folder is not None
    with sqlite3.connect(book.folder / DATABASE) as other:
        other.execute("UPDATE changes SET row = replace(row, 'words', 'sword') WHERE seq = 2")
    other.close()
    clock.forward(days=1)
    with pytest.raises(errors.BackupUnusable) as told:
        book.backup(keep=1)
    assert "row 2" in told.value.what_happened
    assert kept(book.folder) == [good]


def test_a_restore_gives_a_new_id_and_sets_the_old_workshop_aside(tmp_path: Path, clock: FakeClock) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "kept"})
        made, id, state = book.backup(), book.id, book.state_hash()
        book.write("note", book.new_id(), {"text": "since"})
        with pytest.raises(errors.FolderInUse):
            restore(folder, made, clock)
    aside = restore(folder, made, clock)
    assert aside is not None and (aside / DATABASE).exists()
    with Logbook.open(folder, clock) as book:
        assert book.id != id
        assert book.state_hash() == state
        assert book.check().problems == []


def test_a_bad_backup_is_not_restored_and_the_workshop_stays(tmp_path: Path, clock: FakeClock) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        made, state = book.backup(), book.state_hash()
    with sqlite3.connect(made) as other:
        other.execute("UPDATE changes SET row = replace(row, 'words', 'sword')")
    other.close()
    with pytest.raises(errors.BackupUnusable) as told:
        restore(folder, made, clock)
    assert str(made) in told.value.what_happened
    with Logbook.open(folder, clock) as book:
        assert book.state_hash() == state


def test_a_damaged_logbook_is_told_with_the_newest_backup_in_full(tmp_path: Path, clock: FakeClock) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        book.backup()
        clock.forward(days=1)
        newest = book.backup()
        book.write("note", book.new_id(), {"text": "words"})
    with sqlite3.connect(folder / DATABASE) as other:
        other.execute("UPDATE changes SET row = replace(row, 'words', 'sword') WHERE seq = 2")
    other.close()
    with pytest.raises(errors.DamagedLogbook) as told:
        Logbook.open(folder, clock)
    with Logbook.open(folder, clock, look_only=True) as book:
        (problem,) = book.check().problems
    assert f'`easelside restore "{newest}" --data "{folder}"`' in problem.what_to_do
    assert told.value.what_to_do == problem.what_to_do


def test_a_file_that_is_no_database_is_told_with_the_way_back(tmp_path: Path, clock: FakeClock) -> None:
    (tmp_path / DATABASE).write_text("not a database " * 1000)
    with pytest.raises(errors.DamagedLogbook) as told:
        Logbook.open(tmp_path, clock, look_only=True)
    assert "`easelside restore` with your newest backup" in told.value.what_to_do


def test_check_that_finds_no_room_for_its_scratch_does_not_call_the_logbook_damaged(
    book: Logbook, monkeypatch: pytest.MonkeyPatch
) -> None:
    def small(url: sa.URL, **how: bool) -> sa.Engine:
        engine = open_engine(url, **how)
        sa.event.listen(engine, "connect", lambda raw, _: raw.execute("PRAGMA max_page_count=3").close())
        return engine

    monkeypatch.setattr(checking, "open_engine", small)
    with pytest.raises(errors.DiskFull, match=tempfile.gettempdir()):
        book.check()


@pytest.mark.parametrize("lost", [lambda file: file.write_bytes(b""), Path.unlink], ids=["empty", "gone"])
@pytest.mark.parametrize("look_only", [True, False])
def test_a_logbook_that_is_lost_beside_its_backups_is_no_new_workshop(
    tmp_path: Path, clock: FakeClock, lost: Callable[[Path], None], look_only: bool
) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        made, state = book.backup(), book.state_hash()
    lost(folder / DATABASE)
    with pytest.raises(errors.DamagedLogbook) as told:
        Logbook.open(folder, clock, look_only=look_only)
    assert str(made) in told.value.what_to_do
    restore(folder, made, clock)
    with Logbook.open(folder, clock) as book:
        assert book.state_hash() == state


def test_a_backup_is_found_by_its_name_among_those_of_the_folder(
    tmp_path: Path, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        made, state = book.backup(), book.state_hash()
        book.write("note", book.new_id(), {"text": "since"})
    monkeypatch.chdir(tmp_path)
    for named in (made.name, f"backups/{made.name}"):
        restore(folder, Path(named), clock)
        with Logbook.open(folder, clock) as book:
            assert book.state_hash() == state
    with pytest.raises(errors.BackupUnusable, match="there is no such file"):
        restore(folder, Path("workshop-1999-01-01.db"), clock)


def half_a_copy(_source: object, to: object) -> None:
    Path(str(to)).write_bytes(bytes(4096))
    raise OSError(errno.ENOSPC, "No space left on device", str(to))


def test_a_folder_may_be_named_as_the_maker_likes(tmp_path: Path, clock: FakeClock) -> None:
    folder = tmp_path / "reeds? 100 % & #1"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        state, made = book.state_hash(), book.backup()
    assert [place.name for place in tmp_path.iterdir()] == [folder.name]
    restore(folder, made, clock)
    with Logbook.open(folder, clock, look_only=True) as book:
        assert book.state_hash() == state


def test_a_restore_that_finds_no_room_leaves_nothing_behind_and_the_workshop_as_it_is(
    tmp_path: Path, clock: FakeClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        made = book.backup()
    before = sorted(folder.iterdir())
    monkeypatch.setattr("shutil.copyfile", half_a_copy)
    with pytest.raises(errors.DiskFull, match=str(folder)):
        restore(folder, made, clock)
    assert sorted(folder.iterdir()) == before


def test_what_a_restore_left_that_the_power_cut_off_goes_at_the_next_start(
    tmp_path: Path, clock: FakeClock
) -> None:
    for end in ("", "-wal", "-journal"):
        (tmp_path / f"restoring.db{end}").write_bytes(bytes(4096))
    Logbook.open(tmp_path, clock).close()
    assert list(tmp_path.glob("restoring*")) == []


def test_a_restore_that_is_stopped_leaves_nothing_behind(tmp_path: Path, clock: FakeClock) -> None:
    folder = tmp_path / "workshop"
    with Logbook.open(folder, clock) as book:
        book.write("note", book.new_id(), {"text": "words"})
        made = book.backup()
    before = sorted(folder.iterdir())

    def stop(_done: int, _of: int) -> None:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        restore(folder, made, clock, stop)
    assert sorted(folder.iterdir()) == before


def test_erasing_blanks_the_words_everywhere_and_keeps_the_chain(book: Logbook) -> None:
    note, other = book.new_id(), book.new_id()
    book.write("note", note, {"text": "her name", "about": "x"})
    book.write("note", note, {"text": "her name, again"})
    book.write("note", other, {"text": "his name"})
    end = book.end()
    backup = book.backup()
    erased = book.erase("note", note, ["text"])
    assert (erased.rows, erased.backups) == (2, [backup.name])
    assert "her name" not in json.dumps(book.changes_after(0))
    assert "his name" in json.dumps(book.changes_after(0))
    assert book.holds(end)
    assert book.check().problems == []
    record = book.record("note", note)
    assert record is not None and record["fields"]["text"]["value"] is None
    book.rebuild()
    assert book.record("note", note) == record
    assert book.check().problems == []


def test_erased_words_do_not_come_back_with_what_they_had_replaced(book: Logbook, clock: FakeClock) -> None:
    note, never_heard = book.new_id(), book.new_id()
    book.write("note", note, {"text": "newer"})
    long_ago, now = "2020-01-01T12:00:00.000Z", book.now()
    words = Offer(
        kind="note",
        record=note,
        field="text",
        value="her name",
        change=book.new_id(),
        when=long_ago,
        back=False,
        saw=never_heard,
    )
    book.receive("a", now, [], [words])
    book.erase("note", note, ["text"])
    clock.forward(hours=1)
    late = Change(
        id=never_heard,
        v=1,
        kind="note",
        record=note,
        device="b",
        made=book.now(),
        set={"text": "late"},
        saw={"text": None},
        back=False,
    )
    book.receive("b", book.now(), [late])
    record = book.record("note", note)
    assert record is not None and record["fields"]["text"]["value"] == "late"
    assert "her name" not in json.dumps(book.changes_after(0))


def test_what_stands_in_an_erased_row_is_checked_too(book: Logbook) -> None:
    note = book.new_id()
    book.write("note", note, {"text": "her name", "about": "machine"})
    book.erase("note", note, ["text"])
    assert book.folder is not None
    with sqlite3.connect(book.folder / DATABASE) as other:
        other.execute("UPDATE changes SET row = replace(row, 'machine', 'machina')")
    other.close()
    assert "erased" in book.check().problems[0].what


def test_json_into_an_empty_workshop_gives_the_same_state_by_hash(
    book: Logbook, tmp_path: Path, clock: FakeClock
) -> None:
    session = book.new_id()
    for n in range(30):
        book.write("piece", book.new_id(), {"session": session, "number": n, "minutes": n / 2})
    book.write("session", session, {"removed": True})
    out = io.BytesIO()
    book.export_json(out)
    assert json.loads(out.getvalue())["state"] == book.state_hash()
    reordered = json.dumps(json.loads(out.getvalue()), indent=1).encode()
    for n, text in enumerate([out.getvalue(), reordered]):
        with Logbook.open(tmp_path / f"empty{n}", clock) as other:
            assert other.import_json(io.BytesIO(text)) == book.state_hash() == other.state_hash()
            assert other.changes_after(0) == book.changes_after(0)
            assert other.id != book.id
            assert other.check().problems == []


def test_the_state_is_the_same_by_hash_whatever_the_order_of_arrival(
    book: Logbook, tmp_path: Path, clock: FakeClock
) -> None:
    first, second = book.new_id(), book.new_id()
    with Logbook.open(tmp_path / "other", clock) as other:
        book.write("lot", first, {"label": "D", "pieces": 1.0})
        book.write("lot", second, {"label": "E"})
        other.write("lot", second, {"label": "E", "note": None})
        other.write("lot", first, {"pieces": 1, "label": "D"})
        assert book.state_hash() == other.state_hash()
        other.write("lot", first, {"label": "F"})
        assert book.state_hash() != other.state_hash()


@pytest.mark.parametrize("damage", ["cut", "changed", "row_gone", "text", "empty"])
def test_a_bad_export_is_not_taken_in(book: Logbook, tmp_path: Path, clock: FakeClock, damage: str) -> None:
    for n in range(5):
        book.write("note", book.new_id(), {"text": f"words {n}"})
    out = io.BytesIO()
    book.export_json(out)
    text = out.getvalue()
    lines = text.splitlines(keepends=True)
    bad = {
        "cut": text[: len(text) // 2],
        "changed": text.replace(b"words 3", b"sword 3"),
        "row_gone": b"".join(lines[:2] + lines[3:]),
        "text": b"not an export",
        "empty": b"",
    }[damage]
    with Logbook.open(tmp_path / "empty", clock) as other:
        with pytest.raises(errors.ExportUnusable):
            other.import_json(io.BytesIO(bad))
        assert other.end()["seq"] == 0
        assert other.import_json(io.BytesIO(text)) == book.state_hash()


def test_an_export_is_not_read_into_a_workshop_that_holds_records(book: Logbook) -> None:
    book.write("note", book.new_id(), {"text": "words"})
    out = io.BytesIO()
    book.export_json(out)
    with pytest.raises(errors.NotEmpty):
        book.import_json(io.BytesIO(out.getvalue()))


@pytest.mark.parametrize("name", ["Dropbox", "OneDrive - Workshop", "Mobile Documents", "Nextcloud"])
def test_a_folder_that_a_cloud_service_copies_about_is_refused(
    tmp_path: Path, clock: FakeClock, name: str
) -> None:
    with pytest.raises(errors.FolderCopiedAbout) as told:
        Logbook.open(tmp_path / name / "workshop", clock)
    assert name in told.value.what_happened


def test_a_folder_with_the_mark_of_such_a_service_is_refused(tmp_path: Path, clock: FakeClock) -> None:
    (tmp_path / ".stfolder").mkdir()
    with pytest.raises(errors.FolderCopiedAbout):
        Logbook.open(tmp_path / "workshop", clock)


def test_looking_into_a_folder_without_a_workshop_makes_none(tmp_path: Path, clock: FakeClock) -> None:
    with pytest.raises(errors.NoWorkshop):
        Logbook.open(tmp_path / "nothing", clock, look_only=True)
    assert not (tmp_path / "nothing").exists()


@pytest.mark.parametrize("holds", ["PRAGMA user_version = 0", "CREATE TABLE other (x)"])
def test_looking_into_a_database_that_holds_no_workshop_says_so(
    tmp_path: Path, clock: FakeClock, holds: str
) -> None:
    with sqlite3.connect(tmp_path / DATABASE) as other:
        other.execute(holds)
    other.close()
    with pytest.raises(errors.NoWorkshop):
        Logbook.open(tmp_path, clock, look_only=True)


def test_the_rows_of_pieces_follow_from_the_records(book: Logbook) -> None:
    session, piece = book.new_id(), book.new_id()
    began = datetime.fromisoformat("2026-11-25T14:00:00+00:00")
    at = (began + timedelta(minutes=16)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    said = {"session": session, "number": 3, "began": "2026-11-25T14:00:00.000Z", "full": True}
    book.write("piece", piece, said | {"turns/a": ["t", "t"], "turns/b": ["t"]})
    book.write("piece", piece, {"outcome/1": "good", "at": at})
    book.write("piece", piece, {"outcome/2": "lost"})
    (row,) = book.pieces(session=session)
    assert (row["outcome"], row["outcomes"], row["minutes"], row["turns"]) == ("lost", 2, 16.0, 3)
    assert (row["whole"], row["removed"], row["number"]) == (True, False, 3)
    book.write("piece", piece, {"outcome/1": None, "outcome/2": None, "removed": True})
    (row,) = book.pieces(session=session)
    assert (row["outcome"], row["outcomes"], row["removed"]) == (None, 0, True)
