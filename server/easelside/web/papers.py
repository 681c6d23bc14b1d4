"""Which certificate does the phones' door show: the workshop's authority's, or one of the maker's own?"""

from pathlib import Path
from typing import Protocol

from easelside.errors import CertificateUnusable
from easelside.trust.authority import Authority, read_paper
from easelside.trust.keeping import Keeper
from easelside.trust.model import Names
from easelside.trust.rules import local_name
from easelside.web.tls import context_of


class Papers(Protocol):
    """`file` and `key` as the TLS library reads them; `name` is what phones are told to open."""

    @property
    def file(self) -> Path: ...

    @property
    def key(self) -> Path | None: ...

    @property
    def authority(self) -> Authority | None: ...

    @property
    def name(self) -> str: ...

    def hosts(self) -> frozenset[str]: ...

    def look(self) -> bool:
        """True where the files changed, so that they must be shown anew."""
        ...


def _hosts(names: Names) -> frozenset[str]:
    return names.hosts | names.addresses


class WorkshopPapers:
    key: Path | None = None

    def __init__(self, keeper: Keeper) -> None:
        self._keeper = keeper
        self.file = keeper.paper_file

    @property
    def authority(self) -> Authority | None:
        return self._keeper.authority

    @property
    def name(self) -> str:
        return local_name(self._keeper.authority.fingerprint)

    def hosts(self) -> frozenset[str]:
        return _hosts(self._keeper.paper.names) if self._keeper.paper else frozenset()

    def look(self) -> bool:
        return self._keeper.look()


class OwnPapers:
    """Read again when the file changes, as whoever renews them expects. Raises CertificateUnusable."""

    authority: Authority | None = None

    def __init__(self, certificate: Path, key: Path) -> None:
        self.file, self.key = certificate, key
        context_of(certificate, key)
        self._changed = certificate.stat().st_mtime_ns
        self._names = self._read()

    @property
    def name(self) -> str:
        return self._first

    def hosts(self) -> frozenset[str]:
        return _hosts(self._names)

    def look(self) -> bool:
        try:
            changed = self.file.stat().st_mtime_ns
            if changed == self._changed:
                return False
            context_of(self.file, self.key)  # a pair in the middle of its renewal is left for the next look
            self._names, self._changed = self._read(), changed
        except (OSError, CertificateUnusable):
            return False
        return True

    def _read(self) -> Names:
        try:
            names = read_paper(self.file.read_bytes()).names
        except ValueError as wrong:
            raise CertificateUnusable(file=self.file, detail="it is no certificate in PEM") from wrong
        plain = sorted(name for name in names.hosts if "*" not in name) or sorted(names.addresses)
        if not plain:
            raise CertificateUnusable(file=self.file, detail="it names no host that could be opened")
        self._first = plain[0]
        return names
