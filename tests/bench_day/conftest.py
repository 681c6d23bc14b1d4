"""What a whole bench day needs: the built client, a real server, and a phone."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, sync_playwright

from tests.bench_day.day import AT_THE_BENCH, Day, Stories
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server, copy_with_client


@pytest.fixture(scope="session")
def package(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for PYTHONPATH: the package of this moment with its client freshly built."""
    return copy_with_client(tmp_path_factory.mktemp("package"))


@pytest.fixture(scope="session")
def client(package: Path) -> Path:
    """The built client."""
    return package / "easelside/web/client"


@pytest.fixture
def server(package: Path, tmp_path: Path) -> Iterator[Server]:
    """A server that runs, on an empty data folder."""
    running = Server(package, tmp_path / "workshop")
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as started:
        yield started


@pytest.fixture
def new_phone(playwright: Playwright, tmp_path: Path) -> Iterator[Callable[..., Phone]]:
    """Makes phones, each with its own profile: `new_phone()`, `new_phone(size=(360, 640))`."""
    made: list[Phone] = []

    def make(**how: object) -> Phone:
        phone = Phone(playwright, tmp_path / f"phone-{len(made)}", **how)  # type: ignore[arg-type]
        made.append(phone)
        return phone

    yield make
    for phone in made:
        if phone.context:
            phone.kill()


@pytest.fixture
def phone(new_phone: Callable[..., Phone]) -> Phone:
    """One phone, 390 x 844, not yet switched on: `phone.open(server.url)`."""
    return new_phone()


@pytest.fixture(scope="session")
def stories(tmp_path_factory: pytest.TempPathFactory) -> Stories:
    return Stories(tmp_path_factory.mktemp("stories"))


@pytest.fixture
def days(
    package: Path, stories: Stories, tmp_path: Path, new_phone: Callable[..., Phone]
) -> Iterator[Callable[..., Day]]:
    """Begins days over the demonstration's workshop: `days()`, `days(began, size=(360, 640))`."""
    begun: list[Day] = []

    def begin(began: datetime = AT_THE_BENCH, zone: str = "Europe/Berlin", **how: object) -> Day:
        folder = tmp_path / f"day-{len(begun)}"
        folder.mkdir()
        phone = how.pop("phone", None) or new_phone(time_zone=zone)
        day = Day(package, folder, phone, began, zone, stories=stories, **how)  # type: ignore[arg-type]
        begun.append(day)
        return day

    yield begin
    for day in begun:
        day.server.kill()
