"""How are a machine and a whole setting shown over REST?"""

import marshmallow as ma

from easelside.set_up.model import DOES, INSTRUMENTS, POINTS, TURN_HABITS, TURN_SENSES, WAYS
from easelside.web.fields import Closed, Instant, Number, OneOf, Text, Uuid, Whole, YesNo


class MachineSchema(Closed):
    name = Text()
    does = OneOf(DOES)
    instrument = OneOf(INSTRUMENTS)
    middle_thread = Text(40, metadata={"description": 'Size as "M4", "M4x0.5", "#8-32 UNC"'})
    shoulder_thread = Text(40)
    middle_lowers = OneOf(TURN_SENSES)
    shoulder_lowers = OneOf(TURN_SENSES)
    template = Text()
    middle_wanted_mm = Number(0, 20, metadata={"description": "What the pieces should measure at the middle"})
    middle_wanted_wet = YesNo(metadata={"description": "Whether that is said of wet pieces, or of dry ones"})
    middle_give_mm = Number(0, 20, metadata={"description": "How far off that a piece may be, both ways"})
    shoulder_wanted_mm = Number(0, 20)
    shoulder_wanted_wet = YesNo()
    shoulder_give_mm = Number(0, 20)
    turn_habit = OneOf(TURN_HABITS)
    counts_turns = YesNo()
    bow_after_pieces = Whole(0, 100_000)
    good_pieces = Whole(1, 100_000)
    watch_keener = YesNo()
    watch_rules = ma.fields.List(
        Text(40), allow_none=True, metadata={"description": "nelson 1 to 8, western electric 1 to 4"}
    )
    note = Text(10_000)


class StopSchema(Closed):
    """A stop's position as the maker writes it: turns from a mark, millimetres on a gauge, or words."""

    way = OneOf(WAYS, required=True)
    value = ma.fields.Raw(
        required=True, allow_none=True, metadata={"description": "A number, or a text where the way is words"}
    )


class SettingSchema(Closed):
    machine = Uuid()
    blade = Uuid()
    middle_stop = ma.fields.Nested(StopSchema, allow_none=True)
    shoulder_stop = ma.fields.Nested(StopSchema, allow_none=True)
    projection_mm = Number(-10, 10)
    template = Text()
    why = Text(10_000)
    moved = ma.fields.List(Text(40), allow_none=True, metadata={"description": "What it changed"})
    at = Instant()


class ReadingSchema(Closed):
    """One thickness of one piece, measured at the bench."""

    machine = Uuid()
    session = Uuid()
    batch = Uuid()
    piece = Uuid()
    point = OneOf(POINTS)
    value_mm = Number(0, 20)
    wet = YesNo()
    at = Instant()
    minutes_since_cut = Number(0, 1_000_000)
    note = Text(10_000)
