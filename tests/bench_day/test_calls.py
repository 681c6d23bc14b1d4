"""What calls beyond this phone: messages by push, the calendar's address, the bell at the bench.

The push service stands on this machine, and the browser's own subscribing is stood in for: it needs the
internet. What the service was handed is delivered to the service worker by the browser's own tools.
"""

import json
import os
import re
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.phone import Phone
from tests.bench_day.pushing_server import PushingServer
from tests.bench_day.running_server import Server, free_port
from tests.bench_day.test_phones_join import FROM_LAN, type_in
from tests.bench_day.test_rings_locked import put_in
from tests.server.push_service import PushService, push_service

pytestmark = pytest.mark.browser

SHOTS = os.environ.get("SHOTS")

SUBSCRIBES = """
  const say = (on) => (on ? localStorage.setItem('subscribed', '1') : localStorage.removeItem('subscribed'));
  const given = () => ({
    endpoint: '%s/phone', options: { applicationServerKey: null },
    toJSON: () => ({ endpoint: '%s/phone', expirationTime: null, keys: %s }),
    unsubscribe: async () => { say(false); return true; },
  });
  PushManager.prototype.subscribe = async () => { say(true); return given(); };
  PushManager.prototype.getSubscription = async () => (localStorage.getItem('subscribed') ? given() : null);
  Notification.requestPermission = async () => window.permission ?? 'granted';
"""
REFUSES = "window.permission = 'denied';"
NOT_INSTALLED = """
  delete window.PushManager;
  Object.defineProperty(navigator, 'standalone', { value: false });
"""
SHOWN = """([title, options]) => navigator.serviceWorker.ready
  .then((worker) => worker.showNotification(title, options))"""


def picture(page: Page, name: str) -> None:
    """Kept where SHOTS says, for a person to look at."""
    if SHOTS:
        page.wait_for_timeout(300)
        page.screenshot(path=Path(SHOTS) / f"{name}.png", full_page=True)


@pytest.fixture
def service() -> Iterator[PushService]:
    with push_service() as found:
        yield found


@pytest.fixture
def pushing(package: Path, tmp_path: Path) -> Iterator[Server]:
    running = PushingServer(package, tmp_path / "workshop")
    running.start()
    yield running
    running.kill()


def subscribing(new_phone: Callable[..., Phone], service: PushService, url: str, first: str = "") -> Page:
    keys = json.dumps(service.keys())
    phone = new_phone(init_script=first + SUBSCRIBES % (service.origin, service.origin, keys))
    phone.switch_on()
    assert phone.context
    phone.context.grant_permissions(["notifications"], origin=url)
    return phone.open(f"{url}/#/phones")


def take(page: Page, name: str | re.Pattern[str]) -> None:
    page.get_by_role("button", name=name).first.click()


def says_beside_the_soak(page: Page, server: Server, words: str) -> None:
    """In the line of what rings, beside a soak that the workshop knows."""
    page.goto(f"{server.url}/#/soak")
    expect(page.get_by_text("Locked: ").first).to_contain_text(words, timeout=15_000)


def says_not_beside_the_soak(page: Page, server: Server, words: str) -> None:
    page.goto(f"{server.url}/#/soak")
    line = page.get_by_text("Locked: ").first
    expect(line).to_be_visible()
    page.wait_for_timeout(1000)  # what the workshop answers comes a moment later
    expect(line).not_to_contain_text(words, ignore_case=True)


def test_push_is_turned_on_said_yes_to_tried_and_only_then_promised(
    pushing: Server, new_phone: Callable[..., Phone], service: PushService
) -> None:
    put_in(pushing, 900)
    page = subscribing(new_phone, service, pushing.url)
    expect(page.get_by_role("button", name="Messages by push")).to_contain_text("off")
    picture(page, "phones")
    take(page, "Messages by push")
    expect(page.get_by_text("It needs the internet, here and at the workshop.")).to_be_visible()
    picture(page, "push-off")
    take(page, "Turn it on")
    picture(page, "push-on")
    take(page, "Send them to this device")
    expect(page.get_by_text("Messages come to this device from now on.")).to_be_visible()
    assert len(pushing.get("/api/push")["devices"]) == 1
    says_not_beside_the_soak(page, pushing, "a message comes too")  # none has come yet

    page.goto(f"{pushing.url}/#/phones/push")
    take(page, "Try it")
    expect(page.get_by_role("heading", name="Did it come?")).to_be_visible()
    picture(page, "push-trial")
    assert service.arrived.wait(10)
    told = service.came[-1].shown()
    assert told["tag"].startswith("trial/")
    page.evaluate(SHOWN, [told["title"], {"tag": told["tag"], "body": told["body"]}])
    expect(page.get_by_text("It came: this device is reached.")).to_be_visible()
    expect(page.get_by_text("message by push: came, ")).to_be_visible()
    picture(page, "push-came")
    page.evaluate("() => { document.documentElement.dataset.look = 'night'; }")
    picture(page, "push-night")
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    picture(page, "push-large")
    page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    says_beside_the_soak(page, pushing, "With internet a message comes too.")
    picture(page, "soak-line")

    # the service takes no more from us: nothing is promised of it
    service.answers.append((403, {}))
    page.goto(f"{pushing.url}/#/phones/push")
    take(page, "Try it")
    expect(page.get_by_text("The workshop could not send it: the push service says 403.")).to_be_visible()
    picture(page, "push-failed")
    take(page, "It did not")
    says_not_beside_the_soak(page, pushing, "a message comes too")

    page.goto(f"{pushing.url}/#/phones/push")
    take(page, "No more to this device")
    expect(page.get_by_role("button", name="Send them to this device")).to_be_visible()
    assert pushing.get("/api/push")["devices"] == []
    take(page, "Turn it off")
    expect(page.get_by_role("heading", name="Turn messages by push off?")).to_be_visible()
    picture(page, "push-ask-off")
    take(page, "Turn it off")
    expect(page.get_by_role("button", name="Turn it on")).to_be_visible()
    assert pushing.get("/api/push")["on"] is False


