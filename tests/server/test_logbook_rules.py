"""The twelve rules of merging, as the cases that the client runs too, against the real logbook."""

import io
import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
import sqlalchemy as sa

from easelside.clock import FakeClock
from easelside.exchange.schemas import read
from easelside.logbook import tables
from easelside.logbook.backups import restore
from easelside.logbook.book import Logbook
from easelside.logbook.folder import DATABASE
from easelside.logbook.model import fold
from easelside.logbook.rules import server_clock_doubt

SHARED = json.loads((Path(__file__).parents[1] / "shared_cases" / "merging.json").read_text())
Case = dict[str, Any]


@pytest.fixture
def clock() -> FakeClock:
    return FakeClock()


@pytest.fixture
def book(tmp_path: Path, clock: FakeClock) -> Iterator[Logbook]:
    opened = Logbook.open(tmp_path / "workshop", clock, durable=False)
    yield opened
    opened.close()


def arrive(book: Logbook, clock: FakeClock, arrival: Case) -> Any:
    clock.set(datetime.fromisoformat(arrival["now"]))
    device = arrival.get("device") or arrival["change"]["device"]
    body = {
        "device": device,
        "device_now": arrival["device_now"],
        "logbook": book.id,
        "offers": [arrival["offer"]] if "offer" in arrival else [],
        "changes": [arrival["change"]] if "change" in arrival else [],
    }
    request = read(json.dumps(body).encode())
    assert not request["refused"], request["refused"]
    return book.receive(device, request["device_now"], request["changes"], request["offers"])


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["name"])
def test_arrivals_become_the_rows_and_fields_of_the_shared_case(
    book: Logbook, clock: FakeClock, case: Case
) -> None:
    answers = [arrive(book, clock, arrival) for arrival in case["arrivals"]]
    told = {one["seq"]: one["lost"] for answer in answers for one in answer["accepted"]}
    plain = [{name: value for name, value in row.items() if name != "lost"} for row in case["rows"]]
    assert book.changes_after(0) == plain
    for row in case["rows"]:
        if "held" not in row:
            assert told[row["seq"]] == row["lost"]
    for name, fields in case["fields"].items():
        kind, id = name.split("/", 1)
        record = book.record(kind, id)
        assert record is not None and record["fields"] == fields
    assert book.check().content


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["name"])
def test_the_rows_of_a_shared_case_fold_to_its_fields(case: Case) -> None:
    records: dict[str, Any] = {}
    for row in case["rows"]:
        name = f"{row['kind']}/{row['record']}"
        records[name] = fold(records.get(name, {}), row)
    assert records == case["fields"]


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["name"])
def test_the_same_arrivals_once_more_change_nothing(book: Logbook, clock: FakeClock, case: Case) -> None:
    first = [arrive(book, clock, arrival) for arrival in case["arrivals"]]
    end = book.end()
    again = [arrive(book, clock, arrival) for arrival in case["arrivals"]]
    assert book.end() == end
    for before, after in zip(first, again, strict=True):
        stored = [(one["id"], one["seq"], one["when"], one["won"]) for one in before["accepted"]]
        assert [(one["id"], one["seq"], one["when"], one["won"]) for one in after["accepted"]] == stored


def awaited(book: Logbook) -> Any:
    with book.view() as view:
        found = view.execute(sa.select(tables.awaited).order_by(tables.awaited.c.kind, tables.awaited.c.id))
        return [(row.kind, row.id, json.loads(row.fields)) for row in found]


@pytest.mark.parametrize("case", SHARED["cases"], ids=lambda case: case["name"])
def test_elsewhere_and_rebuilt_the_same_waits_for_what_is_not_here(
    book: Logbook, clock: FakeClock, tmp_path: Path, case: Case
) -> None:
    for arrival in case["arrivals"]:
        arrive(book, clock, arrival)
    waiting, end, out = awaited(book), book.end(), io.BytesIO()
    book.rebuild()
    assert awaited(book) == waiting
    book.export_json(out)
    with Logbook.open(tmp_path / "elsewhere", clock, durable=False) as other:
        other.import_json(io.BytesIO(out.getvalue()))
        assert (other.end(), awaited(other)) == (end, waiting)


def test_every_rule_has_a_shared_case() -> None:
    every = [case for part in ("cases", "restores", "clocks") for case in SHARED[part]]
    shown = {rule for case in every for rule in case["rule"]}
    assert shown == set(range(1, 13))


@pytest.mark.parametrize("case", SHARED["restores"], ids=lambda case: case["name"])
def test_a_logbook_that_was_put_back_is_noticed(tmp_path: Path, clock: FakeClock, case: Case) -> None:
    from easelside.exchange.routes import answer

    folder = tmp_path / "workshop"
    phone = "0000000d-0000-7000-8000-00000000000a"
    book = Logbook.open(folder, clock, durable=False)
    copies = {}
    for n in range(1, case["rows"] + 1):
        book.write("note", book.new_id(), {"text": f"{n}"})
        if n in case["backups"] or n == case["to"]:
            clock.forward(days=1)
            copies[n] = book.backup(into=None if n in case["backups"] else tmp_path)
    id, end = book.id, book.end()
    if case["put_back"]:
        book.close()
        if case["put_back"] == "by_command":
            restore(folder, copies[case["to"]], clock)
        else:
            for left in folder.glob(f"{DATABASE}*"):
                left.unlink()
            (folder / DATABASE).write_bytes(copies[case["to"]].read_bytes())
        book = Logbook.open(folder, clock, durable=False)
    for n in range(case["more"]):
        book.write("note", book.new_id(), {"text": f"since {n}"})
    request = {"device": phone, "device_now": book.now(), "logbook": id, "end": end, "after": end["seq"]}
    told = json.loads(answer(book, read(json.dumps(request).encode())))
    assert told["restored"] is case["restored"]
    assert (told["logbook"] != id) is case["restored"]
    assert told["safe"] == case["safe"]
    book.close()


@pytest.mark.parametrize("case", SHARED["clocks"], ids=lambda case: case["name"])
def test_the_server_doubts_its_own_clock_only_where_devices_agree(case: Case) -> None:
    doubt = server_clock_doubt([timedelta(minutes=off) for off in case["off_min"]])
    assert doubt == (None if case["doubt_min"] is None else timedelta(minutes=case["doubt_min"]))


def test_the_logbook_says_so_in_its_health(book: Logbook, clock: FakeClock) -> None:
    for device in ("a", "b"):
        ahead = (clock.now() + timedelta(days=7)).isoformat(timespec="milliseconds").replace("+00:00", "Z")
        book.receive(device, ahead, [])
    assert [wrong["code"] for wrong in book.health()["wrong"]] == ["server_clock"]
