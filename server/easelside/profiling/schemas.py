"""How are sessions, their checklists and their pieces shown over REST?"""

import marshmallow as ma
from marshmallow import validate

from easelside.profiling.model import CHECK_RESULTS, OUTCOMES, SET_UP_CHECKS, WIND_DOWN_CHECKS
from easelside.web.fields import Closed, Instant, OneOf, Text, Uuid, Whole, YesNo

SetUpSchema = Closed.from_dict({name: OneOf(CHECK_RESULTS) for name in SET_UP_CHECKS}, name="SetUpChecks")
WindDownSchema = Closed.from_dict({name: YesNo() for name in WIND_DOWN_CHECKS}, name="WindDownChecks")


class ChecksSchema(Closed):
    """What was looked over before the first piece, and after the last."""

    set_up = ma.fields.Nested(SetUpSchema)
    wind_down = ma.fields.Nested(WindDownSchema)


class SessionSchema(Closed):
    machine = Uuid()
    began = Instant()
    ended = Instant()
    batches = ma.fields.List(Uuid(), allow_none=True)
    setting = Uuid()
    set_up = ma.fields.Nested(SetUpSchema)
    wind_down = ma.fields.Nested(WindDownSchema)
    left_in_water = Whole()
    paused_at = Instant()
    turns = YesNo()
    joined_to = Uuid()
    apart = ma.fields.List(
        Uuid(), allow_none=True, metadata={"description": "Sessions that are not this one"}
    )
    at_piece = Whole(metadata={"description": "What a phone that took over was told"})
    note = Text(10_000)


class StandingOutcomeSchema(Closed):
    change = ma.fields.String(required=True, metadata={"description": "The change that said so"})
    outcome = OneOf(OUTCOMES, required=True)


class PieceSchema(Closed):
    session = Uuid()
    number = Whole()
    batch = Uuid()
    machine = Uuid()
    began = Instant()
    at = Instant()
    outcome = OneOf(OUTCOMES, metadata={"description": "What it counts as: the latest that stands"})
    outcomes = ma.fields.List(
        ma.fields.Nested(StandingOutcomeSchema),
        metadata={"description": "All that stand; more than one is asked about"},
    )
    seen = ma.fields.List(Text(40), allow_none=True)
    turns = ma.fields.Dict(
        keys=ma.fields.String(),
        values=ma.fields.List(Instant()),
        metadata={"description": "Moments of turning, by the device that they were tapped on"},
    )
    full = YesNo()
    added = YesNo(metadata={"description": "Written down because a tap had been missed"})
    parted_from = Uuid()
    note = Text(10_000)


class PieceQuery(Closed):
    after = ma.fields.Integer(
        load_default=0,
        validate=validate.Range(0, 2**53 - 1),
        metadata={"description": "`next` of the page before"},
    )
    limit = ma.fields.Integer(load_default=50, validate=validate.Range(1, 100))
    session = Uuid()
    batch = Uuid()
    machine = Uuid()
    outcome = OneOf(OUTCOMES)
