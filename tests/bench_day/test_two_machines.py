"""Two machines in one workshop: what is done counts on the machine that it was done on."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.day import Day, all_sent, go

pytestmark = pytest.mark.browser

Days = Callable[..., Day]


def machines(day: Day) -> dict[str, str]:
    return {it["name"]: id_ for id_, it in day.server.records("machine").items()}


def at_the_bench(days: Days) -> tuple[Day, set[str]]:
    """The six are out of the water; which sessions there were before."""
    day = days()
    day.next_thing("Take out six")
    all_sent(day.page)
    return day, set(day.server.records("session"))


def session_of(day: Day, page: Page, before: set[str]) -> tuple[str, dict[str, Any]]:
    all_sent(page)
    after = day.server.records("session")
    (new,) = after.keys() - before
    return new, after[new]


def test_who_only_looks_at_the_other_machines_set_up_still_works_at_this_one(days: Days) -> None:
    day, before = at_the_bench(days)
    page, phone = day.page, day.phone
    go(page, "set-up")
    expect(page.get_by_text(re.compile("^Set-up Window machine, ")).first).to_be_visible()
    phone.touch(page.get_by_role("button", name="Set up Door machine"), page)
    expect(page.get_by_text(re.compile("^Set-up Door machine, ")).first).to_be_visible()
    go(page, "bench")
    expect(page.get_by_role("button", name=re.compile("^lot D, blade 4, Window machine"))).to_be_visible()
    day.piece()
    expect(page.locator(".bench-figure")).to_have_text("2")
    _, session = session_of(day, page, before)
    assert session["machine"] == machines(day)["Window machine"]


def test_a_session_on_the_wrong_machine_goes_to_the_right_one_with_its_pieces(days: Days) -> None:
    day, before = at_the_bench(days)
    page, phone = day.page, day.phone
    go(page, "bench")
    for _ in range(2):
        day.piece()
    go(page, "bench/on")
    door = page.get_by_role("radio", name=re.compile("^Door machine"))
    expect(page.get_by_text("this session goes there")).to_be_visible()
    phone.touch(page.locator("label", has=door), page)
    day.next_thing()
    expect(page.get_by_role("button", name=re.compile("Door machine"))).to_be_visible()
    new, session = session_of(day, page, before)
    pieces = [it for it in day.server.records("piece").values() if it["session"] == new]
    assert session["machine"] == machines(day)["Door machine"]
    assert [it["machine"] for it in pieces] == [machines(day)["Door machine"]] * 2


def test_pieces_written_up_later_count_on_the_machine_that_their_lot_was_on(days: Days) -> None:
    day = days()
    page, phone = day.page, day.phone
    day.next_thing("Take out six")
    day.sent()
    tallies = set(day.server.records("tally"))
    go(page, "later")
    phone.touch(page.get_by_role("button", name=re.compile(r"^K\d+ .*new, lot K")), page)
    expect(page.get_by_role("radio", name="Door machine")).to_be_checked()
    phone.touch(page.locator(".figure-value").first, page)
    phone.touch(page.get_by_role("button", name=re.compile("^24 pieces")), page)
    phone.touch(page.get_by_role("button", name="6 lost", exact=True), page)
    phone.touch(page.get_by_role("button", name="lost: one more"), page)
    expect(page.locator(".later-good")).to_have_text("17 good")
    day.next_thing("Write it in")
    all_sent(page)
    (new,) = set(day.server.records("tally")) - tallies
    tally = day.server.records("tally")[new]
    assert (tally["machine"], tally["lost_by"]) == (machines(day)["Door machine"], {"not_said": 7})
    go(page, "later")
    phone.touch(page.get_by_role("button", name="Write up more"), page)
    phone.touch(page.get_by_role("button", name="Earlier"), page)
    page.get_by_label("the day").fill("2099-01-01")
    expect(page.locator("[data-next]")).to_be_disabled()
    expect(page.get_by_text("this day is still to come").first).to_be_visible()
