"""The demonstration keeps its story: every number that its screens show comes out of the counting rules."""

import re
import uuid
from collections import Counter
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from easelside.exchange.rules import problem_with_change
from easelside.forecast.counting import Counting, Fact
from easelside.logbook.book import Logbook
from easelside.profiling.rules import outcome_of
from easelside.units import read_instant
from seed_demo.load import changes, load

ZONE = ZoneInfo("Europe/Berlin")
NOW = datetime(2026, 11, 25, 12, 50, tzinfo=UTC)


class Told:
    """The story's records, as they stand after its last change."""

    def __init__(self, now: datetime = NOW, zone: str = "Europe/Berlin") -> None:
        self.changes = changes(now, zone)
        fields: dict[tuple[str, str], dict[str, object]] = {}
        when: dict[tuple[str, str], dict[str, str]] = {}
        for change in self.changes:
            key = change["kind"], change["record"]
            fields.setdefault(key, {}).update(change["set"])
            when.setdefault(key, {}).update(dict.fromkeys(change["set"], change["made"]))
        self.fields = fields
        self.counting = Counting([Fact(k, i, f, when[k, i]) for (k, i), f in fields.items()], ZoneInfo(zone))

    def of(self, kind: str) -> dict[str, dict[str, object]]:
        return {id: fields for (k, id), fields in self.fields.items() if k == kind}

    def batch(self, label: str) -> str:
        return next(id for id, fields in self.of("batch").items() if fields["label"] == label)

    def came_of(self, label: str) -> dict[str, tuple[int, int, int]]:
        stages = self.counting.batches[self.batch(label)]
        return {stage: (s.good, s.second, s.lost) for stage, s in stages.items()}


@pytest.fixture(scope="module")
def told() -> Told:
    return Told()


def test_eleven_edges_lived_and_two_are_new(told: Told) -> None:
    labels = {id: fields["label"] for id, fields in told.of("blade").items()}
    lives = {f"{labels[edge.blade]}/{edge.life}": n for edge, n in told.counting.edges.items()}
    assert lives == {
        "1/1": 258, "1/2": 140, "1/3": 0, "2/1": 231, "3/1": 235, "4/1": 272, "4/2": 0, "5/1": 198,
        "5/2": 268, "6/1": 244, "7/1": 310, "7/2": 219, "8/1": 96,
    }  # fmt: skip


def test_there_are_two_machines_eight_blades_and_the_window_machine_holds_blade_four(told: Told) -> None:
    assert sorted(str(m["name"]) for m in told.of("machine").values()) == ["Door machine", "Window machine"]
    assert sorted(str(b["label"]) for b in told.of("blade").values()) == list("12345678")
    held = {
        told.of("machine")[machine]["name"]: told.of("blade")[blade]["label"]
        for machine, blade in told.counting.timeline.now.holds.items()
    }
    assert held == {"Window machine": "4"}


def test_the_open_batches_lie_where_the_story_says(told: Told) -> None:
    assert told.came_of("D1") == {"gouged": (24, 0, 0)}
    assert told.came_of("C1") == {"gouged": (30, 0, 0), "profiled": (26, 0, 4)}
    assert told.came_of("B7") == {"gouged": (30, 0, 0), "profiled": (28, 0, 2), "shaped": (28, 0, 0)}
    assert told.came_of("B6")["formed"] == (24, 0, 0)
    assert told.came_of("B1")["finished"] == (9, 0, 0)
    assert told.came_of("B1")["formed"] == (28, 0, 1)
    still_open = [f["label"] for f in told.of("batch").values() if not f.get("closed")]
    assert sorted(still_open) == ["A4", "B1", "B2", "B3", "B4", "B5", "B6", "B7", "C1", "D1"]


def test_lot_b_gave_196_good_of_205(told: Told) -> None:
    came = [told.came_of(f"B{n}")["profiled"] for n in range(1, 8)]
    assert (sum(g for g, _, _ in came), sum(sum(three) for three in came)) == (196, 205)


def test_the_last_month_is_told_piece_by_piece_but_for_two_days_in_totals(told: Told) -> None:
    labels = {id: f["label"] for id, f in told.of("batch").items()}
    pieces = Counter(labels[piece.batch] for piece in told.counting.pieces.values() if piece.batch)
    assert set(pieces.values()) == {30}
    assert {"A4", "B1", "B2", "B4", "B5", "B7", "C1"} < set(pieces) and len(pieces) == 8
    assert not {"B3", "B6"} & set(pieces)


def test_the_edge_of_blade_three_goes_off_slower_and_then_torn(told: Told) -> None:
    minutes = {}
    for label in ("B1", "B7", "C1"):
        pieces = [f for f in told.of("piece").values() if f["batch"] == told.batch(label)]
        spans = [read_instant(f["at"]) - read_instant(f["began"]) for f in pieces]  # type: ignore[operator]
        minutes[label] = sum(span.total_seconds() for span in spans) / 60 / len(spans)
    assert minutes["B1"] < minutes["B7"] < minutes["C1"]
    assert round(minutes["C1"] * 30) == 123
    lost = [
        p for p in told.counting.pieces.values() if p.batch == told.batch("C1") and outcome_of(p) == "lost"
    ]
    assert [(p.number, p.seen) for p in sorted(lost, key=lambda p: p.number or 0)] == [
        (9, ("torn",)), (15, ("torn",)), (22, ("torn",)), (29, ("torn",)),
    ]  # fmt: skip


