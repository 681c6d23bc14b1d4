"""How are blades and their moves shown over REST?"""

import marshmallow as ma

from easelside.blades.model import MOVES, PLACES
from easelside.web.fields import Closed, Instant, OneOf, Text, Uuid, Whole, YesNo


class BladeSchema(Closed):
    label = Text()
    note = Text(10_000)


class PlaceSchema(Closed):
    where = OneOf(PLACES, required=True)
    machine = Uuid(required=True)
    since = Instant(required=True)


class EdgeSchema(Closed):
    life = ma.fields.Integer(required=True, metadata={"description": "1 before the first grinding"})
    began = Instant(required=True)
    pieces = Whole(required=True)


class BladeStandSchema(Closed):
    """What follows from the moves, the pieces and the tallies."""

    place = ma.fields.Nested(PlaceSchema, required=True, allow_none=True)
    edge = ma.fields.Nested(EdgeSchema, required=True, allow_none=True)


class BladeMoveSchema(Closed):
    blade = Uuid()
    machine = Uuid()
    what = OneOf(MOVES)
    at = Instant()
    inside_record = Uuid()
    inside_piece = Whole()
    took_out = Uuid(metadata={"description": "The blade that was in, as far as the phone knew"})
    confirmed = YesNo(metadata={"description": "Where two phones fitted one each: a person said this one"})
    note = Text(10_000)
