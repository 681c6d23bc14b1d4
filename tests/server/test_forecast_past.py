"""The past in columns agrees with counting piece by piece."""

import json
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest

from easelside.clock import FakeClock
from easelside.forecast.counting import Counting, Fact
from easelside.forecast.current import fact_of
from easelside.forecast.past import OUTCOMES, Past
from easelside.logbook.book import Logbook
from easelside.profiling.rules import outcome_of
from easelside.units import read_instant, write_instant
from seed_demo.load import load

ALL_CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "counting.json").read_text())["cases"]


def is_plain(record: dict) -> bool:
    """A piece parted from another lies, in columns, where its own number says; one without a time nowhere."""
    fields = record["fields"]
    return record["kind"] != "piece" or ("at" in fields and "parted_from" not in fields)


CASES = [case for case in ALL_CASES if all(map(is_plain, case["records"]))]
NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)


def rows_of(counting: Counting) -> list[tuple]:
    """As the logbook's table has them."""
    rows = []
    for piece in counting.pieces.values():
        if outcome_of(piece) and piece.at:
            at = write_instant(piece.at)
            rows.append(
                (
                    piece.session,
                    piece.number,
                    piece.batch,
                    piece.machine,
                    outcome_of(piece),
                    at,
                    None,
                    0,
                    True,
                )
            )
    return rows


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_every_edge_has_the_pieces_that_counting_gives_it(case: dict) -> None:
    now = read_instant(case["now"])
    assert now is not None
    facts = [Fact(r["kind"], r["id"], r["fields"], r.get("when", {})) for r in case["records"]]
    workshop = [Fact("workshop", "00000000-0000-8000-8000-000000000001", {"time_zone": case["time_zone"]})]
    past_facts = [fact for fact in facts if fact.kind not in ("piece", "workshop")] + workshop
    probe = Past(past_facts, [], now)
    counting = Counting(facts, probe.zone)
    past = Past(past_facts, rows_of(counting), now)
    assert {(e.blade, e.life): e.pieces for e in past.edges} == {
        (edge.blade, edge.life): n for edge, n in counting.edges.items()
    }


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Past, Counting]:
    with Logbook.open(tmp_path_factory.mktemp("demo"), FakeClock(NOW), durable=False) as book:
        load(book, NOW)
        with book.view() as view:
            past = Past.read(view, NOW)
        return past, Counting((fact_of(record) for record in book.all_records()), past.zone)


def test_in_the_demo_every_edge_has_the_pieces_that_counting_gives_it(demo: tuple[Past, Counting]) -> None:
    past, counting = demo
    found = {(e.blade, e.life): e.pieces for e in past.edges}
    assert found == {(edge.blade, edge.life): n for edge, n in counting.edges.items()}
    assert sum(found.values()) > 1000


def test_in_the_demo_every_column_says_what_the_piece_says(demo: tuple[Past, Counting]) -> None:
    past, counting = demo
    finished = [p for p in counting.pieces.values() if outcome_of(p) and p.at]
    finished.sort(key=lambda piece: piece.at or NOW)
    columns = past.pieces
    assert len(columns) == len(finished) > 200
    assert np.allclose(columns.at_s, [piece.at.timestamp() for piece in finished if piece.at])
    assert [past.batches[b] for b in columns.batch] == [piece.batch for piece in finished]
    edges = [counting.cut_by.get(piece.id) for piece in finished]
    assert [(past.edges[e].blade, past.edges[e].life) for e in columns.edge] == [
        (e.blade, e.life) for e in edges if e
    ]
    by_outcome = {OUTCOMES[name] for name in map(outcome_of, counting.pieces.values()) if name}
    assert set(columns.outcome.tolist()) == by_outcome


def test_in_the_demo_the_last_piece_of_an_edge_has_all_the_others_before_it(
    demo: tuple[Past, Counting],
) -> None:
    past, _ = demo
    columns, seen = past.pieces, 0
    for i, edge in enumerate(past.edges):
        here = np.flatnonzero(columns.edge == i)
        if len(here) == 0:
            continue
        assert (np.diff(columns.age[here]) >= 1).all()
        if not any(at > columns.at_s[here[-1]] for at, _ in past._tallied.get(past._edges[i], ())):
            assert columns.age[here[-1]] == edge.pieces - 1
            seen += 1
    assert seen > 0
