"""When the bench rings, what is due to be said, and the quiet hours."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

import pytest

from easelside.alarms.model import Caring, Facts, Quiet, Soaking, read_quiet
from easelside.alarms.rules import RINGS_FOR, answered, is_quiet, ringing, unsaid
from easelside.alarms.words import care_name, soak_ready, told
from easelside.units import zone_of

BERLIN = zone_of("Europe/Berlin")
READY = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
SECOND = timedelta(seconds=1)
SOAKING = Soaking("a", READY, put_in=READY - timedelta(minutes=30), jar="1", pieces=24)
OIL = Caring("oil", "since/", date(2026, 11, 25), is_due=True, what="oil")
NIGHT = Quiet(time(22), time(7))


def facts(*soaks: Soaking, care: tuple[Caring, ...] = (), quiet: Quiet | None = None) -> Facts:
    return Facts(soaks, care, (), BERLIN, quiet)


def rings(soaking: Soaking, now: datetime) -> bool:
    return ringing(facts(soaking), now) != []


def test_the_bench_rings_from_the_end_for_five_minutes() -> None:
    assert not rings(SOAKING, READY - SECOND)
    assert rings(SOAKING, READY)
    assert rings(SOAKING, READY + RINGS_FOR - SECOND)
    assert not rings(SOAKING, READY + RINGS_FOR)


def test_whoever_silences_it_or_takes_the_cane_out_ends_it() -> None:
    assert not rings(replace(SOAKING, silenced=True), READY)
    assert not rings(replace(SOAKING, in_water=False), READY)


def test_five_minutes_more_rings_again_then_and_not_before() -> None:
    later = replace(SOAKING, again_at=READY + timedelta(minutes=7))
    assert not rings(later, READY + timedelta(minutes=6))
    assert rings(later, READY + timedelta(minutes=7))


def test_the_earliest_rings_first() -> None:
    early = replace(SOAKING, soak="z", at=READY - SECOND)
    assert [s.soak for s in ringing(facts(SOAKING, early), READY)] == ["z", "a"]


def test_a_soak_is_said_from_its_end_until_twelve_hours_after() -> None:
    def said(now: datetime) -> int:
        return len(unsaid(facts(SOAKING), set(), now))

    moments = [READY - SECOND, READY, READY + timedelta(hours=12) - SECOND, READY + timedelta(hours=12)]
    assert [said(now) for now in moments] == [0, 1, 1, 0]


def test_what_was_said_is_not_said_again_unless_it_rings_anew() -> None:
    (message,) = unsaid(facts(SOAKING), set(), READY)
    assert unsaid(facts(SOAKING), {message.key}, READY + timedelta(hours=1)) == []
    again = replace(SOAKING, again_at=READY + timedelta(minutes=5))
    (second,) = unsaid(facts(again), {message.key}, READY + timedelta(minutes=5))
    assert second.key != message.key


def test_care_is_said_once_a_turn() -> None:
    (message,) = unsaid(facts(care=(OIL,)), set(), READY)
    assert unsaid(facts(care=(OIL,)), {message.key}, READY + timedelta(days=3)) == []
    assert len(unsaid(facts(care=(replace(OIL, last="done later/"),)), {message.key}, READY)) == 1
    assert unsaid(facts(care=(replace(OIL, is_due=False),)), set(), READY) == []


@pytest.mark.parametrize(
    ("quiet", "wall", "is_it"),
    [
        (NIGHT, "21:59", False),
        (NIGHT, "22:00", True),
        (NIGHT, "00:00", True),
        (NIGHT, "06:59", True),
        (NIGHT, "07:00", False),
        (Quiet(time(12), time(14)), "11:59", False),
        (Quiet(time(12), time(14)), "13:59", True),
        (Quiet(time(12), time(14)), "14:00", False),
        (None, "03:00", False),
    ],
)
def test_quiet_hours_go_by_the_workshops_wall_clock(quiet: Quiet | None, wall: str, is_it: bool) -> None:
    at = datetime.combine(date(2026, 11, 25), time.fromisoformat(wall), BERLIN).astimezone(UTC)
    assert is_quiet(quiet, at, BERLIN) is is_it


def test_quiet_hours_hold_on_the_night_when_the_clocks_change() -> None:
    # Europe/Berlin, 25 October 2026: 02:00 to 03:00 comes twice
    for utc_hour in (0, 1):
        assert is_quiet(Quiet(time(2), time(3)), datetime(2026, 10, 25, utc_hour, 30, tzinfo=UTC), BERLIN)


def test_what_becomes_due_at_night_is_said_in_the_morning() -> None:
    overnight = Soaking(
        "n", datetime(2026, 11, 26, 3, 0, tzinfo=UTC), datetime(2026, 11, 25, 17, 0, tzinfo=UTC)
    )
    at = facts(overnight, care=(OIL,), quiet=NIGHT)
    night, morning = datetime(2026, 11, 26, 4, 0, tzinfo=UTC), datetime(2026, 11, 26, 6, 0, tzinfo=UTC)
    assert unsaid(at, set(), night) == [] == ringing(at, overnight.at)
    assert {message.key.split("/")[0] for message in unsaid(at, set(), morning)} == {"soak", "care"}


def test_who_puts_cane_in_during_the_quiet_hours_is_up_and_is_called() -> None:
    put_in = datetime(2026, 11, 25, 21, 30, tzinfo=UTC)  # 22:30 on the wall
    late = Soaking("l", put_in + timedelta(minutes=30), put_in)
    assert len(ringing(facts(late, quiet=NIGHT), late.at)) == 1
    assert len(unsaid(facts(late, quiet=NIGHT), set(), late.at)) == 1


def test_a_soak_that_somebody_answered_is_called_back_and_nothing_else() -> None:
    (message,) = unsaid(facts(SOAKING), set(), READY)
    waiting = {message.key, "care/oil/since/", "trial/x/y"}
    assert answered(facts(SOAKING), waiting) == set()
    assert answered(facts(replace(SOAKING, silenced=True)), waiting) == {message.key}


@pytest.mark.parametrize(
    "said",
    [
        {},
        {"quiet_from": "22:00"},
        {"quiet_from": "25:00", "quiet_until": "07:00"},
        {"quiet_from": "07:00", "quiet_until": "07:00"},
        {"quiet_from": 22, "quiet_until": 7},
    ],
)
def test_hours_that_say_nothing_are_no_quiet_hours(said: dict[str, object]) -> None:
    assert read_quiet(said) is None
    assert read_quiet({"quiet_from": "22:00", "quiet_until": "07:00"}) == NIGHT


def test_what_goes_in_next_is_said_as_such() -> None:
    group = replace(SOAKING, goes_in=True, jar=None, pieces=6, batch="D1")
    (message,) = unsaid(facts(group), set(), READY)
    assert told(message, BERLIN) == (
        "Batch D1, 6 pieces: the next ones are due in the water",
        "They were to go in at 15:00.",
    )


def test_names_say_what_it_is_in_the_makers_words() -> None:
    assert soak_ready(SOAKING) == "24 pieces, jar 1: ready"
    assert soak_ready(Soaking("a", READY, batch="D1", pieces=1)) == "Batch D1, 1 piece: ready"
    assert soak_ready(Soaking("a", READY)) == "Cane: ready"
    assert care_name(OIL) == "Oil the pivot"
    assert care_name(replace(OIL, what="grind", tool="knife")) == "Grind the knife"
    assert (
        care_name(replace(OIL, words="Wax the rails", machine="Window machine"))
        == "Wax the rails, Window machine"
    )
