"""The demonstration's records as a folder of tables: what counting says stands in them."""

import csv
from datetime import UTC, datetime

import pytest

from easelside.forecast.csv_files import write_csv
from easelside.logbook.book import Logbook
from easelside.records.columns import HEADERS, NAMES
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 12, 50, tzinfo=UTC)


class StillClock:
    def now(self) -> datetime:
        return NOW


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[dict[str, str]]]:
    folder = tmp_path_factory.mktemp("demo")
    book = Logbook.open(folder / "data", StillClock(), durable=False)
    load(book, NOW)
    files = write_csv(book, folder / "tables")
    book.close()
    found = {}
    for path in files:
        with path.open(encoding="utf-8", newline="") as file:
            found[path.stem.removeprefix("easelside-")] = list(csv.DictReader(file, strict=True))
    return found


def test_every_table_is_written_with_its_columns(tables: dict[str, list[dict[str, str]]]) -> None:
    assert set(tables) == set(NAMES)
    for name, rows in tables.items():
        assert tuple(rows[0]) == HEADERS[name]


def test_the_pieces_of_the_worn_edge_carry_edge_lot_and_minutes(
    tables: dict[str, list[dict[str, str]]],
) -> None:
    rows = [row for row in tables["pieces"] if row["batch"] == "C1"]
    assert [row["number"] for row in rows] == [str(n) for n in range(1, 31)]
    assert {(row["day"], row["lot"], row["blade"], row["edge"]) for row in rows} == {
        ("2026-11-23", "C", "3", "1")
    }
    assert [float(row["minutes"]) for row in rows[-6:]] == pytest.approx(
        [4.3, 4.2, 4.6, 4.4, 4.7, 4.5], abs=0.02
    )
    assert [row["number"] for row in rows if row["outcome"] == "lost"] == ["9", "15", "22", "29"]
    assert rows[28]["seen"] == "torn"


def test_pieces_and_tallies_together_give_each_edge_its_count(
    tables: dict[str, list[dict[str, str]]],
) -> None:
    on_edge: dict[str, int] = {}
    for row in tables["pieces"]:
        edge = f"{row['blade']}/{row['edge']}"
        on_edge[edge] = on_edge.get(edge, 0) + 1
    for row in tables["tallies"]:
        if row["stage"] == "profiled":
            edge = f"{row['blade']}/{row['edge']}"
            on_edge[edge] = on_edge.get(edge, 0) + int(row["started"])
    assert on_edge == {
        "1/1": 258, "1/2": 140, "2/1": 231, "3/1": 235, "4/1": 272, "5/1": 198, "5/2": 268, "6/1": 244,
        "7/1": 310, "7/2": 219, "8/1": 96,
    }  # fmt: skip


def test_a_session_sums_its_pieces(tables: dict[str, list[dict[str, str]]]) -> None:
    last = tables["sessions"][-1]
    assert (last["batches"], last["good"], last["second"], last["lost"]) == ("C1", "26", "0", "4")
    assert (last["lots"], last["blades"], last["edges"], last["minutes_a_piece"]) == ("C", "3", "1", "4.11")


def test_batches_stand_in_the_order_of_their_days_with_every_stage(
    tables: dict[str, list[dict[str, str]]],
) -> None:
    days = [row["planned_day"] for row in tables["batches"]]
    assert days == sorted(days)
    b1 = next(row for row in tables["batches"] if row["label"] == "B1")
    assert (b1["profiled_good"], b1["formed_good"], b1["formed_lost"], b1["finished_good"]) == (
        "29",
        "28",
        "1",
        "9",
    )


def test_a_soak_still_in_the_water_has_no_minutes(tables: dict[str, list[dict[str, str]]]) -> None:
    running = [row for row in tables["soaks"] if not row["taken_out"]]
    assert [(row["batch"], row["pieces"], row["minutes"], row["planned_minutes"]) for row in running] == [
        ("D1", "6", "", "30")
    ]
