"""Every room and its states by day, by night and with text twice as large, on a phone and on a laptop.

Nothing for axe to find, contrast by WCAG's own formula on what is rendered, nothing pressable in the lowest
34 pixels, room enough at the bench, nothing wider than the screen, all of it reached by Tab with a focus that
is seen, and no error in the console. 200 % text is the root's font size doubled: all sizes are rem.
"""

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.day import Day, go, standing
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import ROOT, Server

pytestmark = pytest.mark.browser

Days = Callable[..., Day]
NewPhone = Callable[..., Phone]

AXE = (ROOT / "webclient/node_modules/axe-core/axe.min.js").read_text()
LOOKED_AT = Path(__file__).with_name("looked_at.js").read_text()
SIZES = {"phone": (390, 844), "laptop": (1280, 800)}
LOOKS = {"day": ("day", "100%"), "night": ("night", "100%"), "large": ("day", "200%")}
BENCH = (360, 640)
OVER = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
MOST_TABS = 100
ROUNDS = 3  # what comes while Tab has passed its place already is met in the next round
BESIDE = 12  # what takes the focus and is not pressed: tables that scroll, the browser's own

FOCUSED = """() => {
  window.focused = new Set(); window.unseen = [];
  if (window.listens) return;
  window.listens = true;
  const isOutlined = (one) => {
    const { outlineStyle, outlineWidth, boxShadow } = getComputedStyle(one);
    return (outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2) || boxShadow !== 'none';
  };
  addEventListener('focusin', ({ target }) => {
    window.focused.add(target);
    const label = target.closest('label');
    const drawn = label ? [target, label, ...label.querySelectorAll('*')] : [target];
    if (!drawn.some(isOutlined)) window.unseen.push(target.outerHTML.slice(0, 90));
  }, true);
}"""
PRESSABLE = (
    "button:not(:disabled), a[href], input:not([type=radio]):not(:disabled), select, textarea, summary"
)
UNREACHED = """(pressable) => {
  const scope = document.querySelector('dialog[open]') ?? document.body;
  const shown = [...scope.querySelectorAll(pressable)].filter((one) => one.getClientRects().length > 0
    && getComputedStyle(one).visibility !== 'hidden' && one.tabIndex >= 0);
  const missed = shown.filter((one) => !window.focused.has(one)).map((one) => one.outerHTML.slice(0, 90));
  return { of: shown.length, not: missed, unseen: window.unseen };
}"""


