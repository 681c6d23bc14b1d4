"""Where devices are let in, named and withdrawn: the rules with a clock, chance, and the list of the paired.

Codes live in memory only, as hashes, one at a time: a restart ends them. Tokens are handed out once and
never kept.
"""

import base64
import contextlib
import hashlib
import secrets
from collections.abc import Callable
from dataclasses import dataclass, replace
from threading import Lock

from easelside.clock import Clock
from easelside.errors import (
    CodeNotTaken,
    EaselsideError,
    GuessedTooSoon,
    MakersOnly,
    NotPaired,
    UnknownDevice,
    Withdrawn,
)
from easelside.pairing import rules
from easelside.pairing.model import Device, Guest, Invitation, Knock, Role, Why
from easelside.pairing.store import Store

TOKEN_BYTES = 32
SQUARE_BYTES = 10


def hashed(secret: str) -> str:
    """SHA-256 in hex; nothing slower is needed for secrets that nobody can guess, and codes last minutes."""
    return hashlib.sha256(secret.encode("utf-8", "surrogatepass")).hexdigest()


@dataclass(frozen=True)
class FreshCode:
    """Shown once to who asked for it."""

    invitation: Invitation
    square: str
    figures: str


class Desk:
    def __init__(
        self, store: Store, clock: Clock, chance: Callable[[int], bytes] = secrets.token_bytes
    ) -> None:
        self._store = store
        self._clock = clock
        self._chance = chance
        self._lock = Lock()
        self._devices = {device.id: device for device in store.load()}
        self._saved_seen = {id: device.seen for id, device in self._devices.items()}
        self._invitation: Invitation | None = None
        self.withdrew: Callable[[], None] = lambda: None  # what else has to end with a device's coming in

    # -- who asks

    def guest(self, knock: Knock) -> Guest | Why:
        found = rules.may_come_in(knock, self.devices())
        if isinstance(found, Guest) and found.device is not None:
            self._note_seen(found.device.id)
        return found

    def let_in(self, knock: Knock, path: str, method: str = "GET") -> Guest | Why:
        """Raises NotPaired, Withdrawn, MakersOnly where this one may not do what is asked for at `path`."""
        found = self.guest(knock)
        wanted = rules.needs(path, method)
        if wanted == "nothing":
            return found
        if found == "withdrawn":
            raise Withdrawn
        if not isinstance(found, Guest):
            raise NotPaired
        if not rules.is_enough(found.role, wanted):
            raise MakersOnly
        return found

    def _note_seen(self, id: str) -> None:
        with self._lock:
            device = self._devices.get(id)
            if device is None:
                return
            now = self._clock.now()
            self._devices[id] = replace(device, seen=now)
            if rules.is_seen_again(replace(device, seen=self._saved_seen.get(id, device.paired)), now):
                self._saved_seen[id] = now
                with contextlib.suppress(EaselsideError):  # a full disk keeps nobody from working
                    self._store.save(list(self._devices.values()))

    # -- codes

    def invite(self, role: Role, by: str | None = None) -> FreshCode:
        """A new code, made on the device `by`; the one before it ends. Raises MakersOnly."""
        square = base64.b32encode(self._chance(SQUARE_BYTES)).decode()
        figures = f"{int.from_bytes(self._chance(8), 'big') % 10**rules.FIGURES:0{rules.FIGURES}}"
        ends = self._clock.now() + rules.CODE_LASTS
        with self._lock:
            if by is not None and not self._is_maker(by):  # withdrawn while it was asking
                raise MakersOnly
            self._invitation = Invitation(role, ends, hashed(square), hashed(figures), by=by)
            return FreshCode(self._invitation, square, figures)

    def invitation(self) -> Invitation | None:
        """The one that stands."""
        with self._lock:
            if self._invitation is not None and rules.has_ended(self._invitation, self._clock.now()):
                self._invitation = None
            return self._invitation

    def end_invitation(self) -> None:
        with self._lock:
            self._invitation = None

    def pair(self, code: str, name: str, writes_as: str | None, before: Device | None) -> tuple[Device, str]:
        """The new device and its token, which is told this once. `before`: who it was until now, if anybody.

        Raises CodeNotTaken, GuessedTooSoon, and what the disk may refuse: then the code still stands.
        """
        spelled = rules.spelled(code)
        with self._lock:
            now = self._clock.now()
            kind: rules.Kind = "figures" if spelled is None or spelled.isdigit() else "square"
            standing = self._invitation
            found = rules.guess(standing, hashed(spelled or ""), kind, now)
            if found.wait_s:
                raise GuessedTooSoon(wait_s=found.wait_s)
            if not found.is_right or standing is None:
                self._invitation = found.left
                raise CodeNotTaken
            token = base64.urlsafe_b64encode(self._chance(TOKEN_BYTES)).decode().rstrip("=")
            id = before.id if before else self._chance(8).hex()
            device = Device(id, before.name if before else name, standing.role, hashed(token), now, now,
                            writes_as=writes_as)  # fmt: skip
            self._keep({**self._devices, id: device})
            self._invitation = None
            return device, token

    # -- the list

    def devices(self) -> list[Device]:
        with self._lock:
            return list(self._devices.values())

    def let_in_ids(self) -> dict[str, str]:
        """The ids of those that may come in, each with the name under which it writes in the records."""
        return {one.id: one.writes_as or one.id for one in self.devices() if one.withdrawn is None}

    def change(self, id: str, name: str | None, role: Role | None) -> Device:
        """Raises UnknownDevice, and what the disk may refuse."""
        with self._lock:
            device = self._known(id)
            changed = replace(device, name=name or device.name, role=role or device.role)
            self._keep({**self._devices, id: changed})
            if changed.role != "maker":
                self._end_code_of(id)
            return changed

    def withdraw(self, id: str) -> None:
        """It may not come in any more; once more takes it off the list. Raises UnknownDevice."""
        with self._lock:
            device = self._known(id)
            rest = {key: one for key, one in self._devices.items() if key != id}
            if device.withdrawn is None:
                rest[id] = replace(device, withdrawn=self._clock.now())
            self._keep(rest)
            self._end_code_of(id)
        self.withdrew()

    def _is_maker(self, id: str) -> bool:
        device = self._devices.get(id)
        return device is not None and device.withdrawn is None and device.role == "maker"

    def _end_code_of(self, id: str) -> None:
        """Who may make no codes any more comes in by none that it made before."""
        if self._invitation is not None and self._invitation.by == id:
            self._invitation = None

    def _known(self, id: str) -> Device:
        if id not in self._devices:
            raise UnknownDevice
        return self._devices[id]

    def _keep(self, devices: dict[str, Device]) -> None:
        self._store.save(list(devices.values()))
        self._devices = devices
        self._saved_seen = {id: device.seen for id, device in devices.items()}
