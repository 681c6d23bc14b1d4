"""A covered phone rings at the soak's end; with digital silence in place of the noise it does not."""

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from easelside.logbook.ids import time_ordered_id
from tests.bench_day.freezing_browser import FREEZES_AFTER_MS, FreezingBrowser
from tests.bench_day.running_server import Server, now_text

pytestmark = pytest.mark.browser

READY_IN_S = 40
SOAK_S = 1800

WATCHED = """
  window.heard = { froze: [], keys: {}, audio: null };
  document.addEventListener('freeze', () => heard.froze.push(Date.now()));
  const play = HTMLMediaElement.prototype.play;
  HTMLMediaElement.prototype.play = function () { heard.audio = this; return play.call(this); };
  const set = MediaSession.prototype.setActionHandler;
  MediaSession.prototype.setActionHandler = function (key, does) {
    heard.keys[key] = does;
    return set.call(this, key, does);
  };
"""

# the failing control: what is quiet becomes digital silence (0xFF by G.711), ringing stays as it is
SILENT = """
  const Real = Blob;
  const quiet = (part) => part instanceof Uint8Array && part.every((code) => (code & 127) > 0x60);
  window.Blob = class extends Real {
    constructor(parts, how) {
      super(parts.map((part) => (quiet(part) ? new Uint8Array(part.length).fill(255) : part)), how);
    }
  };
"""


def new_id() -> str:
    return time_ordered_id(int(time.time() * 1000), os.urandom(10))


def put_in(server: Server, ready_in_s: float) -> str:
    """Six of a soak of half an hour that is ready so soon, written by another phone."""
    asked: dict[str, Any] = {"device": new_id(), "device_now": now_text(), "logbook": None, "end": None}
    asked |= {"after": 0, "offers": [], "changes": [], "limit": 500}
    asked["logbook"] = server.ask("/api/exchange", asked)[1]["logbook"]
    went_in = time.time() - SOAK_S + ready_in_s
    at = time.strftime("%Y-%m-%dT%H:%M:%S.000Z", time.gmtime(went_in))
    soak = {"purpose": "profile", "pieces": 6, "jar": "1", "water": "warm", "soak_s": SOAK_S, "put_in": at}
    change = {"id": new_id(), "v": 1, "kind": "soak", "record": new_id(), "device": asked["device"]}
    change |= {"made": now_text(), "set": soak, "saw": dict.fromkeys(soak), "back": False}
    status, answer = server.ask("/api/exchange", {**asked, "device_now": now_text(), "changes": [change]})
    assert status == 200, answer
    return str(change["record"])


@pytest.fixture
def new_browser(tmp_path: Path) -> Iterator[Callable[..., FreezingBrowser]]:
    begun: list[FreezingBrowser] = []

    def begin(before_all: str) -> FreezingBrowser:
        begun.append(FreezingBrowser(tmp_path / f"browser-{len(begun)}", before_all))
        return begun[-1]

    yield begin
    for browser in begun:
        browser.kill()


def until(browser: FreezingBrowser, script: str, within_s: float = 15) -> None:
    ends = time.monotonic() + within_s
    while not browser.ask(script):
        assert time.monotonic() < ends, f"{script}\n{browser.ask('document.body.innerText')}"
        time.sleep(0.1)


def take(browser: FreezingBrowser, label: str) -> None:
    button = f"[...document.querySelectorAll('button')].find((one) => one.innerText.includes('{label}'))"
    until(browser, f"!!{button}")
    browser.ask(f"{button}.click()")


def said(browser: FreezingBrowser, words: str) -> str:
    return f"document.body?.innerText.includes('{words}') === true"


