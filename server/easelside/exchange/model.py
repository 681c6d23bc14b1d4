"""What does a phone send, and what does it get back? (The shapes of one exchange.)"""

from typing import Any, NotRequired, TypedDict

from easelside.logbook.model import Change, End, Offer


class Refused(TypedDict):
    """A change (or, `offer`, a field offered) that cannot be kept; `id` is "" where none can be read."""

    id: str
    code: str
    problem: str
    offer: NotRequired[bool]


class Request(TypedDict):
    """One exchange. `after`: the last row that the phone has had; `end`: the last end that it was told."""

    device: str
    device_now: str
    logbook: str | None
    end: NotRequired[End | None]
    after: NotRequired[int]
    limit: NotRequired[int]
    offers: NotRequired[list[Offer]]
    changes: NotRequired[list[Change]]


class Sorted(TypedDict):
    """A request whose changes and offers were looked at one by one."""

    device: str
    device_now: str
    logbook: str | None
    end: End | None
    after: int
    limit: int
    offers: list[Offer]
    changes: list[Change]
    refused: list[Refused]


Json = dict[str, Any]
