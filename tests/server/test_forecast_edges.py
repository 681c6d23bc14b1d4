"""What is said of edges, of grinding and of care, from the records of a small workshop and of the demo."""

import json
import random
from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from easelside.clock import FakeClock
from easelside.forecast import care_slips, edge_slips, grinding_slips
from easelside.forecast.counting import Fact
from easelside.forecast.current import WORKSHOP
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.logbook.book import Logbook
from easelside.units import Fields, write_instant
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
MACHINE = "m"


def ago(days: float) -> str:
    return write_instant(NOW - timedelta(days=days))


class Told:
    """A workshop told fact by fact; every batch is written up as a total."""

    def __init__(self, **machine: object) -> None:
        self.facts = [
            Fact("workshop", WORKSHOP, {"time_zone": "Europe/Berlin"}),
            Fact("machine", MACHINE, {"name": "Window machine", "bow_after_pieces": 200, **machine}),
        ]

    def say(self, kind: str, **fields: Any) -> "Told":
        self.facts.append(Fact(kind, f"{kind}-{len(self.facts)}", fields))
        return self

    def fitted(self, blade: str, days: float) -> "Told":
        return self.say("blade_move", blade=blade, machine=MACHINE, what="fitted", at=ago(days))

    def moved(self, blade: str, what: str, days: float) -> "Told":
        return self.say("blade_move", blade=blade, what=what, at=ago(days))

    def cut(self, pieces: int, days: float) -> "Told":
        return self.say("tally", stage="profiled", machine=MACHINE, at=ago(days), started=pieces, good=pieces)

    def edges(self, lives: list[int]) -> "Told":
        """One edge after the other, thirty days each, the last one ending a hundred days ago."""
        for i, pieces in enumerate(reversed(lives)):
            first = 130 + 30 * i
            self.fitted(f"blade-{i}", first).cut(pieces, first - 5)
            self.moved(f"blade-{i}", "sent", first - 20).moved(f"blade-{i}", "back", first - 28)
        return self

    def past(self) -> Past:
        return Past(self.facts, [], NOW)


LIVES = [198, 219, 231, 244, 258, 268, 272, 310]


def body(slips: Iterator[Slip], subject: str) -> dict[str, Any]:
    found = [slip.body for slip in slips if slip.subject == subject]
    assert len(found) == 1
    return found[0]


def test_a_new_workshop_hears_common_practice_and_how_many_edges_are_wanting() -> None:
    said = body(edge_slips.slips(Told().fitted("4", 3).cut(24, 1).past()), "all")
    assert (said["ended"], said["cutting"], said["wanting"]) == (0, 1, 4)
    assert 200 < said["scale"] < 320


def test_the_makers_own_edges_replace_it() -> None:
    said = body(edge_slips.slips(Told().edges(LIVES).past()), "all")
    assert (said["ended"], said["wanting"]) == (8, 0)
    assert 245 < said["scale"] < 285
    assert said["scale_interval"][0] < said["scale"] < said["scale_interval"][1]
    assert [step[0] for step in said["steps"]] == LIVES
    assert sum(weight for _, _, weight in said["nodes"]) == pytest.approx(1, abs=1e-3)


def test_an_edge_in_use_has_pieces_left_and_the_days_in_which_it_is_off() -> None:
    told = Told().edges(LIVES).fitted("4", 60)
    for days in (50, 43, 36, 29, 22, 15, 8, 1):
        told.cut(20, days)
    said = body(edge_slips.slips(told.past()), "4")
    assert said["pieces"] == 160
    assert 0 < said["left"]["lower"] < said["left"]["median"] < said["left"]["upper"]
    assert 60 < said["left"]["median"] < 120
    ends = [date.fromisoformat(said["ends"][part]) for part in ("lower", "median", "upper")]
    assert date(2026, 11, 25) <= ends[0] < ends[1] < ends[2]
    assert timedelta(15) < ends[1] - date(2026, 11, 25) < timedelta(60)


@pytest.mark.parametrize("limit", [60, 150, 200, 1000])
def test_a_bow_is_looked_for_never_later_than_at_the_makers_own_limit(limit: int) -> None:
    said = body(edge_slips.slips(Told(bow_after_pieces=limit).edges(LIVES).fitted("4", 9).past()), "4")
    assert said["look_at"] <= said["limit"] == limit
    assert said["look_at"] <= 200  # one in ten is off by then, whatever the limit