@pytest.mark.parametrize(
    ("first", "line"),
    [(REFUSES, "This device refused."), (NOT_INSTALLED, "it works only from the home screen")],
)
def test_what_stands_in_the_way_of_push_is_said_in_plain_words(
    pushing: Server, new_phone: Callable[..., Phone], service: PushService, first: str, line: str
) -> None:
    made = first if first == REFUSES else ""
    page = subscribing(new_phone, service, pushing.url, made)
    if not made:
        page.evaluate(first)
    page.goto(f"{pushing.url}/#/phones/push")
    take(page, "Turn it on")
    take(page, "Send them to this device")
    expect(page.get_by_role("status")).to_contain_text(line)
    assert pushing.get("/api/push")["devices"] == []
    expect(page.get_by_role("button", name="Send them to this device")).to_be_visible()


def feed(server: Server, path: str) -> int:
    try:
        with urllib.request.urlopen(server.url + path, timeout=10) as answer:
            return int(answer.status)
    except urllib.error.HTTPError as problem:
        return problem.code


def test_the_calendar_s_address_is_made_copied_and_withdrawn_only_after_a_question(
    package: Path, tmp_path: Path, new_phone: Callable[..., Phone]
) -> None:
    server = Server(package, tmp_path / "workshop")
    server.start()
    try:
        phone = new_phone()
        phone.switch_on()
        assert phone.context
        phone.context.grant_permissions(["clipboard-read", "clipboard-write"], origin=server.url)
        page = phone.open(f"{server.url}/#/phones/calendar")
        expect(page.get_by_text("Whoever has the address can read that")).to_be_visible()
        picture(page, "calendar-none")
        take(page, "Make the address")
        address = page.get_by_text(re.compile(r"^http.*\.ics$")).text_content() or ""
        assert re.fullmatch(rf"{server.url}/api/calendar/[\w-]{{43}}\.ics", address)
        path = address.removeprefix(server.url)
        assert feed(server, path) == 200
        picture(page, "calendar-made")
        take(page, "Copy it")
        expect(page.get_by_text("Copied.")).to_be_visible()
        assert page.evaluate("() => navigator.clipboard.readText()") == address
        take(page, "Withdraw it")
        expect(page.get_by_role("heading", name="Withdraw the calendar's address?")).to_be_visible()
        picture(page, "calendar-ask")
        take(page, "Leave it as it is")
        assert feed(server, path) == 200
        page.reload()  # it was told once
        expect(page.get_by_text("It was shown when it was made.")).to_be_visible()
        assert address not in (page.text_content("body") or "")
        picture(page, "calendar-stands")
        take(page, "Withdraw it")
        take(page, "Withdraw it")
        expect(page.get_by_role("button", name="Make the address")).to_be_visible()
        assert feed(server, path) == 404
    finally:
        server.kill()


def test_the_calendar_s_address_is_the_one_that_phones_find_with_a_square_of_it(
    package: Path, tmp_path: Path, new_phone: Callable[..., Phone]
) -> None:
    doors = ["--phones", "--phones-host", "127.0.0.1", "--phones-port", str(free_port())]
    server = Server(package, tmp_path / "workshop", *doors, "--trust-port", str(free_port()))
    server.start()
    try:
        page = new_phone().open(f"{server.url}/#/phones/calendar")
        take(page, "Make the address")
        expect(page.get_by_role("img", name="The address as a QR code that a camera reads")).to_be_visible()
        expect(page.get_by_text(re.compile(r"^https://.*/api/calendar/[\w-]{43}\.ics$"))).to_be_visible()
        picture(page, "calendar-square")
        page.evaluate("() => { document.documentElement.dataset.look = 'night'; }")
        picture(page, "calendar-square-night")
        page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        picture(page, "calendar-square-large")
    finally:
        server.kill()


