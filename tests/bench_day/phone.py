"""A phone at the bench: Chromium at a phone's size, a profile that outlives it, and a finger that is real."""

import contextlib
import os
import shutil
import signal
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import BrowserContext, CDPSession, Error, FloatRect, Locator, Page, Playwright

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
HELD_MS = 60
APART_MS = 360  # the drip guard takes no second touch sooner
UNTIL_LIVE = """(node) => {
    const since = node.closest("[data-since]")?.dataset.since;
    return since === undefined ? 0 : Number(since) + 850 - performance.now();
}"""  # ms until what has just come to stand in the edge is taken


class Phone:
    """`taps` counts every touch since the phone was made, over reloads, kills and restarts."""

    def __init__(
        self,
        playwright: Playwright,
        profile: Path,
        *,
        size: tuple[int, int] = (390, 844),
        locale: str = "en-GB",
        time_zone: str = "Europe/Berlin",
        init_script: str | None = None,
        **more: object,
    ) -> None:
        self.playwright, self.profile = playwright, profile
        self.size, self.locale, self.time_zone = size, locale, time_zone
        self.init_script, self.more = init_script, more
        self.context: BrowserContext | None = None
        self.taps = 0
        self._last_up = 0.0
        self._sessions: dict[Page, CDPSession] = {}

    def switch_on(self) -> Page:
        """Starts the browser on its profile; the first page."""
        chromium = shutil.which("chromium")
        assert chromium, "the browser tests need Chromium on the PATH"
        width, height = self.size
        options: dict[str, object] = {
            "has_touch": True,
            "is_mobile": True,
            "device_scale_factor": 2,
            "locale": self.locale,
            "timezone_id": self.time_zone,
            **self.more,
        }
        context = self.playwright.chromium.launch_persistent_context(
            str(self.profile),
            executable_path=chromium,
            args=FLAGS,
            viewport={"width": width, "height": height},
            timeout=20_000,
            **options,  # type: ignore[arg-type]
        )
        context.set_default_timeout(8000)
        if self.init_script:
            context.add_init_script(self.init_script)
        self.context = context
        self._sessions.clear()
        return self.page

    @property
    def page(self) -> Page:
        assert self.context
        return self.context.pages[0] if self.context.pages else self.context.new_page()

    def open(self, url: str) -> Page:
        page = self.page if self.context else self.switch_on()
        page.goto(url, wait_until="domcontentloaded")
        return page

    def touch(self, locator: Locator, page: Page | None = None) -> None:
        """One real touch in the middle of it, once it is there long enough to be taken."""
        page = page or locator.page
        with contextlib.suppress(Error):
            for _ in range(5):
                page.wait_for_timeout(max(0, locator.evaluate(UNTIL_LIVE, timeout=4000)))
        box = self._place_of(locator)
        assert box, f"nothing to touch: {locator}"
        self.touch_at(page, box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)

    def _place_of(self, locator: Locator) -> FloatRect | None:
        """A screen that is drawn anew under the finger is looked at again."""
        for _ in range(5):
            with contextlib.suppress(Error):
                locator.scroll_into_view_if_needed(timeout=4000)
                return locator.bounding_box()
        return locator.bounding_box()

    def touch_at(self, page: Page, x: float, y: float) -> None:
        wait = self._last_up + APART_MS / 1000 - time.monotonic()
        if wait > 0:
            page.wait_for_timeout(wait * 1000)
        session = self._sessions.get(page)
        if session is None:
            session = self._sessions[page] = page.context.new_cdp_session(page)
        point = {"x": x, "y": y, "radiusX": 8, "radiusY": 8, "force": 1, "id": 1}
        session.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [point]})
        page.wait_for_timeout(HELD_MS)
        session.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
        self._last_up = time.monotonic()
        self.taps += 1

    def ready_offline(self) -> None:
        """Waits until the shell is in the phone's own keeping."""
        self.page.wait_for_function(
            "() => navigator.serviceWorker.ready.then(() => navigator.serviceWorker.controller !== null)",
            timeout=15_000,
        )

    def kill(self) -> None:
        """kill -9, all its processes at once: a battery that dies."""
        for pid in self._main_processes():
            with contextlib.suppress(ProcessLookupError):
                if os.getpgid(pid) == pid:
                    os.killpg(pid, signal.SIGKILL)
                else:
                    os.kill(pid, signal.SIGKILL)
        until = time.monotonic() + 5
        while self._main_processes() and time.monotonic() < until:
            time.sleep(0.02)
        self.switch_off()
        for lock in self.profile.glob("Singleton*"):
            lock.unlink(missing_ok=True)

    def switch_off(self) -> None:
        context, self.context = self.context, None
        if context:
            with contextlib.suppress(Error):
                context.close()

    def _main_processes(self) -> list[int]:
        """Of this very profile only."""
        mark = f" --user-data-dir={self.profile} "
        return [pid for pid, words in running() if mark in words and " --type=" not in words]


def running() -> Iterator[tuple[int, str]]:
    """Each process that is alive, and its command between blanks; by `ps` where no /proc is (macOS)."""
    if not os.path.isdir("/proc/self"):
        ps = ["ps", "-axo", "pid=,stat=,command="]
        for line in subprocess.run(ps, capture_output=True, text=True, check=True).stdout.splitlines():
            pid, state, words = line.split(None, 2)
            if not state.startswith("Z"):
                yield int(pid), f" {words} "
        return
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            with contextlib.suppress(OSError):
                words = (entry / "cmdline").read_text(errors="replace").replace("\0", " ")
                if (entry / "stat").read_text().rsplit(")", 1)[1].split()[0] != "Z":
                    yield int(entry.name), f" {words} "