class Walk:
    """Looks at each state that it is led to, and collects what is wrong; `least`: the least contrast."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.faults: list[str] = []
        self.states = self.texts = 0
        self.least = 99.0
        page.on("console", lambda said: said.type == "error" and self.faults.append(f"console: {said.text}"))
        page.on("pageerror", lambda error: self.faults.append(f"console: {error}"))
        page.evaluate(AXE)

    def go(self, room: str) -> None:
        go(self.page, room)
        expect(self.page.locator("h1")).to_be_attached()
        self.page.wait_for_timeout(150)

    def look(self, name: str, *, tabs: bool = True) -> None:
        self.states += 1
        self.page.wait_for_timeout(60)
        for look, (colours, size) in LOOKS.items():
            self.page.evaluate(
                "([look, size]) => { const root = document.documentElement;"
                " root.dataset.look = look; root.style.fontSize = size; }",
                [colours, size],
            )
            how = {"isDialog": self.page.locator("dialog[open]").count() > 0, "isLarge": look == "large"}
            seen: dict[str, Any] = self.page.evaluate(LOOKED_AT, how)
            self.least = min(self.least, seen["least"])
            self.texts += seen["texts"]
            self.faults += [f"{name}, {look}: {fault}" for fault in seen["faults"]]
            found: list[list[str]] = self.page.evaluate(
                "() => axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) => violations"
                ".map((one) => [one.id, one.help, one.nodes.map(({ html }) => html).join(' ; ')]))"
            )
            self.faults += [f"{name}, {look}: axe {': '.join(one)}" for one in found]
        self._at_the_bench(name)
        self.page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
        if tabs:
            self._by_tab(name)

    def _at_the_bench(self, name: str) -> None:
        """The large text on the smallest phone: nothing wider than its screen."""
        size = self.page.viewport_size
        if size is not None and size["width"] < 1000:
            self.page.set_viewport_size({"width": BENCH[0], "height": BENCH[1]})
            over: int = self.page.evaluate(OVER)
            if over > 0:
                self.faults.append(f"{name}, large at the bench: wider than the screen by {over}")
            self.page.set_viewport_size(size)

    def _by_tab(self, name: str) -> None:
        self.page.evaluate(FOCUSED)
        self.page.evaluate("() => document.activeElement?.blur()")
        left: dict[str, Any] = {}
        for _ in range(ROUNDS):
            count = self.page.locator(PRESSABLE).count()
            for _ in range(min(count + BESIDE, MOST_TABS)):
                self.page.keyboard.press("Tab")
            left = self.page.evaluate(UNREACHED, PRESSABLE)
            if not left["not"]:
                break
        if left["of"] <= MOST_TABS - BESIDE:
            self.faults += [f"{name}: not reached by Tab: {one}" for one in left["not"]]
        self.faults += [f"{name}: its focus is not seen: {one}" for one in left["unseen"]]

    def press(self, name: str | re.Pattern[str]) -> None:
        self.page.get_by_role("button", name=name).first.click()
        self.page.wait_for_timeout(120)

    def done(self) -> None:
        least = f"{self.least:.2f}"
        print(
            f"\n{self.states} states, {self.texts} texts, least contrast {least}, {len(self.faults)} faults"
        )
        assert not self.faults, "\n".join(dict.fromkeys(self.faults))


@pytest.fixture(params=SIZES)
def walk(request: pytest.FixtureRequest, days: Days, new_phone: NewPhone) -> Iterator[tuple[Day, Walk]]:
    phone = new_phone(size=SIZES[request.param])
    day = days(phone=phone)
    yield day, Walk(day.page)


def test_every_room_and_state(walk: tuple[Day, Walk]) -> None:
    day, to = walk
    page = day.page
    records = day.server.records
    by = {
        (kind, it[name]): id_
        for kind, name in (
            ("batch", "label"),
            ("machine", "name"),
            ("blade", "label"),
            ("care_task", "words"),
        )
        for id_, it in records(kind).items()
    }
    window = by["machine", "Window machine"]
    soak = max(records("soak"))
    session = max(records("session"))

    to.look("today, ringing")
    to.press("Silence")
    to.look("today, a soak is ready")
    if page.get_by_role("button", name="Chest").is_visible():
        to.press("Chest")
        to.look("the Chest open")
        to.press("Shut")
    to.go("soak")
    to.look("soak, jars")
    to.go(f"soak/{soak}")
    to.look("soak, one opened")
    to.go("soak/in")
    to.look("soak, into the water")
    to.go("today")
    to.press(re.compile("^Take out six"))
    to.look("soak, how did they cut")

    to.go("set-up")
    to.look("set-up, the slip")
    for what in "edge projection middle_stop shoulder_stop pivot template scrap lot soaked".split():
        to.go(f"set-up/{what}")
        to.look(f"set-up, {what} opened", tabs=what == "edge")
    to.go("set-up/middle_stop/moved")
    to.look("set-up, screw moved")
    to.go("set-up/scrap")
    page.locator("main .scribed").first.click()
    to.look("set-up, a remedy")
    to.go("bench")
    to.look("bench")
    to.press(re.compile("^Good"))
    to.press(re.compile("^Good"))  # within three seconds
    to.look("bench, two pieces?")
    to.press(re.compile("^Lost"))
    to.look("bench, lost")
    to.press("Not sure")
    to.press("Pause")
    to.look("bench, paused")
    to.press(re.compile("^Go on"))
    to.go("bench/right")
    to.look("bench, put right")
    to.go("bench/on")
    to.look("bench, what is on")
    page.get_by_text("Count turns").first.click()
    to.go("bench")
    to.look("bench, counting turns")
    to.go("wind-down")
    to.look("wind down")
    day.sent()
    piece = max(records("piece").items(), key=lambda one: str(one[1].get("at")))
    assert standing(piece[1])
    day.another_says(piece[0], "second")
    day.sent()
    to.press(re.compile("^Piece .* of D1: "))
    to.look("a question")

    for room, name in (
        ("later", "written up later"),
        ("later/opening", "opening count"),
        ("batches", "batches"),
        (f"batches/batch/{by['batch', 'C1']}", "one batch"),
        ("batches/new", "a new batch"),
        ("batches/lot", "a new lot"),
        ("care", "care"),
        (f"care/task/{by['care_task', 'Clean the arm']}", "one care task"),
        ("care/new", "new care"),
        ("care/own", "care of one's own"),
        (f"care/blade/{by['blade', '4']}", "one blade"),
        (f"blade-change/{window}", "blade change"),
        ("records", "records"),
        (f"records/session/{session}", "records, a session"),
        (f"records/batch/{by['batch', 'C1']}", "records, a batch"),
        ("records/copies", "records, copies"),
        ("records/aside", "records, aside"),
        ("machine", "machine"),
        (f"machine/{window}/screws", "machine, screws"),
        (f"machine/{window}/habits", "machine, habits"),
        (f"machine/{window}/why", "machine, why"),
        ("machine/new", "a new machine"),
        ("machine/phone", "phone settings"),
        ("machine/workshop", "workshop settings"),
    ):
        to.go(room)
        to.look(name)
    to.done()


def test_phones_and_what_calls_beyond_them(walk: tuple[Day, Walk]) -> None:
    day, to = walk
    page = day.page
    records = day.server.records
    lot = next(id_ for id_, it in records("lot").items() if it["label"] == "D")
    to.press("Silence")
    to.go(f"batches/lot/{lot}")
    to.look("one lot")
    to.go("phone-check")
    to.look("phone check")
    to.go("phones")
    expect(page.get_by_role("button", name="Messages by push")).to_contain_text("off")
    to.look("phones")
    to.press(re.compile("^Let a phone in"))
    to.look("phones, a code stands")
    to.go("phones/push")
    expect(page.get_by_label("An e-mail address")).to_be_visible()
    to.look("push, off")
    page.get_by_label("An e-mail address").fill("nobody")
    to.look("push, no address")
    page.get_by_label("An e-mail address").fill("")
    to.press(re.compile("^Turn it on"))
    expect(page.get_by_role("button", name=re.compile("^Send them"))).to_be_visible()
    to.look("push, on")
    to.go("phones/push/off")
    to.look("push, off?")
    to.go("phones/calendar")
    expect(page.get_by_role("button", name=re.compile("^Make the address"))).to_be_visible()
    to.look("calendar, no address")
    to.press(re.compile("^Make the address"))
    expect(page.get_by_role("button", name="Copy it")).to_be_visible()
    to.look("calendar, its address")
    to.go("phones/calendar/withdraw")
    to.look("calendar, withdraw?")
    to.go("phones/calendar/new")
    to.look("calendar, a new one?")
    to.go("phones/quiet")
    to.look("quiet hours")
    to.go("phones/bell")
    expect(page.get_by_text("It was started with no bell of its own.")).to_be_visible()
    to.look("the bench rings")
    to.done()


def test_a_phone_that_joins(server: Server, new_phone: NewPhone) -> None:
    camera = (
        "window.BarcodeDetector = class { async detect() { return []; } };"
        "navigator.mediaDevices.getUserMedia = async () => document.createElement('canvas').captureStream(5);"
    )
    phone = new_phone(init_script=camera, extra_http_headers={"X-Forwarded-For": "192.168.7.20"})
    page = phone.open(server.url)
    expect(page.get_by_role("button", name=re.compile("^Open the camera"))).to_be_visible()
    to = Walk(page)
    to.look("joins, with a camera")
    to.press(re.compile("^Open the camera"))
    to.look("joins, the camera open")
    to.press(re.compile("^Shut the camera"))
    to.press("figure 1")
    to.look("joins, a figure typed")
    to.faults = [fault for fault in to.faults if "403" not in fault]  # that nobody has joined yet is no fault
    to.done()


@pytest.mark.parametrize("size", [(390, 844), (360, 640)])
def test_every_outcome_stays_in_sight_with_text_twice_as_large(
    days: Days, new_phone: NewPhone, size: tuple[int, int]
) -> None:
    day = days(phone=new_phone(size=size))
    page = day.page
    page.get_by_role("button", name="Silence").first.click()
    go(page, "bench")
    for _ in range(5):
        day.piece()
    in_sight(page, "Second", "Lost")
    go(page, "bench/on")
    page.get_by_text("Count turns").first.click()
    go(page, "bench")
    in_sight(page, "Second", "Lost", "Good")


def in_sight(page: Page, *names: str) -> None:
    """With the text twice as large, and big enough for a wet thumb."""
    for size in ("200%", ""):
        page.evaluate("(size) => { document.documentElement.style.fontSize = size; }", size)
        page.wait_for_timeout(200)
        edge = page.locator(".edge").bounding_box()
        assert edge
        for name in names:
            box = page.get_by_role("button", name=name, exact=True).bounding_box()
            assert box and box["height"] >= 72
            assert box["y"] + box["height"] <= edge["y"], f"{name} is under the bench edge"


def test_the_first_evening_in_an_empty_workshop(server: Server, new_phone: NewPhone) -> None:
    phone = new_phone()
    page = phone.open(server.url)
    expect(page.get_by_role("button", name="Start the clock")).to_be_visible()
    to = Walk(page)
    to.look("first evening")
    for room in ("set-up", "bench", "batches", "care", "records", "machine", "wind-down", "blade-change"):
        to.go(room)
        to.look(f"{room}, nothing is there")
    to.done()