def test_a_covered_phone_rings_by_its_noise_floor_and_not_with_digital_silence(
    server: Server, new_browser: Callable[..., FreezingBrowser]
) -> None:
    soak = put_in(server, READY_IN_S)
    rings_at = time.time() + READY_IN_S
    phone, control = new_browser(WATCHED), new_browser(WATCHED + SILENT)
    for browser in (phone, control):
        browser.open(f"{server.url}/#/soak")
        until(browser, said(browser, "this phone has not been tried"))
        until(browser, said(browser, "Locked: silent"))  # off until the maker chooses it
        take(browser, "Ring when locked")
        until(browser, said(browser, "Locked: the bell plays; this phone has not been tried"))
        until(browser, "heard.audio.currentTime > 0.3")
    title = phone.ask("navigator.mediaSession.metadata.title")
    assert title.startswith("Soak, 6 pieces, ends "), title
    for browser in (phone, control):
        browser.cover()
        until(browser, "document.hidden")
    left_s = rings_at - time.time()
    assert left_s > FREEZES_AFTER_MS / 1000 + 2, "they must be covered longer than a freeze takes"

    time.sleep(left_s + 4)
    assert phone.ask("document.hidden && heard.froze.length === 0 && !heard.audio.paused")
    # where the recording is: 4 s into its ringing, of which a minute stands in it
    before_its_end_s = phone.ask("heard.audio.duration - heard.audio.currentTime")
    assert 60 - 4 - 2 < before_its_end_s < 60 - 4 + 2

    # five minutes more, by the lock screen's key: it plays on, and is not frozen either
    phone.ask("heard.keys.nexttrack()")
    until(phone, "heard.audio.duration > 350 && heard.audio.currentTime > 0.5")
    assert phone.ask("document.hidden && !heard.audio.paused")

    control.uncover()
    until(control, "!document.hidden")
    [frozen_at] = control.ask("heard.froze")
    assert frozen_at / 1000 < rings_at
    until(control, said(control, "The bell was interrupted at"))

    assert len(interruptions(server, soak, 1)) == 1, "only the silent phone's bell was interrupted"
    assert server.records("soak")[soak]["silenced_at"] is not None

    # the lock screen's pause stops a bell that waits; that is written down too, and play goes on with it
    phone.ask("heard.keys.pause()")
    until(phone, "heard.audio.paused")
    assert len(interruptions(server, soak, 2)) == 2
    phone.ask("heard.keys.play()")
    until(phone, "!heard.audio.paused && heard.audio.currentTime > 0.3")


def interruptions(server: Server, soak: str, wanted: int) -> list[str]:
    """The devices that wrote down an interruption, once there are as many or ten seconds are over."""
    ends = time.monotonic() + 10
    while True:
        kept = [name for name in server.records("soak")[soak] if name.startswith("bell_interrupted_at/")]
        if len(kept) >= wanted or time.monotonic() > ends:
            return kept
        time.sleep(0.3)


def silenced(server: Server, soak: str, within_s: float) -> bool:
    """Does the workshop hear within that time that somebody answered?"""
    ends = time.monotonic() + within_s
    while time.monotonic() < ends:
        if server.records("soak")[soak].get("silenced_at") is not None:
            return True
        time.sleep(0.2)
    return False


def test_the_lock_screen_s_keys_silence_a_bell_that_rings_and_nothing_before_or_else(
    server: Server, new_browser: Callable[..., FreezingBrowser]
) -> None:
    """One soak a key, on one phone; the control presses a key that is none of ours."""
    browser = new_browser(WATCHED)
    for key in ("seekforward", "pause", "play", "stop"):
        soak = put_in(server, 9)
        browser.open(f"{server.url}/#/soak")
        if key == "seekforward":
            take(browser, "Ring when locked")
        browser.ask("document.body.click()")  # a page that was opened anew rings after a touch
        until(browser, "heard.audio !== null && !heard.audio.paused && heard.audio.currentTime > 0.3")
        browser.cover()
        until(browser, "document.hidden")
        assert not silenced(server, soak, 0.1)
        # the file's last minute is the ringing
        until(browser, "heard.audio.duration - heard.audio.currentTime < 59", within_s=20)
        browser.ask(f"heard.keys.{key}?.()")
        if key == "seekforward":
            assert not silenced(server, soak, 3)
            assert browser.ask("!heard.audio.paused"), "the control goes on ringing"
            browser.ask("heard.keys.pause()")
        assert silenced(server, soak, 10), key
        until(browser, "heard.audio.paused")
        assert interruptions(server, soak, 0) == [], "a bell that was answered was not interrupted"
        browser.uncover()
        until(browser, "!document.hidden")
