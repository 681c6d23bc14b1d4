"""Easelside opens from cold with no network, asks before a newer version takes over, and two tabs agree."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.files_server import Files
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import build_client

pytestmark = pytest.mark.browser

PAGE = Path(__file__).with_name("one_button")


@pytest.fixture(scope="module")
def one_button(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_client(tmp_path_factory.mktemp("one_button"), PAGE)


@pytest.fixture
def files(one_button: Path) -> Iterator[Files]:
    serving = Files(one_button)
    yield serving
    serving.stop()


def newer_than(folder: Path, into: Path) -> Path:
    """The same client as a later build would leave it: another title, another version."""
    shutil.copytree(folder, into)
    index = into / "index.html"
    index.write_text(index.read_text().replace("<title>", "<title>Newer: "))
    worker = into / "sw.js"
    worker.write_text(re.sub(r'VERSION = "\w+"', 'VERSION = "newer"', worker.read_text()))
    return into


def opened(page: Page) -> Page:
    page.locator("body[data-open=yes]").wait_for()
    return page


def caches_of(page: Page) -> list[str]:
    names: list[str] = page.evaluate("() => caches.keys()")
    return names


def test_the_real_client_opens_from_cold_with_the_server_gone(client: Path, phone: Phone) -> None:
    files = Files(client)
    try:
        phone.open(files.url)
        phone.ready_offline()
        files.stop()
        phone.kill()
        page = phone.open(files.url)
        expect(page.locator("#bench > *").first).to_be_visible()
        errors: list[str] = []
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(files.url + "/#/records")
        page.reload()
        expect(page.locator("#bench > *").first).to_be_visible()
        assert errors == []
    finally:
        files.stop()


def test_it_says_once_that_it_is_ready_offline(files: Files, phone: Phone) -> None:
    page = opened(phone.open(files.url))
    expect(page.locator("#ready_offline")).to_have_text("ready offline")
    opened(page.reload() and page)
    page.wait_for_timeout(500)
    expect(page.locator("#ready_offline")).to_have_text("")


def test_what_is_written_offline_is_there_after_a_cold_start_and_waits_to_be_sent(
    files: Files, phone: Phone
) -> None:
    page = opened(phone.open(files.url))
    phone.ready_offline()
    files.stop()
    for _ in range(3):
        phone.touch(page.locator("#write"))
    expect(page.locator("#keeping")).to_have_text("saved")
    phone.kill()
    page = opened(phone.open(files.url))
    expect(page.locator("#shown")).to_have_attribute("data-count", "3")
    expect(page.locator("#unsent")).to_have_text("3")


def test_a_newer_version_waits_until_it_is_let_in(files: Files, phone: Phone, tmp_path: Path) -> None:
    page = opened(phone.open(files.url))
    phone.ready_offline()
    files.folder = newer_than(files.folder, tmp_path / "newer")
    page.evaluate("() => navigator.serviceWorker.ready.then((registration) => registration.update())")
    question = page.locator("li[data-kind=update] button")
    expect(question).to_be_visible()
    page.wait_for_timeout(500)
    expect(page).to_have_title("One button")
    page.reload()
    expect(page).to_have_title("One button")
    phone.touch(question)
    expect(page).to_have_title("Newer: One button")
    expect(page.locator("li[data-kind=update]")).to_have_count(0)


def test_a_second_tab_is_asked_too_when_the_first_let_a_newer_version_in(
    files: Files, phone: Phone, tmp_path: Path
) -> None:
    left = opened(phone.open(files.url))
    phone.ready_offline()
    left.reload()
    opened(left)
    right = left.context.new_page()
    right.goto(files.url)
    opened(right)
    files.folder = newer_than(files.folder, tmp_path / "newer")
    right.evaluate("() => { window.stillHere = true; }")
    left.evaluate("() => navigator.serviceWorker.ready.then((registration) => registration.update())")
    left.bring_to_front()
    phone.touch(left.locator("li[data-kind=update] button"), left)
    expect(left).to_have_title("Newer: One button")
    assert right.evaluate("() => window.stillHere") is True
    right.bring_to_front()
    phone.touch(right.locator("li[data-kind=update] button"), right)
    expect(right).to_have_title("Newer: One button")


def test_nothing_is_asked_and_nothing_reloads_during_a_session(
    files: Files, phone: Phone, tmp_path: Path
) -> None:
    page = opened(phone.open(files.url))
    phone.ready_offline()
    page.evaluate("() => { window.inSession.value = true; window.stillHere = true; }")
    files.folder = newer_than(files.folder, tmp_path / "newer")
    page.evaluate("() => navigator.serviceWorker.ready.then((registration) => registration.update())")
    page.wait_for_function("() => navigator.serviceWorker.ready.then((r) => r.waiting !== null)")
    page.wait_for_timeout(300)
    expect(page.locator("li[data-kind=update]")).to_have_count(0)
    page.evaluate("() => { window.inSession.value = false; }")
    expect(page.locator("li[data-kind=update]")).to_be_visible()
    assert page.evaluate("() => window.stillHere") is True


def test_an_update_that_lacks_any_one_file_leaves_the_old_version_whole(
    files: Files, phone: Phone, tmp_path: Path
) -> None:
    page = opened(phone.open(files.url))
    phone.ready_offline()
    before = caches_of(page)
    phone.touch(page.locator("#write"))
    expect(page.locator("#keeping")).to_have_text("saved")
    old = files.folder
    wanted = re.search(r"FILES = (\[.*?\]);", (old / "sw.js").read_text())
    assert wanted
    files.folder = newer_than(old, tmp_path / "newer")
    for name in re.findall(r'"(.*?)"', wanted[1]):
        files.lacks, asked = {name}, len(files.asked)
        page.evaluate(
            "() => navigator.serviceWorker.ready.then((registration) => registration.update()).catch(() => 0)"
        )
        for _ in range(100):
            if name in files.asked[asked:]:
                break
            page.wait_for_timeout(50)
        assert name in files.asked[asked:], f"the worker never asked for {name}"
        page.wait_for_function(
            "() => navigator.serviceWorker.ready.then((r) => r.installing === null && r.waiting === null)"
        )
        assert caches_of(page) == before, f"without {name}"
    files.stop()
    opened(page.reload() and page)
    expect(page).to_have_title("One button")
    expect(page.locator("#shown")).to_have_attribute("data-count", "1")


def test_the_worker_leaves_the_api_and_what_is_missing_to_the_network(files: Files, phone: Phone) -> None:
    page = opened(phone.open(files.url))
    phone.ready_offline()
    page.reload()
    for path in ("/api/health", "/assets/gone.js"):
        status = page.evaluate("(path) => fetch(path).then((answer) => answer.status)", path)
        assert (path, status) == (path, 404)
    held = page.evaluate(
        """async () => {
          const [name] = await caches.keys();
          return (await (await caches.open(name)).keys()).map((request) => new URL(request.url).pathname);
        }"""
    )
    assert "/" in held
    assert [path for path in held if path.startswith(("/api", "/docs")) or path == "/sw.js"] == []


def test_two_tabs_show_the_same_within_a_second(files: Files, phone: Phone) -> None:
    left = opened(phone.open(files.url))
    right = left.context.new_page()
    right.goto(files.url)
    opened(right)
    for count in range(1, 7):
        page = (left, right)[count % 2]
        page.bring_to_front()
        phone.touch(page.locator("#write"), page)
        for tab in (left, right):
            expect(tab.locator("#shown")).to_have_attribute("data-count", str(count), timeout=1000)
    assert left.locator("#shown").text_content() == right.locator("#shown").text_content()
    expect(left.locator("#unsent")).to_have_text("6")
    expect(right.locator("#unsent")).to_have_text("6")


def test_a_clock_that_jumps_while_the_page_is_open_is_noticed(files: Files, phone: Phone) -> None:
    phone.init_script = """
      window.ahead_ms = 0;
      const now = Date.now.bind(Date);
      Date.now = () => now() + window.ahead_ms;
    """
    page = opened(phone.open(files.url))
    page.evaluate("() => { window.ahead_ms = 3_600_000; }")
    expect(page.locator("#clock_jump")).to_have_text(re.compile(r"^3(59|60)\d{4}$"), timeout=8000)
