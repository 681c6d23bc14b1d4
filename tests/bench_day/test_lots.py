"""A lot of cane: named when it first matters, taken back, written up on its page, whatever its label."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.day import all_sent, go
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server
from tests.bench_day.test_rings_locked import put_in

pytestmark = pytest.mark.browser

LONG = "WindowsillNorthSeptember2025SecondCutting"


def soaking(phone: Phone, server: Server) -> Page:
    """The first evening: the clock was started, and the lot is asked for."""
    page = phone.open(server.url)
    phone.touch(page.get_by_role("button", name="Start the clock"))
    expect(page.locator("#first-ask")).to_be_visible()
    return page


def name_it(phone: Phone, page: Page, label: str) -> None:
    page.locator(".first-field input").fill(label)
    phone.touch(page.get_by_role("button", name="Keep", exact=True))
    expect(page.locator("#first-ask")).to_have_count(0)


def only(found: dict[str, dict[str, Any]]) -> dict[str, Any]:
    (one,) = found.values()
    return one


def test_take_back_after_naming_a_lot_takes_back_the_name_and_not_the_soak(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    phone = new_phone()
    page = soaking(phone, server)
    name_it(phone, page, "D")
    all_sent(page)
    assert only(server.records("soak"))["lot"] in server.records("lot")
    phone.touch(page.get_by_role("button", name="Take back: the name"))
    expect(page.locator("#first-ask")).to_be_visible()  # asked again
    all_sent(page)
    assert server.records("lot") == {}
    assert only(server.records("soak"))["lot"] is None
    expect(page.get_by_role("button", name=re.compile("^Take back"))).to_have_count(0)


def test_a_lot_s_page_keeps_what_is_measured_and_says_what_no_lot_can_be(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    phone = new_phone()
    page = soaking(phone, server)
    name_it(phone, page, "D")
    all_sent(page)
    (lot,) = server.records("lot")
    go(page, f"batches/lot/{lot}")
    expect(page.get_by_role("heading", name=re.compile("D"), level=1)).to_be_visible()
    phone.touch(page.get_by_text("gouged", exact=True).first)
    page.get_by_label(re.compile("^gouge at")).fill("1.28")
    page.get_by_label(re.compile("diameter", re.IGNORECASE)).fill("25")
    page.get_by_label("note", exact=True).fill("from the sunny side")
    page.get_by_label(re.compile("^gouge at")).focus()
    all_sent(page)
    kept = server.records("lot")[lot]
    expected = {"label": "D", "comes": "gouged", "gouge_mm": 1.28, "diameter_mm": 25}
    assert {name: kept.get(name) for name in expected} == expected
    assert kept["note"] == "from the sunny side"

    go(page, f"batches/lot/{lot}")
    thickness = page.get_by_label(re.compile("^gouge at"))
    expect(thickness).to_have_value("1.28")
    thickness.fill("128")
    page.get_by_label("note", exact=True).focus()
    expect(thickness).to_have_attribute("aria-invalid", "true")
    all_sent(page)
    assert server.records("lot")[lot]["gouge_mm"] == 1.28


@pytest.mark.parametrize("size", ["", "200%"])
def test_a_long_label_without_a_space_stays_in_its_control(
    server: Server, new_phone: Callable[..., Phone], size: str
) -> None:
    put_in(server, 900)
    phone = new_phone()
    page = phone.open(server.url)
    name_it(phone, page, LONG)
    go(page, "soak/in")
    page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", size)
    expect(page.locator(".scribed-wide").filter(has_text="of lot").first).to_be_visible()
    expect(page.locator(".stepper-label").first).to_be_visible()
    page.wait_for_timeout(300)
    assert wider(page) == []
    # the control: the same label, where it may not break
    page.evaluate(
        "() => { for (const one of document.querySelectorAll('.scribed-label')) {"
        " one.style.overflowWrap = 'normal';"
        " one.textContent = one.textContent.replaceAll('\\u200b', ''); } }"
    )
    assert wider(page) != []


def wider(page: Page) -> list[str]:
    """The words in controls that reach beyond them."""
    found: list[str] = page.evaluate(
        "() => { const right = (one) => one.getBoundingClientRect().right;"
        " return [...document.querySelectorAll('.scribed-label, .stepper-label')].filter((one) => {"
        " const words = document.createRange(); words.selectNodeContents(one);"
        " return right(words) > right(one.closest('.scribed, .stepper-middle')) + 0.5; })"
        " .map((one) => one.textContent); }"
    )
    return found
