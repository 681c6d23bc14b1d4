"""Soaks over REST: read, begun, changed."""

from collections.abc import Callable
from datetime import datetime

from easelside.logbook.model import Record, values
from easelside.soak.model import read_soak
from easelside.soak.practice import as_usual, planned_s
from easelside.soak.rules import ready_at
from easelside.soak.schemas import ReadySchema, SoakSchema
from easelside.units import Fields, text, write_instant
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, Shaped, publish


def blueprint(workshop: Callable[[], Fields]) -> Blueprint:
    """`workshop` answers what its own record says: the maker's habits."""

    def ready(record: Record) -> Shaped:
        at = ready_at(as_usual(read_soak(record["id"], values(record["fields"])), workshop))
        return {"ready_at": at and write_instant(at)}

    def first(now: datetime, said: Shaped) -> Shaped:
        return {"put_in": write_instant(now), "soak_s": planned_s(text(said, "water"), workshop())}

    soaks = Blueprint("soak", __name__, url_prefix="/api", description="Cane in water")
    soak = Resource("soak", "Soak", SoakSchema, derived=ReadySchema, derive=ready, first=first)
    publish(soaks, soak, writable=True)
    return soaks
