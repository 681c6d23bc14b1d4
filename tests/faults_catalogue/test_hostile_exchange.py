"""An exchange whose every part may be odd: never a failure, never a damaged logbook, nothing else held up."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings

HOME = {"Host": "localhost"}
DEVICE = "019aba0f-f7c0-7000-8000-0000000000aa"
NOW = "2026-11-25T14:00:00.000Z"
IDS = st.integers(0, 2**20).map(lambda n: f"019aba0f-f7c0-7000-8000-{n:012x}")

ODD = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=6)
    | st.sampled_from(
        ["\x00", "a\nb", "../x", "x" * 70_000, "0000-00-00T00:00:00.000Z", "9999-12-31T23:59:59.999Z", DEVICE]
    )
    | IDS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=4), inner, max_size=3),
    max_leaves=4,
)
NAMES = st.sampled_from(["jar", "pieces", "outcome/a", "removed", "at", "__proto__", "set", "é"])
KINDS = st.sampled_from(["soak", "piece", "session", "workshop", "unknown_kind"])
TIMES = st.sampled_from(
    [NOW, "1970-01-01T00:00:00.000Z", "2036-11-25T14:00:00.000Z", "9999-12-31T23:59:59.999Z"]
)


def sometimes_odd(well: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.integers(0, 59).flatmap(lambda n: ODD if n == 7 else well)


CHANGE = st.fixed_dictionaries(
    {
        "id": sometimes_odd(IDS),
        "v": sometimes_odd(st.just(1)),
        "kind": sometimes_odd(KINDS),
        "record": sometimes_odd(IDS),
        "device": sometimes_odd(st.just(DEVICE)),
        "made": sometimes_odd(TIMES),
        "set": sometimes_odd(st.dictionaries(NAMES, ODD, max_size=3)),
        "saw": sometimes_odd(st.dictionaries(NAMES, st.none() | IDS, max_size=3)),
        "back": sometimes_odd(st.booleans()),
    },
    optional={"given": ODD, "more": ODD},
)
OFFER = st.fixed_dictionaries(
    {
        "kind": sometimes_odd(KINDS),
        "record": sometimes_odd(IDS),
        "field": sometimes_odd(NAMES),
        "value": ODD,
        "change": sometimes_odd(IDS),
        "when": sometimes_odd(TIMES),
        "back": sometimes_odd(st.booleans()),
        "saw": sometimes_odd(st.none() | IDS),
    }
)
REQUEST = st.fixed_dictionaries(
    {
        "device": sometimes_odd(st.just(DEVICE)),
        "device_now": sometimes_odd(TIMES),
        "changes": sometimes_odd(st.lists(CHANGE, min_size=1, max_size=4)),
    },
    optional={
        "more": ODD,
        "after": sometimes_odd(st.integers(0, 50)),
        "limit": sometimes_odd(st.integers(1, 3000)),
        "offers": sometimes_odd(st.lists(OFFER, max_size=3)),
    },
)


@pytest.fixture(scope="module")
def logbook(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    book = Logbook.open(tmp_path_factory.mktemp("exchanged"), FakeClock(), durable=False)
    yield book
    book.close()


@pytest.fixture(scope="module")
def browser(logbook: Logbook) -> FlaskClient:
    return create_app(Settings(":unused:"), FakeClock(), logbook).test_client()


def exchange(browser: FlaskClient, logbook: Logbook, request: dict[str, Any]) -> Any:
    body = json.dumps({"logbook": logbook.id, "end": None, **request})
    return browser.post("/api/exchange", headers=HOME, data=body, content_type="application/json")


@settings(max_examples=400, database=None, suppress_health_check=list(HealthCheck))
@given(asked=REQUEST)
def test_every_change_of_an_odd_exchange_is_either_kept_or_refused(
    browser: FlaskClient, logbook: Logbook, asked: dict[str, Any]
) -> None:
    before = logbook.end()
    answer = exchange(browser, logbook, asked)
    assert answer.status_code < 500, (answer.text, asked)
    if answer.status_code >= 400:
        assert logbook.end() == before
        assert answer.content_type == "application/problem+json"
        return
    said = answer.json
    changes = asked.get("changes") or []
    refused = [one for one in said["refused"] if not one.get("offer")]
    assert len(said["accepted"]) + len(refused) == len(changes)
    for one in said["accepted"]:
        assert any(change["id"] == one["id"] for change in changes if isinstance(change, dict))
    assert all(one["problem"].endswith(".") for one in said["refused"])


def test_after_all_that_the_logbook_is_whole_and_can_be_read(browser: FlaskClient, logbook: Logbook) -> None:
    well = {
        "id": "019aba0f-f7c0-7000-8000-ffffffffffff",
        "v": 1,
        "kind": "soak",
        "record": "019aba0f-f7c0-7000-8000-fffffffffffe",
        "device": DEVICE,
        "made": NOW,
        "set": {"jar": "1"},
        "saw": {},
        "back": False,
    }
    broken = [{**well, "id": 7}, "a change", {**well, "v": 0}, {}]
    said = exchange(browser, logbook, {"device": DEVICE, "device_now": NOW, "changes": [*broken, well]}).json
    assert [one["id"] for one in said["accepted"]] == [well["id"]]
    assert len(said["refused"]) == len(broken)
    assert logbook.check().content
    assert browser.get("/api/exchange/snapshot", headers=HOME).status_code == 200
    for path in ("soaks", "pieces", "sessions", "soaks?in_play=true", "blades", "health"):
        assert browser.get(f"/api/{path}", headers=HOME).status_code == 200
