"""The network goes and comes, the server dies and is put back: what was written is there, once."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server, copy_with_client

pytestmark = pytest.mark.browser

PAGE = Path(__file__).with_name("one_button")


@pytest.fixture(scope="module")
def package_of_one_button(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return copy_with_client(tmp_path_factory.mktemp("package"), PAGE)


@pytest.fixture
def server(package_of_one_button: Path, tmp_path: Path) -> Iterator[Server]:
    running = Server(package_of_one_button, tmp_path / "workshop")
    running.start()
    yield running
    running.kill()


def opened(page: Page) -> Page:
    page.locator("body[data-open=yes]").wait_for()
    return page


def write(phone: Phone, page: Page, times: int) -> None:
    for _ in range(times):
        phone.touch(page.locator("#write"), page)


def shown(page: Page) -> set[str]:
    return set((page.locator("#shown").text_content() or "").split())


def all_sent(page: Page, timeout: float = 15_000) -> None:
    expect(page.locator("#unsent")).to_have_text("0", timeout=timeout)
    expect(page.locator("#keeping")).to_have_text("saved")


def seen_again(page: Page) -> None:
    """As a phone that is taken up from the bench."""
    page.evaluate("() => window.dispatchEvent(new Event('focus'))")


def test_what_was_written_with_the_server_gone_arrives_once_when_it_is_back(
    server: Server, phone: Phone
) -> None:
    page = opened(phone.open(server.url))
    phone.ready_offline()
    write(phone, page, 1)
    all_sent(page)
    server.stop()
    write(phone, page, 3)
    expect(page.locator("#unsent")).to_have_text("3")
    expect(page.locator("#keeping")).to_have_text("saved")
    phone.kill()
    page = opened(phone.open(server.url))
    assert len(shown(page)) == 4
    server.start()
    seen_again(page)
    all_sent(page)
    assert set(server.records("note")) == shown(page)
    assert len(server.rows()) == 4


def test_a_server_killed_in_the_middle_of_it_loses_and_doubles_nothing(server: Server, phone: Phone) -> None:
    page = opened(phone.open(server.url))
    phone.ready_offline()
    for _ in range(5):
        page.evaluate("() => { for (let n = 0; n < 40; n++) document.getElementById('write').click(); }")
        page.wait_for_timeout(430)
        server.kill()
        server.start()
    seen_again(page)
    all_sent(page, 30_000)
    assert len(shown(page)) == 200
    assert set(server.records("note")) == shown(page)
    assert len(server.rows()) == 200


def test_a_new_phone_starts_from_what_is_there(server: Server, new_phone: Callable[..., Phone]) -> None:
    first, second = new_phone(), new_phone()
    page = opened(first.open(server.url))
    write(first, page, 3)
    all_sent(page)
    other = opened(second.open(server.url))
    expect(other.locator("#shown")).to_have_attribute("data-count", "3")
    assert shown(other) == shown(page)
    write(second, other, 1)
    all_sent(other)
    seen_again(page)
    expect(page.locator("#shown")).to_have_attribute("data-count", "4")


def test_a_data_folder_put_back_by_hand_gets_everything_again(
    server: Server, new_phone: Callable[..., Phone], tmp_path: Path
) -> None:
    first, second = new_phone(), new_phone()
    page = opened(first.open(server.url))
    write(first, page, 1)
    all_sent(page)
    server.stop()
    shutil.copytree(server.data, tmp_path / "put aside")
    server.start()
    write(first, page, 2)
    seen_again(page)
    all_sent(page)
    other = opened(second.open(server.url))
    write(second, other, 2)
    all_sent(other)
    seen_again(page)
    expect(page.locator("#shown")).to_have_attribute("data-count", "5")
    server.stop()
    shutil.rmtree(server.data)
    shutil.copytree(tmp_path / "put aside", server.data)
    server.start()
    for each in (page, other):
        seen_again(each)
        expect(each.locator("li[data-kind=restored]")).to_be_visible(timeout=15_000)
        all_sent(each)
        expect(each.locator("#shown")).to_have_attribute("data-count", "5")
    page.wait_for_timeout(500)
    assert set(server.records("note")) == shown(page) == shown(other)
