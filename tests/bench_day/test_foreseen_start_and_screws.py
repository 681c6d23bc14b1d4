"""How many to start, and how far to turn: said on the phone with no network, from what the server fitted."""

import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import expect

from easelside.forecast.refit import Refit
from easelside.logbook.book import Logbook
from seed_demo import load
from tests.bench_day.day import Day, go

pytestmark = pytest.mark.browser

Days = Callable[..., Day]


def fitted(book: Logbook, at: datetime, zone: str) -> None:
    """The demonstration as the day begins, so that nothing rings yet, and what follows from it."""
    begun = at + timedelta(minutes=17)
    load.load(book, begun, zone)
    assert Refit(book)(begun) > 0


def test_with_no_network_24_good_need_32_of_lot_c(days: Days) -> None:
    day = days(tell=fitted)
    page = day.page
    day.cut()  # what was fetched is enough
    go(page, "batches/new")
    page.get_by_role("radio", name="C", exact=True).click()
    expect(page.get_by_text("24 good wanted: start 32 of lot C (9 times in 10)")).to_be_visible()
    expect(page.get_by_text("From 26 good of 30, lot C.")).to_be_visible()
    day.phone.touch(page.get_by_role("button", name=re.compile("^Start 32")))
    expect(page.get_by_role("group", name="pieces started").get_by_role("textbox")).to_have_value("32")
    day.phone.touch(page.get_by_role("button", name="Why so many?"))
    expect(page.get_by_text("26 of 30 came out good: 74 to 94 of a hundred, 9 times in 10.")).to_be_visible()


def test_what_speaks_for_a_fresh_edge_is_no_empty_table(days: Callable[..., Day]) -> None:
    day = days(tell=fitted)
    machines = day.server.records("machine").items()
    window = next(one for one, fields in machines if fields["name"] == "Window machine")
    day.cut()
    go(day.page, f"evidence/watch/{window}")
    expect(day.page.get_by_text("No piece on this edge yet.")).to_be_visible()
    expect(day.page.get_by_role("button", name="How this was worked out")).to_be_visible()
    expect(day.page.get_by_role("button", name="The same in figures")).to_have_count(0)


def test_a_piece_is_measured_on_the_keys_and_the_screw_is_said_once_pieces_agree(days: Days) -> None:
    day = days(tell=fitted)
    page, touch = day.page, day.phone.touch
    go(page, "bench")
    day.piece()
    go(page, "set-up/middle_stop/moved")
    expect(page.get_by_text("Turn the middle stop 1/16 turn clockwise")).to_be_visible()
    touch(page.get_by_role("button", name="Set it so"))
    stands = page.get_by_role("group", name="stands at, turns").get_by_role("textbox")
    expect(stands).to_have_value("2 7/16")
    expect(stands).to_be_in_viewport()  # the head that turned is looked at, not the words below it
    touch(page.get_by_role("button", name=re.compile("^Measure a piece")))
    touch(page.get_by_text("next to the shoulder"))
    expect(page.get_by_text("Measure three pieces and I can say how far.").first).to_be_visible()
    for typed in ("99", "98", "100"):
        for key in typed:
            touch(page.get_by_role("button", name=key, exact=True))
        touch(page.get_by_role("button", name=re.compile("^Write it down")))
        expect(page.get_by_text(re.compile("^Since the screw moved: "))).to_be_visible()
    expect(page.get_by_text("Since the screw moved: 0.99, 0.98, 1.00 mm, wet.")).to_be_visible()
    touch(page.get_by_role("button", name=re.compile("^more:? .*should measure|should measure.*more", re.I)))
    expect(page.get_by_text(re.compile("^Turn the shoulder stop")).first).to_be_visible()
    touch(page.get_by_role("button", name=re.compile("^Take back")))
    expect(page.get_by_text("1 more piece measured and I can say how far.")).to_be_visible()
    day.sent()
    written = [one for one in day.server.records("reading").values() if one["point"] == "shoulder"]
    last = max(day.server.records("piece").items(), key=lambda piece: str(piece[1].get("at")))
    assert {one["piece"] for one in written} == {last[0]}
    assert all(0 <= one["minutes_since_cut"] < 5 for one in written)
    assert sorted(one["value_mm"] for one in written if not one.get("removed")) == [0.98, 0.99]
