"""A batch's own page: what it is called, how many good ones are wanted."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.bench_day.day import Day, go

pytestmark = pytest.mark.browser


def test_a_batch_that_gets_another_s_label_says_so_and_its_own_label_is_no_other(
    days: Callable[..., Day],
) -> None:
    day = days()
    page = day.page
    labels = [str(one["label"]) for one in day.server.records("batch").values() if not one.get("closed")]
    (own,) = [one for one in day.server.records("batch").items() if one[1]["label"] == labels[-1]]
    page.goto(f"{day.server.url}/#/batches/batch/{own[0]}")
    field = page.get_by_label("label on the bag")
    expect(field).to_have_value(labels[-1])
    said = page.get_by_text("Another batch has this label.")
    expect(said).to_have_count(0)
    field.fill(f" {labels[0]} ")
    expect(said).to_be_visible()
    field.blur()
    expect(said).to_be_visible()  # also once it is kept
    field.fill(f"{labels[0]} two")
    expect(said).to_have_count(0)


def test_the_good_ones_wanted_are_kept_with_a_new_batch_without_taking_the_number_to_start(
    days: Callable[..., Day],
) -> None:
    day = days()
    page = day.page
    go(page, "batches/new")
    page.get_by_label("label on the bag").fill("W1")
    wanted = page.get_by_role("group", name="good ones wanted").get_by_role("textbox")
    wanted.fill("20")
    wanted.blur()
    day.next_thing("Keep it")
    day.sent()
    (kept,) = [one for one in day.server.records("batch").values() if one["label"] == "W1"]
    assert kept["wanted_good"] == 20