def test_lot_a_is_harder_slower_and_loses_more(told: Told) -> None:
    lots = {f["label"]: id for id, f in told.of("lot").items()}
    share = {}
    for label in ("A", "Z"):
        batches = [id for id, f in told.of("batch").items() if f["lot"] == lots[label]]
        came = [told.counting.batches[b]["profiled"] for b in batches]
        share[label] = sum(c.lost for c in came) / sum(c.good + c.second + c.lost for c in came)
    assert share["A"] > 2 * share["Z"]
    marks = Counter(f["mark"] for f in told.of("soak").values() if f["lot"] == lots["A"] and "mark" in f)
    assert marks["still_hard"] == 2


def test_care_only_the_oil_of_the_window_machine_is_due_today(told: Told) -> None:
    due = {}
    for task in told.counting.tasks:
        found = told.counting.due(task, NOW)
        due[told.of("care_task")[task.id]["words"], task.machine or task.tool] = found
    is_due = [words for (words, _), found in due.items() if found.is_due]
    assert is_due == ["Oil the pivot"]
    clean = next(found for (words, _), found in due.items() if words == "Clean the arm")
    assert clean.due_day == date(2026, 12, 7)


def test_the_settings_of_the_window_machine_are_those_on_its_slips(told: Told) -> None:
    settings = sorted(told.of("setting").values(), key=lambda f: str(f["at"]))
    window = [f for f in settings if told.of("machine")[str(f["machine"])]["name"] == "Window machine"]
    now, before = window[-1], window[-2]
    assert (now["middle_stop"], now["shoulder_stop"], now["projection_mm"]) == (
        {"way": "turns", "value": 2.375}, {"way": "turns", "value": 1.25}, 0.05,
    )  # fmt: skip
    assert before["middle_stop"] == {"way": "turns", "value": 2.25}
    assert before["why"] == "middle stop 1/8 less"


def test_six_pieces_lie_in_the_water_and_are_ready_in_sixteen_minutes(told: Told) -> None:
    running = [f for f in told.of("soak").values() if "taken_out" not in f]
    assert len(running) == 1
    put_in = read_instant(running[0]["put_in"])
    assert put_in is not None
    ready = put_in + timedelta(seconds=float(str(running[0]["soak_s"])))
    assert ready - NOW == timedelta(minutes=16)
    assert (running[0]["pieces"], running[0]["batch"]) == (6, told.batch("D1"))


def test_nothing_in_the_story_lies_ahead_of_the_moment_it_is_loaded() -> None:
    for now in (NOW, datetime(2027, 3, 28, 0, 5, tzinfo=UTC), datetime(2028, 2, 29, 23, 59, tzinfo=UTC)):
        story = changes(now, "Pacific/Auckland")
        assert max(change["made"] for change in story) <= now.isoformat(timespec="milliseconds").replace(
            "+00:00", "Z"
        )
        assert [change["made"] for change in story] == sorted(change["made"] for change in story)


@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/Los_Angeles", "Asia/Kolkata"])
@pytest.mark.parametrize("now", [NOW, datetime(2027, 4, 4, 7, 30, tzinfo=UTC)])
def test_the_edges_count_the_same_in_any_zone_and_season(now: datetime, zone: str) -> None:
    told = Told(now, zone)
    assert sorted(told.counting.edges.values()) == [
        0,
        0,
        96,
        140,
        198,
        219,
        231,
        235,
        244,
        258,
        268,
        272,
        310,
    ]


def test_the_same_moment_tells_the_same_story_word_for_word() -> None:
    assert changes(NOW, "Europe/Berlin") == changes(NOW, "Europe/Berlin")


def test_every_id_is_a_uuid_of_its_kind_and_none_is_used_twice(told: Told) -> None:
    ids = [change["id"] for change in told.changes]
    assert len(set(ids)) == len(ids)
    assert {uuid.UUID(id).version for id in ids} == {7}
    assert {uuid.UUID(id).version for kind, id in told.fields if kind == "piece"} == {8}
    assert all(re.fullmatch(r"[0-9a-f-]{36}", id) for _, id in told.fields)


def test_every_reference_leads_to_a_record(told: Told) -> None:
    kinds = {"batch": "batch", "lot": "lot", "machine": "machine", "blade": "blade", "session": "session",
             "setting": "setting", "task": "care_task"}  # fmt: skip
    for (_, _), fields in told.fields.items():
        for name, kind in kinds.items():
            if fields.get(name) is not None:
                assert (kind, fields[name]) in told.fields, (name, fields)


def test_every_change_is_well_formed_as_a_phone_s_must_be(told: Told) -> None:
    assert {problem_with_change(change) for change in told.changes} == {None}


class StillClock:
    def now(self) -> datetime:
        return NOW


def test_a_logbook_takes_the_whole_story(tmp_path: Path, told: Told) -> None:
    book = Logbook.open(tmp_path, StillClock())
    steps: list[tuple[int, int]] = []
    try:
        taken = load(book, NOW, "Europe/Berlin", lambda done, of: steps.append((done, of)))
        assert book.end()["seq"] == taken == len(told.changes) == steps[-1][0]
        assert sum(book.kinds().values()) == len(told.fields)
    finally:
        book.close()


def test_a_note_written_on_two_devices_unseen_leaves_the_earlier_one_in_the_history(
    tmp_path: Path, told: Told
) -> None:
    book = Logbook.open(tmp_path, StillClock(), durable=False)
    try:
        load(book, NOW)
        batch = told.batch("C1")
        record = book.record("batch", batch)
        assert record is not None
        assert record["fields"]["note"]["value"] == "four torn: the edge, not the cane"
        notes = [row["set"]["note"] for row in book.history("batch", batch) if "note" in row["set"]]
        assert notes == ["four torn at the shoulder", "four torn: the edge, not the cane"]
    finally:
        book.close()
