"""Errors as problem details: one status each, two sentences, nothing of the inside."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from easelside import errors
from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.web.problem import STATUS, TITLES, cut_short
from easelside.web.words import SENTENCES

HOME = {"Host": "localhost"}


@pytest.fixture
def browser(tmp_path: Path) -> Iterator[FlaskClient]:
    book = Logbook.open(tmp_path / "workshop", FakeClock(), durable=False)
    yield create_app(Settings(":unused:"), FakeClock(), book).test_client()
    book.close()


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (errors.DiskFull(), 507),
        (errors.ReadOnly(), 503),
        (errors.StorageFailed(detail="input/output error"), 503),
        (errors.StorageBusy(), 503),
        (errors.DamagedLogbook(detail="row 7"), 503),
        (errors.TooLarge(limit="1 MiB"), 413),
        (errors.NoWorkshop(folder="x"), 500),
    ],
    ids=lambda value: getattr(value, "code", value),
)
def test_what_the_storage_refuses_leaves_with_its_two_sentences(
    browser: FlaskClient, monkeypatch: pytest.MonkeyPatch, error: errors.EaselsideError, status: int
) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr(Logbook, "write", refuse)
    answer = browser.post("/api/soaks", headers=HOME, json={})
    assert (answer.status_code, answer.content_type) == (status, "application/problem+json")
    assert answer.json["code"] == error.code
    assert answer.json["detail"] == error.what_happened
    assert answer.json["what_to_do"] == error.what_to_do
    assert ("Retry-After" in answer.headers) == isinstance(error, errors.StorageBusy)


def test_an_unforeseen_error_says_nothing_of_the_inside(
    browser: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Logbook, "records", lambda *_, **__: 1 / 0)
    answer = browser.get("/api/soaks", headers=HOME)
    assert (answer.status_code, answer.json["code"]) == (500, "went_wrong")
    assert "division" not in answer.text


def test_every_status_that_is_sent_has_a_title_of_ours() -> None:
    assert set(STATUS.values()) | set(SENTENCES) <= set(TITLES)


@pytest.mark.parametrize("path", ["/api/nothing", "/nothing", "/assets/old-abc.js", "/api"])
def test_what_is_not_there_is_a_problem_and_never_a_page(browser: FlaskClient, path: str) -> None:
    answer = browser.get(path, headers=HOME | {"Accept": "text/html"})
    assert (answer.status_code, answer.content_type) == (404, "application/problem+json")


def test_a_slash_at_the_end_changes_nothing(browser: FlaskClient) -> None:
    assert browser.post("/api/soaks/", headers=HOME, json={}).status_code == 201


def test_a_million_errors_are_cut_to_some() -> None:
    found = cut_short({"json": {f"n{i}": ["Unknown field."] for i in range(100_000)}})
    assert len(found) == 20


def test_nested_errors_name_their_path() -> None:
    messages = {"json": {"set_up": {"edge": ["Not one of them."]}, "batches": {3: ["No UUID."]}}}
    assert cut_short(messages) == {"json.set_up.edge": ["Not one of them."], "json.batches.3": ["No UUID."]}
