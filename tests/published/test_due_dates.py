"""Due dates over the changes of the clock: the IANA zone data against the laws that it follows."""

from datetime import UTC, date, datetime, timedelta

import pytest

from easelside.care.model import CareTask
from easelside.care.rules import due_of
from easelside.units import day_of, noon_of, zone_of

YEARS = range(2021, 2031)
MINUTE = timedelta(minutes=1)


def sunday(year: int, month: int, which: int) -> date:
    """The first, second ... Sunday of a month; -1 is the last."""
    days = [date(year, month, 1) + timedelta(days=n) for n in range(31)]
    return [day for day in days if day.month == month and day.weekday() == 6][which]


def at_utc(day: date, hour: int) -> datetime:
    return datetime(day.year, day.month, day.day, hour, tzinfo=UTC)


@pytest.mark.parametrize("year", YEARS)
def test_the_european_day_turns_an_hour_earlier_by_utc_in_summer(year: int) -> None:
    # Directive 2000/84/EC, articles 2 and 3 (from memory): last Sundays of March and October, 01:00 GMT.
    # Central European Time is UTC+1, so its midnight is 23:00 UTC in winter and 22:00 UTC in summer.
    berlin = zone_of("Europe/Berlin")
    for change, before, after in ((sunday(year, 3, -1), 23, 22), (sunday(year, 10, -1), 22, 23)):
        eve, morrow = change - timedelta(days=1), change + timedelta(days=1)
        assert day_of(at_utc(eve, before) - MINUTE, berlin) == eve
        assert day_of(at_utc(eve, before), berlin) == change
        assert day_of(at_utc(change, after) - MINUTE, berlin) == change
        assert day_of(at_utc(change, after), berlin) == morrow


@pytest.mark.parametrize("year", YEARS)
def test_noon_in_new_york_is_at_17_utc_in_winter_and_16_in_summer(year: int) -> None:
    # 15 U.S.C. 260a (from memory): second Sunday of March to first Sunday of November, 02:00 local time.
    # Eastern Standard Time is UTC-5.
    new_york = zone_of("America/New_York")
    begins, ends = sunday(year, 3, 1), sunday(year, 11, 0)
    one = timedelta(days=1)
    hours = [noon_of(day, new_york).hour for day in (begins - one, begins, ends - one, ends)]
    assert hours == [17, 16, 16, 17]


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("zone", ["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Pacific/Apia"])
def test_so_many_days_later_is_the_calendars_day_in_every_season(year: int, zone: str) -> None:
    here = zone_of(zone)
    for start in (date(year, 1, 1) + timedelta(days=7 * week) for week in range(52)):
        task = CareTask("a", "oil", None, None, None, None, 7, noon_of(start, here))
        evening = noon_of(start + timedelta(days=6), here) + timedelta(hours=11)
        morning = noon_of(start + timedelta(days=7), here) - timedelta(hours=11)
        assert due_of(task, [], [], [], evening, here).due_day == start + timedelta(days=7)
        assert due_of(task, [], [], [], evening, here).is_due is False
        assert due_of(task, [], [], [], morning, here).is_due is True
