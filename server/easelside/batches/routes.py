"""Lots, batches and tallies over REST: read, with where each batch stands."""

from collections.abc import Callable

from easelside.batches.rules import Stand
from easelside.batches.schemas import BatchSchema, BatchStandSchema, LotSchema, TallySchema
from easelside.logbook.model import Record
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, Shaped, publish


def blueprint(stands_of: Callable[[str], dict[str, Stand]]) -> Blueprint:
    """`stands_of` answers where a batch stands, by its id."""

    def stands(record: Record) -> Shaped:
        return {"stands": {stage: vars(stand) for stage, stand in stands_of(record["id"]).items()}}

    batches = Blueprint("batches", __name__, url_prefix="/api", description="Lots, batches, tallies")
    publish(batches, Resource("lot", "Lot", LotSchema))
    publish(batches, Resource("batch", "Batch", BatchSchema, derived=BatchStandSchema, derive=stands))
    publish(batches, Resource("tally", "Tally", TallySchema))
    return batches
