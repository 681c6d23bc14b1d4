"""May this one come in, and as what? Is this guess at a code right, wrong, too soon or one too many?"""

import hmac
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from ipaddress import ip_address
from typing import Literal

from easelside.pairing.model import Device, Guest, Invitation, Knock, Needs, Role, Why

CODE_LASTS = timedelta(minutes=10)
MOST_WRONG_FIGURES = 3
FIRST_WAIT_S = 1
FIGURES = 6
SEEN_EVERY = timedelta(minutes=5)  # how exactly "last seen" outlives a power cut

OPEN = {"/api/who", "/api/pair"}
FOR_MAKERS = ("/api/phones", "/api/calendar")
SWITCHES = {("PUT", "/api/push"), ("PUT", "/api/way_in")}  # reading how they stand is for whoever is paired


def is_loopback(peer: str | None) -> bool:
    try:
        address = ip_address((peer or "").partition("%")[0])
    except ValueError:
        return False
    mapped = getattr(address, "ipv4_mapped", None)  # ::ffff:127.0.0.1, as a socket for both versions has it
    return (mapped or address).is_loopback


def is_at_the_machine(knock: Knock) -> bool:
    """The browser on the server's own machine: nothing in between, asked for by the machine's own name."""
    return knock.by_own_door and knock.by_own_name and is_loopback(knock.peer) and not knock.is_relayed


def known_by(token_hash: str | None, devices: Iterable[Device]) -> Device | None:
    """The device with this token; every one is compared, so that time tells nothing."""
    found = None
    for device in devices:
        if token_hash is not None and hmac.compare_digest(device.token_hash, token_hash):
            found = device
    return found


def may_come_in(knock: Knock, devices: Iterable[Device]) -> Guest | Why:
    """A guest with a role, or the code of why not."""
    if is_at_the_machine(knock):
        return Guest("maker", None)
    device = known_by(knock.token_hash, devices)
    if device is None:
        return "not_paired"
    if device.withdrawn is not None:  # by no clock: one may begin in the past at each start
        return "withdrawn"
    return Guest(device.role, device)


def needs(path: str, method: str = "GET") -> Needs:
    """What a request must be allowed to do; the client's files are for everybody, all else of /api is not.

    A calendar's address is its own key: a calendar program carries no cookie.
    """
    plain = path.rstrip("/")
    if plain in OPEN or not (plain == "/api" or plain.startswith("/api/")):
        return "nothing"
    if method == "GET" and plain.startswith("/api/calendar/") and plain.endswith(".ics"):
        return "nothing"
    if (method, plain) in SWITCHES or any(f"{plain}/".startswith(f"{start}/") for start in FOR_MAKERS):
        return "maker"
    return "paired"


def is_enough(role: Role, wanted: Needs) -> bool:
    return wanted != "maker" or role == "maker"


def spelled(code: str) -> str | None:
    """A code as it is compared: six figures, or the sixteen letters of the square; None for neither."""
    plain = "".join(code.upper().replace("-", " ").split())
    if len(plain) == FIGURES and plain.isascii() and plain.isdigit():
        return plain
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
    return plain if len(plain) == 16 and all(letter in letters for letter in plain) else None


@dataclass(frozen=True)
class Guessed:
    """`left`: what stands of the invitation after this guess."""

    is_right: bool
    left: Invitation | None
    wait_s: int = 0  # more than 0: not looked at, ask again then


Kind = Literal["figures", "square"]


def has_ended(invitation: Invitation, now: datetime) -> bool:
    """Also where the clock was turned back since it was made: a code gains no life by that."""
    return not timedelta(0) < invitation.ends - now <= CODE_LASTS


def guess(invitation: Invitation | None, code_hash: str, kind: Kind, now: datetime) -> Guessed:
    """One guess at a code. A right one uses it up; each wrong figure makes the next wait twice as long.

    Wrong figures end the figures, the square then still opens. Nobody guesses a square's 80 bits, so a wrong
    one costs nothing: else a stranger on the network could hold up or end every pairing.
    """
    if invitation is None or has_ended(invitation, now):
        return Guessed(False, None)
    if kind == "square":
        is_right = hmac.compare_digest(invitation.square_hash, code_hash)
        return Guessed(is_right, None if is_right else invitation)
    if invitation.wait_until is not None and now < invitation.wait_until:
        left_s = (invitation.wait_until - now).total_seconds()
        return Guessed(False, invitation, wait_s=max(1, int(left_s + 0.999)))
    if invitation.figures_hash is None:
        return Guessed(False, invitation)
    if hmac.compare_digest(invitation.figures_hash, code_hash):
        return Guessed(True, None)
    return Guessed(False, _after_wrong(invitation, now))


def _after_wrong(invitation: Invitation, now: datetime) -> Invitation:
    wrong = invitation.wrong_figures + 1
    if wrong >= MOST_WRONG_FIGURES:
        return replace(invitation, wrong_figures=wrong, figures_hash=None, wait_until=None)
    return replace(invitation, wrong_figures=wrong, wait_until=now + _wait(wrong))


def _wait(wrong: int) -> timedelta:
    return timedelta(seconds=FIRST_WAIT_S << (wrong - 1))


def figures_left(invitation: Invitation) -> int:
    """How many more wrong figures the code bears, the last one included."""
    return 0 if invitation.figures_hash is None else MOST_WRONG_FIGURES - invitation.wrong_figures


def is_seen_again(device: Device, now: datetime) -> bool:
    """Is it time to write down that it was here?"""
    return now - device.seen >= SEEN_EVERY or now < device.seen


@dataclass(frozen=True)
class Touch:
    """A change to an open session or one of its pieces: the device's name in the logbook, and when."""

    machine: str
    session: str
    device: str
    at: datetime


MOST_AT_MACHINES = 60
GONE_AFTER = timedelta(hours=12)  # a session left open is nobody's after a night


def at_machines(touches: Iterable[Touch], now: datetime) -> list[Touch]:
    """The last touch of each device at each machine, the latest first; older than half a day says nothing."""
    last: dict[tuple[str, str], Touch] = {}
    for touch in touches:
        place = (touch.machine, touch.device)
        if now - touch.at <= GONE_AFTER and (place not in last or last[place].at < touch.at):
            last[place] = touch
    return sorted(last.values(), key=lambda touch: touch.at, reverse=True)[:MOST_AT_MACHINES]