def test_an_edge_taken_out_early_only_lasted_and_a_used_one_laid_aside_was_off() -> None:
    told = Told().fitted("1", 90).cut(80, 85).fitted("2", 60).cut(220, 50).fitted("3", 20).cut(40, 2)
    past = told.past()
    worn_off = {edge.blade: edge_slips.is_worn_off(past, edge) for edge in past.edges}
    assert worn_off == {"1": False, "2": True, "3": False}
    assert {slip.subject for slip in edge_slips.slips(past)} == {"all", "1", "3"}


def test_a_blade_away_says_nothing_of_what_is_left() -> None:
    told = Told().fitted("1", 90).cut(220, 85).moved("1", "sent", 3)
    assert {slip.subject for slip in edge_slips.slips(told.past())} == {"all"}


def test_a_change_of_blade_is_not_foreseen_in_front_of_a_batch() -> None:
    told = Told().edges(LIVES).fitted("4", 60)
    for days in (50, 43, 36, 29, 22, 15, 8, 1):
        told.cut(20, days)
    end = date.fromisoformat(body(edge_slips.slips(told.past()), "4")["ends"]["median"])
    told.say("batch", label="D", planned_day=end.isoformat(), pieces=24)
    moved = body(edge_slips.slips(told.past()), "4")["change"]
    assert moved == {"day": (end - timedelta(2)).isoformat(), "moved": "before"}


def test_the_way_to_the_grinder_is_learned_from_what_was_sent_and_came_back() -> None:
    told = Told().edges(LIVES).cut(24, 3)
    said = body(grinding_slips.slips(told.past()), "workshop")
    assert said["sendings"] == 8
    assert said["turnaround_days"] == pytest.approx((8 * 8 + 14) / 9, abs=0.01)


def test_so_many_blades_are_needed_that_one_is_wanting_at_most_once_in_twenty() -> None:
    told = Told().edges(LIVES)
    for days in range(1, 80, 2):
        told.cut(30, days)
    said = body(grinding_slips.slips(told.past()), "workshop")
    without = {n: chance for n, chance, _ in said["without"]}
    assert without[said["needed"]] <= 0.05 < without[said["needed"] - 1]
    assert said["ahead"]["lower"] < said["ahead"]["median"] < said["ahead"]["upper"]


def test_without_work_no_number_of_blades_is_said() -> None:
    said = body(grinding_slips.slips(Told().past()), "workshop")
    assert "needed" not in said
    assert said["wanting"] == 4


def care(told: Told, **task: object) -> dict[str, Any]:
    fields: Fields = {"since": ago(30), **task}
    told.facts.append(Fact("care_task", "oil", fields))
    return body(care_slips.slips(told.past()), "oil")


def worked() -> Told:
    told = Told().fitted("4", 60)
    for days in range(2, 58, 4):
        told.cut(20, days)
    return told


def test_care_by_pieces_is_due_in_a_range_of_days() -> None:
    said = care(worked(), what="oil", machine=MACHINE, every_pieces=240)
    assert said["pieces_left"] == 240 - 7 * 20
    lower, median, upper = (date.fromisoformat(said["due"][part]) for part in ("lower", "median", "upper"))
    assert date(2026, 11, 25) <= lower < median < upper
    assert timedelta(8) <= median - date(2026, 11, 25) <= timedelta(26)
    assert said["by"] == "pieces"


def test_care_by_days_is_due_on_its_day() -> None:
    said = care(worked(), what="oil", machine=MACHINE, every_pieces=900, every_days=40)
    assert said["due"]["upper"] == said["due"]["median"] == "2026-12-05"
    assert said["by"] == "days"


def test_care_that_was_put_off_is_not_foreseen_before_that_day() -> None:
    told = worked().say("care_done", task="oil", what="put_off", at=ago(1), until_day="2026-12-20")
    said = care(told, what="oil", machine=MACHINE, every_pieces=100)
    assert said["due"]["lower"] == "2026-12-20"


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Past:
    folder: Path = tmp_path_factory.mktemp("demo")
    with Logbook.open(folder, FakeClock(NOW), durable=False) as book:
        load(book, NOW)
        with book.view() as view:
            return Past.read(view, NOW)


