"""The first evening: nothing is set up, and the workshop learns where it stands."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.bench_day.day import all_sent
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server

pytestmark = pytest.mark.browser


def test_the_first_soak_tells_the_workshop_the_phones_time_zone_and_a_later_phone_changes_nothing(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    first = new_phone(time_zone="America/Los_Angeles")
    page = first.open(server.url)
    first.touch(page.get_by_role("button", name="cold some hours"))
    expect(page.get_by_text("The cane is ready", exact=False)).to_be_visible()
    all_sent(page)
    all_sent(new_phone(time_zone="Asia/Tokyo").open(server.url))
    told = [row["set"] for row in server.rows() if row["kind"] == "workshop"]
    assert sorted(told, key=str) == [{"soak_habit": "cold"}, {"time_zone": "America/Los_Angeles"}]
