"""Blades and their moves over REST: read, with where each blade is and what its edge has cut."""

from collections.abc import Callable

from easelside.blades.model import BladeStand
from easelside.blades.schemas import BladeMoveSchema, BladeSchema, BladeStandSchema
from easelside.logbook.model import Record
from easelside.units import write_instant
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, Shaped, publish


def blueprint(stand_of: Callable[[str], BladeStand]) -> Blueprint:
    """`stand_of` answers where a blade stands, by its id."""

    def stand(record: Record) -> Shaped:
        found = stand_of(record["id"])
        place, edge, began = found.place, found.edge, found.began
        return {
            "place": place
            and {
                "where": place.where,
                "machine": place.machine,
                "since": place.since and write_instant(place.since),
            },
            "edge": edge
            and {"life": edge.life, "began": began and write_instant(began), "pieces": found.pieces},
        }

    blades = Blueprint("blades", __name__, url_prefix="/api", description="Blades and their moves")
    publish(blades, Resource("blade", "Blade", BladeSchema, derived=BladeStandSchema, derive=stand))
    publish(blades, Resource("blade_move", "BladeMove", BladeMoveSchema))
    return blades
