"""Who looks, second by second, whether somebody is to be called? Rings the bench's bell and says what is due.

The wall clock decides, and what was said is kept: after a restart, or a night in which the machine slept,
what is still worth saying is said, and nothing twice.
"""

import logging
import threading
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from easelside.alarms import words
from easelside.alarms.bell import Bell
from easelside.alarms.model import Facts
from easelside.alarms.postman import Postman, shown
from easelside.alarms.rules import answered, ringing, unsaid
from easelside.clock import Clock
from easelside.errors import EaselsideError
from easelside.logbook.book import Logbook
from easelside.units import write_instant

log = logging.getLogger("easelside.alarms")

NAME = "easelside-alarms"
EVERY_S = 0.5
ANEW_S = 30.0  # care comes due by the calendar alone, with no change in the logbook
# Many changes at once come in at their full pace: a count waits until they are through, or 5 s, and rests
# thirty times as long as it took. The bell rings on time meanwhile, by the count before.
MANY = 200
REST, LONGEST_REST_S = 30, 5.0


class Alarms:
    """`facts` answers all that may call, as it stands at an instant."""

    def __init__(
        self,
        logbook: Logbook,
        clock: Clock,
        facts: Callable[[datetime], Facts],
        bell: Bell,
        folder: Path,
        *,
        loopback_push: bool = False,
    ) -> None:
        self._logbook = logbook
        self._clock = clock
        self._ask = facts
        self._facts: Facts | None = None
        self._as_of = (-1, 0.0)
        self._rests_until = 0.0
        self._seen = 0
        self._said: set[str] | None = None
        self._ended = threading.Event()
        self._thread: threading.Thread | None = None
        self.bell = bell
        self.postman = Postman(logbook, clock, folder, loopback=loopback_push)

    def start(self) -> None:
        self.postman.start()
        self._thread = threading.Thread(target=self._rounds, name="alarms", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self._ended.set()
        if self._thread is not None:
            self._thread.join(10)
        self.bell.close()
        self.postman.stop()

    def facts(self) -> Facts:
        """Counted anew where the logbook has grown, and now and then; later where that would be too often."""
        seq, at = self._logbook.end()["seq"], self._clock.monotonic_s()
        grows, self._seen = seq - self._seen > MANY and at - self._as_of[1] < LONGEST_REST_S, seq
        is_old = seq != self._as_of[0] or at - self._as_of[1] >= ANEW_S
        if self._facts is None or (is_old and not grows and at >= self._rests_until):
            self._facts, self._as_of = self._ask(self._clock.now()), (seq, at)
            done = self._clock.monotonic_s()
            self._rests_until = done + min(REST * (done - at), LONGEST_REST_S)
        return self._facts

    def look(self) -> None:
        """One look: bell on or off, what is due said, what was answered called back."""
        facts, now = self.facts(), self._clock.now()
        self.bell.ring(bool(ringing(facts, now)))
        if not self.postman.on or not self._logbook.subscriptions():
            return  # no layer that could say it: it stays unsaid
        if waiting := self._logbook.waiting():
            if gone := answered(facts, waiting):
                self._logbook.call_back(gone)
        if self._said is None:
            self._said = self._logbook.said()
        for message in unsaid(facts, self._said, now):
            body = shown(message.key, *words.told(message, facts.zone))
            until = write_instant(message.until)
            self._logbook.say(message.key, body, write_instant(now), until, urgent=message.urgent)
            self._said.add(message.key)

    def _rounds(self) -> None:
        while not self._ended.wait(EVERY_S):
            try:
                self.look()
            except EaselsideError as problem:
                log.error("%s", problem)
                self._ended.wait(5)
            except Exception:
                log.exception("Unforeseen while looking at what is due")
                self._ended.wait(5)
