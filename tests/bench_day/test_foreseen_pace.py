"""How long it still takes, and the edge that is going off, on a real phone without a network."""

import os
import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from easelside.forecast.refit import Refit
from easelside.logbook.book import Logbook
from easelside.units import write_instant
from seed_demo import load
from tests.bench_day.day import Day, go
from tests.bench_day.phone import Phone

pytestmark = pytest.mark.browser

LOTS: dict[str, str] = {}
PICTURES = os.environ.get("PICTURES")


def blade_3_cuts_lot_c(book: Logbook, at: datetime, zone: str) -> None:
    """The demonstration two days before its end: pieces of C1 are cut, with the edge that is going off."""
    story = [c for c in load.changes(at + timedelta(days=2), zone) if c["made"] <= write_instant(at)]
    LOTS.update({c["set"]["label"]: c["record"] for c in story if c["kind"] == "lot" and "label" in c["set"]})
    for first in range(0, len(story), 500):
        book.receive(story[0]["device"], write_instant(at), story[first : first + 500])
    assert Refit(book)(at) > 0


def picture(page: Page, name: str) -> None:
    if PICTURES:
        page.wait_for_timeout(300)
        page.screenshot(path=f"{PICTURES}/{name}.png")


def begun(days: Callable[..., Day], phone: Phone | None = None) -> Day:
    day = days(tell=blade_3_cuts_lot_c, phone=phone)
    go(day.page, "bench")
    expect(day.page.get_by_text(re.compile(r"(about|done) \d\d:\d\d"))).to_be_visible(timeout=20_000)
    day.cut()
    silence = day.page.get_by_role("button", name="Silence")
    if silence.is_visible():
        day.phone.touch(silence, day.page)
    return day


@pytest.mark.parametrize("size", [(390, 844), (360, 640)])
def test_the_bench_says_when_it_is_done_and_that_the_edge_is_going_off(
    days: Callable[..., Day], new_phone: Callable[..., Phone], size: tuple[int, int]
) -> None:
    day = begun(days, new_phone(size=size))
    page, phone = day.page, day.phone
    done = page.get_by_text(re.compile(r"(about|done) \d\d:\d\d"))
    expect(done).to_be_visible()
    expect(page.get_by_text(re.compile(r"^\d\d:\d\d to \d\d:\d\d$"))).to_be_visible()
    if size[1] > 640:  # where there is little room, it is the first to go
        expect(page.get_by_text(re.compile(r"^\d\.\d min a piece"))).to_be_visible()
    expect(page.get_by_text("edge going off", exact=True)).to_be_visible()
    picture(page, f"bench-{size[1]}")
    figure, facts = (page.locator(f".bench-{part}").bounding_box() for part in ("figure", "facts"))
    assert figure and facts
    assert figure["x"] + figure["width"] <= facts["x"] + 1
    strip, good = (page.locator(at).first.bounding_box() for at in (".bench .full-bleed", "[data-next]"))
    assert strip and good
    assert strip["y"] + 0.6 * strip["height"] <= good["y"]  # most of the machine stays above the bench edge
    before = done.inner_text()
    day.piece(9.0)
    expect(done).not_to_have_text(before)
    phone.touch(page.locator(".bench-facts"), page)
    expect(page.get_by_text(re.compile(r"takes about \d\.\d min \(.*9 times in 10\)"))).to_be_visible()
    expect(page.get_by_text(re.compile(r"of a fresh one's 100"))).to_be_visible()
    picture(page, "on")


@pytest.mark.parametrize("room", ["today", "set-up", "wind-down"])
def test_an_edge_that_is_going_off_is_said_with_what_speaks_for_it(
    days: Callable[..., Day], room: str
) -> None:
    day = begun(days)
    go(day.page, room)
    expect(
        day.page.get_by_text("Blade 3: this edge is going off. Look at it before the next batch.")
    ).to_be_visible()
    reasons = day.page.get_by_text(re.compile(r"Minutes a piece up by \d\d % since piece 1\d\d"))
    expect(reasons).to_be_visible()
    picture(day.page, room)


def test_what_speaks_for_it_is_drawn_and_stands_as_a_table(days: Callable[..., Day]) -> None:
    day = begun(days)
    page, phone = day.page, day.phone
    go(page, "today")
    phone.touch(page.get_by_role("button", name="How this edge cuts"), page)
    expect(page.get_by_role("heading", name="Window machine, blade 3")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("what is usual while an edge is well"))).to_be_visible()
    picture(page, "watch")
    phone.touch(page.get_by_role("button", name="The same in figures"), page)
    assert page.get_by_role("row").count() > 30
    phone.touch(page.get_by_text("keener"), page)
    expect(page.get_by_role("radio", name=re.compile("keener"))).to_be_checked()


def test_the_minutes_of_a_lot_are_drawn_and_the_hard_one_is_called_slower(days: Callable[..., Day]) -> None:
    day = begun(days)
    page = day.page
    go(page, f"evidence/pace/{LOTS['A']}")
    expect(page.get_by_role("heading", name="Minutes a piece, lot A")).to_be_visible()
    expect(page.get_by_text(re.compile(r"Lot A takes \d\d % longer than your other lots"))).to_be_visible()
    expect(
        page.get_by_role("img", name=re.compile("minutes that each piece of this lot took"))
    ).to_be_visible()
    picture(page, "pace")
