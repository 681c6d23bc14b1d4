"""What nobody tapped is written up later: every count that it touches follows, and no other moves."""

import re
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest
from playwright.sync_api import expect

from easelside.logbook.book import Logbook
from easelside.units import write_instant
from seed_demo import load
from tests.bench_day.day import Day, all_sent, go

pytestmark = pytest.mark.browser

Days = Callable[..., Day]
MOST_TAPS = 9
DUE = ("due_day", "due_pieces_left", "due_sessions_left", "put_off_until", "is_due")


def without_c1_cut(logbook: Logbook, now: datetime, zone: str) -> None:
    """The demonstration, but nobody said yet that C1 went over the machine: no session, no piece, no soak."""
    story = load.changes(now, zone)
    lot_c = next(one["record"] for one in story if one["kind"] == "lot" and one["set"].get("label") == "C")
    c1 = next(one["record"] for one in story if one["kind"] == "batch" and one["set"].get("lot") == lot_c)
    sessions = {
        one["record"] for one in story if one["kind"] == "session" and c1 in (one["set"].get("batches") or [])
    }
    gone = sessions | {
        one["record"]
        for one in story
        if one["set"].get("session") in sessions or (one["kind"] == "soak" and one["set"].get("batch") == c1)
    }
    kept = [one for one in story if one["record"] not in gone]
    assert sessions and len(story) - len(kept) > 30
    sender = kept[0]["device"]
    for first in range(0, len(kept), load.BATCH):
        logbook.receive(sender, write_instant(now), kept[first : first + load.BATCH])


def derived(day: Day) -> dict[str, Any]:
    """Every count that follows from the records, by REST: edges, batches, care."""
    found: dict[str, Any] = {}
    for path, name, keys in (
        ("blades", "label", ("place", "edge")),
        ("batches", "label", ("stands",)),
        ("care-tasks", "words", DUE),
    ):
        for item in day.server.get(f"/api/{path}?limit=100")["items"]:
            found[f"{path} {item[name]} {item.get('machine') or item.get('tool') or ''}".strip()] = {
                key: item[key] for key in keys
            }
    return found


def moved(before: dict[str, Any], after: dict[str, Any]) -> dict[str, Any]:
    """What differs, as far down as it differs: {"blades 4": {"edge": {"pieces": (0, 30)}}}."""
    found: dict[str, Any] = {}
    for name in before.keys() | after.keys():
        old, new = before.get(name), after.get(name)
        if old == new:
            continue
        within = moved(old, new) if isinstance(old, dict) and isinstance(new, dict) else (old, new)
        found[name] = within
    return found


def test_yesterday_30_pieces_of_lot_c_26_good_4_lost_in_at_most_nine_taps_and_no_keyboard(days: Days) -> None:
    day = days(tell=without_c1_cut)
    day.sent()
    page, phone = day.page, day.phone
    before = derived(day)
    tallies = set(day.server.records("tally"))
    page.evaluate("() => { window.typed = 0; addEventListener('keydown', () => window.typed++, true); }")
    if page.get_by_role("button", name="Silence").count():
        phone.touch(page.get_by_role("button", name="Silence").first, page)
    phone.taps = 0

    phone.touch(page.get_by_role("button", name="Chest"), page)
    phone.touch(page.get_by_role("dialog").get_by_role("link", name=re.compile("^Batches")), page)
    phone.touch(page.get_by_role("button", name=re.compile("^Written up later")), page)
    expect(page.get_by_role("heading", name="Written up later")).to_be_visible()
    expect(page.get_by_role("button", name="Yesterday", pressed=True)).to_be_visible()
    c1 = page.get_by_role("button", name=re.compile("^C1"))
    if c1.get_attribute("aria-pressed") != "true":
        phone.touch(c1, page)
    figure = page.locator(".figure-value").first
    if "30" not in (figure.text_content() or ""):
        phone.touch(figure, page)
        phone.touch(page.get_by_role("button", name=re.compile("^30 pieces")), page)
    phone.touch(page.get_by_role("button", name="4 lost", exact=True), page)
    expect(page.get_by_text("26 good")).to_be_visible()
    day.next_thing("Write it in")
    expect(page.get_by_role("heading", name="30 pieces written in")).to_be_visible()
    print(f"taps: {phone.taps}")
    assert phone.taps <= MOST_TAPS
    assert page.evaluate("window.typed") == 0

    all_sent(page)
    (new,) = set(day.server.records("tally")) - tallies
    tally = day.server.records("tally")[new]
    said = {name: tally[name] for name in ("stage", "day", "started", "good", "second_count", "lost_by")}
    assert said == {
        "stage": "profiled",
        "day": "2026-11-24",
        "started": 30,
        "good": 26,
        "second_count": 0,
        "lost_by": {"not_said": 4},
    }
    # blade 4 was fitted yesterday at 16:10: of a day alone noon is taken, and at noon blade 3 was still in
    window = next(id_ for id_, it in day.server.records("machine").items() if it["name"] == "Window machine")
    assert moved(before, derived(day)) == {
        "blades 3": {"edge": {"pieces": (205, 235)}},
        f"batches C1 {window}": {"stands": {"profiled": (None, {"good": 26, "second": 0, "lost": 4})}},
        f"care-tasks Oil the pivot {window}": {"due_pieces_left": (70, 40)},
        f"care-tasks Clean the arm {window}": {"due_pieces_left": (145, 115)},
    }


