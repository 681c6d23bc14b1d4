"""What is this record called, so that nobody else's has the same name?

UUIDs of RFC 9562, lower case: version 7 carries the time it was made, so that keys grow in order; version 8
here is derived from a session and a number, so that two phones mean the same piece.
"""

import hashlib
import threading
from collections.abc import Callable


def time_ordered_id(ms: int, chance: bytes) -> str:
    """Version 7: 48 bits of Unix time in milliseconds, then ten bytes of chance less version and variant."""
    value = (ms & 0xFFFFFFFFFFFF) << 80 | int.from_bytes(chance[:10], "big")
    value = value & ~(0xF << 76) | 7 << 76
    value = value & ~(0x3 << 62) | 2 << 62
    return _text(value)


def piece_id(session: str, number: int) -> str:
    """Version 8: the first 16 bytes of SHA-256 over "piece:session:number"."""
    value = int.from_bytes(hashlib.sha256(f"piece:{session}:{number}".encode()).digest()[:16], "big")
    value = value & ~(0xF << 76) | 8 << 76
    value = value & ~(0x3 << 62) | 2 << 62
    return _text(value)


def _text(value: int) -> str:
    digits = f"{value:032x}"
    return f"{digits[:8]}-{digits[8:12]}-{digits[12:16]}-{digits[16:20]}-{digits[20:]}"


class IdMaker:
    """Time-ordered ids that never step back within one process, whatever the clock does."""

    def __init__(self, chance: Callable[[int], bytes]) -> None:
        self._chance = chance
        self._last_ms = 0
        self._lock = threading.Lock()

    def make(self, now_ms: int) -> str:
        with self._lock:
            self._last_ms = max(now_ms, self._last_ms + 1)
            return time_ordered_id(self._last_ms, self._chance(10))
