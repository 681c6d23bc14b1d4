"""A calendar day begins, ends and has its noon where the IANA zone data say."""

import json
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from easelside.units import day_of, noon_of, read_day, read_instant, write_instant

SHARED = Path(__file__).parents[1] / "shared_cases/days.json"  # names its source


@pytest.mark.parametrize("case", json.loads(SHARED.read_text())["zones"], ids=lambda case: case["zone"])
def test_days_of_the_shared_cases_begin_end_and_have_their_noon(case: dict) -> None:
    zone = ZoneInfo(case["zone"])
    assert case["days"]
    for name, first, noon, last in case["days"]:
        day = read_day(name)
        for at in map(read_instant, (first, last)):
            assert at is not None and day_of(at, zone) == day
        assert day is not None and write_instant(noon_of(day, zone)) == noon
