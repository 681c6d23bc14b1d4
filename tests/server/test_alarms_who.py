"""Whose subscription is it? The pairing says so, never the request; who was withdrawn gets none."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.server.pairing_house import Browser, House
from tests.server.push_service import push_service

FORGED = "019aba0f-f7c0-7000-8000-000000000009"
KIOSK = "019aba0f-f7c0-7000-8000-000000000001"


@pytest.fixture
def keys() -> Iterator[dict[str, str]]:
    with push_service() as service:
        yield service.keys()


@pytest.fixture
def house(tmp_path: Path) -> Iterator[House]:
    found = House(tmp_path / "workshop")
    assert found.machine().ask("PUT", "/api/push", {"on": True}).status_code == 200
    yield found
    found.book.close()


def subscribe(browser: Browser, keys: dict[str, str], name: str, device: str = FORGED) -> str:
    body = {"device": device, "endpoint": f"https://fcm.googleapis.com/fcm/send/{name}", "keys": keys}
    answer = browser.ask("POST", "/api/push/subscriptions", body)
    assert answer.status_code == 201, answer.text
    id: str = answer.json["id"]
    return id


def shown(browser: Browser) -> list[Any]:
    found: list[Any] = browser.ask("GET", "/api/push").json["devices"]
    return found


def trial(browser: Browser, device: str = FORGED) -> int:
    sent: int = browser.ask("POST", "/api/push/trial", {"device": device}).json["messages"]
    return sent


def test_a_phone_that_names_another_s_device_subscribes_only_itself(
    house: House, keys: dict[str, str]
) -> None:
    phone, tablet = house.paired(device=FORGED), house.paired(device=KIOSK)
    first = subscribe(phone, keys, "one")
    second = subscribe(tablet, keys, "two", device=FORGED)
    assert {one["id"]: one["device"] for one in shown(house.machine())} == {first: FORGED, second: KIOSK}


def test_a_trial_goes_to_who_asks_for_it_whatever_it_names(house: House, keys: dict[str, str]) -> None:
    phone, other = house.paired(device=FORGED), house.paired("hand")
    subscribe(phone, keys, "one")
    assert trial(other, FORGED) == 0
    assert trial(phone, KIOSK) == 1


def test_the_browsers_on_the_machine_itself_are_told_apart_by_what_they_say(
    house: House, keys: dict[str, str]
) -> None:
    machine = house.machine()
    subscribe(machine, keys, "one", device=KIOSK)
    subscribe(machine, keys, "two", device=FORGED)
    assert [one["device"] for one in shown(machine)] == [KIOSK, FORGED]
    assert (trial(machine, KIOSK), trial(house.paired(device=KIOSK), KIOSK)) == (1, 0)


def test_a_hand_sees_and_ends_its_own_subscription_only(house: House, keys: dict[str, str]) -> None:
    maker, hand = house.paired(), house.paired("hand")
    makers, hands = subscribe(maker, keys, "one"), subscribe(hand, keys, "two")
    assert [one["id"] for one in shown(hand)] == [hands]
    refused = hand.ask("DELETE", f"/api/push/subscriptions/{makers}")
    assert (refused.status_code, refused.json["code"]) == (403, "makers_only")
    assert hand.ask("DELETE", f"/api/push/subscriptions/{hands}").status_code == 204
    assert hand.ask("DELETE", f"/api/push/subscriptions/{'0' * 32}").status_code == 204
    assert [one["id"] for one in shown(maker)] == [makers]
    assert hand.ask("PUT", "/api/push", {"on": False}).status_code == 403


def test_a_withdrawn_device_gets_no_message_more_nor_what_waited_for_it(
    house: House, keys: dict[str, str]
) -> None:
    phone, machine = house.paired("hand"), house.machine()
    subscribe(phone, keys, "one")
    subscribe(machine, keys, "two", device=KIOSK)
    assert trial(phone) == 1 and house.book.waiting() != set()
    (device,) = machine.devices()
    machine.ask("DELETE", f"/api/phones/{device['id']}")
    assert [one["device"] for one in shown(machine)] == [KIOSK]
    assert house.book.waiting() == set()


def test_a_subscription_in_a_restored_backup_of_who_is_paired_no_more_is_forgotten_at_the_start(
    house: House, keys: dict[str, str]
) -> None:
    """The list of the paired is in no backup: whoever was withdrawn since must not come back by it."""
    subscribe(house.paired(), keys, "one")
    stays = subscribe(house.paired(), keys, "two")
    subscribe(house.machine(), keys, "three", device=KIOSK)
    (row,) = [one for one in house.book.subscriptions() if one["id"] == stays]
    at = {name: row[name] for name in ("endpoint", "origin", "since", "p256dh", "auth")}
    house.book.subscribe("f" * 32, device="0123456789abcdef", **at)
    house.open_again()
    assert len(shown(house.machine())) == 3


def test_keys_of_a_subscription_are_in_no_answer(house: House, keys: dict[str, str]) -> None:
    subscribe(house.paired(), keys, "one")
    said = house.machine().ask("GET", "/api/push").text
    assert keys["auth"] not in said and "fcm/send" not in said
