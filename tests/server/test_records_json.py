"""All records out as JSON, and into an empty workshop: the same state, by a hash that phones know too."""

import hashlib
import io
import json
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from easelside.errors import ExportUnusable, NotEmpty
from easelside.logbook.book import Logbook
from easelside.logbook.export import state_hash
from easelside.logbook.model import Field, Record
from seed_demo.load import load

CASES = json.loads((Path(__file__).parents[1] / "shared_cases/state_hash.json").read_text("utf-8"))["cases"]
NOW = datetime(2026, 11, 25, 12, 50, tzinfo=UTC)


class StillClock:
    def now(self) -> datetime:
        return NOW


def as_record(told: dict[str, Any]) -> Record:
    when = "2026-11-25T12:00:00.000Z"
    fields = {
        name: Field(value=value, change="c", seq=1, when=when, back=False, saw=None)
        for name, value in told["values"].items()
    }
    return Record(kind=told["kind"], id=told["id"], fields=fields, seq=1, when=when)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_hash_is_that_of_the_lines_written_out(case: dict[str, Any]) -> None:
    records = sorted((as_record(told) for told in case["records"]), key=lambda r: (r["kind"], r["id"]))
    lines = "".join(f"{line}\n" for line in case["lines"])
    assert state_hash(records) == hashlib.sha256(lines.encode()).hexdigest()


@pytest.fixture
def demo(tmp_path: Path) -> Any:
    book = Logbook.open(tmp_path / "demo", StillClock(), durable=False)
    load(book, NOW)
    yield book
    book.close()


def test_an_export_into_an_empty_workshop_gives_the_same_state(demo: Logbook, tmp_path: Path) -> None:
    out = io.BytesIO()
    demo.export_json(out)
    empty = Logbook.open(tmp_path / "empty", StillClock(), durable=False)
    try:
        told = empty.import_json(io.BytesIO(out.getvalue()))
        assert told == demo.state_hash() == empty.state_hash()
        assert json.loads(out.getvalue())["state"] == told
    finally:
        empty.close()


def test_an_export_is_refused_by_a_workshop_that_holds_something(demo: Logbook) -> None:
    out = io.BytesIO()
    demo.export_json(out)
    before = demo.state_hash()
    with pytest.raises(NotEmpty):
        demo.import_json(io.BytesIO(out.getvalue()))
    assert demo.state_hash() == before


def test_an_export_with_one_letter_changed_is_refused_and_nothing_is_taken_in(
    demo: Logbook, tmp_path: Path
) -> None:
    out = io.BytesIO()
    demo.export_json(out)
    changed = out.getvalue().replace(b"four torn: the edge", b"four torn: the adge")
    assert changed != out.getvalue()
    empty = Logbook.open(tmp_path / "empty", StillClock(), durable=False)
    try:
        with pytest.raises(ExportUnusable):
            empty.import_json(io.BytesIO(changed))
        assert list(empty.all_records()) == []
    finally:
        empty.close()


def test_a_file_made_by_a_phone_is_taken_in_as_well(tmp_path: Path) -> None:
    text = (Path(__file__).parents[1] / "shared_cases/phone_export.json").read_bytes()
    empty = Logbook.open(tmp_path / "empty", StillClock(), durable=False)
    try:
        assert empty.import_json(io.BytesIO(text)) == json.loads(text)["state"]
        assert empty.check().content
    finally:
        empty.close()


def test_a_file_in_which_a_change_stands_twice_is_refused(demo: Logbook, tmp_path: Path) -> None:
    out = io.BytesIO()
    demo.export_json(out)
    told = json.loads(out.getvalue())
    told["changes"][1]["id"] = told["changes"][0]["id"]
    empty = Logbook.open(tmp_path / "empty", StillClock(), durable=False)
    try:
        with pytest.raises(ExportUnusable):
            empty.import_json(io.BytesIO(json.dumps(told).encode()))
        assert list(empty.all_records()) == []
    finally:
        empty.close()
