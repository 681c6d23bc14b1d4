"""The invented workshop's cane is as cane is: its figures lie within those that are published."""

from seed_demo.story import LOTS
from tests.published.reference import reference

BASSOON = [lot for lot in LOTS if lot.note != "contrabassoon"]


def test_the_gouge_of_bassoon_lots() -> None:
    """gouge thickness at the centre, mm"""
    assert len(BASSOON) >= 5
    assert reference("gouge thickness at the centre, mm").agrees_with([lot.gouge_mm for lot in BASSOON])


def test_the_diameter_of_bassoon_tubes() -> None:
    """tube diameter chosen for bassoon cane, mm"""
    told = reference("tube diameter chosen for bassoon cane, mm")
    assert told.agrees_with([lot.diameter_mm for lot in BASSOON])
