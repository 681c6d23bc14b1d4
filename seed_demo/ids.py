"""Where do the demonstration's ids come from? Ids that are the same each time, made as a phone makes them.

Layouts: RFC 9562, section 5.7 (version 7: 48 bits of Unix milliseconds, then chance) and 5.8 (version 8).
"""

import hashlib
import random
import uuid
from datetime import UTC, datetime, timedelta


def time_ordered(at: datetime, chance: random.Random) -> str:
    """A UUID of version 7 for an instant (aware); `chance` stands in for the phone's random source."""
    milliseconds = (at - datetime(1970, 1, 1, tzinfo=UTC)) // timedelta(milliseconds=1)
    bits = milliseconds << 80 | 0x7 << 76 | chance.getrandbits(12) << 64 | 0b10 << 62 | chance.getrandbits(62)
    return str(uuid.UUID(int=bits))


def of_piece(session: str, number: int) -> str:
    """A UUID of version 8 for the piece of this number in this session, the same on every phone."""
    raw = bytearray(hashlib.sha256(f"piece:{session}:{number}".encode()).digest()[:16])
    raw[6] = raw[6] & 0x0F | 0x80
    raw[8] = raw[8] & 0x3F | 0x80
    return str(uuid.UUID(bytes=bytes(raw)))
