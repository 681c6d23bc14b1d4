"""The past of one record over HTTP: who wrote what, the lost one too."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from easelside.app import create_app
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 12, 50, tzinfo=UTC)


class StillClock:
    def now(self) -> datetime:
        return NOW


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path_factory.mktemp("demo"), StillClock(), durable=False)
    load(opened, NOW)
    yield opened
    opened.close()


@pytest.fixture
def browser(book: Logbook, tmp_path: Path) -> FlaskClient:
    return create_app(Settings(tmp_path), StillClock(), book).test_client()


def batch_c1(book: Logbook) -> str:
    return next(r["id"] for r in book.all_records("batch") if r["fields"]["label"]["value"] == "C1")


def test_both_notes_of_two_devices_are_told_and_which_one_stands(browser: FlaskClient, book: Logbook) -> None:
    answer = browser.get(f"/api/past/batch/{batch_c1(book)}")
    assert answer.status_code == 200
    notes = [row for row in answer.get_json()["changes"] if "note" in row["set"]]
    assert [row["set"]["note"] for row in notes] == [
        "four torn at the shoulder",
        "four torn: the edge, not the cane",
    ]
    assert notes[0]["device"] != notes[1]["device"]


def test_a_record_that_nobody_wrote_has_no_past(browser: FlaskClient) -> None:
    answer = browser.get("/api/past/batch/01a212b4-ab80-7b12-8000-000000000001")
    assert (answer.status_code, answer.get_json()) == (200, {"changes": []})


@pytest.mark.parametrize("name", ["%25", "x", "' or 1=1", "_" * 36])
def test_what_is_no_id_is_answered_with_a_problem_and_looks_at_nothing(
    browser: FlaskClient, name: str
) -> None:
    answer = browser.get(f"/api/past/batch/{name}")
    assert answer.status_code == 404
    assert answer.content_type.startswith("application/problem+json")
