"""The authority and the paper in the data folder, and the authority in the backup."""

import os
import stat
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest

from easelside.alarms.vapid import Vapid
from easelside.clock import FakeClock
from easelside.errors import AuthorityUnusable
from easelside.logbook.backups import restore
from easelside.logbook.book import Logbook
from easelside.trust.keeping import Keeper

posix_only = pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")


class House:
    """A data folder whose machine has addresses that a test changes."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.clock = folder, FakeClock()
        self.addresses = ["192.168.1.20"]
        folder.mkdir(exist_ok=True)

    def keeper(self) -> Keeper:
        return Keeper(self.folder, self.clock, lambda: "workshop-pc", lambda: self.addresses)


@pytest.fixture
def house(tmp_path: Path) -> House:
    return House(tmp_path / "workshop")


def mode(file: Path) -> int:
    return stat.S_IMODE(file.stat().st_mode)


def serial(keeper: Keeper) -> int:
    assert keeper.paper is not None
    return keeper.paper.serial


@posix_only
def test_the_authority_and_the_papers_key_are_readable_by_their_owner_only(house: House) -> None:
    before = os.umask(0)
    try:
        keeper = house.keeper()
        keeper.look()
    finally:
        os.umask(before)
    assert [mode(house.folder / name) for name in ("authority.pem", "paper.pem")] == [0o600, 0o600]


@posix_only
def test_an_authority_that_others_could_read_is_shut_at_the_next_start(house: House) -> None:
    house.keeper()
    (house.folder / "authority.pem").chmod(0o644)
    house.keeper()
    assert mode(house.folder / "authority.pem") == 0o600


def test_the_authority_stays_the_same_over_restarts(house: House) -> None:
    assert house.keeper().authority.fingerprint == house.keeper().authority.fingerprint


def test_a_look_makes_the_first_paper_and_the_next_one_leaves_it(house: House) -> None:
    keeper = house.keeper()
    assert [keeper.look(), keeper.look()] == [True, False]
    again = house.keeper()
    assert again.look() is False
    assert serial(again) == serial(keeper)


@pytest.mark.parametrize(
    "change",
    [
        lambda house: house.clock.forward(days=397 - 1 - 30),
        lambda house: house.addresses.append("10.0.0.7"),
        lambda house: house.addresses.clear(),
        lambda house: house.clock.set(house.clock.now() - timedelta(days=400)),
    ],
    ids=["30 days left", "an address more", "the network is gone", "the clock was put back"],
)
def test_a_look_makes_a_new_paper_by_the_same_authority(
    house: House, change: Callable[[House], None]
) -> None:
    keeper = house.keeper()
    keeper.look()
    before, print_before = serial(keeper), keeper.authority.fingerprint
    change(house)
    assert keeper.look() is True
    assert serial(keeper) != before
    assert keeper.authority.fingerprint == print_before
    assert keeper.paper is not None
    assert keeper.paper.names == keeper.wanted()
    assert keeper.paper.begins <= house.clock.now() < keeper.paper.ends


def test_a_paper_that_cannot_be_read_is_made_again(house: House) -> None:
    house.keeper().look()
    (house.folder / "paper.pem").write_bytes(b"torn")
    assert house.keeper().look() is True


def test_a_torn_authority_is_told_and_not_replaced(house: House) -> None:
    """A new one in its place would lock every phone out without a word."""
    house.keeper()
    (house.folder / "authority.pem").write_bytes(b"torn")
    with pytest.raises(AuthorityUnusable):
        house.keeper()
    assert (house.folder / "authority.pem").read_bytes() == b"torn"


def backed_up(house: House, into: Path) -> Path:
    keeper = house.keeper()
    book = Logbook.open(house.folder, house.clock, durable=False)
    try:
        made = book.backup(into)
    finally:
        book.close()
    assert (into / "authority.pem").read_bytes() == keeper.authority.pem()
    return made


@posix_only
def test_the_key_of_push_goes_with_the_backup_and_comes_back_so_that_subscriptions_stay_good(
    house: House, tmp_path: Path
) -> None:
    key = Vapid.open(house.folder).public
    with Logbook.open(house.folder, house.clock, durable=False) as book:
        made = book.backup(tmp_path / "stick")
    assert mode(tmp_path / "stick/push.pem") == 0o600
    other = tmp_path / "new machine"
    other.mkdir()
    assert Vapid.open(other).public != key
    restore(other, made, house.clock)
    assert Vapid.open(other).public == key
    assert mode(other / "push.pem") == 0o600


@posix_only
def test_the_backup_holds_the_authority_for_its_owner_only(house: House, tmp_path: Path) -> None:
    backed_up(house, tmp_path / "stick")
    assert mode(tmp_path / "stick/authority.pem") == 0o600


def test_a_workshop_restored_on_another_machine_is_still_trusted(house: House, tmp_path: Path) -> None:
    made = backed_up(house, tmp_path / "stick")
    fingerprint = house.keeper().authority.fingerprint
    other = House(tmp_path / "other")
    assert other.keeper().authority.fingerprint != fingerprint
    Logbook.open(other.folder, other.clock, durable=False).close()
    aside = restore(other.folder, made, other.clock)
    assert other.keeper().authority.fingerprint == fingerprint
    assert aside is not None
    assert (aside / "authority.pem").is_file()


def test_a_backup_without_an_authority_leaves_the_present_one(house: House, tmp_path: Path) -> None:
    made = backed_up(house, tmp_path / "stick")
    (tmp_path / "stick/authority.pem").unlink()
    fingerprint = house.keeper().authority.fingerprint
    restore(house.folder, made, house.clock)
    assert house.keeper().authority.fingerprint == fingerprint
