"""A soak on a real screen: drops start nothing, the bell promises what it does, sleep changes nothing."""

import datetime
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.files_server import Files
from tests.bench_day.phone import Phone

pytestmark = pytest.mark.browser

AFTERNOON = datetime.datetime(2026, 11, 25, 12, 36, tzinfo=datetime.UTC)
HALF_AN_HOUR_MS = 30 * 60 * 1000

LISTENED = """
  window.rung = 0; window.said = [];
  const make = AudioContext.prototype.createOscillator;
  AudioContext.prototype.createOscillator = function () { window.rung += 1; return make.call(this); };
  const local = { lang: 'en-GB', localService: true, name: 'own', default: true, voiceURI: 'own' };
  const network = { ...local, localService: false, name: 'from afar', voiceURI: 'from afar' };
  window.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
  Object.defineProperty(window, 'speechSynthesis', { value: {
    getVoices: () => [network, local], cancel() {},
    speak(it) { window.said.push([it.text, it.voice.name]); } } });
"""
NO_WAKE_LOCK = LISTENED + "navigator.wakeLock.request = () => Promise.reject(new DOMException('no'));"


@pytest.fixture
def files(client: Path) -> Iterator[Files]:
    serving = Files(client)
    yield serving
    serving.stop()


def opened(phone: Phone, url: str) -> Page:
    page = phone.switch_on()
    page.clock.install(time=AFTERNOON)
    page.goto(url)
    expect(page.get_by_role("button", name="Start the clock")).to_be_visible()
    page.wait_for_timeout(300)  # what runs beside the first screen is loaded after it
    return page


def started(phone: Phone, url: str) -> Page:
    page = opened(phone, url)
    phone.touch(page.locator("[data-next]"))
    expect(page.get_by_text("The cane is ready in", exact=False)).to_be_visible()
    return page


def test_a_wet_drag_and_two_fingers_start_nothing_and_a_finger_does(files: Files, phone: Phone) -> None:
    page = opened(phone, files.url)
    box = page.locator("[data-next]").bounding_box()
    assert box
    x, y = box["x"] + 60, box["y"] + 40
    screen = page.context.new_cdp_session(page)

    def fingers(*at: tuple[float, float]) -> list[dict[str, float]]:
        return [{"x": px, "y": py, "id": i} for i, (px, py) in enumerate(at)]

    for first, then in (([(x, y)], [(x + 40, y)]), ([(x, y), (x + 90, y)], [(x, y), (x + 90, y)])):
        screen.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": fingers(*first)})
        page.wait_for_timeout(60)
        screen.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": fingers(*then)})
        screen.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        page.wait_for_timeout(400)
        expect(page.get_by_role("heading", name="Cane in? Start the clock.")).to_be_visible()
    phone.touch(page.locator("[data-next]"))
    expect(page.locator("main").get_by_text("ready at 14:06")).to_be_visible()  # 13:06 by UTC, in Berlin


