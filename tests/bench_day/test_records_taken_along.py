"""Records leave a phone and come into another one with the network cut: the same tables, the same state."""

import csv
import io
import re
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from easelside.forecast.csv_files import write_csv
from easelside.logbook.book import Logbook
from easelside.records.columns import NAMES
from seed_demo.load import load
from tests.bench_day.day import Day, go
from tests.bench_day.phone import Phone
from tests.bench_day.running_server import Server

pytestmark = pytest.mark.browser


class StillClock:
    def now(self) -> datetime:
        return datetime.now(UTC)


@pytest.fixture
def workshop(tmp_path: Path) -> dict[str, object]:
    """The demonstration on a server of its own: its export, its state, its tables."""
    book = Logbook.open(tmp_path / "demo", StillClock(), durable=False)
    load(book, datetime.now(UTC))
    out = io.BytesIO()
    book.export_json(out)
    file = tmp_path / "workshop.json"
    file.write_bytes(out.getvalue())
    tables = {
        path.stem.removeprefix("easelside-"): path.read_bytes()
        for path in write_csv(book, tmp_path / "tables")
    }
    state = book.state_hash()
    book.close()
    return {"file": file, "state": state, "tables": tables}


def bring_in(page: Page, phone: Phone, file: Path) -> None:
    page.goto(re.sub(r"#.*", "", page.url) + "#/records/copies")
    wrong = file.with_name("wrong.json")
    wrong.write_text("{}")
    for each in (wrong, file):  # a wrong one first: the right one can be chosen after it
        with page.expect_file_chooser() as chooser:
            phone.touch(page.get_by_role("button", name="Choose the file"), page)
        chooser.value.set_files(str(each))
        if each is wrong:
            expect(page.locator("p.alarm")).to_be_visible()
    expect(page.get_by_text("records are here, word for word")).to_be_visible(timeout=15_000)


def downloaded(page: Page, phone: Phone, name: str) -> bytes:
    with page.expect_download() as download:
        phone.touch(page.get_by_role("button", name=name).first, page)
    return download.value.path().read_bytes()


def test_a_workshop_is_brought_in_with_the_network_cut_and_reaches_its_empty_server_whole(
    server: Server, phone: Phone, workshop: dict[str, object], tmp_path: Path
) -> None:
    page = phone.open(server.url)
    phone.ready_offline()
    server.stop()
    file = workshop["file"]
    assert isinstance(file, Path)
    bring_in(page, phone, file)
    assert isinstance(workshop["state"], str)
    expect(page.locator("body")).to_contain_text(f"Seal {workshop['state'][:8].upper()}")

    page.goto(f"{server.url}/#/records")
    expect(page.get_by_role("heading", name="Records", exact=True)).to_be_visible()
    page.goto(f"{server.url}/#/records/copies")
    expect(page.get_by_text("This workshop holds records already")).to_be_visible()
    tables = workshop["tables"]
    assert isinstance(tables, dict)
    for name in NAMES:
        text = downloaded(page, phone, f"{name.capitalize()} easelside-{name}.csv")
        assert rows(text) == rows(tables[name]), name
        assert text == tables[name], name

    whole = downloaded(page, phone, "Save everything")
    empty = Logbook.open(tmp_path / "another", StillClock(), durable=False)
    assert empty.import_json(io.BytesIO(whole)) == workshop["state"]
    assert empty.check().content
    empty.close()

    server.start()
    page.evaluate("() => window.dispatchEvent(new Event('online'))")
    page.goto(f"{server.url}/#/records")
    expect(page.get_by_text("saved on this phone and in the workshop")).to_be_visible(timeout=30_000)
    server.stop()
    there = Logbook.open(server.data, StillClock(), look_only=True)
    assert there.state_hash() == workshop["state"]
    there.close()


def rows(table: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(table.decode(), newline=""), strict=True))


def test_the_newest_session_is_opened_in_three_taps_and_shows_its_pieces(
    server: Server, phone: Phone, workshop: dict[str, object]
) -> None:
    page = phone.open(server.url)
    file = workshop["file"]
    assert isinstance(file, Path)
    bring_in(page, phone, file)
    page.goto(f"{server.url}/#/today")
    taps = phone.taps
    phone.touch(page.get_by_role("button", name="Chest"), page)
    phone.touch(page.locator(".chest-drawers").get_by_text("Records"), page)
    phone.touch(page.locator("[data-next]"), page)
    expect(page.get_by_role("heading", level=1)).to_have_text("C1: 26 good, 4 lost")
    assert phone.taps - taps == 3
    expect(page.locator("svg .piece-lost")).to_have_count(4)
    expect(page.locator("tbody tr")).to_have_count(4)
    phone.touch(page.get_by_role("button", name="Each piece"), page)
    expect(page.locator("tbody tr")).to_have_count(30)


def test_a_note_that_another_device_wrote_over_unseen_is_shown_beside_the_one_that_stands(
    server: Server, phone: Phone
) -> None:
    server.stop()
    book = Logbook.open(server.data, StillClock(), durable=False)
    load(book, datetime.now(UTC))
    c1 = next(r["id"] for r in book.all_records("batch") if r["fields"]["label"]["value"] == "C1")
    book.close()
    server.start()
    page = phone.open(f"{server.url}/#/records/batch/{c1}")
    expect(page.get_by_role("heading", level=1)).to_have_text("C1: 26 good, 4 lost", timeout=20_000)
    past = page.locator(".records-past")
    expect(past).to_contain_text("four torn at the shoulder")
    expect(past).to_contain_text("also changed on another device: four torn: the edge, not the cane stands")
    expect(past).to_contain_text("on Bench phone")


def test_with_text_twice_as_large_nothing_in_records_or_of_a_blade_runs_over_what_stands_beside_it(
    days: Callable[..., Day],
) -> None:
    day = days()
    page = day.page
    worn = next(id for id, blade in day.server.records("blade").items() if blade["label"] == "3")
    page.evaluate("() => { document.documentElement.style.fontSize = '200%'; }")
    go(page, "records")
    label = page.locator(".records-line .bag-label").first
    expect(label).to_be_visible()
    assert label.evaluate("(one) => one.scrollWidth <= one.clientWidth")
    go(page, f"care/blade/{worn}")
    cut = page.locator(".blade-head .answer")
    expect(cut).to_have_text("235")
    assert cut.evaluate("(one) => one.getClientRects().length") == 1
