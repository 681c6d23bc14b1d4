"""What can be set from outside: where the records lie, and where the server listens."""

from dataclasses import dataclass
from pathlib import Path

from platformdirs import user_cache_path, user_data_path

LOOPBACK = ("127.0.0.1", "localhost", "::1")
PORT = 8765


def own_folder() -> Path:
    """The maker's records, where the platform keeps a user's data."""
    return user_data_path("easelside", appauthor=False)


def demo_folder() -> Path:
    """The demo workshop's records: thrown away and made again, so they lie in the cache."""
    return user_cache_path("easelside", appauthor=False) / "demo"


@dataclass(frozen=True)
class Settings:
    """`data` is a folder or a database URL; `hosts` are the names under which a browser may ask for us.

    `bell` is the command that rings at the bench, word by word; `loopback_push` lets tests have a push
    service on this machine.
    """

    data: Path | str
    host: str = LOOPBACK[0]
    port: int = PORT
    hosts: tuple[str, ...] = LOOPBACK
    bell: tuple[str, ...] = ()
    loopback_push: bool = False
