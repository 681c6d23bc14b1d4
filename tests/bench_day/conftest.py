"""What a whole bench day needs: the built client, a real server, and a phone."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, sync_playwright
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
