"""What the phones are told of how many of each lot come out good."""

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from scipy import stats

from easelside.clock import FakeClock
from easelside.forecast.counting import Fact
from easelside.forecast.past import Past
from easelside.forecast.rules import pieces_to_start
from easelside.forecast.slip import Slip
from easelside.forecast.yield_slips import MOST_LOTS, slips
from easelside.forecast.yields_fit import between_lots
from easelside.logbook.book import Logbook
from easelside.units import Fields, write_instant
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)


def told(past: Past) -> dict[str, Slip]:
    found = list(slips(past))
    assert all(slip.kind == "yields" for slip in found)
    assert len({slip.subject for slip in found}) == len(found)
    return {slip.subject: slip for slip in found}


def lots(*labels: str) -> list[Fact]:
    """A lot of each label, with one batch."""
    return [
        *(Fact("lot", f"lot-{label}", {"label": label}) for label in labels),
        *(Fact("batch", f"batch-{label}", {"label": f"{label}1", "lot": f"lot-{label}"}) for label in labels),
    ]


def tally(label: str, stage: str, days_ago: int = 1, **said: object) -> Fact:
    at = write_instant(NOW - timedelta(days=days_ago))
    fields: Fields = {"batch": f"batch-{label}", "stage": stage, "at": at, **said}
    return Fact("tally", f"{label}-{stage}-{days_ago}-{said}", fields)


def cut(label: str, *outcomes: str) -> list[tuple[object, ...]]:
    """Rows of finished pieces: session, number, batch, machine, outcome, at, minutes, turns, whole."""
    at = [write_instant(NOW - timedelta(minutes=500 - n)) for n in range(len(outcomes))]
    rows = zip(outcomes, at, strict=True)
    return [
        ("s", n, f"batch-{label}", "m", outcome, when, 6.0, 0, True) for n, (outcome, when) in enumerate(rows)
    ]


def test_pieces_and_tallies_of_a_lot_are_counted_together() -> None:
    facts = [*lots("C"), tally("C", "profiled", good=20, second_count=1, lost_by={"torn": 2, "split": 1})]
    past = Past(facts, cut("C", *["good"] * 6, "lost"), NOW)
    body = told(past)["lot-C"].body
    assert body["stages"] == {"profiled": [26, 1, 4]}
    assert told(past)["lot-C"].observations == 31
    assert body["batches"] == [["C1", "2026-11-24", 26, 31]]


def test_a_lot_that_was_hardly_cut_says_how_many_pieces_are_wanting() -> None:
    found = told(Past(lots("D"), cut("D", "good", "good", "lost"), NOW))
    assert found["lot-D"].body["wanting"] == 12


def test_each_stage_stands_for_itself_in_the_order_of_the_work() -> None:
    facts = [
        *lots("C"),
        tally("C", "formed", good=20, lost_by={"split": 2}),
        tally("C", "profiled", good=22, lost_by={"torn": 2}),
    ]
    body = told(Past(facts, [], NOW))["lot-C"].body
    assert body["stages"] == {"profiled": [22, 0, 2], "formed": [20, 0, 2]}
    assert list(body["stages"]) == ["profiled", "formed"]  # type: ignore[call-overload]


def test_where_a_batch_stood_at_first_is_no_yield() -> None:
    facts = [*lots("C"), tally("C", "profiled", started=40, opening=True)]
    assert told(Past(facts, [], NOW)) == {}


def test_with_no_cane_cut_nothing_is_told() -> None:
    assert told(Past([], [], NOW)) == {}
    assert told(Past(lots("C"), [], NOW)) == {}


def test_what_was_removed_does_not_count() -> None:
    facts = [*lots("C"), tally("C", "profiled", good=20, removed=True)]
    assert told(Past(facts, [], NOW)) == {}


def test_a_lot_that_loses_more_is_held_against_the_others() -> None:
    facts = [
        *lots("A", "B"),
        tally("A", "profiled", good=20, lost_by={"split": 10}),
        tally("B", "profiled", good=196, lost_by={"torn": 9}),
    ]
    found = told(Past(facts, [], NOW))
    assert found["lot-A"].body["others"] == [196, 205]
    expected = stats.fisher_exact([[20, 10], [196, 9]], alternative="less").pvalue
    assert found["lot-A"].body["by_chance"] == pytest.approx(expected, abs=1e-4)
    assert found["lot-B"].body["by_chance"] == pytest.approx(1, abs=1e-3)


def test_only_the_lots_that_were_cut_last_are_told() -> None:
    labels = [f"L{n}" for n in range(MOST_LOTS + 5)]
    facts = [*lots(*labels), *(tally(label, "profiled", n + 1, good=20) for n, label in enumerate(labels))]
    found = told(Past(facts, [], NOW))
    assert set(found) == {"all", *(f"lot-{label}" for label in labels[:MOST_LOTS])}
    assert found["all"].observations == 20 * len(labels)


def test_lots_that_differ_make_the_next_one_less_sure() -> None:
    alike = between_lots([(27, 30), (28, 30), (26, 30), (27, 30)] * 2)
    unlike = between_lots([(30, 30), (18, 30), (29, 30), (22, 30)] * 2)
    assert unlike.a + unlike.b < alike.a + alike.b
    assert alike.a / (alike.a + alike.b) == pytest.approx(0.9, abs=0.02)


def test_with_no_lot_so_far_only_the_prior_speaks() -> None:
    assert (between_lots([]).a, between_lots([(0, 0)]).b) == (0.5, 0.5)


def test_how_much_lots_differ_is_found_again() -> None:
    chance = np.random.default_rng(11)
    good = chance.binomial(60, chance.beta(18, 2, 300))
    found = between_lots([(int(x), 60) for x in good])
    assert found.a / (found.a + found.b) == pytest.approx(0.9, abs=0.01)
    assert found.a + found.b == pytest.approx(20, rel=0.25)


def test_in_the_demo_24_good_need_32_started_of_lot_c(tmp_path_factory: pytest.TempPathFactory) -> None:
    with Logbook.open(tmp_path_factory.mktemp("demo"), FakeClock(NOW), durable=False) as book:
        load(book, NOW)
        with book.view() as view:
            past = Past.read(view, NOW)
    lot_c = next(fact.id for fact in past.of("lot") if fact.fields["label"] == "C")
    good, second, lost = told(past)[lot_c].body["stages"]["profiled"]  # type: ignore[call-overload,index]
    assert (good, good + second + lost) == (26, 30)
    assert pieces_to_start(24, (good, good + second + lost), 0.9) == 32
