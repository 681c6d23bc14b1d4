"""A server in a process of its own that takes a push service on this machine for one of the world's."""

import runpy
import sys
from pathlib import Path

from tests.bench_day.running_server import Server


class PushingServer(Server):
    def __init__(self, package: Path, data: Path, *more: str) -> None:
        super().__init__(package, data, *more)
        self.words = [sys.executable, str(Path(__file__)), "serve"]


def serve_with_loopback(words: list[str]) -> None:
    """What that process runs: the command line, with the one setting that only tests may have."""
    from easelside.settings import Settings

    plain = Settings.__init__

    def with_loopback(self: Settings, *given: object, **named: object) -> None:
        plain(self, *given, **{**named, "loopback_push": True})  # type: ignore[arg-type]

    Settings.__init__ = with_loopback  # type: ignore[method-assign]
    sys.argv = ["easelside", *words]
    runpy.run_module("easelside", run_name="__main__")


if __name__ == "__main__":
    serve_with_loopback(sys.argv[1:])
