"""Whatever stands in a record, nothing that counts or shows it may fall over."""

from collections.abc import Iterator
from datetime import UTC, datetime

import pytest
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.forecast.counting import Counting, Fact
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.soak.model import read_soak
from easelside.soak.rules import ready_at
from easelside.units import zone_of

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
IDS = [f"019aba0f-f7c0-7000-8000-00000000000{n}" for n in range(4)]
PATHS = {
    "soak": "soaks",
    "machine": "machines",
    "setting": "settings",
    "session": "sessions",
    "piece": "pieces",
    "lot": "lots",
    "batch": "batches",
    "tally": "tallies",
    "blade": "blades",
    "blade_move": "blade-moves",
    "care_task": "care-tasks",
    "care_done": "care-done",
}
NAMES = (
    "set_up wind_down turns outcome outcomes blade machine what at inside_record inside_piece session "
    "number batch outcome/a outcome/b joined_to began parted_from stage started good second_count "
    "lost_by opening day task until_day every_pieces every_sessions every_days since tool put_in "
    "put_in_skew_ms soak_s removed batches check/edge wind/oiled turns/p seen stages middle_stop note "
).split()
INSTANTS = [
    "2026-11-20T09:00:00.000Z",
    "0001-01-01T00:00:00.000Z",
    "9999-12-31T23:59:59.999Z",
    "9999-12-31T23:59:59-12:00",
    "2026-11-25",
    "soon",
    "2026-02-30T00:00:00Z",
]
WORDS = ["fitted", "ground", "back", "sent", "good", "lost", "profiled", "done", "put_off", "gouger", *IDS]
NUMBERS = [0, 1, -1, 7, 1e300, -1e300, 0.5, 2**53 - 1, 36600, 10**15]
ODD = st.recursive(
    st.sampled_from([None, True, False, "", *INSTANTS, *WORDS, *NUMBERS]) | st.text(max_size=4),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.text(max_size=3), inner, max_size=2),
    max_leaves=3,
)
FIELDS = st.dictionaries(st.sampled_from(NAMES), ODD, max_size=12)
FACT = st.builds(Fact, st.sampled_from(sorted(PATHS)), st.sampled_from(IDS), FIELDS)
ZONES = st.sampled_from(["Europe/Berlin", "Pacific/Apia", "America/New_York", "Nowhere/At_All", "../etc", ""])


@settings(max_examples=250)
@given(st.lists(FACT, max_size=10), ZONES)
def test_counting_takes_any_values(facts: list[Fact], zone: str) -> None:
    counting = Counting(facts, zone_of(zone))
    assert sum(counting.edges.values()) >= len(counting.cut_by)
    assert len(counting.sessions_once) <= len(counting.sessions)
    for task in counting.tasks:
        counting.due(task, NOW)
    for stands in counting.batches.values():
        assert all(count >= 0 for stand in stands.values() for count in vars(stand).values())


@settings(max_examples=250)
@given(FIELDS)
def test_a_soak_takes_any_values(fields: dict[str, object]) -> None:
    at = ready_at(read_soak("a", fields))
    assert at is None or at.tzinfo is not None


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Logbook, FlaskClient]]:
    clock = FakeClock(NOW)
    book = Logbook.open(tmp_path_factory.mktemp("odd"), clock, durable=False)
    yield book, create_app(Settings(":unused:"), clock, book).test_client()
    book.close()


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.sampled_from(sorted(PATHS)), st.sampled_from(IDS), FIELDS)
def test_every_record_is_shown_whatever_stands_in_it(
    workshop: tuple[Logbook, FlaskClient], kind: str, id: str, fields: dict[str, object]
) -> None:
    book, browser = workshop
    book.write(kind, id, fields)
    for path in (f"{PATHS[kind]}/{id}", PATHS[kind], f"{PATHS[kind]}?in_play=true", "blades", "care-tasks"):
        if path != "pieces?in_play=true":
            answer = browser.get(f"/api/{path}", headers={"Host": "localhost"})
            assert answer.status_code == 200, (path, answer.text, fields)
