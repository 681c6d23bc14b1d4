"""What is foreseen of edges, of grinding and of care, on a real phone without a network."""

import os
import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import Page, expect

from easelside.forecast.refit import Refit
from easelside.logbook import asking
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id
from easelside.units import write_instant
from seed_demo import load
from tests.bench_day.day import Day, go
from tests.bench_day.phone import Phone
from tests.bench_day.test_every_screen import SIZES, Walk

pytestmark = pytest.mark.browser

LEFT = re.compile(r"About (\d+) pieces left \((\d+) to (\d+), 9 times in 10\)\.")


def blade_called(book: Logbook, label: str) -> str:
    with book.view() as view:
        return next(
            str(blade["id"])
            for blade in asking.all_records(view, "blade")
            if blade["fields"]["label"]["value"] == label
        )


def a_worn_edge(book: Logbook, at: datetime, zone: str) -> None:
    """The demonstration, and that blade 4 has cut 150 already."""
    load.load(book, at, zone)
    with book.view() as view:
        fitted = [m["fields"] for m in asking.all_records(view, "blade_move") if "machine" in m["fields"]]
    blade = blade_called(book, "4")
    machine = next(m["machine"]["value"] for m in fitted if m["blade"]["value"] == blade)
    tally = {"machine": machine, "blade": blade, "at": write_instant(at - timedelta(minutes=5))}
    tally |= {"started": 150, "opening": True}
    device, record, change = (time_ordered_id(int(at.timestamp() * 1000), os.urandom(10)) for _ in range(3))
    said = {"id": change, "v": 1, "kind": "tally", "record": record, "device": device}
    said |= {"made": write_instant(at), "set": tally, "saw": {}, "back": False}
    book.receive(device, write_instant(at), [said])
    assert Refit(book)(at) > 0


def pieces_left(page: Page) -> list[int]:
    told = page.get_by_text(LEFT).first
    expect(told).to_be_visible()
    found = LEFT.search(told.inner_text())
    assert found
    return [int(n) for n in found.groups()]


def foreseen(day: Day) -> None:
    """What is foreseen has reached the phone; a soak that rings over it is silenced."""
    go(day.page, "care")
    expect(day.page.get_by_text("Send the box now.")).to_be_visible(timeout=20_000)
    day.phone.touch(day.page.get_by_role("button", name="Silence"), day.page)


def without_network(day: Day) -> None:
    foreseen(day)
    day.cut()


def to_blade_4(page: Page) -> None:
    page.get_by_role("button", name=re.compile("blade 4")).first.dispatch_event("click")
    expect(page.get_by_role("heading", name="blade 4", level=1)).to_be_visible()


def test_what_is_left_in_an_edge_is_told_and_falls_with_what_is_cut_without_a_network(
    days: Callable[..., Day],
) -> None:
    day = days(tell=a_worn_edge)
    page, phone = day.page, day.phone
    without_network(day)
    to_blade_4(page)
    median, lower, upper = pieces_left(page)
    assert lower < median < upper
    assert 60 <= median <= 130
    expect(page.get_by_text(re.compile(r"At your pace it goes blunt "))).to_be_visible()
    expect(page.get_by_text("From 10 edges that went off here.")).to_be_visible()
    phone.touch(page.get_by_role("button", name="Why so many?"), page)
    expect(page.get_by_role("heading", name="How long blade 4 still lasts")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("of a hundred edges"))).to_be_visible()
    phone.touch(page.get_by_role("button", name="The same in figures"), page)
    expect(page.get_by_role("row")).to_have_count(1 + 10)
    phone.touch(page.get_by_role("button", name="Back", exact=True), page)
    phone.touch(page.get_by_role("button", name="It has cut already"), page)
    expect(page.get_by_role("heading", name="Opening count")).to_be_visible()
    phone.touch(page.locator(".figure-value"), page)
    phone.touch(page.get_by_role("button", name="300 pieces"), page)
    day.next_thing("Write it in")
    expect(page.get_by_text("It has cut 300: look for a bow now.")).to_be_visible()
    assert pieces_left(page)[0] < median / 2


def test_grinding_both_ways_and_its_evidence(days: Callable[..., Day]) -> None:
    day = days(tell=a_worn_edge)
    page, phone = day.page, day.phone
    without_network(day)
    expect(
        page.get_by_text(re.compile(r"5 one by one cost EUR\s45\.00, the box EUR\s27\.00"))
    ).to_be_visible()
    expect(page.get_by_text(re.compile(r"stand without one \d+ times in 100"))).to_be_visible()
    phone.touch(page.get_by_role("button", name="How many blades are enough?"), page)
    expect(page.get_by_role("heading", name="How many blades are enough")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("without a blade"))).to_be_visible()
    phone.touch(page.get_by_role("button", name="The same in figures"), page)
    assert page.get_by_role("row").count() >= 9


def test_care_is_due_about_a_day_and_says_why(days: Callable[..., Day]) -> None:
    day = days(tell=a_worn_edge)
    page, phone = day.page, day.phone
    without_network(day)
    page.get_by_role("button", name=re.compile("Clean the arm")).first.dispatch_event("click")
    expect(page.get_by_text(re.compile(r"Due by .*, perhaps from "))).to_be_visible()
    phone.touch(page.get_by_role("button", name="Why then?"), page)
    expect(page.get_by_role("heading", name=re.compile("when it is due"))).to_be_visible()
    phone.touch(page.get_by_role("button", name="The same in figures"), page)
    expect(page.get_by_role("row")).to_have_count(6)


@pytest.mark.parametrize("size", SIZES)
def test_what_is_foreseen_and_what_speaks_for_it_is_there_for_everybody(
    days: Callable[..., Day], new_phone: Callable[..., Phone], size: str
) -> None:
    """By day, by night, with text twice as large; nothing for axe to find, all reached by Tab."""
    day = days(tell=a_worn_edge, phone=new_phone(size=SIZES[size]))
    page, records = day.page, day.server.records
    blade = next(id for id, it in records("blade").items() if it["label"] == "4")
    task = next(id for id, it in records("care_task").items() if it["words"] == "Clean the arm")
    foreseen(day)
    to = Walk(page)
    to.look("care, with what is foreseen", tabs=False)
    machine = next(id for id, it in records("machine").items() if it["name"] == "Window machine")
    for what in (
        f"care/blade/{blade}",
        f"care/task/{task}",
        "set-up/edge",
        "soak/in",
        f"evidence/reading/{machine}",
    ):
        to.go(what)
        to.look(what.rpartition("/")[0])
    of_a_screw = f"screw/{machine}/middle"
    for what in (f"edge/{blade}", "edge/all", "grinding/workshop", f"due/{task}", of_a_screw):
        to.go(f"evidence/{what}")
        to.press("The same in figures")
        to.press("How this was worked out")
        to.look(f"evidence, {what.partition('/')[0]}")
    to.done()
