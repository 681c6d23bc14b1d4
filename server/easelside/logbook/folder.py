"""Whose is this data folder, and is it one that nobody else copies about?"""

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import IO

from easelside.errors import FolderCopiedAbout, FolderInUse

DATABASE = "workshop.db"
BACKUPS = "backups"
LOCK = "in_use.lock"
# Keys: they go into the backups for their owner's eyes only.
AUTHORITY = "authority.pem"  # what the phones trust
PUSH_KEY = "push.pem"  # what their subscriptions to push were made for
KEYS = (AUTHORITY, PUSH_KEY)

# Names that the services give their folders, and files that they leave in them. From memory, not complete.
_NAMES = (
    "dropbox",
    "onedrive",
    "google drive",
    "googledrive",
    "my drive",
    "icloud drive",
    "icloud~",
    "mobile documents",
    "cloudstorage",
    "nextcloud",
    "owncloud",
    "syncthing",
    "pcloud",
    "megasync",
)
_MARKS = (".dropbox", ".dropbox.cache", ".stfolder", ".nextcloudsync.log", ".owncloudsync.log", ".sync")


def refuse_copied_about(folder: Path) -> None:
    """Raises FolderCopiedAbout where the path or a file along it gives a cloud service away."""
    whole = folder.absolute()
    for place in (whole, *whole.parents):
        name = place.name.lower()
        if any(name == known or name.startswith((f"{known} ", f"{known}-")) for known in _NAMES):
            raise FolderCopiedAbout(folder=folder, sign=f"a folder named {place.name}")
        for mark in _MARKS:
            if (place / mark).exists():
                raise FolderCopiedAbout(folder=folder, sign=f"{mark} in {place}")


def synced(place: Path) -> None:
    """What a file holds, or which files a folder holds, stands on the disk when this returns."""
    if os.name == "nt" and place.is_dir():
        return  # Windows cannot sync a folder
    handle = os.open(place, os.O_RDONLY if place.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


@contextmanager
def written_whole(file: Path, mode: int = 0o666) -> Iterator[IO[bytes]]:
    """All of it or nothing: it stands in a `.part` beside the file until it is whole."""
    part = file.with_name(file.name + ".part")
    try:
        part.unlink(missing_ok=True)
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), mode)
        with os.fdopen(handle, "wb") as out:
            yield out
            out.flush()
            os.fsync(out.fileno())
        os.replace(part, file)
        synced(file.parent)
    except BaseException as stopped:
        with suppress(OSError):
            part.unlink()
        if isinstance(stopped, OSError):
            stopped.filename, stopped.filename2 = str(file), None
        raise


def write_private(file: Path, content: bytes) -> None:
    """At no moment readable by anybody else."""
    with written_whole(file, 0o600) as out:
        out.write(content)


class Owner:
    """The one process that owns a folder; the system lets go when the process ends, however it ends."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._file: IO[str] | None = (folder / LOCK).open("a+")
        try:
            _hold(self._file)
        except OSError:
            self._file.seek(0)
            owner = self._file.read().strip() or "an unknown process"
            self._file.close()
            raise FolderInUse(folder=folder, owner=owner) from None
        self._write(f"process {os.getpid()}")

    def _write(self, words: str) -> None:
        assert self._file is not None
        try:
            self._file.truncate(0)
            self._file.write(words + "\n")
            self._file.flush()
        except OSError:
            pass  # a full disk must not keep the records from being read: the lock itself holds

    def leave(self) -> None:
        if self._file is not None:
            with suppress(OSError):  # of words that a full disk did not take
                self._file.close()
            self._file = None


if sys.platform == "win32":
    import msvcrt

    def _hold(file: IO[str]) -> None:
        file.seek(4096)  # the locked byte lies behind the words, which others may still read
        msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _hold(file: IO[str]) -> None:
        fcntl.flock(file.fileno(), fcntl.LOCK_EX | fcntl.LOCK_NB)
