"""Who may come in, and what becomes of a guess: the rules alone."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from easelside.pairing import rules
from easelside.pairing.model import Device, Guest, Invitation, Knock

NOW = datetime(2026, 11, 25, 14, tzinfo=UTC)
DAY = timedelta(days=1)
PHONE = Device("d1", "Phone", "hand", "a" * 64, NOW - DAY, NOW - DAY)
AT_MACHINE = Knock(by_own_door=True, by_own_name=True, peer="127.0.0.1", is_relayed=False, token_hash=None)
FROM_LAN = Knock(
    by_own_door=False, by_own_name=False, peer="192.168.7.20", is_relayed=False, token_hash="a" * 64
)
CODE = Invitation("maker", NOW + rules.CODE_LASTS, square_hash="5" * 64, figures_hash="6" * 64)
WRONG = "0" * 64


def test_the_browser_on_the_machine_itself_comes_in_as_maker() -> None:
    assert rules.may_come_in(AT_MACHINE, []) == Guest("maker", None)


@pytest.mark.parametrize(
    "knock",
    [
        replace(AT_MACHINE, by_own_door=False),
        replace(AT_MACHINE, peer="192.168.7.20"),
        replace(AT_MACHINE, peer=None),
        replace(AT_MACHINE, peer="not an address"),
        replace(AT_MACHINE, by_own_name=False),
        replace(AT_MACHINE, is_relayed=True),
    ],
    ids=[
        "another door",
        "another machine",
        "no peer",
        "odd peer",
        "another name",
        "through a proxy",
    ],
)
def test_whoever_is_not_surely_at_the_machine_must_be_paired(knock: Knock) -> None:
    assert rules.may_come_in(knock, [PHONE]) == "not_paired"


@pytest.mark.parametrize("peer", ["127.0.0.1", "127.8.9.1", "::1", "::ffff:127.0.0.1"])
def test_every_spelling_of_loopback_is_the_machine(peer: str) -> None:
    assert rules.is_at_the_machine(replace(AT_MACHINE, peer=peer))


def test_a_paired_device_comes_in_with_its_role() -> None:
    assert rules.may_come_in(FROM_LAN, [PHONE]) == Guest("hand", PHONE)


def test_a_token_that_nobody_was_given_opens_nothing() -> None:
    assert rules.may_come_in(replace(FROM_LAN, token_hash="b" * 64), [PHONE]) == "not_paired"


def test_a_withdrawn_device_is_told_that_it_is() -> None:
    assert rules.may_come_in(FROM_LAN, [replace(PHONE, withdrawn=NOW)]) == "withdrawn"


def test_a_calendar_program_comes_in_by_its_secret_address_and_only_a_maker_switches() -> None:
    assert rules.needs("/api/calendar/abc.ics") == "nothing"
    assert rules.needs("/api/calendar/abc.ics", "DELETE") == "maker"
    assert rules.needs("/api/calendar") == "maker"
    assert rules.needs("/api/push", "PUT") == "maker"
    assert rules.needs("/api/way_in", "PUT") == "maker"
    assert rules.needs("/api/way_in") == "paired"
    assert rules.needs("/api/push") == "paired"
    assert rules.needs("/api/push/subscriptions", "POST") == "paired"


@pytest.mark.parametrize(
    ("path", "wanted"),
    [
        ("/", "nothing"), ("/assets/a.js", "nothing"), ("/api/who", "nothing"), ("/api/pair/", "nothing"),
        ("/api", "paired"), ("/api/exchange", "paired"), ("/api/exchange/snapshot", "paired"),
        ("/api/docs", "paired"), ("/api/openapi.json", "paired"), ("/api/events", "paired"),
        ("/api/something-new", "paired"), ("/api/who/else", "paired"), ("/api/whoever", "paired"),
        ("/api/phones", "maker"), ("/api/phones/codes", "maker"), ("/api/phonesome", "paired"),
        ("/apiary", "nothing"),
    ],
)  # fmt: skip
def test_all_of_the_interface_is_shut_but_what_pairing_needs(path: str, wanted: str) -> None:
    assert rules.needs(path) == wanted


def test_a_hand_may_work_and_not_look_after_the_house() -> None:
    assert rules.is_enough("hand", "paired") and not rules.is_enough("hand", "maker")
    assert rules.is_enough("maker", "maker")


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("428 117", "428117"), (" 428117 ", "428117"), ("42811", None), ("٤٢٨١١٧", None), ("", None),
     ("abcd efgh-2345 qrst", "ABCDEFGH2345QRST"), ("ABCDEFGH2345QRS1", None)],
)  # fmt: skip
def test_a_code_is_read_as_a_person_writes_it(typed: str, meant: str | None) -> None:
    assert rules.spelled(typed) == meant


def test_a_right_code_is_used_up() -> None:
    for kind, hash in (("figures", "6" * 64), ("square", "5" * 64)):
        assert rules.guess(CODE, hash, kind, NOW) == rules.Guessed(True, None)


def test_the_figures_do_not_open_as_the_square_nor_the_other_way() -> None:
    assert not rules.guess(CODE, "6" * 64, "square", NOW).is_right
    assert not rules.guess(CODE, "5" * 64, "figures", NOW).is_right


def test_a_code_ends_after_ten_minutes() -> None:
    assert rules.guess(CODE, "6" * 64, "figures", CODE.ends - timedelta(seconds=1)).is_right
    assert rules.guess(CODE, "6" * 64, "figures", CODE.ends) == rules.Guessed(False, None)


def test_the_third_wrong_figures_end_them_and_leave_the_square() -> None:
    left: Invitation | None = CODE
    now = NOW
    for _ in range(rules.MOST_WRONG_FIGURES):
        left = rules.guess(left, WRONG, "figures", now).left
        now += timedelta(seconds=60)
    assert left is not None and left.figures_hash is None
    assert not rules.guess(left, "6" * 64, "figures", now).is_right
    assert rules.guess(left, "5" * 64, "square", now).is_right


def test_each_wrong_guess_makes_the_wait_twice_as_long_and_a_guess_in_it_is_not_looked_at() -> None:
    once = rules.guess(CODE, WRONG, "figures", NOW).left
    assert rules.guess(once, "6" * 64, "figures", NOW) == rules.Guessed(False, once, wait_s=1)
    twice = rules.guess(once, WRONG, "figures", NOW + timedelta(seconds=1)).left
    soon = rules.guess(twice, "6" * 64, "figures", NOW + timedelta(seconds=1))
    assert (soon.is_right, soon.wait_s) == (False, 2)
    assert rules.guess(twice, "6" * 64, "figures", NOW + timedelta(seconds=3)).is_right


def test_wrong_squares_hold_up_nobody_because_nobody_guesses_80_bits() -> None:
    left: Invitation | None = CODE
    for _ in range(1000):
        left = rules.guess(left, WRONG, "square", NOW).left
    assert rules.guess(left, "5" * 64, "square", NOW).is_right
    assert rules.guess(left, "6" * 64, "figures", NOW).is_right


def test_wrong_figures_do_not_make_the_square_wait() -> None:
    once = rules.guess(CODE, WRONG, "figures", NOW).left
    assert rules.guess(once, "5" * 64, "square", NOW).is_right


def test_a_clock_that_is_turned_back_gives_a_code_no_longer_life() -> None:
    before = CODE.ends - rules.CODE_LASTS - timedelta(hours=1)
    assert rules.guess(CODE, "6" * 64, "figures", before) == rules.Guessed(False, None)


def touch(machine: str, device: str, minutes_ago: float) -> rules.Touch:
    return rules.Touch(machine, f"s-{machine}", device, NOW - timedelta(minutes=minutes_ago))


def test_the_last_touch_of_each_device_says_who_is_at_a_machine() -> None:
    touches = [touch("door", "tablet", 3), touch("window", "phone", 0), touch("door", "tablet", 9),
               touch("door", "phone", 40)]  # fmt: skip
    assert rules.at_machines(touches, NOW) == [touches[1], touches[0], touches[3]]


def test_a_device_that_writes_under_ever_new_names_does_not_swell_what_all_are_told() -> None:
    """The list goes out on every line with every change."""
    forged = [touch("m", f"forged-{n}", (n + 1) / 60) for n in range(5000)]
    told = rules.at_machines([*forged, touch("m", "phone", 0)], NOW)
    assert len(told) == rules.MOST_AT_MACHINES and told[0].device == "phone"


def test_a_touch_of_yesterday_puts_nobody_at_a_machine() -> None:
    assert rules.at_machines([touch("door", "tablet", 13 * 60)], NOW) == []
