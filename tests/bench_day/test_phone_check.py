"""The phone check keeps what was heard, the calendar is offered where it can be had, counts are spoken."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.day import Day, go
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server
from tests.bench_day.test_rings_locked import put_in
from tests.bench_day.test_soak import LISTENED

pytestmark = pytest.mark.browser

SEEN_OR_NOT = """(seen) => {
  const say = (name, value) => Object.defineProperty(document, name, { value, configurable: true });
  say('hidden', !seen);
  say('visibilityState', seen ? 'visible' : 'hidden');
  document.dispatchEvent(new Event('visibilitychange'));
}"""


def checked(phone: Phone, server: Server, locked: bool) -> Page:
    """Six minutes and a little more have gone by since the check began, the phone locked or not."""
    page = phone.switch_on()
    page.clock.install()
    page.goto(f"{server.url}/#/phone-check")
    expect(page.get_by_text("locked, six minutes: not tried")).to_be_visible()
    phone.touch(page.get_by_role("button", name="Start, then lock"))
    expect(page.get_by_text("Lock it now.")).to_be_visible()
    expect(page.get_by_role("button", name="It rang")).to_have_count(0)  # nothing to answer yet
    if locked:
        page.evaluate(SEEN_OR_NOT, False)
    page.clock.fast_forward(6 * 60_000 + 5000)
    if locked:
        page.evaluate(SEEN_OR_NOT, True)
    return page


@pytest.mark.parametrize(
    ("answer", "rang", "line"),
    [
        ("It rang", True, "rang"),
        ("It did not", False, "silent"),
    ],
)
def test_what_was_heard_is_kept_for_this_phone(
    server: Server, phone: Phone, answer: str, rang: bool, line: str
) -> None:
    page = checked(phone, server, locked=True)
    phone.touch(page.get_by_role("button", name=answer, exact=True))
    expect(page.get_by_text(f"locked, six minutes: {line}, ")).to_be_visible()
    expect(page.get_by_role("button", name="It rang")).to_have_count(0)
    for _ in range(20):
        page.clock.run_for(1000)
        page.wait_for_timeout(200)
        kept = [one["check/locked"] for one in server.records("device").values() if "check/locked" in one]
        if kept:
            break
    assert [trial["rang"] for trial in kept] == [rang]


def test_a_screen_that_was_on_is_no_trial_of_a_locked_phone(server: Server, phone: Phone) -> None:
    page = checked(phone, server, locked=False)
    expect(page.get_by_text("The screen was on when it rang: start again")).to_be_visible()
    expect(page.get_by_role("button", name="It rang")).to_have_count(0)
    expect(page.get_by_text("locked, six minutes: not tried")).to_be_visible()


def test_the_calendar_is_offered_while_the_server_is_there_and_for_the_soak_that_is_looked_at(
    server: Server, phone: Phone
) -> None:
    soak = put_in(server, 900)
    page = phone.open(f"{server.url}/#/soak/{soak}")
    calendar = page.get_by_role("link", name="Ask the calendar too")
    expect(calendar).to_be_visible()
    expect(calendar).to_contain_text("it cannot be corrected from here later")
    expect(calendar).to_have_attribute("href", f"/api/soaks/{soak}/event.ics")
    server.stop()
    page.evaluate("window.dispatchEvent(new Event('focus'))")
    expect(calendar).to_have_count(0, timeout=15_000)


def counts(page: Page) -> list[str]:
    page.wait_for_timeout(200)
    return [words for words, _voice in page.evaluate("said") if words.isdigit()]


def test_the_count_is_spoken_at_the_bench_once_the_maker_has_chosen_it(days: Callable[..., Day]) -> None:
    day = days()
    page = day.page
    page.evaluate(LISTENED)
    go(page, "bench")
    day.piece()
    expect(page.get_by_text("1 good")).to_be_visible()
    assert counts(page) == []
    go(page, "machine/phone")
    day.phone.touch(page.get_by_text("It says each count at the bench"))
    go(page, "bench")
    day.piece()
    expect(page.get_by_text("2 good")).to_be_visible()
    assert counts(page) == ["2"]
