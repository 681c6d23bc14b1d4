"""Yesterday's logbook, kept where a bad day cannot reach it, and put back when one came.

A backup is a whole database, made by SQLite's own call while the server works, and read back before it
counts; the keys that the phones know lie beside it. Restoring gives the logbook a new id, so that
every phone offers what it holds.
"""

import errno
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

import sqlalchemy as sa

from easelside.clock import Clock
from easelside.errors import BackupUnusable, DamagedLogbook, DiskFull
from easelside.logbook import asking, checking
from easelside.logbook.door import at, open_engine, reading, understood
from easelside.logbook.folder import (
    BACKUPS,
    DATABASE,
    KEYS,
    Owner,
    refuse_copied_about,
    synced,
    write_private,
)
from easelside.logbook.words import RESTORE, RESTORE_ANY

KEEP = 14
RESTORING = "restoring.db"
_SIDE_FILES = ("-wal", "-shm")


def kept(folder: Path | None) -> list[Path]:
    """The backups in the data folder, oldest first."""
    if folder is None:
        return []
    return sorted((folder / BACKUPS).glob("workshop-????-??-??.db"))


def way_back(folder: Path | None) -> str:
    """What to do about a logbook that only a backup helps."""
    newest = kept(folder)[-1:]
    if folder is None or not newest:
        return RESTORE_ANY
    return RESTORE.format(backup=newest[0].absolute(), folder=folder.absolute())


def damaged(detail: object, folder: Path | None) -> DamagedLogbook:
    """Told with the way back: the newest backup, named in full."""
    damage = DamagedLogbook(detail=detail)
    damage.what_to_do = way_back(folder)
    return damage


def refuse_lost(folder: Path) -> None:
    """Raises DamagedLogbook where the database is empty or gone beside its backups: it is no new workshop."""
    database = folder / DATABASE
    if kept(folder) and not (database.exists() and database.stat().st_size):
        raise damaged(f"{database} is empty or gone, but there are backups of it", folder)


def backup(
    engine: sa.Engine,
    folder: Path | None,
    now: datetime,
    into: Path | None,
    keep: int,
    progress: checking.Progress = checking.untold,
) -> Path:
    """Raises BackupUnusable where the copy cannot be read back whole; older ones stay then."""
    place = into or (folder or Path.cwd()) / BACKUPS
    place.mkdir(parents=True, exist_ok=True)
    made = place / f"workshop-{now.date().isoformat()}.db"
    part = made.with_suffix(".part")
    with _in_the_making(part, made):
        part.touch()  # where the place takes none, the system says why
        with understood(), engine.connect().execution_options(reading=True) as connection:
            source = connection.connection.driver_connection
            if not isinstance(source, sqlite3.Connection):
                raise BackupUnusable(backup=made, detail="only a SQLite workshop is copied this way")
            with sqlite3.connect(part) as target:
                source.backup(target)
            target.execute("PRAGMA journal_mode=DELETE").close()
            target.close()
        _prove(part, made, derived=False, progress=progress)
        synced(part)
        os.replace(part, made)
        for name in KEYS:
            if folder is not None and (folder / name).is_file():
                write_private(place / name, (folder / name).read_bytes())
        synced(place)
    if into is None:
        for old in kept(folder)[: -max(keep, 1)]:
            old.unlink()
    return made


@contextmanager
def _in_the_making(part: Path, backup: Path) -> Iterator[None]:
    """What is made at `part` goes again where it does not come to its place, whatever stops it."""
    _drop(part)
    try:
        yield
    except sqlite3.OperationalError as refusal:
        if refusal.sqlite_errorname == "SQLITE_FULL":
            raise DiskFull(part.parent) from refusal
        raise BackupUnusable(backup=backup, detail=str(refusal)) from refusal
    except OSError as refusal:
        if refusal.errno == errno.ENOSPC:
            raise DiskFull(part.parent) from refusal
        raise
    finally:
        _drop(part)


