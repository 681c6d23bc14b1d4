"""What is foreseen reaches a phone once, by the revision that it holds."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
import sqlalchemy as sa
from flask.testing import FlaskClient

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook import tables
from easelside.logbook.book import Logbook
from easelside.settings import Settings

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
SOAK, LOT = ("soak", "all", 31, {"ready_s": 1800}), ("soak", "lot-d", 4, {"wanting": 5})


@pytest.fixture
def logbook(tmp_path: Path) -> Iterator[Logbook]:
    with Logbook.open(tmp_path, FakeClock(NOW), durable=False) as book:
        yield book


@pytest.fixture
def client(logbook: Logbook, tmp_path: Path) -> FlaskClient:
    return create_app(Settings(data=tmp_path), FakeClock(NOW), logbook).test_client()


def asked(client: FlaskClient, after: object = 0) -> dict:
    answer = client.get(f"/api/exchange/slips?after={after}")
    assert answer.status_code == 200
    found: dict = answer.get_json()
    return found


def test_a_phone_that_holds_none_gets_all(client: FlaskClient, logbook: Logbook) -> None:
    logbook.keep_slips(7, [SOAK, LOT])
    found = asked(client)
    assert found["logbook"] == logbook.id
    assert [
        (s["kind"], s["subject"], s["as_of_seq"], s["observations"], s["body"]) for s in found["slips"]
    ] == [
        ("soak", "all", 7, 31, {"ready_s": 1800}),
        ("soak", "lot-d", 7, 4, {"wanting": 5}),
    ]


def test_a_phone_that_holds_some_gets_what_was_fitted_anew(client: FlaskClient, logbook: Logbook) -> None:
    logbook.keep_slips(7, [SOAK, LOT])
    rev = asked(client)["rev"]
    assert logbook.keep_slips(9, [SOAK, ("soak", "lot-d", 5, {"wanting": 4})]) == 1
    found = asked(client, rev)
    assert [slip["subject"] for slip in found["slips"]] == ["lot-d"]
    assert found["rev"] > rev
    assert asked(client, found["rev"])["slips"] == []


def test_a_slip_that_follows_from_nothing_any_more_is_told_as_withdrawn(
    client: FlaskClient, logbook: Logbook
) -> None:
    logbook.keep_slips(7, [SOAK, LOT])
    rev = asked(client)["rev"]
    logbook.keep_slips(9, [SOAK])
    (gone,) = asked(client, rev)["slips"]
    assert (gone["subject"], gone["body"]) == ("lot-d", {})


def test_every_exchange_names_the_revision(client: FlaskClient, logbook: Logbook) -> None:
    logbook.keep_slips(7, [SOAK])
    request = {"device": "phone-1", "device_now": "2026-11-25T14:00:00.000Z", "logbook": None}
    answer = client.post("/api/exchange", json=request).get_json()
    assert answer["slips"] == asked(client)["rev"] > 0


@pytest.mark.parametrize("after", ["-1", "x", "1e3", "9" * 16, ""])
def test_what_is_no_revision_is_refused_with_a_sentence(client: FlaskClient, after: str) -> None:
    answer = client.get(f"/api/exchange/slips?after={after}")
    assert answer.status_code == 400
    assert "`after`" in answer.get_json()["detail"]


def test_revisions_go_on_over_a_restart(tmp_path: Path) -> None:
    with Logbook.open(tmp_path, FakeClock(NOW), durable=False) as book:
        book.keep_slips(7, [SOAK])
        rev = book.slips_rev
    with Logbook.open(tmp_path, FakeClock(NOW), durable=False) as book:
        assert book.slips_rev == rev > 0


def test_a_logbook_from_before_slips_had_revisions_opens_and_fits_them_anew(tmp_path: Path) -> None:
    with Logbook.open(tmp_path, FakeClock(NOW), durable=False) as book:
        book.write("lot", "019aba0f-f7c0-7000-8000-000000000001", {"label": "D"})
        with book._engine.begin() as connection:
            tables.slips.drop(connection)
            connection.execute(sa.text("CREATE TABLE slips (kind TEXT, subject TEXT, as_of_seq INTEGER)"))
    with Logbook.open(tmp_path, FakeClock(NOW), durable=False) as book:
        assert book.keep_slips(1, [SOAK]) == 1
        assert len(book.records("lot")) == 1
