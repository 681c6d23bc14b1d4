"""How does the story come into a logbook? As changes, sent in batches the way a phone would send them."""

from datetime import datetime
from typing import Any

from seed_demo.telling import Telling
from seed_demo.workshop import tell


def changes(now: datetime, time_zone: str = "Europe/Berlin") -> list[dict[str, Any]]:
    """The story's changes, oldest first. `now` (aware) is the moment it ends; `time_zone` an IANA name.

    The same `now` and zone give the same changes, ids included.
    """
    telling = Telling(now, time_zone)
    tell(telling, time_zone)
    return telling.in_order()