def test_the_demos_edges_last_as_its_story_says(demo: Past) -> None:
    labels = {fact.id: demo.label("blade", fact.id) for fact in demo.of("blade")}
    slips = {labels.get(slip.subject, slip.subject): slip.body for slip in edge_slips.slips(demo)}
    assert set(slips) == {"all", "4", "1"}
    assert 235 < slips["all"]["scale"] < 275
    assert slips["all"]["ended"] >= 9
    assert 200 < slips["4"]["left"]["median"] < 260
    assert "ends" in slips["4"]


def test_all_that_is_said_is_small_and_plain(demo: Past) -> None:
    for make in (edge_slips, grinding_slips, care_slips):
        for slip in make.slips(demo):
            assert len(json.dumps(slip.body, allow_nan=False)) < 4000


def test_a_blade_of_harder_steel_speaks_for_itself() -> None:
    told = Told().edges(LIVES)
    for i, pieces in enumerate((900, 1010, 1100, 980)):
        first = 900 - 100 * i
        told.fitted("hard", first).cut(pieces, first - 30)
        told.moved("hard", "sent", first - 60).moved("hard", "back", first - 70)
    told.fitted("hard", 40).cut(300, 20)
    slips = list(edge_slips.slips(told.past()))
    hard, rest = body(iter(slips), "hard"), body(iter(slips), "all")
    assert (hard["apart"], hard["law"]["ended"], rest["ended"]) == ("blade", 4, 8)
    assert 500 < hard["left"]["median"] < 900
    assert 245 < rest["scale"] < 285


def test_blades_that_last_alike_are_taken_together() -> None:
    told = Told().edges([*LIVES, 240, 251]).fitted("blade-0", 3)
    assert body(edge_slips.slips(told.past()), "blade-0")["apart"] is None


ODD = (
    None,
    "",
    True,
    -5,
    0,
    1,
    24,
    1e14,
    1e300,
    "x",
    [],
    "2026-11-20",
    "9999-12-31T23:59:59.000Z",
    "9999-12-31",
)
WHATS = ("fitted", "fitted", "sent", "back", "ground", "retired", "taken_out", "change", "done", "put_off")
KINDS = (
    "machine",
    "blade_move",
    "blade_move",
    "tally",
    "tally",
    "care_task",
    "care_done",
    "batch",
    "session",
)


def something_odd(chance: random.Random, number: int) -> Fact:
    """A record as nobody should write it, half of it likely, half of it anything."""
    at = ago(chance.uniform(-5, 700))
    likely: dict[str, object] = {
        "machine": chance.choice(("m0", "m1")),
        "blade": chance.choice(("b0", "b1", "b2")),
        "what": chance.choice(WHATS),
        **dict.fromkeys(("at", "began", "since"), at),
        "stage": chance.choice(("profiled", "profiled", "formed")),
        "started": chance.randint(0, 300),
        "opening": chance.random() < 0.3,
        **{f"every_{of}": chance.randint(1, 300) for of in ("pieces", "sessions", "days")},
        "task": f"r{chance.randint(0, 40)}",
        "planned_day": chance.choice(("2026-11-26", "2026-11-27")),
        "until_day": "2026-12-01",
        "bow_after_pieces": chance.choice((1, 200)),
    }
    fields = {name: chance.choice(ODD) if chance.random() < 0.1 else value for name, value in likely.items()}
    kind = chance.choice(KINDS)
    id = chance.choice(("m0", "m1")) if kind == "machine" else f"r{number}"
    return Fact(kind, id, {name: value for name, value in fields.items() if value is not None})


@pytest.mark.parametrize("seed", range(40))
def test_odd_records_leave_what_is_foreseen_standing(seed: int) -> None:
    chance = random.Random(seed)
    past = Past([something_odd(chance, n) for n in range(chance.randint(0, 60))], [], NOW)
    for make in (edge_slips, grinding_slips, care_slips):
        for slip in make.slips(past):
            json.dumps(slip.body, allow_nan=False)
