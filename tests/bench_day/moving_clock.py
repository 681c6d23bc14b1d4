"""One clock for the phone and the server, moved on by the test: minutes at the bench pass without waiting.

Date and performance.now move together, as they do on a phone whose clock is right.
"""

import runpy
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from playwright.sync_api import Page

from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server

SCRIPT = """
(() => {
  const realDate = Date, realNow = performance.now.bind(performance);
  window.movedOn_ms = %d;
  const moved = () => realDate.now() + window.movedOn_ms;
  globalThis.Date = new Proxy(realDate, {
    construct: (made, given) => given.length ? new made(...given) : new made(moved()),
    apply: () => new realDate(moved()).toString(),
    get: (made, name) => name === "now" ? moved : Reflect.get(made, name),
  });
  performance.now = () => realNow() + window.movedOn_ms - %d;
})();
"""


class MovingClock:
    """The time at the bench: starts at `start` and runs as real time does, plus what the test adds."""

    def __init__(self, start: datetime, file: Path) -> None:
        self.file = file
        self._ahead = start - datetime.now(UTC)
        self._tell()

    def now(self) -> datetime:
        return datetime.now(UTC) + self._ahead

    @property
    def ahead_ms(self) -> int:
        return int(self._ahead / timedelta(milliseconds=1))

    def wind(self, phone: Phone) -> Phone:
        """Before the phone is switched on, and again after it was."""
        phone.init_script = SCRIPT % (self.ahead_ms, self.ahead_ms)
        return phone

    def pass_by(self, page: Page, **how_long: float) -> None:
        self._ahead += timedelta(**how_long)
        self._tell()
        page.evaluate("(ms) => { window.movedOn_ms = ms; }", self.ahead_ms)

    def _tell(self) -> None:
        self.file.write_text(str(self._ahead.total_seconds()))


class ServerByThatClock(Server):
    def __init__(self, package: Path, data: Path, clock: MovingClock) -> None:
        super().__init__(package, data)
        self.words = [sys.executable, str(Path(__file__)), str(clock.file), "serve"]


def serve_by_the_file(clock_file: Path, words: list[str]) -> None:
    """What a server in a process of its own runs: the command line, with the clock that the file tells of."""
    from easelside import clock

    def now(_self: clock.SystemClock) -> datetime:
        at = datetime.now(UTC) + timedelta(seconds=float(clock_file.read_text() or "0"))
        return at.replace(microsecond=at.microsecond // 1000 * 1000)

    clock.SystemClock.now = now  # type: ignore[method-assign, assignment]
    sys.argv = ["easelside", *words]
    runpy.run_module("easelside", run_name="__main__")


if __name__ == "__main__":
    serve_by_the_file(Path(sys.argv[1]), sys.argv[2:])
