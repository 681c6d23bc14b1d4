"""Which devices are paired, still after a power cut? One file beside the logbook, for its owner only.

It is no part of the logbook: it is in no exchange, no export and no backup of the records. Only hashes of
the tokens stand in it.
"""

import errno
import logging
import os
from collections.abc import Callable
from pathlib import Path

from easelside.errors import DiskFull, ReadOnly, StorageFailed
from easelside.logbook.folder import write_private
from easelside.pairing.model import Device
from easelside.pairing.schemas import devices_text, read_devices

FILE = "paired.json"
log = logging.getLogger("easelside.pairing")


class Store:
    """`load` once, `save` the whole list each time: it is short. `folder` None keeps them in memory only."""

    def __init__(self, folder: Path | None) -> None:
        self._file = None if folder is None else folder / FILE

    def load(self) -> list[Device]:
        """A file that cannot be read is set aside, and nobody is paired: the safe side."""
        if self._file is None or not self._file.exists():
            return []
        try:
            return read_devices(self._file.read_bytes())
        except ValueError:
            aside = self._file.with_name(f"{FILE}.unreadable")
            os.replace(self._file, aside)
            log.error(
                "The list of paired devices could not be read and is set aside as %s: pair again", aside.name
            )
            return []

    def save(self, devices: list[Device]) -> None:
        """Durable when it returns. Raises DiskFull, ReadOnly, StorageFailed; the file is then as it was."""
        if self._file is None:
            return
        try:
            write_private(self._file, devices_text(devices))
        except OSError as refusal:
            raise meaning_of(refusal) from refusal


_MEANINGS: dict[int, Callable[[], DiskFull | ReadOnly]] = {
    errno.ENOSPC: DiskFull,
    errno.EDQUOT: DiskFull,
    errno.EROFS: ReadOnly,
    errno.EACCES: ReadOnly,
    errno.EPERM: ReadOnly,
}


def meaning_of(refusal: OSError) -> DiskFull | ReadOnly | StorageFailed:
    known = _MEANINGS.get(refusal.errno or 0)
    return known() if known else StorageFailed(detail=refusal.strerror or "no reason given")
