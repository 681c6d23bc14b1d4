"""What the demonstration must lead to: the sentences first, then what was known at that moment."""

import math
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from easelside.blades.model import Edge
from easelside.clock import FakeClock
from easelside.forecast import pace_slips
from easelside.forecast.past import Past
from easelside.forecast.watch_fit import watch_edge
from easelside.forecast.watch_slips import cuts_on, found_now, watch_of
from easelside.logbook.book import Logbook
from easelside.profiling.pace import quantile
from easelside.units import write_instant
from seed_demo.load import changes

Story = list[dict[str, Any]]
NOW = datetime(2026, 11, 25, 12, 50, tzinfo=UTC)
# "Blade 3: this edge is going off. Look at it before the next batch": said at piece 204 at the latest, ten
# pieces before piece 214, the first that it tore.
FIRST_TORN = 214
# "Lot A takes about a fifth longer than your other lots (10 to 31 %, 9 times in 10)." It was cut late on its
# edge: a part of its minutes may be the edge's.
HARD_LOT_SLOWER = (1.12, 1.45)


@pytest.fixture(scope="module")
def story() -> Story:
    return changes(NOW, "Europe/Berlin")


def past_as_of(story: Story, until: datetime, folder: Path) -> Past:
    """What a server knew that had everything up to then and nothing after it."""
    book = Logbook.open(folder, FakeClock(until), durable=False)
    try:
        known: Any = [change for change in story if change["made"] <= write_instant(until)]
        for first in range(0, len(known), 500):
            book.receive(known[0]["device"], write_instant(until), known[first : first + 500])
        with book.view() as view:
            return Past.read(view, until)
    finally:
        book.close()


def window(past: Past) -> int:
    return [past.label("machine", id) for id in past.machines].index("Window machine")


def edge_of(past: Past, label: str) -> Edge:
    return next(Edge(e.blade, e.life) for e in past.edges if past.label("blade", e.blade) == label)


def test_the_first_piece_that_the_edge_tore_is_the_214th(story: Story, tmp_path: Path) -> None:
    past = past_as_of(story, NOW, tmp_path)
    edge = [(e.blade, e.life) for e in past.edges].index((edge_of(past, "3").blade, 1))
    torn = {f["record"] for f in story if f["kind"] == "piece" and "torn" in f["set"].get("seen", [])}
    assert len(torn) == 4
    last_day = (past.pieces.edge == edge) & (past.pieces.age >= 205) & (past.pieces.outcome == 2)
    assert past.pieces.age[last_day].min() + 1 == FIRST_TORN


def test_the_edge_is_named_ten_pieces_before_the_first_that_it_tears(story: Story, tmp_path: Path) -> None:
    """By what a phone was given that morning, of the pieces as they came off; and it stays named."""
    whole = past_as_of(story, NOW, tmp_path / "whole")
    edge = edge_of(whole, "3")
    morning = datetime(2026, 11, 20, 9, 0, tzinfo=UTC)
    before = past_as_of(story, morning, tmp_path / "morning")
    watched = watch_of(before, window(before))
    assert watched.by is not None
    # lots and sessions keep their places in both: new ones come after the older
    cuts = [cut for cut in cuts_on(whole, whole.pieces, watched, edge) if cut.age < FIRST_TORN]
    found = watch_edge(watched.by, cuts)
    assert found.named is not None
    assert found.named + 1 <= FIRST_TORN - 10
    assert found.onset is not None and 180 <= found.onset <= 200


def test_the_evening_before_the_torn_pieces_the_server_has_named_it(story: Story, tmp_path: Path) -> None:
    past = past_as_of(story, datetime(2026, 11, 22, 18, 0, tzinfo=UTC), tmp_path)
    found = found_now(past, watch_of(past, window(past)))
    assert found is not None and found.named is not None and found.named + 1 <= FIRST_TORN - 10


@pytest.mark.parametrize("day", [8, 13, 15, 17])
def test_it_is_not_named_while_it_is_well(story: Story, tmp_path: Path, day: int) -> None:
    past = past_as_of(story, datetime(2026, 11, day, 20, 0, tzinfo=UTC), tmp_path)
    found = found_now(past, watch_of(past, window(past)))
    assert found is not None and found.named is None


def test_the_new_edge_is_not_named(story: Story, tmp_path: Path) -> None:
    past = past_as_of(story, NOW, tmp_path)
    found = found_now(past, watch_of(past, window(past)))
    assert found is not None and found.named is None


def test_the_hard_lot_is_called_slower_and_by_how_much(story: Story, tmp_path: Path) -> None:
    past = past_as_of(story, NOW, tmp_path)
    said = {past.label("lot", s.subject): s.body for s in pace_slips.slips(past) if s.kind == "minutes"}
    beside: Any = said["A"]["beside"]
    slower, error = math.exp(beside["slower"]), beside["error"]
    degrees: Any = next(s.body["degrees"] for s in pace_slips.slips(past) if s.subject == "all")
    reach = quantile(0.9, degrees)
    low, high = (slower * math.exp(sign * reach * error) for sign in (-1, 1))
    assert HARD_LOT_SLOWER[0] < slower < HARD_LOT_SLOWER[1]
    assert low > 1.05
    # the minutes that the story gives to lot A, and to Z, B and C by the pieces that were fully counted
    usual = math.exp((30 * math.log(3.05) + 149 * math.log(3.02) + 30 * math.log(3.58)) / 209)
    assert low < 4.0 / usual < high
    others: list[Any] = [body["beside"] for label, body in said.items() if label in ("B", "C", "Z")]
    assert all(math.exp(b["slower"] - reach * b["error"]) < 1.05 for b in others)
