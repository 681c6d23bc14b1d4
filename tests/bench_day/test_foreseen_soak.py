"""What is foreseen of a soak, on a real phone without a network: the lot's own marks, the habit at hand."""

import os
import re
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from playwright.sync_api import expect

from easelside.forecast.refit import Refit
from easelside.logbook import asking
from easelside.logbook.book import Logbook
from easelside.logbook.ids import time_ordered_id
from easelside.units import write_instant
from seed_demo import load
from tests.bench_day.day import Day, go
from tests.bench_day.test_every_screen import Walk

pytestmark = pytest.mark.browser

MARKS = (
    *((minutes, "still_hard") for minutes in (30, 33, 35, 38)),
    *((minutes, "good") for minutes in (44, 46, 47, 48, 50, 52)),
    *((minutes, "too_soft") for minutes in (85, 95)),
)


def a_slow_lot(book: Logbook, at: datetime, zone: str) -> None:
    """The demonstration, and that lot D wants three quarters of an hour. No group follows: nothing rings."""
    load.load(book, at + timedelta(minutes=10), zone)
    with book.view() as view:
        lots = {
            str(one["fields"]["label"]["value"]): str(one["id"]) for one in asking.all_records(view, "lot")
        }
        wet = [str(one["id"]) for one in asking.all_records(view, "soak") if "taken_out" not in one["fields"]]
    device = new_id(at)
    changes = [changed(device, at, wet[0], {"of_pieces": 6})]
    for i, (minutes, mark) in enumerate(MARKS):
        put_in = at - timedelta(days=3, hours=i)
        soak = {
            "purpose": "profile",
            "pieces": 6,
            "lot": lots["D"],
            "jar": "1",
            "water": "warm",
            "water_c": 38,
        }
        soak |= {"soak_s": 60 * minutes, "put_in": write_instant(put_in), "mark": mark}
        soak |= {"taken_out": write_instant(put_in + timedelta(minutes=minutes))}
        changes.append(changed(device, put_in, new_id(put_in), soak))
    book.receive(device, write_instant(at), changes)
    assert Refit(book)(at) > 0


def nothing_in_yet(book: Logbook, at: datetime, zone: str) -> None:
    """The demonstration before the six of lot D went in: a row is offered as last time."""
    load.load(book, at + timedelta(minutes=10), zone)
    with book.view() as view:
        wet = [str(one["id"]) for one in asking.all_records(view, "soak") if "taken_out" not in one["fields"]]
    device = new_id(at)
    book.receive(device, write_instant(at), [changed(device, at, soak, {"removed": True}) for soak in wet])
    assert Refit(book)(at) > 0


def new_id(at: datetime) -> str:
    return time_ordered_id(int(at.timestamp() * 1000), os.urandom(10))


def changed(device: str, at: datetime, record: str, fields: dict[str, object]) -> dict[str, object]:
    one = {"id": new_id(at), "v": 1, "kind": "soak", "record": record, "device": device}
    return one | {"made": write_instant(at), "set": fields, "saw": {}, "back": False}


def test_the_time_is_filled_in_from_the_lots_own_marks_and_the_habit_stays_at_hand(
    days: Callable[..., Day],
) -> None:
    day = days(tell=a_slow_lot)
    page, phone = day.page, day.phone
    day.cut()  # what was fetched is enough
    go(page, "soak/in")
    told = page.get_by_text(
        re.compile(r"Ready after 2\d to 5\d min, 9 times in 10\. Best after about 4\d min\.")
    )
    expect(told).to_contain_text("From 12 marks of lot D.")
    expect(told).to_contain_text("Too soft after")
    own, habit = (
        page.get_by_role("button", name=re.compile(name))
        for name in ("from 12 marks", r"^30 min\s*your habit")
    )
    expect(own).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text(re.compile(r"^warm, 4\d min"))).to_be_visible()
    phone.touch(habit, page)
    expect(habit).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text(re.compile(r"^warm, 30 min"))).to_be_visible()


def test_with_one_jar_and_a_wish_to_begin_later_the_row_is_planned_for_just_that(
    days: Callable[..., Day],
) -> None:
    day = days(tell=nothing_in_yet)
    page, phone = day.page, day.phone
    go(page, "soak/in")
    row = page.get_by_text(re.compile(r"^At .* min a piece.*: "))
    jars = page.get_by_role("group", name="jars there are")
    expect(row).to_contain_text(re.compile(r" now, then .* in 2 jars"))
    phone.touch(jars.get_by_role("button", name=re.compile("less")), page)
    expect(jars.get_by_role("textbox")).to_have_value("1")
    expect(
        page.get_by_text(re.compile(r"^At .* leave some late .* It would do with .*[2-9] jars"))
    ).to_be_visible()
    phone.touch(jars.get_by_role("button", name=re.compile("more")), page)
    expect(row).to_contain_text("in 2 jars")
    page.get_by_label("first piece at").fill("17:00")
    expect(row).to_contain_text(re.compile(r" at 1[56]:\d\d"))
    page.get_by_label("first piece at").fill("14:50")
    expect(
        page.get_by_text(re.compile("nothing is ready yet: the first piece can be cut at"))
    ).to_be_visible()
    to = Walk(page)
    to.look("put in, with a plan")
    to.done()


def test_a_jar_and_its_evidence_are_told_without_a_network(days: Callable[..., Day]) -> None:
    day = days(tell=a_slow_lot)
    page, phone = day.page, day.phone
    day.cut()
    go(page, "soak")
    expect(
        page.get_by_text(re.compile(r"6 of lot D: ready \d+:\d+ to \d+:\d+, 9 times in 10; best"))
    ).to_be_visible()
    phone.touch(page.get_by_role("button", name="Why so long?"), page)
    expect(page.get_by_role("heading", name="Time in water, lot D")).to_be_visible()
    expect(page.get_by_role("img", name=re.compile("Marks of lot D"))).to_be_visible()
    phone.touch(page.get_by_role("button", name="The same in figures"), page)
    expect(page.get_by_role("row")).to_have_count(1 + len(MARKS))
    expect(page.get_by_role("row", name=re.compile("85 38 too soft 1"))).to_be_visible()
