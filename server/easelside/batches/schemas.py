"""How are lots, batches and tallies shown over REST?"""

import marshmallow as ma

from easelside.batches.model import CANE_COMES, STAGES
from easelside.web.fields import Closed, Day, Instant, Number, OneOf, Text, Uuid, Whole, YesNo


class LotSchema(Closed):
    label = Text()
    comes = OneOf(CANE_COMES)
    gouge_mm = Number(0, 10)
    diameter_mm = Number(0, 100)
    bought = Day()
    pieces = Whole()
    note = Text(10_000)


class BatchSchema(Closed):
    label = Text()
    lot = Uuid()
    pieces = Whole()
    wanted_good = Whole()
    planned_day = Day()
    machine = Uuid()
    stages = ma.fields.List(OneOf(STAGES), allow_none=True)
    first_stage = OneOf(STAGES)
    note = Text(10_000)
    closed = YesNo()


class StandSchema(Closed):
    good = Whole()
    second = Whole()
    lost = Whole()


class BatchStandSchema(Closed):
    stands = ma.fields.Dict(
        keys=ma.fields.String(),
        values=ma.fields.Nested(StandSchema),
        required=True,
        metadata={"description": "What came out of each stage, counted from pieces and tallies"},
    )


class TallySchema(Closed):
    batch = Uuid()
    stage = OneOf(STAGES)
    machine = Uuid()
    at = Instant()
    day = Day()
    started = Whole()
    good = Whole()
    second_count = Whole()
    lost_by = ma.fields.Dict(keys=ma.fields.String(), values=Whole(), allow_none=True)
    opening = YesNo()
    blade = Uuid()
    note = Text(10_000)