def test_the_bench_s_bell_is_tried_and_promised_only_once_it_was_heard(
    package: Path, tmp_path: Path, new_phone: Callable[..., Phone]
) -> None:
    rung = tmp_path / "rung"
    server = Server(package, tmp_path / "workshop", "--bell", "touch", "--bell", str(rung))
    server.start()
    try:
        put_in(server, 900)
        page = new_phone().open(f"{server.url}/#/phones/bell")
        expect(page.get_by_text("It has not rung since it was started.")).to_be_visible()
        says_not_beside_the_soak(page, server, "the bench rings too")
        page.goto(f"{server.url}/#/phones/bell")
        picture(page, "bell")
        take(page, "Ring at the bench")
        expect(page.get_by_text("The last ring went well.")).to_be_visible()
        assert rung.exists()
        picture(page, "bell-trial")
        page.evaluate("() => { document.documentElement.dataset.look = 'night'; }")
        picture(page, "bell-night")
        page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
        picture(page, "bell-large")
        page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
        take(page, "It rang")
        expect(page.get_by_text("heard there: rang, ")).to_be_visible()
        says_beside_the_soak(page, server, "The bench rings too.")
        page.goto(f"{server.url}/#/phones")
        take(page, "Quiet hours")
        page.get_by_label("From").fill("22:00")
        page.get_by_label("Until").fill("07:00")
        says_beside_the_soak(page, server, "The bench rings too, not from 22:00 to 07:00.")
        page.goto(f"{server.url}/#/phone-check")
        expect(page.get_by_text("bench computer: rang, ")).to_be_visible()
        picture(page, "phone-check")
        server.stop()
        page.evaluate("window.dispatchEvent(new Event('focus'))")
        expect(page.get_by_text("The bench rings too", exact=False)).to_have_count(0, timeout=15_000)
    finally:
        server.kill()


def test_a_hand_tries_what_calls_and_switches_nothing(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    phone = new_phone(**FROM_LAN)
    figures = server.ask("/api/phones/codes", {"role": "hand"})[1]["figures"]
    page = phone.open(server.url)
    type_in(phone, page, figures.replace(" ", ""))
    expect(page).to_have_url(re.compile("#/today$"))
    page.goto(f"{server.url}/#/phones")
    expect(page.get_by_role("button", name="The bench rings")).to_be_visible()
    picture(page, "hand")
    expect(page.get_by_role("button", name="Calendar")).to_have_count(0)
    take(page, "Messages by push")
    expect(page.get_by_text("The maker turns it on, here in Phones.")).to_be_visible()
    expect(page.get_by_role("button", name="Turn it on")).to_have_count(0)
    for closed in ("calendar", "push/off"):
        page.goto(f"{server.url}/#/phones/{closed}")
        expect(page.get_by_role("button", name=re.compile("Make the address|Turn it off"))).to_have_count(0)


CAMERA = """
  window.BarcodeDetector = class { async detect() { return [{ rawValue: window.seen ?? '' }]; } };
  const canvas = document.createElement('canvas');
  setInterval(() => canvas.getContext('2d').fillRect(0, 0, Math.random() * 99, 99), 50);
  window.streams = [];
  navigator.mediaDevices.getUserMedia = async () => {
    if (window.refused) throw new DOMException('no', 'NotAllowedError');
    window.streams.push(canvas.captureStream(5));
    return window.streams.at(-1);
  };
"""


def test_the_camera_reads_the_square_where_the_browser_can_and_is_shut_after(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    phone = new_phone(init_script=CAMERA, **FROM_LAN)
    page = phone.open(server.url)
    page.evaluate("window.refused = true")
    phone.touch(page.get_by_role("button", name="Open the camera"))
    expect(page.get_by_role("status")).to_contain_text("Use the phone's own camera app, or the figures.")
    page.evaluate("window.refused = false")
    phone.touch(page.get_by_role("button", name="Open the camera"))
    expect(page.locator("video")).to_be_visible()
    picture(page, "camera")
    page.evaluate("window.seen = 'https://example.org/#menu'")  # another square
    page.wait_for_timeout(700)
    expect(page.locator("video")).to_be_visible()
    page.evaluate("window.seen = 'https://bench-7f3a.local:8443/#/p/ABCDEFGH2345QRST'")
    expect(page.get_by_role("status")).to_contain_text("does not open")  # asked with that very code
    expect(page.locator("video")).to_have_count(0)
    states = page.evaluate("streams.flatMap((one) => one.getTracks().map((track) => track.readyState))")
    assert states == ["ended"]


def test_a_browser_that_reads_no_squares_says_to_use_the_phone_s_own_camera(
    server: Server, new_phone: Callable[..., Phone]
) -> None:
    page = new_phone(init_script="delete window.BarcodeDetector;", **FROM_LAN).open(server.url)
    expect(page.get_by_text("The phone's own camera app reads it and opens this page.")).to_be_visible()
    expect(page.get_by_role("button", name="Open the camera")).to_have_count(0)
    picture(page, "joins")
