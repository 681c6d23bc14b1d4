"""Where do the authority and the server's paper lie, and is the paper still the right one?

Both lie in the data folder, to be read by their owner only. The authority goes into the backup beside the
records; a paper is made again whenever one is missing.
"""

import logging
import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

from easelside.clock import Clock
from easelside.errors import AuthorityUnusable
from easelside.logbook.folder import AUTHORITY, write_private
from easelside.trust.authority import Authority, make_authority, make_paper, read_authority, read_paper
from easelside.trust.model import Names, Paper
from easelside.trust.rules import names_of, why_new_paper

PAPER = "paper.pem"

log = logging.getLogger("easelside.trust")


class Keeper:
    """The authority of one data folder and the paper that the server shows; `look` renews it in time."""

    def __init__(
        self, folder: Path, clock: Clock, host_name: Callable[[], str], addresses: Callable[[], Iterable[str]]
    ) -> None:
        """`host_name` and `addresses` are asked at every look. Raises AuthorityUnusable."""
        self._folder, self._clock = folder, clock
        self._host_name, self._addresses = host_name, addresses
        self.authority = self._open_authority()
        self.paper: Paper | None = self._stored_paper()

    @property
    def paper_file(self) -> Path:
        return self._folder / PAPER

    def wanted(self) -> Names:
        own = self.authority
        return names_of(own.fingerprint, self._host_name(), self._addresses(), own.domains)

    def look(self) -> bool:
        """Makes the paper new if a rule says so; True where it did and the server must show another one."""
        wanted, now = self.wanted(), self._clock.now()
        own = self.authority
        why = why_new_paper(self.paper, wanted, own.fingerprint, own.ends, now)
        if why is None:
            return False
        pem = make_paper(self.authority, wanted, now)
        write_private(self.paper_file, pem)
        self.paper = read_paper(pem, self.authority)
        log.info("The server's certificate was made new: %s.", why)
        return True

    def _open_authority(self) -> Authority:
        file = self._folder / AUTHORITY
        try:
            pem = file.read_bytes()
        except FileNotFoundError:
            made = make_authority(self._clock.now(), self._host_name())
            write_private(file, made.pem())
            return made
        except OSError as refusal:
            raise AuthorityUnusable(file=file, detail=refusal.strerror or "it cannot be read") from refusal
        with suppress(OSError):
            os.chmod(file, 0o600)  # a copy from a stick may have come with more
        return read_authority(pem, file)

    def _stored_paper(self) -> Paper | None:
        try:
            return read_paper(self.paper_file.read_bytes(), self.authority)
        except (OSError, ValueError):
            return None
