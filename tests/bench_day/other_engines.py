"""Phones with another engine in them than Chromium: WebKit (which stands for the iPhone's) and Firefox.

Both are told what to do by small scripts in the page. Firefox is clicked for real; in WebKit a touch is laid
into the page as its events, because its window takes no touches from outside.
"""

import contextlib
import json
import os
import select
import shutil
import signal
import subprocess
import time
from pathlib import Path
from typing import Any, Protocol

from playwright.sync_api import Browser, Error, Page, Playwright

HOST = Path(__file__).with_name("webkit_host.py")
DEBIANS_PYTHON = "/usr/bin/python3"
APART_S = 0.36
TOUCH = """
const [x, y] = [%f, %f];
const on = document.elementFromPoint(x, y);
const how = { bubbles: true, cancelable: true, composed: true, clientX: x, clientY: y,
  pointerId: 7, pointerType: "touch", isPrimary: true, width: 16, height: 16, detail: 1 };
on.dispatchEvent(new PointerEvent("pointerdown", how));
await new Promise((held) => setTimeout(held, 60));
on.dispatchEvent(new PointerEvent("pointerup", how));
on.dispatchEvent(new PointerEvent("click", how));
"""


class OtherPhone(Protocol):
    """`first` runs before the page's own scripts, at each opening."""

    first: str

    def open(self, url: str) -> None: ...
    def run(self, body: str) -> Any: ...
    def touch_at(self, x: float, y: float) -> None: ...
    def kill(self) -> None: ...
    def switch_off(self) -> None: ...


class WebKitPhone:
    def __init__(self, folder: Path, size: tuple[int, int] = (390, 844)) -> None:
        self.folder, self.size, self.first = folder, size, ""
        self.process: subprocess.Popen[bytes] | None = None
        self._waiting = b""

    def _ask(self, within_s: float, **order: object) -> Any:
        assert self.process and self.process.stdin and self.process.stdout
        self.process.stdin.write(json.dumps(order).encode() + b"\n")
        self.process.stdin.flush()
        until = time.monotonic() + within_s
        while b"\n" not in self._waiting:
            ready, _, _ = select.select([self.process.stdout], [], [], max(0.0, until - time.monotonic()))
            some = os.read(self.process.stdout.fileno(), 65536) if ready else b""
            assert some, f"WebKit did not answer {order['do']!r} within {within_s} s"
            self._waiting += some
        line, _, self._waiting = self._waiting.partition(b"\n")
        said = json.loads(line)
        assert "problem" not in said, said["problem"]
        return said["is"]

    def open(self, url: str) -> None:
        if self.process is None:
            self.folder.mkdir(parents=True, exist_ok=True)
            width, height = (str(n) for n in self.size)
            words = ["xvfb-run", "-a", DEBIANS_PYTHON, str(HOST), str(self.folder), width, height, "en-GB"]
            self.process = subprocess.Popen(
                words,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                start_new_session=True,
                env={**os.environ, "TZ": "Europe/Berlin", "WEBKIT_DISABLE_COMPOSITING_MODE": "1"},
            )
        self._ask(30, do="open", url=url, first=self.first)

    def run(self, body: str) -> Any:
        return self._ask(20, do="run", body=body)

    def touch_at(self, x: float, y: float) -> None:
        self.run(TOUCH % (x, y))

    def kill(self) -> None:
        """kill -9 of the window, of WebKit's processes and of the screen that they drew on."""
        if self.process:
            for pid in _session(self.process.pid):
                with contextlib.suppress(ProcessLookupError):
                    os.kill(pid, signal.SIGKILL)
            self.process.wait(5)
            for pipe in (self.process.stdin, self.process.stdout):
                with contextlib.suppress(OSError):
                    pipe.close()  # type: ignore[union-attr]
        self.process, self._waiting = None, b""

    switch_off = kill


