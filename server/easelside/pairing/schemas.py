"""What does a device say when it pairs, and how is one written in a file and in an answer?"""

from typing import Any, TypeVar

import msgspec

from easelside.errors import Malformed
from easelside.pairing.model import Device, Guest, Invitation, Role
from easelside.pairing.rules import figures_left
from easelside.units import write_instant

LONGEST_NAME = 60


class Pairing(msgspec.Struct):
    code: str
    name: str | None = None
    device: str | None = None


class Inviting(msgspec.Struct):
    role: Role = "maker"


class Renaming(msgspec.Struct):
    name: str | None = None
    role: Role | None = None


Said = TypeVar("Said", bound=msgspec.Struct)


def read(body: bytes, kind: type[Said]) -> Said:
    """Raises Malformed. What was sent is not repeated in the sentence: it may hold a code."""
    try:
        return msgspec.json.decode(body, type=kind)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        raise Malformed(detail="it is not the object that is wanted here") from None


def clean_name(said: str | None) -> str | None:
    """One line of printable letters, or None."""
    plain = " ".join("".join(letter if letter.isprintable() else " " for letter in said or "").split())
    return plain[:LONGEST_NAME].strip() or None


def as_shown(device: Device, guest: Guest, names: dict[str, str]) -> dict[str, Any]:
    """A device as the list shows it: never its hash."""
    return {
        "id": device.id,
        "name": names.get(device.writes_as or "") or device.name,
        "role": device.role,
        "paired": write_instant(device.paired),
        "seen": write_instant(device.seen),
        "withdrawn": device.withdrawn and write_instant(device.withdrawn),
        "is_this": guest.device is not None and guest.device.id == device.id,
    }


def standing(invitation: Invitation | None) -> dict[str, Any] | None:
    """An invitation as every maker may see it: without its code."""
    if invitation is None:
        return None
    return {
        "role": invitation.role,
        "ends": write_instant(invitation.ends),
        "figures_left": figures_left(invitation),
    }


_devices = msgspec.json.Decoder(list[Device])


def devices_text(devices: list[Device]) -> bytes:
    return msgspec.json.format(msgspec.json.encode(devices), indent=1) + b"\n"


def read_devices(text: bytes) -> list[Device]:
    """Raises ValueError where it is no list of devices."""
    try:
        found = _devices.decode(text)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as wrong:
        raise ValueError(str(wrong)) from wrong
    if any(
        at is not None and at.tzinfo is None for one in found for at in (one.paired, one.seen, one.withdrawn)
    ):
        raise ValueError("a moment in it has no time zone")
    return found
