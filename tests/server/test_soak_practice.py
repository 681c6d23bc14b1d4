"""How long a soak is planned where nobody said: the table that the phone's tests run too."""

import json
from pathlib import Path
from typing import Any

import pytest

from easelside.soak.practice import planned_s

TABLE = json.loads((Path(__file__).parents[1] / "shared_cases/soak_planned.json").read_text("utf-8"))


@pytest.mark.parametrize("case", TABLE["cases"], ids=lambda case: case["name"])
def test_the_planned_time_of_the_shared_case(case: dict[str, Any]) -> None:
    assert planned_s(case["water"], case["workshop"]) == case["soak_s"]


def test_water_that_is_not_said_is_warm() -> None:
    assert planned_s(None, {"soak_warm_s": 2700, "soak_cold_s": 9000}) == 2700
