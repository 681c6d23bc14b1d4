"""What may be said of care tasks and of care done over REST?"""

import marshmallow as ma

from easelside.care.model import DONE_WHATS, TOOLS, WHATS
from easelside.web.fields import Closed, Day, Instant, OneOf, Text, Uuid, Whole, YesNo


class CareTaskSchema(Closed):
    what = OneOf(WHATS)
    words = Text(metadata={"description": "The maker's own name for it"})
    machine = Uuid()
    tool = OneOf(TOOLS)
    every_pieces = Whole(1, 100_000)  # the three as far as the screen goes
    every_sessions = Whole(1, 1000)
    every_days = Whole(1, 3650)
    since = Instant(metadata={"description": "From when it counts; now where it is not said"})
    note = Text(10_000)


class DueSchema(Closed):
    due_day = Day(required=True, metadata={"description": "By days alone, in the workshop's calendar"})
    due_pieces_left = ma.fields.Integer(required=True, allow_none=True)
    due_sessions_left = ma.fields.Integer(required=True, allow_none=True)
    put_off_until = Day(required=True)
    roughly_day = Day(
        required=True,
        metadata={"description": "Whichever is first, at the present pace; a change, its quiet day"},
    )
    is_due = YesNo(required=True)


class CareDoneSchema(Closed):
    task = Uuid()
    at = Instant(metadata={"description": "The moment the request came, where it is not said"})
    what = OneOf(DONE_WHATS)
    until_day = Day(metadata={"description": "Until when it was put off"})
    note = Text(10_000)
