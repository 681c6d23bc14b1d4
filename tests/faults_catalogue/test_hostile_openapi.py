"""The interface, fuzzed from its own description: no 5xx, each writable operation accepted often enough."""

from collections import Counter
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID
from zlib import crc32

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, seed, settings
from schemathesis import GenerationMode

from easelside.app import create_app
from easelside.clock import FakeClock
from easelside.logbook.book import Logbook
from easelside.settings import Settings

CONFIG = Path(__file__).with_name("openapi_fuzz.toml")
ACCEPTED_AT_LEAST = 100
SEED = 20261125
KINDS = ("soak", "machine", "setting", "session", "piece", "lot", "batch", "tally", "blade", "blade_move",
         "care_task", "care_done")  # fmt: skip
WRITABLE = {"POST", "PATCH"}

Send = Callable[[schemathesis.Case], object]
WRITABLE_OPERATIONS = {
    "POST /api/soaks",
    "PATCH /api/soaks/{id}",
    "PATCH /api/sessions/{id}/checks",
    "POST /api/care-tasks",
    "PATCH /api/care-tasks/{id}",
    "POST /api/care-done",
    "PATCH /api/care-done/{id}",
}
# No chance makes up a push service that is known; the others take no word but {}.
SMALL_OPERATIONS = {
    "POST /api/calendar",
    "POST /api/bell/trial",
    "POST /api/push/subscriptions",
    "POST /api/push/trial",
}


def known_id(kind: str) -> str:
    return str(UUID(int=0x019ABA0F_F7C0_7000_8000_000000000000 + KINDS.index(kind)))


@pytest.fixture(scope="module")
def logbook(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    """A workshop with one record of each kind, half of its values odd."""
    book = Logbook.open(tmp_path_factory.mktemp("fuzzed"), FakeClock(), durable=False)
    for kind in KINDS:
        book.write(kind, known_id(kind), {"note": 7, "label": "D1", "at": "soon", "lost_by": {"split": "two"},
                                          "outcome/a": "good", "outcome/b": 3, "turns/p": "often",
                                          "check/edge": "good", "wind/oiled": "yes"})  # fmt: skip
    yield book
    book.close()


@pytest.fixture(scope="module")
def interface(logbook: Logbook) -> schemathesis.BaseSchema:
    clock = FakeClock(datetime(2026, 11, 25, 14, tzinfo=UTC))
    app = create_app(Settings(":unused:"), clock, logbook)
    through_the_server = app.wsgi_app
    # Schemathesis says no address, and without one nobody is at this machine.
    app.wsgi_app = lambda environ, start: through_the_server(  # type: ignore[method-assign]
        {**environ, "REMOTE_ADDR": "127.0.0.1"}, start
    )
    config = schemathesis.Config.from_path(CONFIG)
    found = schemathesis.openapi.from_wsgi("/api/openapi.json", app, config=config)

    @found.hook
    def map_path_parameters(context, path_parameters):  # type: ignore[no-untyped-def]
        """Most records that are asked for exist."""
        if path_parameters and "id" in path_parameters and crc32(str(path_parameters["id"]).encode()) % 8:
            kind = context.operation.path.split("/")[2].replace("-", "_")
            singular = next((k for k in KINDS if kind.startswith(k[:4]) and _fits(kind, k)), None)
            if singular:
                return {**path_parameters, "id": known_id(singular)}
        return path_parameters

    @found.hook
    def map_headers(context, headers):  # type: ignore[no-untyped-def]
        """An If-Match of chance is refused, rightly: most requests go without."""
        if headers and crc32(str(headers.get("If-Match")).encode()) % 8:
            return {name: value for name, value in headers.items() if name != "If-Match"}
        return headers

    return found


def _fits(path: str, kind: str) -> bool:
    return path in (kind, kind + "s", kind + "es", kind.removesuffix("y") + "ies")


def try_out(operation: schemathesis.APIOperation, mode: GenerationMode, examples: int, send: Send) -> None:
    """So many generated requests to one operation, the same ones in every run."""

    @seed(SEED)
    @settings(
        max_examples=examples,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy(generation_mode=mode))
    def every(case: schemathesis.Case) -> None:
        send(case)

    every()


@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=["well", "badly"])
def test_every_operation_keeps_to_its_description(
    interface: schemathesis.BaseSchema, mode: GenerationMode
) -> None:
    tried = 0
    for found in interface.get_all_operations():
        operation = found.ok()
        if mode is GenerationMode.POSITIVE or operation.method.upper() in WRITABLE:
            try_out(operation, mode, 15, lambda case: case.call_and_validate())
            tried += 1
    assert tried > 6


def test_every_writable_operation_is_accepted_a_hundred_times_and_none_fails(
    interface: schemathesis.BaseSchema, logbook: Logbook
) -> None:
    accepted: Counter[str] = Counter()
    failed: list[str] = []
    before = logbook.end()["seq"]

    def send(case: schemathesis.Case) -> None:
        name = f"{case.operation.method.upper()} {case.operation.path}"
        status = case.call().status_code
        accepted[name] += 200 <= status < 300
        if status >= 500:
            failed.append(f"{status} {name} {case.body!r}")

    for found in interface.get_all_operations():
        if found.ok().method.upper() in WRITABLE:
            try_out(found.ok(), GenerationMode.POSITIVE, 140, send)
            try_out(found.ok(), GenerationMode.NEGATIVE, 25, send)
    assert failed == []
    assert accepted.keys() == WRITABLE_OPERATIONS | SMALL_OPERATIONS
    assert min(accepted[name] for name in WRITABLE_OPERATIONS) >= ACCEPTED_AT_LEAST, accepted
    assert logbook.end()["seq"] > before
    assert logbook.check().content
