"""When the next group of a staggered row goes in: the table that the phone's tests run too."""

import json
from pathlib import Path
from typing import Any

import pytest

from easelside.soak.row import next_group
from easelside.units import read_instant, write_instant

TABLE = json.loads((Path(__file__).parents[1] / "shared_cases/soak_rows.json").read_text("utf-8"))


@pytest.mark.parametrize("case", TABLE["cases"], ids=lambda case: case["name"])
def test_the_next_group_of_the_shared_case(case: dict[str, Any]) -> None:
    now = read_instant(case["now"])
    assert now is not None
    found = next_group(case["soaks"], now)
    said = found and {"last": found.last, "at": write_instant(found.at), "pieces": found.pieces}
    assert said == case["expect"]


def test_a_gap_beyond_every_calendar_calls_nobody() -> None:
    now = read_instant("2026-11-25T14:00:00.000Z")
    assert now is not None
    soak = {"put_in": "2026-11-25T13:50:00.000Z", "pieces": 6, "of_pieces": 20, "every_s": 1e14}
    assert next_group({"a": soak}, now) is None
