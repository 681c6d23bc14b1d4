"""Soaks over REST: read, begun, changed."""

from datetime import datetime

from easelside.logbook.model import Record, values
from easelside.soak.model import read_soak
from easelside.soak.rules import ready_at
from easelside.soak.schemas import ReadySchema, SoakSchema
from easelside.units import write_instant
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, Shaped, publish


def ready(record: Record) -> Shaped:
    at = ready_at(read_soak(record["id"], values(record["fields"])))
    return {"ready_at": at and write_instant(at)}


def put_in_now(now: datetime) -> Shaped:
    return {"put_in": write_instant(now)}


def blueprint() -> Blueprint:
    soaks = Blueprint("soak", __name__, url_prefix="/api", description="Cane in water")
    soak = Resource("soak", "Soak", SoakSchema, derived=ReadySchema, derive=ready, first=put_in_now)
    publish(soaks, soak, writable=True)
    return soaks
