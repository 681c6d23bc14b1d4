"""Midnight, summer time, a clock that is wrong or is moved: the counts, times and days stay right."""

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from tests.bench_day.day import Day, Span, all_sent, go, standing
from tests.bench_day.moving_clock import SCRIPT
from tests.bench_day.phone import Phone

pytestmark = pytest.mark.browser

Days = Callable[..., Day]
NewPhone = Callable[..., Phone]

LATE_EVENING = datetime(2026, 11, 25, 22, 33, tzinfo=UTC)  # 23:33 in Berlin
# Summer time begins on 2027-03-28 at 01:00 UTC: after 01:59 comes 03:00 in Berlin (IANA zone Europe/Berlin).
BEFORE_SUMMER = datetime(2027, 3, 28, 0, 45, tzinfo=UTC)


def pieces_of(day: Day, began: datetime) -> list[dict[str, Any]]:
    since = began.isoformat()[:19]
    found = [it for it in day.server.records("piece").values() if str(it.get("at", "")) >= since]
    return sorted(found, key=lambda piece: piece["number"])


def batch_d1(day: Day) -> str:
    return next(id_ for id_, batch in day.server.records("batch").items() if batch["label"] == "D1")


def oil(day: Day) -> dict[str, Any]:
    """The task to oil the first machine's pivot, as the server answers it."""
    tasks = day.server.records("care_task")
    oils = [id_ for id_, task in tasks.items() if task["what"] == "oil" and task.get("every_days") == 6]
    return {"id": oils[0], **day.server.get(f"/api/care-tasks/{oils[0]}")}


def six_out(day: Day) -> None:
    """Out of the water, so that nothing rings in between."""
    day.next_thing("Take out six")
    expect(day.page.get_by_role("heading", name="In the water")).to_be_visible()
    day.phone.touch(day.page.get_by_role("button", name="good", exact=True), day.page)


def test_a_session_over_midnight_stands_on_two_days_and_care_is_due_by_the_workshops_day(days: Days) -> None:
    day = days(LATE_EVENING)
    six_out(day)
    go(day.page, "bench")
    cut = [day.piece(minutes=7) for _ in range(4)]  # 23:40, 23:47, 23:54, 00:01, or some minutes later
    day.page.wait_for_timeout(400)
    go(day.page, "today")
    expect(day.page.get_by_role("heading", name="Today, Thu 26 Nov")).to_be_visible()
    day.sent()

    pieces = pieces_of(day, LATE_EVENING)
    assert [piece["number"] for piece in pieces] == [1, 2, 3, 4]
    assert [standing(piece) for piece in pieces] == [["good"]] * 4
    assert len({piece["session"] for piece in pieces}) == 1
    assert all(cut_at(piece) in span for piece, span in zip(pieces, cut, strict=True)), (pieces, cut)
    assert [local(cut_at(piece)).day for piece in pieces] == [25, 25, 25, 26]
    assert day.server.get(f"/api/batches/{batch_d1(day)}")["stands"]["profiled"]["good"] == 4
    go(day.page, f"batches/batch/{batch_d1(day)}")
    written = day.page.locator("main")
    expect(written.get_by_text("Wed 25 Nov").first).to_be_visible()
    expect(written.get_by_text("3 good").first).to_be_visible()
    expect(written.get_by_text("1 good").first).to_be_visible()

    # six days from the 26th by the workshop's calendar, though in UTC it is still the 25th
    assert oil(day)["due_day"] == "2026-11-25" and oil(day)["is_due"] is True
    assert day.clock.now().date().isoformat() == "2026-11-25"
    go(day.page, f"care/task/{oil(day)['id']}")
    day.next_thing("Done")
    day.page.wait_for_timeout(400)
    day.sent()
    assert oil(day)["due_day"] == "2026-12-02" and oil(day)["is_due"] is False
    assert oil(day)["due_pieces_left"] == 100
    go(day.page, "care")
    expect(day.page.get_by_text("Wed 2 Dec").first).to_be_visible()


def cut_at(piece: dict[str, Any]) -> datetime:
    return datetime.fromisoformat(piece["at"])


def local(at: datetime) -> datetime:
    """As the workshop's clock and calendar showed it."""
    return at.astimezone(ZoneInfo("Europe/Berlin"))


def foretold(day: Day, cut: list[Span], began: datetime, left: int) -> None:
    """The bench says how long a piece takes, and when as many as are left will be done at that pace."""
    before = [began, *(span.began for span in cut)]
    longest = max(span.ended - since for span, since in zip(cut, before, strict=False))
    done = Span(cut[-1].began + left * timedelta(minutes=3), cut[-1].ended + left * longest)
    facts = day.page.locator(".bench-facts")
    expect(facts).to_contain_text(re.compile(f"done by {done.about(minutes=1).shown()}"))
    said = re.search(r"([\d.]+) min a piece", facts.inner_text())
    assert said and 3 <= float(said[1]) <= longest / timedelta(minutes=1) + 0.25, facts.inner_text()


