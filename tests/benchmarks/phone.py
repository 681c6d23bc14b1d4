"""How long until the first screen stands, offline and cold, and until a tap is painted?

`.venv/bin/python tests/benchmarks/phone.py`. Beside the client runs a fixture in the same run: the smallest
page that works offline and has one button that stores its tap. Chromium slows the page's processor four
times, for both alike; the figures that count are the ratios. A cold start is what a maker waits for: the
browser's own start and the page's. The page's part is printed by itself as well.
"""

import statistics
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT), str(ROOT / "server")]

from playwright.sync_api import Page, sync_playwright  # noqa: E402

from easelside.clock import SystemClock  # noqa: E402
from easelside.logbook.book import Logbook  # noqa: E402
from seed_demo import load  # noqa: E402
from tests.bench_day.files_server import Files  # noqa: E402
from tests.bench_day.phone import Phone  # noqa: E402
from tests.bench_day.running_server import Server, copy_with_client  # noqa: E402

SLOWED = 4
COLD_STARTS = 9
TAPS = 24

PAGE = """<!doctype html><meta charset="utf-8"><title>One button</title><button data-next>0</button>
<script>
navigator.serviceWorker.register("/sw.js");
const button = document.querySelector("button");
const opened = indexedDB.open("taps", 1);
opened.onupgradeneeded = () => opened.result.createObjectStore("taps", { autoIncrement: true });
button.onclick = () => {
  button.textContent = Number(button.textContent) + 1;
  const kept = opened.result.transaction("taps", "readwrite", { durability: "strict" });
  kept.objectStore("taps").add(Date.now());
};
</script>"""
WORKER = """
oninstall = (e) => e.waitUntil(caches.open("one").then((c) => c.add("/")).then(() => skipWaiting()));
onactivate = (e) => e.waitUntil(clients.claim());
onfetch = (e) => e.respondWith(caches.match("/").then((r) => r ?? fetch(e.request)));
"""

PAINTED = """() => new Promise((told) => {
  const button = document.querySelector('[data-next]');
  button.addEventListener('click', (event) => {
    const tapped = event.timeStamp;
    requestAnimationFrame(() => {
      const channel = new MessageChannel();
      channel.port1.onmessage = () => told(performance.now() - tapped);
      channel.port2.postMessage(0);
    });
  }, { once: true, capture: true });
  window.armed = true;
})"""


class Throttle:
    """A page slowed four times keeps a processor busy, even while it rests: only one at a time is slowed."""

    def __init__(self, page: Page) -> None:
        self._session = page.context.new_cdp_session(page)

    def set(self, rate: int) -> None:
        self._session.send("Emulation.setCPUThrottlingRate", {"rate": rate})


def cold_start_ms(phone: Phone, url: str, path: str) -> tuple[float, float]:
    """No server, a new browser on its profile, until the one next thing stands: (all of it, the page)."""
    phone.kill()
    began = time.monotonic()
    page = phone.switch_on()
    launched_ms = (time.monotonic() - began) * 1000
    Throttle(page).set(SLOWED)
    page.add_init_script("""
      new MutationObserver((_, seen) => {
        if (!document.querySelector('[data-next]')) return;
        seen.disconnect();
        requestAnimationFrame(() => console.log("stood", performance.now()));
      }).observe(document, { childList: true, subtree: true });
    """)
    # told on the console: asked for, the browser's driver would put its own script into the page meanwhile
    with page.expect_console_message(lambda line: line.text.startswith("stood "), timeout=30_000) as told:
        page.goto(url + path, wait_until="commit")
    page_ms = float(told.value.text.split()[1])
    return launched_ms + page_ms, page_ms


def taps_ms(phones: list[Phone]) -> list[list[float]]:
    """Of each phone; they take turns, so that a busy moment of the machine meets all of them."""
    throttles = [Throttle(phone.page) for phone in phones]
    found: list[list[float]] = [[] for _ in phones]
    for _ in range(TAPS):
        for phone, throttle, measured in zip(phones, throttles, found, strict=True):
            page = phone.page
            page.wait_for_timeout(3050 / len(phones))  # sooner, a second Good would be asked about
            throttle.set(SLOWED)
            page.wait_for_timeout(400)
            page.evaluate(f"() => {{ window.painted = ({PAINTED})(); }}")
            phone.touch(page.locator("[data-next]").first)
            measured.append(float(page.evaluate("() => window.painted")))
            throttle.set(1)
    return found


def told(name: str, ours: list[float], smallest: list[float]) -> None:
    def middle(values: list[float]) -> str:
        spread = statistics.quantiles(values, n=20)
        return f"median {statistics.median(values):6.1f} ms, 95th {spread[-1]:6.1f}"

    ratio = statistics.median(ours) / statistics.median(smallest)
    print(f"{name:28} ratio {ratio:.2f}   Easelside {middle(ours)}   smallest page {middle(smallest)}")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        place = Path(folder)
        smallest_page = place / "smallest"
        smallest_page.mkdir()
        (smallest_page / "index.html").write_text(PAGE)
        (smallest_page / "sw.js").write_text(WORKER)
        files = Files(smallest_page)
        logbook = Logbook.open(place / "workshop", SystemClock(), durable=False)
        load.load(logbook, datetime.now(UTC))
        logbook.close()
        server = Server(copy_with_client(place / "package"), place / "workshop")
        server.start()
        try:
            ours, theirs = Phone(playwright, place / "ours"), Phone(playwright, place / "theirs")
            page = ours.open(server.url)
            ours.ready_offline()
            with page.expect_response("**/api/exchange/slips*", timeout=60_000):
                while not server.get("/api/exchange/slips")["slips"]:
                    page.wait_for_timeout(200)
                page.evaluate("() => window.dispatchEvent(new Event('focus'))")
            page.wait_for_timeout(2000)
            theirs.open(files.url)
            theirs.ready_offline()
            server.stop()
            files.stop()
            cold = []
            for _ in range(COLD_STARTS):
                theirs.kill()
                one = cold_start_ms(ours, server.url, "/#/today")
                ours.kill()
                cold.append((one, cold_start_ms(theirs, files.url, "/")))
            for part, name in ((0, "cold start"), (1, "of that, the page")):
                told(
                    f"{name}, CPU / {SLOWED}", [one[part] for one, _ in cold], [two[part] for _, two in cold]
                )
            page = ours.open(server.url + "/#/bench")
            page.wait_for_timeout(1500)
            print("the tap:", (page.locator("[data-next]").first.inner_text()).replace("\n", ", "))
            told(f"tap to paint, CPU / {SLOWED}", *taps_ms([ours, theirs]))
        finally:
            server.kill()
            files.stop()
            for phone in (ours, theirs):
                phone.kill()


if __name__ == "__main__":
    main()
