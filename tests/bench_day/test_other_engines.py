"""The bench day in WebKit and in Firefox: no network from after the first visit until after the wind-down."""

import sys
import time
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests.bench_day.day import AT_THE_BENCH, standing, told
from tests.bench_day.moving_clock import SCRIPT, MovingClock, ServerByThatClock
from tests.bench_day.other_engines import FirefoxPhone, Hand, OtherPhone, WebKitPhone
from tests.bench_day.test_a_whole_day import MOST_TAPS, all_24_in_one_jar

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(sys.platform != "linux", reason="WebKitGTK and its window are Linux's"),
]
Made = Callable[[], OtherPhone]


@pytest.fixture(params=["webkit", "firefox"])
def phone(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[OtherPhone]:
    playwright: Playwright = request.getfixturevalue("playwright")
    made: OtherPhone = (
        WebKitPhone(tmp_path / "phone") if request.param == "webkit" else FirefoxPhone(playwright)
    )
    yield made
    made.switch_off()


@pytest.fixture
def clock(tmp_path: Path) -> MovingClock:
    return MovingClock(AT_THE_BENCH, tmp_path / "clock")


@pytest.fixture
def server(package: Path, tmp_path: Path, clock: MovingClock) -> Iterator[ServerByThatClock]:
    running = ServerByThatClock(
        package, told(tmp_path / "workshop", AT_THE_BENCH, "Europe/Berlin", all_24_in_one_jar), clock
    )
    running.start()
    yield running
    running.kill()


def opened(phone: OtherPhone, clock: MovingClock, url: str) -> None:
    phone.first = SCRIPT % (clock.ahead_ms, clock.ahead_ms)
    phone.open(url)


def cut(hand: Hand, clock: MovingClock, pieces: int) -> None:
    for _ in range(pieces):
        clock.pass_by(hand, minutes=3)
        hand.takes(says="Good")


def test_24_good_pieces_with_the_network_cut_and_the_browser_killed(
    phone: OtherPhone, clock: MovingClock, server: ServerByThatClock
) -> None:
    hand = Hand(phone)
    opened(phone, clock, server.url)
    hand.is_ready_offline()
    hand.has_sent_all()
    since = clock.now()
    server.stop()

    hand.takes(says="Take out 24")
    hand.sees("In the water")
    hand.takes("good")
    hand.takes(says="Set up")
    hand.sees("new blade")
    while "good" in hand.next_says():
        hand.takes(says="good")
    hand.takes(says="bench")
    cut(hand, clock, 11)
    time.sleep(0.4)  # the last tap is saved by then; what if not is another test's question
    phone.kill()
    opened(phone, clock, server.url)
    hand.until("return document.querySelector('[data-next]') !== null;", "the bench after a cold start")
    if "bench" not in str(phone.run("return location.hash;")):
        hand.takes()
    cut(hand, clock, 13)
    hand.takes(says="Wind down")
    hand.takes()
    hand.until("return location.hash.includes('today');", "today")
    print(f"taps: {hand.taps}")
    assert hand.taps <= MOST_TAPS

    server.start()
    hand.has_sent_all()
    pieces = [p for p in server.records("piece").values() if str(p.get("at", "")) >= since.isoformat()[:19]]
    assert sorted(int(str(piece["number"])) for piece in pieces) == list(range(1, 25))
    assert Counter(str(standing(piece)) for piece in pieces) == {"['good']": 24}
    (session,) = {str(piece["session"]) for piece in pieces}
    assert server.records("session")[session]["ended"] is not None
    soak = max(server.records("soak").values(), key=lambda one: str(one["put_in"]))
    assert soak["mark"] == "good"
