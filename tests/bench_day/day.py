"""One server and its phones on one clock that the test moves, over the demonstration's workshop."""

import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, expect

from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id
from seed_demo import load
from tests.bench_day.moving_clock import MovingClock, ServerByThatClock
from tests.bench_day.phone import Phone

Tell = Callable[[Logbook, datetime, str], object]
AT_THE_BENCH = datetime(2026, 11, 25, 13, 45, tzinfo=UTC)


def told(data: Path, began: datetime, zone: str, tell: Tell) -> Path:
    """A data folder in which that story stands."""
    filled = Logbook.open(data, FakeClock(began), durable=False)
    # The six of lot D lie in the water since 14 minutes when the story ends: 17 minutes later they are ready.
    tell(filled, began - timedelta(minutes=17), zone)
    filled.close()
    return data


class Stories:
    """The demonstration, told once for each moment and copied for each day."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._told: dict[tuple[datetime, str], Path] = {}

    def get(self, began: datetime, zone: str) -> Path:
        if (began, zone) not in self._told:
            self._told[began, zone] = told(self._folder / str(len(self._told)), began, zone, load.load)
        return self._told[began, zone]


class Day:
    """One phone, one server, one clock, over the demonstration's workshop as it stood at `began`."""

    def __init__(
        self,
        package: Path,
        folder: Path,
        phone: Phone,
        began: datetime,
        zone: str = "Europe/Berlin",
        *,
        stories: "Stories",
        tell: Tell | None = None,
    ) -> None:
        """`tell` fills the empty logbook instead of the demonstration."""
        self.clock = MovingClock(began, folder / "clock")
        data = folder / "workshop"
        if tell:
            told(data, began, zone, tell)
        else:
            shutil.copytree(stories.get(began, zone), data)
        self.server = ServerByThatClock(package, data, self.clock)
        self.server.start()
        self.phone = phone
        self.page = self.opened_on(phone)

    def opened_on(self, phone: Phone) -> Page:
        """A phone's first visit, on this day's clock."""
        page = self.clock.wind(phone).open(self.server.url)
        phone.ready_offline()
        return page

    def sent(self) -> None:
        """Until all that the phone holds has reached the server."""
        all_sent(self.page)

    def another_says(self, piece: str, outcome: str) -> None:
        """What a phone that is not here says of a piece, without having heard what stands there."""
        now = self.clock.now()
        said = now.isoformat(timespec="milliseconds").replace("+00:00", "Z")
        device, change = (time_ordered_id(int(now.timestamp() * 1000), os.urandom(10)) for _ in range(2))
        asked: dict[str, Any] = {"device": device, "device_now": said, "logbook": None, "end": None}
        asked |= {"after": 0, "offers": [], "changes": [], "limit": 1}
        first = self.server.ask("/api/exchange", asked)[1]
        name = f"outcome/{change}"
        one = {"id": change, "v": 1, "kind": "piece", "record": piece, "device": device, "made": said}
        one |= {"set": {name: outcome}, "saw": {name: None}, "back": False}
        asked |= {
            "logbook": first["logbook"],
            "end": first["end"],
            "after": first["cursor"],
            "changes": [one],
        }
        status, answer = self.server.ask("/api/exchange", asked)
        assert status == 200 and answer["accepted"], answer

    def cut(self) -> None:
        self.server.stop()

    def battery_dies(self) -> None:
        self.phone.kill()
        self.clock.wind(self.phone)
        self.page = self.phone.open(self.server.url)

    def next_thing(self, says: str | None = None) -> None:
        button = self.page.locator("[data-next]").first
        if says is not None:
            expect(button).to_contain_text(says)
        self.phone.touch(button, self.page)

    def piece(self, minutes: float = 3.0) -> "Span":
        """One piece at the machine, and one tap: when that was."""
        self.clock.pass_by(self.page, minutes=minutes)
        return self.meanwhile(lambda: self.next_thing("Good"))

    def meanwhile(self, act: Callable[[], object]) -> "Span":
        """Does it; from when to when that took by the clock at the bench, to the millisecond."""
        began = self.clock.now() - timedelta(milliseconds=2)
        act()
        return Span(began, self.clock.now())


@dataclass(frozen=True)
class Span:
    """When something was done: at an unknown moment between these two, however busy the machine is."""

    began: datetime
    ended: datetime

    def __contains__(self, at: datetime) -> bool:
        return self.began <= at <= self.ended

    def later(self, **by: float) -> "Span":
        return Span(self.began + timedelta(**by), self.ended + timedelta(**by))

    def about(self, **give_or_take: float) -> "Span":
        return Span(self.began - timedelta(**give_or_take), self.ended + timedelta(**give_or_take))

    def shown(self, zone: str = "Europe/Berlin") -> str:
        """A pattern for every time that a clock on the wall may show then, to the minute."""
        minutes = int((self.ended - self.began) / timedelta(minutes=1)) + 2
        each = (min(self.began + timedelta(minutes=n), self.ended) for n in range(minutes))
        local = (at.astimezone(ZoneInfo(zone)) for at in each)
        return "(?:" + "|".join(f"0?{at.hour}:{at:%M}" for at in local) + ")"


EXCHANGED = """(before) => new Promise((found, failed) => {
  const open = indexedDB.open('easelside');
  open.onerror = () => failed(open.error);
  open.onsuccess = () => {
    const all = open.result.transaction(['meta', 'outbox']);
    const known = all.objectStore('meta').get('logbook');
    const waiting = all.objectStore('outbox').count();
    all.oncomplete = () => {
      open.result.close();
      const last = known.result?.lastExchange ?? '';
      found(waiting.result === 0 && last > before ? last : null);
    };
  };
})"""
"""When the last exchange ended by the phone's clock, once that is after `before` and nothing waits."""


def all_sent(page: Page) -> None:
    """Until all that a phone holds has reached the server, and what the server has has reached the phone."""
    if "/today" not in page.url:
        go(page, "today")
    page.wait_for_timeout(300)  # what the last tap writes is in the store by then
    ended: str = page.evaluate("() => new Date().toISOString()")
    for _ in range(2):  # an exchange that had begun before may end after; the next one began after
        page.evaluate("() => window.dispatchEvent(new Event('focus'))")
        found = page.wait_for_function(EXCHANGED, arg=ended, polling=100, timeout=60_000)
        ended = str(found.json_value())
    expect(page.get_by_text("in the workshop").first).to_be_visible(timeout=20_000)


def go(page: Page, room: str) -> None:
    """To a room by its address, as by the Chest, without a touch."""
    page.evaluate("(room) => { location.hash = '#/' + room; }", room)


def standing(piece: dict[str, Any]) -> list[object]:
    return [value for name, value in piece.items() if name.startswith("outcome/") and value is not None]