def _prove(file: Path, backup: Path, *, derived: bool, progress: checking.Progress) -> None:
    engine = open_engine(at(file), look_only=True)
    try:
        report = checking.check(engine, derived=derived, progress=progress)
    finally:
        engine.dispose()
    if not report.content:
        first = report.problems[0]
        raise BackupUnusable(backup=backup, detail=f"{first.where}: {first.what}")


def clear_away(folder: Path) -> None:
    """What a restore left that the power cut off; for the folder's owner."""
    _drop(folder / RESTORING)


def _drop(file: Path) -> None:
    for end in ("", *_SIDE_FILES, "-journal"):
        Path(f"{file}{end}").unlink(missing_ok=True)


def restore(
    folder: Path, source: Path, clock: Clock, progress: checking.Progress = checking.untold
) -> Path | None:
    """Put a backup in the place of the workshop in `folder`; answers where the old one was set aside.

    A `source` that is not where it says is looked for in the folder and among its backups.
    Raises BackupUnusable before anything is moved, FolderInUse while a server runs there. The logbook gets a
    new id when it is opened next (`begin_anew` is written into the copy before it takes its place).
    """
    named = (source, folder / source, folder / BACKUPS / source)
    source = next((file for file in named if file.is_file()), source)
    if not source.is_file():
        raise BackupUnusable(backup=source, detail="there is no such file")
    refuse_copied_about(folder)
    owner = Owner(folder)
    part = folder / RESTORING
    try:
        with _in_the_making(part, source):
            for end in ("", *_SIDE_FILES):
                if Path(f"{source}{end}").exists():
                    shutil.copyfile(f"{source}{end}", f"{part}{end}")
            _prove(part, source, derived=True, progress=progress)
            _begin_anew(part, clock)
            synced(part)
            aside = _set_aside(folder, clock.now())
            os.replace(part, folder / DATABASE)
        for name in KEYS:
            _take_key(folder, source.with_name(name), aside)
        synced(folder)
        return aside
    finally:
        owner.leave()


def _take_key(folder: Path, kept_one: Path, aside: Path | None) -> None:
    """The phones of the workshop in the backup know the keys beside it: no phone is touched again."""
    if not kept_one.is_file():
        return
    content, present = kept_one.read_bytes(), folder / kept_one.name
    if present.exists() and present.read_bytes() != content and aside is not None:
        os.replace(present, aside / kept_one.name)
    write_private(present, content)


def _begin_anew(file: Path, clock: Clock) -> None:
    from easelside.logbook.book import Logbook

    book = Logbook.open(at(file), clock)
    try:
        book.begin_anew()
    finally:
        book.close()
    with sqlite3.connect(file) as connection:
        connection.execute("PRAGMA journal_mode=DELETE").close()
    connection.close()


def _set_aside(folder: Path, now: datetime) -> Path | None:
    if not (folder / DATABASE).exists():
        return None
    aside = folder / f"set_aside_{now:%Y-%m-%d_%H%M%S}"
    aside.mkdir(exist_ok=True)
    for end in ("", *_SIDE_FILES):
        file = folder / f"{DATABASE}{end}"
        if file.exists():
            os.replace(file, aside / file.name)
    return aside


def safe_seq(connection: sa.Connection, folder: Path | None) -> int:
    """The last row, by hash, that all kept backups have in common with the logbook; 0 without any."""
    every = kept(folder)
    return min((_common(connection, file) for file in every), default=0)


def _common(here: sa.Connection, file: Path) -> int:
    engine = open_engine(at(file), look_only=True)
    try:
        with reading(engine) as there:
            low, high = 0, asking.end(there)["seq"]
            if asking.hash_at(here, high) == asking.hash_at(there, high):
                return high
            while low + 1 < high:  # the chains part once and never meet again
                middle = (low + high) // 2
                same = asking.hash_at(here, middle) == asking.hash_at(there, middle)
                low, high = (middle, high) if same else (low, middle)
            return low
    except Exception:
        return 0  # a backup that cannot be read vouches for nothing
    finally:
        engine.dispose()