def test_a_blade_change_told_later_at_piece_12_moves_what_was_cut_from_there_and_nothing_else(
    days: Days,
) -> None:
    day = days()
    page, phone = day.page, day.phone
    day.next_thing("Take out six")
    expect(page.get_by_role("heading", name="In the water")).to_be_visible()
    go(page, "bench")
    for _ in range(15):
        day.piece(minutes=3)
    day.sent()
    before = derived(day)
    known = {blade["label"]: id_ for id_, blade in day.server.records("blade").items()}
    window = next(id_ for id_, it in day.server.records("machine").items() if it["name"] == "Window machine")

    go(page, f"blade-change/{window}?blade={known['2']}")
    expect(page.get_by_role("heading", name="Blade 4 out, blade 2 in")).to_be_visible()
    phone.touch(page.get_by_role("button", name=re.compile("^it was at piece")).first, page)
    expect(page.get_by_text("11 stay with 4, 4 move to blade 2")).to_be_visible()
    day.next_thing("Write the change in")
    day.sent()
    changes = moved(before, derived(day))
    old, new = changes.pop("blades 4"), changes.pop("blades 2")
    assert (old["edge"], old["place"]["where"]) == ({"pieces": (15, 11)}, ("on_machine", "here"))
    assert (new["edge"], new["place"]["where"]) == ({"pieces": (231, 235)}, ("here", "on_machine"))
    # oil and cleaning are due by the machine's pieces, and the batch has them all the same
    assert changes == {}


def test_an_opening_count_of_about_150_is_on_this_edge_and_on_nothing_else(days: Days) -> None:
    day = days()
    page = day.page
    day.next_thing("Take out six")
    expect(page.get_by_role("heading", name="In the water")).to_be_visible()
    day.sent()
    before = derived(day)
    go(page, "later/opening")
    expect(page.get_by_role("heading", name="Opening count")).to_be_visible()
    expect(page.get_by_text("on this edge of blade 4")).to_be_visible()
    expect(page.locator(".figure-value").first).to_contain_text("150")
    day.next_thing("Write it in")
    day.sent()
    assert moved(before, derived(day)) == {"blades 4": {"edge": {"pieces": (0, 150)}}}


def test_a_tally_of_no_batch_that_never_was_goes_and_the_edge_has_its_count_again(days: Days) -> None:
    day = days()
    page, phone = day.page, day.phone
    day.next_thing("Take out six")
    day.sent()
    before = derived(day)
    go(page, "later")
    phone.touch(page.get_by_role("button", name="Today"), page)
    phone.touch(page.get_by_role("button", name="new", exact=True), page)
    day.next_thing("Write it in")
    day.sent()
    assert "blades 4" in moved(before, derived(day))
    go(page, "records")
    phone.touch(page.get_by_role("button", name=re.compile("^no batch")).first, page)
    phone.touch(page.get_by_role("button", name=re.compile("^It never was")), page)
    day.sent()
    assert moved(before, derived(day)) == {}
