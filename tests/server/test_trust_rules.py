"""Names, addresses and the moment at which the server's paper is made new."""

from datetime import UTC, datetime, timedelta

import pytest

from easelside.trust import rules
from easelside.trust.model import DOMAINS, Names, Paper

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
PRINT = "7f3a" + "0" * 60
WANTED = Names(frozenset({"bench-7f3a.local", "localhost"}), frozenset({"127.0.0.1", "::1", "192.168.1.20"}))
ENDS = NOW + timedelta(days=3000)


def paper(**other: object) -> Paper:
    facts = {
        "serial": 1,
        "authority": PRINT,
        "names": WANTED,
        "begins": NOW - timedelta(days=100),
        "ends": NOW + timedelta(days=297),
    }
    return Paper(**{**facts, **other})  # type: ignore[arg-type]


def why(held: Paper | None, wanted: Names = WANTED, now: datetime = NOW) -> str | None:
    return rules.why_new_paper(held, wanted, PRINT, ENDS, now)


def test_a_paper_that_serves_is_kept() -> None:
    assert why(paper()) is None


def test_a_paper_is_made_where_there_is_none() -> None:
    assert why(None) == "there is none yet"


def test_a_paper_is_made_new_at_thirty_days_left_and_not_a_second_before() -> None:
    ends = NOW + timedelta(days=30)
    assert why(paper(ends=ends + timedelta(seconds=1))) is None
    assert why(paper(ends=ends)) == "it ends within 30 days"


def test_a_paper_is_made_new_when_an_address_comes_or_goes() -> None:
    for addresses in ({"127.0.0.1", "::1", "192.168.1.21"}, {"127.0.0.1", "::1"}):
        assert why(paper(), Names(WANTED.hosts, frozenset(addresses))) is not None


def test_a_paper_of_another_authority_is_made_new() -> None:
    assert why(paper(authority="ab" * 32)) == "it is another authority's"


def test_a_paper_from_the_future_is_made_new_when_the_clock_was_put_right() -> None:
    assert why(paper(begins=NOW + timedelta(minutes=1))) is not None


def test_a_paper_that_ends_with_its_authority_is_not_made_over_and_over() -> None:
    ends = NOW + timedelta(days=5)
    assert rules.why_new_paper(paper(ends=ends), WANTED, PRINT, ends, NOW) is None


def test_a_paper_lasts_397_days_is_dated_back_a_day_and_never_outlives_its_authority() -> None:
    begins, ends = rules.paper_span(NOW, ENDS)
    assert (NOW - begins, ends - begins) == (timedelta(days=1), timedelta(days=397))
    soon = NOW + timedelta(days=40)
    assert rules.paper_span(NOW, soon)[1] == soon


def test_the_announced_name_holds_the_authoritys_first_four_digits() -> None:
    assert rules.local_name("7F3A" + "0" * 60) == "bench-7f3a.local"


@pytest.mark.parametrize(
    "address", ["10.1.2.3", "172.31.0.1", "192.168.178.20", "169.254.9.9", "fd00::2", "fe80::1"]
)
def test_addresses_of_a_house_are_private(address: str) -> None:
    assert rules.is_private(address)


@pytest.mark.parametrize("address", ["8.8.8.8", "172.32.0.1", "192.0.2.2", "2001:db8::1", "bench.local", ""])
def test_all_other_addresses_are_not(address: str) -> None:
    assert not rules.is_private(address)


@pytest.mark.parametrize(
    ("machine", "allowed"),
    [
        ("workshop-pc", "workshop-pc"),
        ("Pi4.fritz.box", "pi4"),
        ("dev", None),  # public endings are words without digits or hyphens
        ("berlin", None),
        ("xn--p1ai", None),  # but for these
        ("localhost", None),
        ("my pc", None),
        ("", None),
    ],
)
def test_a_machines_name_that_might_be_a_public_ending_is_never_vouched_for(
    machine: str, allowed: str | None
) -> None:
    assert rules.plain_domain(machine) == allowed


def test_the_paper_names_only_what_the_authority_may_sign_for() -> None:
    """One name outside the constraint would have the whole paper refused."""
    found = rules.names_of(PRINT, "old-pc", ["192.168.1.20", "8.8.8.8"], DOMAINS)
    assert found.hosts == {"bench-7f3a.local", "localhost", "old-pc.local"}
    assert found.addresses == WANTED.addresses
    with_it = rules.names_of(PRINT, "old-pc", [], (*DOMAINS, "old-pc"))
    assert "old-pc" in with_it.hosts


def test_a_domain_covers_what_ends_with_it_and_nothing_that_merely_looks_so() -> None:
    assert rules.may_sign_for("a.b.local", DOMAINS)
    assert not rules.may_sign_for("notlocal", DOMAINS)
    assert not rules.may_sign_for("local.example", DOMAINS)


def test_a_fingerprint_is_read_in_groups_of_four() -> None:
    assert rules.in_groups("3f9a77c2e041b85d" + "0" * 48, 4) == "3F9A 77C2 E041 B85D"
    assert len(rules.in_groups("3f9a77c2e041b85d" + "0" * 48).split()) == 16


@pytest.mark.parametrize(
    ("peer", "near"),
    [("192.168.1.7", True), ("::ffff:10.0.0.7", True), ("fe80::1%eth0", True), ("fd00::7", True),
     ("127.0.0.1", True), ("100.64.9.9", True), ("8.8.8.8", False), ("::ffff:8.8.8.8", False),
     ("100.128.0.1", False), ("2001:db8::7", False), ("", False), ("1.2.3.400", False)],
)  # fmt: skip
def test_the_workshop_hears_only_private_networks(peer: str, near: bool) -> None:
    assert rules.is_near(peer) is near
