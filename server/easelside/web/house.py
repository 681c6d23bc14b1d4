"""What do the routes work with? The logbook, the shelf and the clock of this server."""

from dataclasses import dataclass
from threading import Lock
from typing import cast

from flask import Flask, current_app

from easelside.clock import Clock
from easelside.logbook.book import Logbook
from easelside.shelf.at_hand import Shelf

NAME = "easelside"


@dataclass(frozen=True)
class House:
    logbook: Logbook
    shelf: Shelf
    clock: Clock
    one_at_a_time: Lock  # an If-Match is compared and the change written with nobody in between


def house_of(app: Flask) -> House:
    return cast(House, app.extensions[NAME])


def house() -> House:
    """The house of the request that is being answered."""
    return house_of(current_app)