def test_a_second_tap_on_the_edge_takes_nothing_that_came_there_by_the_first(
    files: Files, phone: Phone
) -> None:
    page = opened(phone, files.url)
    edge = page.locator("[data-next]")
    box = edge.bounding_box()
    assert box
    phone.touch(edge)
    phone.touch_at(page, box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.wait_for_timeout(300)
    expect(page.get_by_text("The cane is ready in", exact=False)).to_be_visible()
    expect(edge).to_contain_text("Set up")
    phone.touch(edge)
    expect(page.get_by_text("The cane is ready in", exact=False)).to_have_count(0)


def test_it_rings_and_speaks_with_the_phones_own_voice_until_the_pedal_silences_it(
    files: Files, new_phone: Callable[..., Phone]
) -> None:
    page = started(new_phone(init_script=LISTENED), files.url)
    expect(page.get_by_text("rings here, screen stays on")).to_be_visible()
    page.clock.fast_forward(HALF_AN_HOUR_MS + 1500)
    expect(page.get_by_role("heading", name="The cane: ready")).to_be_visible()
    assert page.evaluate("said") == [["The cane: ready.", "own"]]
    rung = page.evaluate("rung")
    assert rung > 0
    page.keyboard.press("PageDown")  # a foot that was already on its way
    page.clock.run_for(7000)
    assert page.evaluate("rung") > rung
    page.keyboard.press("PageDown")
    page.clock.run_for(700)
    expect(page.get_by_role("heading", name="The cane: ready")).to_have_count(0)
    rung = page.evaluate("rung")
    page.clock.run_for(7000)
    assert page.evaluate("rung") == rung


def test_the_pedals_ring_is_outlined_and_spoken_and_a_rest_takes_five_minutes_more(
    files: Files, new_phone: Callable[..., Phone]
) -> None:
    page = started(new_phone(init_script=LISTENED), files.url)
    page.clock.fast_forward(HALF_AN_HOUR_MS + 1500)
    alarm = page.get_by_role("heading", name="The cane: ready")
    expect(alarm).to_be_visible()
    page.clock.run_for(900)
    page.keyboard.press("Space")
    page.clock.run_for(200)
    page.keyboard.press("Space")
    expect(page.locator("[data-ringed]")).to_have_text("Take it out")
    page.clock.run_for(300)
    page.keyboard.press("Space")
    expect(page.locator("[data-ringed]")).to_have_text("Five minutes more")
    assert [said for said, _ in page.evaluate("said")][-2:] == ["Take it out", "Five minutes more"]
    page.clock.run_for(3100)
    expect(alarm).to_have_count(0)
    page.clock.fast_forward(5 * 60 * 1000)
    expect(alarm).to_be_visible()


def test_where_the_screen_may_go_dark_the_line_says_so(files: Files, new_phone: Callable[..., Phone]) -> None:
    page = started(new_phone(init_script=NO_WAKE_LOCK), files.url)
    expect(page.get_by_text("this phone lets the screen go dark: it rings only while lit")).to_be_visible()
    expect(page.get_by_text("screen stays on")).to_have_count(0)


def test_after_a_day_asleep_it_says_how_long_ago_and_does_not_ring(files: Files, phone: Phone) -> None:
    page = started(phone, files.url)
    expect(page.get_by_text("to send")).to_be_visible()
    page.clock.fast_forward(HALF_AN_HOUR_MS + 23 * 3600 * 1000)
    page.reload()
    expect(page.get_by_text("23 h ago")).to_be_visible()
    expect(page.locator("[role=alert]")).to_have_count(0)


def test_taken_out_and_marked_in_three_touches_then_in_again_as_last_time_in_two(
    files: Files, phone: Phone
) -> None:
    page = started(phone, files.url)
    page.clock.fast_forward(HALF_AN_HOUR_MS + 15 * 60 * 1000)
    page.reload()
    before = phone.taps
    phone.touch(page.get_by_role("button", name="Take it out"))
    expect(page.get_by_role("heading", name="In the water")).to_be_visible()
    phone.touch(page.get_by_role("button", name="good"))
    assert phone.taps - before <= 3
    expect(page.get_by_role("button", name="good")).to_have_count(0)
    page.clock.fast_forward(23 * 3600 * 1000)  # until then the cane waits for the machine
    page.goto(f"{files.url}/")
    expect(page.get_by_role("button", name="Soak as last time")).to_be_enabled()
    before = phone.taps
    phone.touch(page.get_by_role("button", name="Soak as last time"))
    expect(page.get_by_role("heading", name="Into the water")).to_be_visible()
    phone.touch(page.get_by_role("button", name="Put in"))
    assert phone.taps - before <= 2
    expect(page.get_by_role("heading", name="In the water")).to_be_visible()
    expect(page.locator("main").get_by_text("ready at")).to_be_visible()


def test_a_clock_that_is_set_back_while_the_page_is_open_is_asked_about(files: Files, phone: Phone) -> None:
    page = started(phone, files.url)
    page.clock.run_for(10_000)
    page.clock.set_system_time(AFTERNOON - datetime.timedelta(hours=2))
    page.clock.run_for(11_000)
    expect(page.get_by_role("heading", name="This phone's clock went back by 2 h.")).to_be_visible()
    phone.touch(page.get_by_role("button", name=re.compile("In at 11:3[56]")))
    expect(page.locator("main").get_by_text(re.compile("ready at 12:0[56]"))).to_be_visible()


def test_on_the_first_evening_one_touch_starts_a_soak_overnight_on_a_small_phone_too(
    files: Files, new_phone: Callable[..., Phone]
) -> None:
    phone = new_phone(size=(360, 640))
    page = opened(phone, files.url)
    overnight, edge = page.get_by_role("button", name="overnight"), page.locator(".edge")
    choice, below = overnight.bounding_box(), edge.bounding_box()
    assert choice and below
    assert choice["y"] + choice["height"] <= below["y"]
    phone.touch(overnight)
    assert phone.taps == 1
    expect(page.locator("main").get_by_text("ready at 23:36")).to_be_visible()


def test_a_note_typed_and_left_is_kept_and_a_time_days_away_has_its_day(files: Files, phone: Phone) -> None:
    page = started(phone, files.url)
    page.clock.fast_forward(3 * 24 * 3600 * 1000)
    phone.touch(page.get_by_role("button", name=re.compile("put right, add, dry")))
    expect(page.locator("#put-right")).to_have_text("Put in at Wed 13:36?")
    page.get_by_role("textbox", name="note").fill("from the south side")
    opened_jar = page.url
    phone.touch(page.locator("[data-next]"))
    expect(page.get_by_role("heading", name="In the water")).to_be_visible()
    page.goto(opened_jar)
    expect(page.get_by_role("textbox", name="note")).to_have_value("from the south side")


def test_water_too_hot_says_so_in_the_edge_and_a_time_just_typed_is_the_makers_choice(
    files: Files, phone: Phone
) -> None:
    page = started(phone, files.url)
    page.goto(f"{files.url}/#/soak/in")
    degrees = page.get_by_role("textbox", name="water, °C")
    degrees.fill("65")
    degrees.blur()
    expect(page.locator("[data-next]")).to_be_disabled()
    expect(page.locator("[data-next]")).to_contain_text("Under 60 °C.")
    degrees.fill("38")
    degrees.blur()
    minutes = page.get_by_role("textbox", name="time in water")
    minutes.fill("5")
    minutes.blur()
    expect(page.get_by_text("warm, 5 min, your choice")).to_be_visible()
    expect(page.locator("[data-next]")).to_be_enabled()


def test_what_dries_in_air_stands_on_today(files: Files, phone: Phone) -> None:
    page = started(phone, files.url)
    phone.touch(page.get_by_role("button", name=re.compile("put right, add, dry")))
    phone.touch(page.get_by_role("button", name="Dry back in air"))
    page.goto(f"{files.url}/#/today")
    expect(page.get_by_text("drying in air since 13:36")).to_be_visible()


def test_with_several_jars_the_lot_is_asked_for_by_the_jars_that_have_none(
    files: Files, phone: Phone
) -> None:
    page = started(phone, files.url)
    expect(page.get_by_role("heading", name="Which lot of cane is it?")).to_be_visible()
    page.goto(f"{files.url}/#/soak/in")
    phone.touch(page.get_by_role("button", name="Put in six"))
    page.goto(f"{files.url}/#/today")
    expect(page.get_by_role("heading", name="Which lot of cane is in jar 1 and 2?")).to_be_visible()


def test_a_soak_that_was_set_aside_is_told_from_another_by_its_day_and_pieces(
    files: Files, phone: Phone
) -> None:
    page = started(phone, files.url)
    page.goto(f"{files.url}/#/soak/in")
    phone.touch(page.get_by_role("button", name="Put in six"))
    phone.touch(page.get_by_role("button", name=re.compile("6 pieces.*put right, add, dry", re.DOTALL)))
    phone.touch(page.locator("label", has_text="It never went in"))
    phone.touch(page.get_by_role("button", name="Take this soak away"))
    page.goto(f"{files.url}/#/records/aside")
    expect(page.get_by_text("soak: Wed 25 Nov, 6 pieces")).to_be_visible()
    expect(page.get_by_role("button", name="Show again")).to_have_count(1)
