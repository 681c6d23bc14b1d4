"""A phone joins by six figures, hears at once what is written elsewhere, keeps what it holds when withdrawn.

The phone comes by way of a proxy here, so that it is no browser on the machine itself; both speak plain HTTP
on loopback, where Chromium keeps secure cookies too.
"""

import json
import os
import re
import statistics
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server

pytestmark = pytest.mark.browser

FROM_LAN = {"extra_http_headers": {"X-Forwarded-For": "192.168.7.20"}}
TABLET = "019aba0f-f7c0-7000-8000-000000000700"
LONG_BEFORE_S = 20  # the next regular exchange: that is a minute after the last (exchange/run.ts)
SHOTS = os.environ.get("SHOTS")


def picture(page: Page, name: str) -> None:
    """Kept where SHOTS says, for a person to look at."""
    if SHOTS:
        page.screenshot(path=Path(SHOTS) / f"{name}.png")


def code_from(machine: Phone, server: Server) -> str:
    page = machine.open(f"{server.url}/#/phones")
    machine.touch(page.get_by_role("button", name=re.compile("^(Let a phone in|A new code)")))
    figures = page.locator(".pairing-figures")
    expect(figures).to_have_text(re.compile(r"^\d{3} \d{3}$"))
    return (figures.text_content() or "").replace(" ", "")


def type_in(phone: Phone, page: Page, figures: str) -> None:
    for figure in figures:
        phone.touch(page.get_by_role("button", name=f"figure {figure}"))
    phone.touch(page.get_by_role("button", name="Join the workshop"))


def joined(phone: Phone, machine: Phone, server: Server) -> Page:
    page = phone.open(server.url)
    expect(page.get_by_role("heading", name="A phone joins")).to_be_visible()
    type_in(phone, page, code_from(machine, server))
    expect(page).to_have_url(re.compile("#/today$"))
    return page


def holds_soak_of(page: Page, pieces: int) -> bool:
    """Is it in the phone's own store?"""
    found: bool = page.evaluate(
        """(wanted) => new Promise((found) => {
            const open = indexedDB.open('easelside');
            open.onsuccess = () => {
                const all = open.result.transaction('base').objectStore('base').getAll();
                all.onsuccess = () => {
                    open.result.close();
                    found(all.result.some(({fields}) => fields.pieces?.value === wanted));
                };
            };
        })""",
        pieces,
    )
    return found


def write_soak(server: Server, pieces: int) -> None:
    """Written on the workshop's computer."""
    status, said = server.ask("/api/soaks", {"pieces": pieces})
    assert status == 201, said