def _session(leader: int) -> list[int]:
    """All processes of one session: WebKit's network and web processes lie in groups of their own."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            with contextlib.suppress(OSError):
                state, _parent, _group, session = (entry / "stat").read_text().rsplit(")", 1)[1].split()[:4]
                if int(session) == leader and state != "Z":
                    found.append(int(entry.name))
    return found


class FirefoxPhone:
    """A profile that outlives the browser cannot be had here: it is the page that dies, not Firefox."""

    def __init__(self, playwright: Playwright, size: tuple[int, int] = (390, 844)) -> None:
        self.playwright, self.size, self.first = playwright, size, ""
        self.browser: Browser | None = None
        self.page: Page | None = None

    def open(self, url: str) -> None:
        if self.browser is None:
            self.browser = self.playwright.firefox.launch(
                executable_path=shutil.which("firefox-esr"), channel="moz-firefox", timeout=40_000
            )
            width, height = self.size
            self.context = self.browser.new_context(
                viewport={"width": width, "height": height}, locale="en-GB", timezone_id="Europe/Berlin"
            )
            self.context.set_default_timeout(15_000)
            self.context.add_init_script(self.first)
        if self.page is None:
            self.page = self.context.new_page()
        self.page.goto(url, wait_until="domcontentloaded")

    def run(self, body: str) -> Any:
        assert self.page
        return self.page.evaluate(f"async () => {{ {body} }}")

    def touch_at(self, x: float, y: float) -> None:
        assert self.page
        self.page.mouse.click(x, y, delay=60)

    def kill(self) -> None:
        if self.page:
            self.page.close(run_before_unload=False)
        self.page = None

    def switch_off(self) -> None:
        if self.browser:
            with contextlib.suppress(Error):
                self.browser.close()
        self.browser = self.page = None


FIND = """
const seen = (one) => one.getClientRects().length > 0;
const wanted = %s;
const found = [...document.querySelectorAll("button, a, label")].filter(seen)
  .find((one) => wanted === null ? one.matches("[data-next]") : one.textContent.trim().startsWith(wanted));
if (!found || found.disabled) return null;
if (performance.now() - found.closest("[data-since]")?.dataset.since < 850) return null;
found.scrollIntoView({ block: "center", behavior: "instant" });
const { x, y, width, height } = found.getBoundingClientRect();
return { text: found.textContent, x: x + width / 2, y: y + height / 2 };
"""


class Hand:
    """What a maker does with such a phone: looks for a control by its words, and touches it."""

    def __init__(self, phone: OtherPhone) -> None:
        self.phone, self.taps, self._last_s = phone, 0, 0.0

    def evaluate(self, script: str, argument: object) -> None:
        """As the moving clock wants it of a page."""
        self.phone.run(f"return ({script})({json.dumps(argument)});")

    def until(self, body: str, what: str, within_s: float = 15) -> Any:
        end = time.monotonic() + within_s
        while True:
            found = self.phone.run(body)
            if found:
                return found
            if time.monotonic() > end:
                shown = self.phone.run(
                    "return location.hash + '\\n' + document.body.innerText.slice(0, 1500);"
                )
                raise AssertionError(f"waited {within_s} s for {what}; the screen says:\n{shown}")
            time.sleep(0.05)

    def sees(self, words: str) -> None:
        self.until(f"return document.body.innerText.includes({json.dumps(words)});", repr(words))

    def next_says(self) -> str:
        return str(self.until(FIND % "null", "the next thing")["text"])

    def takes(self, words: str | None = None, says: str | None = None) -> None:
        """A touch on the control that begins with these words; None: on the one next thing, that says ..."""
        if says is not None:
            next_text = "document.querySelector('[data-next]:not(:disabled)')?.textContent.includes"
            self.until(f"return {next_text}({json.dumps(says)});", f"the next thing to say {says!r}")
        time.sleep(max(0.0, self._last_s + APART_S - time.monotonic()))
        at = self.until(FIND % json.dumps(words), words or "the next thing")
        self.phone.touch_at(at["x"], at["y"])
        self.taps, self._last_s = self.taps + 1, time.monotonic()
        time.sleep(0.1)

    def goes(self, room: str) -> None:
        self.phone.run(f"location.hash = {json.dumps('#/' + room)};")

    def is_ready_offline(self) -> None:
        ready = "navigator.serviceWorker.ready.then(() => navigator.serviceWorker.controller !== null)"
        self.until(f"return await {ready};", "the shell to be kept by the phone", 30)

    def has_sent_all(self) -> None:
        self.goes("today")
        time.sleep(0.4)
        self.phone.run("window.dispatchEvent(new Event('focus'));")
        self.sees("in the workshop")
