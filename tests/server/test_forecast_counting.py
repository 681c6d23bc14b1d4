"""Counting, held to the cases that the client is held to as well."""

import json
from datetime import datetime
from pathlib import Path

import pytest

from easelside.forecast.counting import Counting, Fact
from easelside.soak.model import read_soak
from easelside.soak.rules import ready_at
from easelside.units import read_instant, write_instant, zone_of

CASES = json.loads((Path(__file__).parents[1] / "shared_cases" / "counting.json").read_text())["cases"]


def counted(case: dict) -> tuple[Counting, datetime]:
    facts = [Fact(r["kind"], r["id"], r["fields"], r.get("when", {})) for r in case["records"]]
    now = read_instant(case["now"])
    assert now is not None
    return Counting(facts, zone_of(case["time_zone"])), now


def found(case: dict) -> dict:
    """What the server counts, in the words of the cases."""
    counting, now = counted(case)
    expected = case["expect"]
    care = {task.id: counting.due(task, now) for task in counting.tasks}
    put_in = [read_soak(r["id"], r["fields"]) for r in case["records"] if r["kind"] == "soak"]
    soaks = {soak.id: ready_at(soak) for soak in put_in}
    everything = {
        "edges": [{"blade": e.blade, "life": e.life, "pieces": n} for e, n in counting.edges.items()],
        "cut_by": {piece: [edge.blade, edge.life] for piece, edge in counting.cut_by.items()},
        "batches": {b: {s: vars(stand) for s, stand in by.items()} for b, by in counting.batches.items()},
        "sessions": len(counting.sessions_once),
        "soaks": {id: {"ready_at": at and write_instant(at)} for id, at in soaks.items()},
        "care": {
            id: {fact: plain(getattr(care[id], fact)) for fact in facts}
            for id, facts in expected.get("care", {}).items()
        },
    }
    return {name: everything[name] for name in expected}


def plain(value: object) -> object:
    return value.isoformat() if hasattr(value, "isoformat") else value


@pytest.mark.parametrize("case", CASES, ids=[case["name"] for case in CASES])
def test_the_server_counts_as_the_case_says(case: dict) -> None:
    assert found(case) == case["expect"]