def test_a_new_phone_joins_by_six_figures_and_no_keyboard(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    machine, phone = new_phone(), new_phone(**FROM_LAN)
    page = phone.open(server.url)
    expect(page.get_by_role("heading", name="A phone joins")).to_be_visible()
    picture(page, "joins")
    keys = [one.bounding_box() for one in page.locator(".pairing-pad button").all()]
    assert len(keys) == 11 and all(key and key["width"] >= 72 and key["height"] >= 72 for key in keys)
    figures = code_from(machine, server)
    picture(machine.page, "machine-code")
    type_in(phone, page, "000000" if figures != "000000" else "111111")
    expect(page.get_by_role("status")).to_contain_text("does not open")
    type_in(phone, page, figures)
    expect(page).to_have_url(re.compile("#/today$"))
    expect(machine.page.locator(".pairing-list li")).to_have_count(1)
    picture(machine.page, "machine-list")
    assert phone.context
    cookie = next(one for one in phone.context.cookies() if one["name"] == "__Host-dev")
    assert (cookie["httpOnly"], cookie["secure"], cookie["sameSite"]) == (True, True, "Lax")
    assert "__Host-dev" not in page.evaluate("() => document.cookie")
    phone.context.close()
    phone.context = None
    again = phone.open(server.url)
    assert again.evaluate("() => fetch('/api/who').then((r) => r.json())")["comes_in"] is True


def test_where_a_new_phone_begins_stands_open_until_the_first_has_joined(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    machine, phone = new_phone(), new_phone(**FROM_LAN)
    page = machine.open(f"{server.url}/#/today")
    begin = {
        "address": "http://192.168.7.1:8766/trust",
        "square": "<svg xmlns='http://www.w3.org/2000/svg'/>",
    }
    way = {"on": True, "fingerprint": "3F9A 77C2", "begins": [begin]}
    page.context.route("**/api/way_in", lambda route: route.fulfill(json=way))
    page.evaluate("() => { location.hash = '#/phones'; }")
    fold = page.get_by_role("button", name="A phone that was never here begins with this")
    expect(fold).to_have_attribute("aria-pressed", "true")
    expect(page.get_by_text("http://192.168.7.1:8766/trust")).to_be_visible()
    expect(page.get_by_text("3F9A 77C2")).to_be_visible()
    _, code = server.ask("/api/phones/codes", {"role": "maker"})
    type_in(phone, phone.open(server.url), code["figures"])
    expect(page.locator(".pairing-list li")).to_have_count(1, timeout=15_000)
    expect(fold).to_have_attribute("aria-pressed", "false")
    machine.touch(fold, page)
    expect(page.get_by_text("http://192.168.7.1:8766/trust")).to_be_visible()


def test_the_square_s_code_pairs_and_leaves_no_trace_in_the_address(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    page = new_phone(**FROM_LAN)
    made = server.ask("/api/phones/codes", {"role": "hand"})[1]
    assert made["square"] is None  # phones are not switched on: the square would lead nowhere
    shown = page.open(f"{server.url}/#/p/ABCDEFGH2345QRST")
    expect(shown.get_by_role("status")).to_contain_text("does not open")
    assert "ABCDEFGH" not in shown.evaluate("() => location.href")
    shown.go_back()
    assert "ABCDEFGH" not in shown.url


def test_a_change_elsewhere_comes_to_the_phone_by_the_line_and_waits_for_no_regular_exchange(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    machine, phone = new_phone(), new_phone(**FROM_LAN)
    page = joined(phone, machine, server)
    took: list[float] = []
    for n in range(5):
        sent = time.monotonic()
        write_soak(server, 11 + n)
        while not holds_soak_of(page, 11 + n):
            assert time.monotonic() - sent < LONG_BEFORE_S
            page.wait_for_timeout(10)
        took.append(time.monotonic() - sent)
    print(f"seen on the other device: median {statistics.median(took):.2f} s, longest {max(took):.2f} s")


def test_a_withdrawn_phone_keeps_what_it_holds_says_so_and_saves_it_as_a_file(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    machine, phone = new_phone(), new_phone(**FROM_LAN)
    page = joined(phone, machine, server)
    (device,) = server.ask("/api/phones")[1]["devices"]
    list_page = machine.page
    machine.touch(list_page.locator(".pairing-list button"))
    machine.touch(list_page.get_by_role("button", name="Withdraw it"))
    picture(list_page, "withdraw")
    machine.touch(list_page.get_by_role("button", name="Withdraw it"))
    expect(list_page.locator(".pairing-list")).to_contain_text("withdrawn")
    assert server.ask("/api/phones")[1]["devices"][0]["id"] == device["id"]

    picture(page, "today-withdrawn")
    warm = page.get_by_role("button", name=re.compile("Start the clock|Put in")).first
    phone.touch(warm)
    page.wait_for_timeout(1500)
    page.goto(f"{server.url}/#/phones")
    expect(page.get_by_role("heading", name="This phone was withdrawn")).to_be_visible()
    picture(page, "withdrawn")
    phone.touch(page.get_by_role("button", name="Save it as a file"))
    with page.expect_download() as file:
        phone.touch(page.get_by_role("button", name=re.compile("^Save")).first)
    kept = json.loads(Path(file.value.path()).read_text())
    assert kept["changes"] or kept["records"]


def change(server: Server, kind: str, record: int, n: int, **set: object) -> dict[str, object]:
    made = server.get("/api/health")["now"]
    id = "019aba0f-f7c0-7000-8000-{:012}"
    return {"id": id.format(n), "v": 1, "kind": kind, "record": id.format(record), "device": TABLET,
            "made": made, "set": set, "saw": dict.fromkeys(set), "back": False}  # fmt: skip


def test_today_says_who_is_at_which_machine(server: Server, new_phone: Callable[..., Phone]) -> None:
    machine = new_phone()
    page = machine.open(server.url)
    expect(page.get_by_role("heading", name="Cane in? Start the clock.")).to_be_visible()
    health = server.get("/api/health")
    door = change(server, "machine", 800, 1, name="Door machine", does="profile")
    begun = change(server, "session", 900, 2, machine=door["record"], began=health["now"])
    body = {"device": TABLET, "device_now": health["now"], "logbook": health["logbook"], "after": 0}
    assert server.ask("/api/exchange", {**body, "changes": [door, begun]})[0] == 200
    expect(page.get_by_text("Door machine: another device")).to_be_visible(timeout=1000 * LONG_BEFORE_S)
    named = change(server, "device", 700, 3, name="Tablet")
    assert server.ask("/api/exchange", {**body, "changes": [named]})[0] == 200
    expect(page.get_by_text("Door machine: Tablet")).to_be_visible(timeout=1000 * LONG_BEFORE_S)
    picture(page, "at-machines")
