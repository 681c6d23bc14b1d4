"""What is known of a device that may come in, of a code that lets one in, and of whoever asks?"""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

Role = Literal["maker", "hand"]


@dataclass(frozen=True)
class Device:
    """A paired device. `token_hash`: SHA-256 of its token, in hex; the token itself is on the device alone.

    `writes_as`: the name under which its changes stand in the logbook, where it told it.
    """

    id: str
    name: str
    role: Role
    token_hash: str
    paired: datetime
    seen: datetime
    withdrawn: datetime | None = None
    writes_as: str | None = None


@dataclass(frozen=True)
class Invitation:
    """One code that lets one device in, in two spellings: `square_hash` of the long one, `figures_hash`.

    `figures_hash` is None once too many wrong figures were typed. `wait_until`: none are looked at before.
    `by`: the device that made it; None: the machine itself.
    """

    role: Role
    ends: datetime
    square_hash: str
    figures_hash: str | None
    wrong_figures: int = 0
    wait_until: datetime | None = None
    by: str | None = None


@dataclass(frozen=True)
class Knock:
    """Whoever asks, as the connection and its headers say.

    `by_own_door`: it came through the door that only this machine reaches; `by_own_name`: it asked for one of
    the names that only this machine has for itself; `peer`: the address of the other end; `is_relayed`:
    something on the way says that it passed it on; `token_hash`: of the token it brought.
    """

    by_own_door: bool
    by_own_name: bool
    peer: str | None
    is_relayed: bool
    token_hash: str | None


@dataclass(frozen=True)
class Guest:
    """Somebody who may come in. `device` is None at the machine itself."""

    role: Role
    device: Device | None


Why = Literal["not_paired", "withdrawn"]
Needs = Literal["nothing", "paired", "maker"]
