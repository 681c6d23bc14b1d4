"""A whole bench day, no network: soak, set-up after a blade change, 24 pieces, wind down; then the server."""

from collections import Counter
from collections.abc import Callable
from datetime import datetime

import pytest
from playwright.sync_api import expect

from easelside.logbook.book import Logbook
from easelside.logbook.model import Record
from seed_demo import load
from tests.bench_day.day import Day, go, standing

pytestmark = pytest.mark.browser

MOST_TAPS = 36


def all_24_in_one_jar(logbook: Logbook, now: datetime, zone: str) -> None:
    """The demonstration, but that its maker put the whole batch in at once."""
    load.load(logbook, now, zone)
    (soak,) = [one for one in logbook.all_records("soak") if value(one, "taken_out") is None]
    logbook.write("soak", soak["id"], {"pieces": 24, "of_pieces": None, "every_s": None, "run": None})


def value(record: Record, name: str) -> object:
    return record["fields"][name]["value"] if name in record["fields"] else None


def pieces_since(day: Day, since: datetime) -> list[dict[str, object]]:
    found = [
        piece
        for piece in day.server.records("piece").values()
        if str(piece.get("at", "")) >= since.isoformat()[:19]
    ]
    return sorted(found, key=lambda piece: (str(piece["at"]), int(str(piece["number"]))))


def pieces_on_edge(day: Day, blade: str) -> int:
    return int(day.server.get(f"/api/blades/{blade}")["edge"]["pieces"])


def set_up_after_the_blade_change(day: Day) -> None:
    day.next_thing("Set up")
    expect(day.page.get_by_text("new blade")).to_be_visible()
    until = 10
    while "good" in (day.page.locator("[data-next]").first.text_content() or "") and until:
        day.next_thing("good")
        until -= 1
    day.next_thing("bench")


def close_the_session(day: Day) -> None:
    page = day.page
    day.next_thing("Wind down")
    day.next_thing()
    expect(page).to_have_url(f"{day.server.url}/#/today")


def test_24_good_pieces_in_at_most_36_taps_with_the_network_cut_and_the_browser_killed(
    days: Callable[..., Day],
) -> None:
    day = days(tell=all_24_in_one_jar)
    day.sent()
    phone, since = day.phone, day.clock.now()
    day.cut()
    assert phone.taps == 0

    day.next_thing("Take out 24")
    expect(
        day.page.get_by_role("heading", name="In the water")
    ).to_be_visible()  # the jars are a room of their own
    phone.touch(day.page.get_by_role("button", name="good", exact=True), day.page)
    set_up_after_the_blade_change(day)
    for _ in range(11):
        day.piece()
    expect(day.page.locator(".bench-figure")).to_have_text("12")
    expect(day.page.locator(".easel text")).to_have_text("12")  # the strip follows the count
    day.page.wait_for_timeout(400)  # the last tap is saved by then; what if not is another test's question
    day.battery_dies()
    if "bench" not in day.page.url:
        day.next_thing()
    for _ in range(13):
        day.piece()
    close_the_session(day)
    print(f"taps: {phone.taps}")
    assert phone.taps <= MOST_TAPS

    day.server.start()
    day.sent()
    pieces = pieces_since(day, since)
    assert [piece["number"] for piece in pieces] == list(range(1, 25))
    assert Counter(str(standing(piece)) for piece in pieces) == {"['good']": 24}
    (session,) = {piece["session"] for piece in pieces}
    record = day.server.records("session")[str(session)]
    assert record["ended"] is not None
    ticked = {name: value for name, value in record.items() if name.startswith("check/")}
    for what in ("check/projection", "check/middle_stop", "check/shoulder_stop"):
        assert ticked[what] == "good"
    soak = max(day.server.records("soak").values(), key=lambda one: str(one["put_in"]))
    assert soak["mark"] == "good" and soak["taken_out"] is not None
    blades = {id_: blade["label"] for id_, blade in day.server.records("blade").items()}
    assert pieces_on_edge(day, next(id_ for id_, label in blades.items() if label == "4")) == 24


def three_pieces(logbook: Logbook, _now: datetime, _zone: str) -> None:
    """One machine and one batch, and nothing else."""
    logbook.write("machine", "01990000-0000-7000-8000-000000000001", {"name": "Window machine"})
    logbook.write("batch", "01990000-0000-7000-8000-000000000002", {"label": "K1", "pieces": 3})


def test_the_last_piece_lost_leads_to_the_wind_down_which_begins_as_it_was_closed(
    days: Callable[..., Day],
) -> None:
    day = days(tell=three_pieces)
    page, phone = day.page, day.phone
    go(page, "bench")
    day.piece()
    day.piece()
    phone.touch(page.get_by_role("button", name="Lost", exact=True), page)
    expect(page.get_by_role("heading", name="Piece 3, lost")).to_be_visible()
    day.next_thing("Wind down")  # the batch has no fourth piece

    phone.touch(page.get_by_role("checkbox", name="Blade and bed wiped dry"), page)
    page.get_by_label("note").fill("soft lot")
    day.next_thing("Close the session")
    go(page, "bench")
    phone.touch(page.get_by_role("button", name="Open it again"), page)
    expect(page.get_by_text("3 of 3")).to_be_visible()  # nothing is asked of the piece that was lost
    day.next_thing("Wind down")
    expect(page.get_by_role("checkbox", name="Blade and bed wiped dry")).to_be_checked()
    expect(page.get_by_role("checkbox", name="Dust wiped up wet")).not_to_be_checked()
    expect(page.get_by_label("note")).to_have_value("soft lot")


def test_yesterdays_pieces_are_put_right_and_the_batch_goes_on_at_its_own_number_on_every_screen(
    days: Callable[..., Day],
) -> None:
    day = days(tell=three_pieces)
    page, phone = day.page, day.phone

    def tap(name: str) -> None:
        phone.touch(page.get_by_role("button", name=name, exact=True), page)

    go(page, "bench")
    day.piece()
    tap("Lost")
    tap("dig-in or hole")
    expect(page.get_by_text("3 of 3")).to_be_visible()

    day.clock.pass_by(page, minutes=20 * 60)
    go(page, "bench/right")
    tap("piece 2, lost, dig-in or hole")
    tap("dig-in or hole")  # it was none
    expect(page.get_by_role("button", name="piece 2, lost", exact=True)).to_be_visible()
    tap("Second")
    expect(page.get_by_role("button", name="piece 2, second", exact=True)).to_be_visible()

    go(page, "bench")
    day.piece()
    day.sent()
    expect(page.get_by_text("pieces of K1 done")).to_be_visible()
    expect(page.locator("[data-next]").first).to_contain_text("Wind down")
    last = max(day.server.records("piece").values(), key=lambda piece: str(piece["at"]))
    assert [it["seen"] for it in day.server.records("piece").values() if it.get("seen") is not None] == [[]]
    go(page, f"later/blade/{last['session']}/1")
    expect(page.get_by_text("piece 3", exact=True)).to_be_visible()
