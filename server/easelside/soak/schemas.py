"""What may be said of a soak over REST, and within which bounds?"""

from easelside.soak.model import MARKS, PURPOSES, WATERS
from easelside.web.fields import Closed, Instant, Number, OneOf, Text, Uuid, Whole

LONGEST_SOAK_S = 7 * 24 * 3600
MOST_PIECES = 9_999  # where the screens stop too


class SoakSchema(Closed):
    purpose = OneOf(PURPOSES)
    pieces = Whole(0, MOST_PIECES)
    batch = Uuid()
    lot = Uuid()
    jar = Text(40)
    water = OneOf(WATERS)
    water_c = Number(-5, 100)
    soak_s = Number(
        0,
        LONGEST_SOAK_S,
        metadata={"description": "Planned time in water, seconds; the maker's habit where it is not said"},
    )
    put_in = Instant(metadata={"description": "The moment the request came, where it is not said"})
    put_in_skew_ms = Number(
        -(10**14), 10**14, metadata={"description": "Phone's clock less the server's; null: typed by hand"}
    )
    taken_out = Instant()
    mark = OneOf(MARKS)
    drying_since = Instant()
    silenced_at = Instant()
    note = Text(10_000)


class ReadySchema(Closed):
    ready_at = Instant(required=True, metadata={"description": "put_in + soak_s, a wrong clock put right"})