def test_over_the_change_to_summer_time_minutes_a_piece_and_done_by_stay_right(days: Days) -> None:
    day = days(BEFORE_SUMMER)
    six_out(day)
    go(day.page, "bench")
    expect(day.page.locator(".bench-facts")).to_be_visible()
    cut = [day.piece(minutes=3) for _ in range(4)]  # 01:48, 01:51, 01:54, 01:57
    # 20 pieces of 3 minutes are left: 60 minutes after 01:57 a clock in Berlin shows 03:57, not 02:57
    foretold(day, cut, BEFORE_SUMMER, left=20)
    cut += [day.piece(minutes=3) for _ in range(2)]  # 03:00, 03:03
    foretold(day, cut, BEFORE_SUMMER, left=18)
    day.page.wait_for_timeout(400)
    day.sent()
    pieces = pieces_of(day, BEFORE_SUMMER)
    assert all(cut_at(piece) in span for piece, span in zip(pieces, cut, strict=True)), (pieces, cut)
    assert {local(cut_at(piece)).hour for piece in pieces} == {1, 3}
    for piece, last, this in zip(pieces[1:], cut, cut[1:], strict=False):
        took = cut_at(piece) - datetime.fromisoformat(piece["began"])
        assert this.began - last.ended <= took <= this.ended - last.began, piece
    assert all(piece["full"] for piece in pieces[1:])


def test_a_phone_whose_clock_is_two_hours_ahead_is_told_and_what_it_writes_is_read_right(
    days: Days, new_phone: NewPhone
) -> None:
    day = days()
    six_out(day)
    day.sent()
    wrong = new_phone()
    ahead = day.clock.ahead_ms + 2 * 3_600_000
    wrong.init_script = SCRIPT % (ahead, ahead)
    page = wrong.open(day.server.url)
    expect(page.get_by_text("in the workshop").first).to_be_visible(timeout=20_000)
    expect(page.get_by_text(re.compile("This phone's clock is 2 h ahead")).first).to_be_visible()
    put_six_in = page.get_by_role("button", name=re.compile("^Put in six")).first
    put_in = day.meanwhile(lambda: wrong.touch(put_six_in, page)).about(seconds=30)  # an exchange is no finer
    ready_at = re.compile(f"ready at {put_in.later(minutes=30).shown()}")
    expect(page.locator("main").get_by_text(ready_at).first).to_be_visible()
    all_sent(page)
    id_, soak = max(day.server.records("soak").items(), key=lambda one: str(one[1]["put_in"]))
    skew = timedelta(milliseconds=soak["put_in_skew_ms"])
    assert abs(skew - timedelta(hours=2)) < timedelta(seconds=30)
    assert datetime.fromisoformat(soak["put_in"]) - skew in put_in
    shown = day.server.get(f"/api/soaks/{id_}")
    assert datetime.fromisoformat(shown["ready_at"]) in put_in.later(minutes=30), shown
    # its own screen counts by the workshop's clock too, and so does the phone whose clock is right
    for phone in (wrong, day.phone):
        all_sent(phone.page)
        expect(phone.page.locator("main").get_by_text(ready_at).first).to_be_visible()
    # asked, the maker says that the workshop's clock holds: the record itself is put right
    wrong.touch(page.get_by_role("button", name=re.compile("This phone's clock is 2 h ahead")).first, page)
    answer = page.get_by_role("button", name=re.compile("by the workshop's clock")).first
    wrong.touch(answer, page)
    expect(answer).to_have_count(0)
    all_sent(page)
    shown = day.server.get(f"/api/soaks/{id_}")
    assert datetime.fromisoformat(shown["ready_at"]) in put_in.later(minutes=30), shown


def test_a_countdown_is_right_after_a_reload_with_the_network_cut_and_after_a_day_asleep(days: Days) -> None:
    day = days()
    six_out(day)
    day.sent()
    day.cut()
    ready = day.meanwhile(lambda: day.next_thing("Put in six")).later(minutes=30)
    day.page.wait_for_timeout(600)
    day.clock.pass_by(day.page, minutes=11)
    day.clock.wind(day.phone)
    assert day.phone.context
    day.battery_dies()
    go(day.page, "today")
    ready_at = re.compile(f"ready at {ready.shown()}")
    expect(day.page.locator("main").get_by_text(ready_at).first).to_be_visible()
    shown: list[str] = []
    looked = day.meanwhile(lambda: shown.append(day.page.locator(".answer-figure").inner_text()))
    (left,) = re.findall(r"^(\d+)\s*min$", shown[0])
    fewest, most = ready.began - looked.ended, ready.ended - looked.began
    assert fewest - timedelta(minutes=1) <= timedelta(minutes=int(left)) <= most + timedelta(minutes=1)
    day.clock.pass_by(day.page, hours=24)
    day.battery_dies()
    go(day.page, "today")
    expect(day.page.locator(".answer-figure")).to_contain_text(re.compile("23 h.* ago"))
    expect(day.page.locator("[role=alert]")).to_have_count(0)


def test_a_clock_that_jumps_while_the_page_is_open_is_seen(days: Days) -> None:
    day = days()
    six_out(day)
    put_in = day.meanwhile(lambda: day.next_thing("Put in six"))
    go(day.page, "today")
    day.page.evaluate(
        """() => {
          const still = performance.now.bind(performance), by = 2 * 3600 * 1000;
          window.movedOn_ms += by;
          performance.now = () => still() - by;
        }"""
    )
    seen = day.page.get_by_role("heading", name=re.compile("clock went ahead by 2 h"))
    expect(seen).to_be_visible(timeout=10_000)
    two_hours_on = put_in.later(hours=2).shown()
    day.phone.touch(day.page.get_by_role("button", name=re.compile(f"In at {two_hours_on}")), day.page)
    ready = put_in.later(hours=2, minutes=30).shown()
    expect(day.page.locator("main").get_by_text(re.compile(f"ready at {ready}")).first).to_be_visible()
