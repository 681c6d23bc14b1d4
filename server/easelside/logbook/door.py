"""How is the database opened, and what does its refusal mean?

SQLite gives every connection its own settings, so each is told: write-ahead log, full sync at each commit.
"""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import msgspec
import sqlalchemy as sa

from easelside.errors import (
    DamagedLogbook,
    DiskFull,
    EaselsideError,
    NotReadableHere,
    ReadOnly,
    StorageBusy,
    StorageFailed,
)

BUSY_MS = 5000
CACHE_KIB = 16_384
CHECKPOINT_PAGES = 4000  # a page that is written again and again goes into the database once


def at(file: Path) -> sa.URL:
    """Whatever signs the maker's names of folders hold."""
    return sa.URL.create("sqlite", database=str(file.absolute()))


def open_engine(url: str | sa.URL, *, durable: bool = True, look_only: bool = False) -> sa.Engine:
    """An engine whose transactions take the write lock at once, except those of `reading` connections.

    `durable=False` skips the sync at a commit: for tests that never cut the power.
    """
    # the connection that was used last is the one whose pages are still at hand
    engine = sa.create_engine(url, pool_size=16, max_overflow=32, pool_timeout=30, pool_use_lifo=True)
    if engine.dialect.name == "sqlite":

        @sa.event.listens_for(engine, "connect")
        def _settings(connection: Any, _record: Any) -> None:
            connection.isolation_level = None
            orders = [f"busy_timeout={BUSY_MS}", "foreign_keys=ON", f"cache_size=-{CACHE_KIB}"]
            if not look_only:
                orders += ["journal_mode=WAL", f"synchronous={'FULL' if durable else 'OFF'}"]
                orders += [f"wal_autocheckpoint={CHECKPOINT_PAGES}"]
            if sys.platform == "darwin":
                orders += ["fullfsync=ON", "checkpoint_fullfsync=ON"]
            for order in orders:
                connection.execute(f"PRAGMA {order}").close()

        @sa.event.listens_for(engine, "begin")
        def _begin(connection: sa.Connection) -> None:
            reading = look_only or connection.get_execution_options().get("reading", False)
            connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")

    return engine


def open_to_look(file: Path) -> sa.Engine:
    """For reading beside a server. Raises NotReadableHere.

    SQLite makes a file beside the database for that. Where the disk takes none, a database that was closed
    cleanly is read as it lies: no server writes it there.
    """
    engine = open_engine(at(file), look_only=True)
    try:
        with engine.connect() as connection:
            connection.exec_driver_sql("SELECT count(*) FROM sqlite_master")
        return engine
    except sa.exc.DBAPIError as refusal:
        engine.dispose()
        if not isinstance(meaning_of(refusal), StorageFailed | DiskFull | ReadOnly):
            return engine  # whoever reads is told
        log = file.with_name(f"{file.name}-wal")
        if log.exists() and log.stat().st_size:
            raise NotReadableHere(folder=file.parent, detail=str(refusal.orig)) from refusal
        name, how = file.absolute().as_uri(), {"uri": "true", "immutable": "1"}
        return open_engine(sa.URL.create("sqlite", database=name, query=how), look_only=True)


@contextmanager
def reading(engine: sa.Engine) -> Iterator[sa.Connection]:
    """One consistent view of the database, for as long as the block lasts."""
    with understood(), engine.connect().execution_options(reading=True) as connection, connection.begin():
        yield connection


@contextmanager
def understood() -> Iterator[None]:
    """Turns the database's refusals, and rows that cannot be read, into the tree of `errors`."""
    try:
        yield
    except sa.exc.DBAPIError as refusal:
        raise meaning_of(refusal) from refusal
    except (msgspec.DecodeError, UnicodeDecodeError) as refusal:
        raise DamagedLogbook(detail=f"a row of it cannot be read: {refusal}") from refusal


def meaning_of(refusal: sa.exc.DBAPIError) -> EaselsideError:
    name = str(getattr(refusal.orig, "sqlite_errorname", ""))
    words = str(refusal.orig)
    if name in ("SQLITE_FULL", "SQLITE_IOERR_SHMSIZE"):
        return DiskFull()
    if name.startswith("SQLITE_READONLY"):
        return ReadOnly()
    if name.startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
        return StorageBusy()
    if name.startswith(("SQLITE_CORRUPT", "SQLITE_NOTADB")) or "decode to UTF-8" in words:
        return DamagedLogbook(detail=f"the database says {words!r}")
    return StorageFailed(detail=words)
