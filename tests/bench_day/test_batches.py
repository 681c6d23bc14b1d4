"""A batch's own page: what it is called."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.bench_day.day import Day

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
