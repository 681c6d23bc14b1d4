"""How does the story come into a logbook? As changes, sent in batches the way a phone would send them."""

from collections.abc import Callable
from datetime import datetime
from typing import Any, Protocol

from easelside.units import write_instant
from seed_demo.telling import Telling
from seed_demo.workshop import tell

BATCH = 500


class Receiver(Protocol):
    """A logbook, as far as the story needs one."""

    def receive(self, device: str, device_now: str, changes: Any) -> Any: ...


def changes(now: datetime, time_zone: str = "Europe/Berlin") -> list[dict[str, Any]]:
    """The story's changes, oldest first. `now` (aware) is the moment it ends; `time_zone` an IANA name.

    The same `now` and zone give the same changes, ids included.
    """
    telling = Telling(now, time_zone)
    tell(telling, time_zone)
    return telling.in_order()


def load(
    logbook: Receiver,
    now: datetime,
    time_zone: str = "Europe/Berlin",
    progress: Callable[[int, int], None] = lambda done, of: None,
) -> int:
    """Sends the story to an empty logbook; gives how many it took. `progress(done, of)` as it goes."""
    story = changes(now, time_zone)
    sender = story[0]["device"]
    for first in range(0, len(story), BATCH):
        batch = story[first : first + BATCH]
        logbook.receive(sender, write_instant(now), batch)
        progress(first + len(batch), len(story))
    return len(story)
