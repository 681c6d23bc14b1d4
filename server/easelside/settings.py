"""What can be set from outside: where the records lie, and where the server listens."""

from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_data_path

LOOPBACK = ("127.0.0.1", "localhost", "::1")
PORT = 8765
PHONES_PORT = 8443
TRUST_PORT = 8766
PROXY_PORT = 8767
EVERYWHERE = "0.0.0.0"


def own_folder() -> Path:
    """The maker's records, where the platform keeps a user's data."""
    return user_data_path("easelside", appauthor=False)


@dataclass(frozen=True)
class Settings:
    """`data` is a folder or a database URL; `hosts` are the names under which this machine may ask for us.

    `phones` opens the second door, HTTPS on the workshop's network, at `phones_port`, with the plain page
    that walks a phone through trusting it at `trust_port`; None leaves it as the switch on the screen was
    left. `certificate` and `key` are PEM files of the maker's own. `behind_proxy` is the name under which a
    trusted proxy is asked for, which finds us on loopback at `proxy_port`.
    `bell` is the command that rings at the bench, word by word; `loopback_push` lets tests have a push
    service on this machine.
    """

    data: Path | str
    host: str = LOOPBACK[0]
    port: int = PORT
    hosts: tuple[str, ...] = LOOPBACK
    phones: bool | None = None
    phones_host: str = EVERYWHERE
    phones_port: int = PHONES_PORT
    trust_port: int = TRUST_PORT
    certificate: Path | None = None
    key: Path | None = None
    behind_proxy: str | None = None
    proxy_port: int = PROXY_PORT
    bell: tuple[str, ...] = ()
    loopback_push: bool = False
