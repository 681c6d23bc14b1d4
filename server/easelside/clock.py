"""What time is it? The only place that asks the machine.

Everything else takes `now` as an argument or is handed a `Clock` when the program is put together.
"""

import time
from datetime import UTC, datetime, timedelta
from typing import Protocol


class Clock(Protocol):
    def now(self) -> datetime:
        """The present instant in UTC, whole milliseconds."""
        ...

    def monotonic_s(self) -> float:
        """Seconds that only go forward, from an unknown start."""
        ...


class SystemClock:
    def now(self) -> datetime:
        at = datetime.now(UTC)
        return at.replace(microsecond=at.microsecond // 1000 * 1000)

    def monotonic_s(self) -> float:
        return time.monotonic()


class FakeClock:
    """A clock that a test moves by hand; `set` may move it back, as people do with real ones."""

    def __init__(self, at: datetime = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)) -> None:
        self._at = at
        self._since_start_s = 0.0

    def now(self) -> datetime:
        return self._at

    def monotonic_s(self) -> float:
        return self._since_start_s

    def set(self, at: datetime) -> None:
        self._at = at

    def forward(self, **by: float) -> None:
        """Let time pass: `forward(minutes=5)`."""
        passed = timedelta(**by)
        self._at += passed
        self._since_start_s += passed.total_seconds()
