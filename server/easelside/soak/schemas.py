"""What may be said of a soak over REST, and within which bounds?"""

from easelside.soak.model import MARKS, PURPOSES, WATERS
from easelside.web.fields import Closed, Instant, Number, OneOf, Text, Uuid, Whole, YesNo

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
    taken_out_skew_ms = Number(-(10**14), 10**14)
    mark = OneOf(MARKS)
    drying_since = Instant()
    dried_at = Instant(metadata={"description": "When it was dry enough"})
    silenced_at = Instant()
    rings_again_at = Instant()
    run = Uuid(metadata={"description": "The first soak of its staggered row"})
    of_pieces = Whole(0, MOST_PIECES, metadata={"description": "In a row's first soak: all that go in"})
    every_s = Number(0, LONGEST_SOAK_S, metadata={"description": "In a row's first soak: group to group"})
    next_silenced_at = Instant(metadata={"description": "The call for the next group of its row"})
    next_rings_again_at = Instant()
    weight_before_g = Number(0, 10_000)
    weight_after_g = Number(0, 10_000)
    fresh = YesNo(metadata={"description": "Whether the water was"})
    note = Text(10_000)


class ReadySchema(Closed):
    ready_at = Instant(required=True, metadata={"description": "put_in + soak_s, a wrong clock put right"})
