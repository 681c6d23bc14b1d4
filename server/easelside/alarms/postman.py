"""Who carries messages to the push services? One thread of its own: no request ever waits for the internet.

Every delivery is marked as begun before it is sent and struck off after. A server that is killed in between
does not know whether it arrived, and does not send it again: nothing is said twice.
"""

import json
import logging
import threading
from collections.abc import Collection
from datetime import timedelta
from pathlib import Path

from easelside.alarms import words
from easelside.alarms.push import Outcome, encrypted, next_wait, send
from easelside.alarms.vapid import Vapid
from easelside.clock import Clock
from easelside.errors import EaselsideError, NoPushService, PushIsOff, TooLarge
from easelside.logbook.beside import Delivery
from easelside.logbook.book import Logbook
from easelside.units import read_instant, write_instant

log = logging.getLogger("easelside.alarms")

NOTE = "push"
HERE = "here "  # before what a browser on the machine itself calls itself
EVERY_S = 1.0
DECLARED = 8030  # the mark by which a phone knows that the message says itself what to show


class Postman:
    def __init__(self, logbook: Logbook, clock: Clock, folder: Path, *, loopback: bool = False) -> None:
        self._logbook = logbook
        self._clock = clock
        self._folder = folder
        self._vapid: Vapid | None = None
        self._ended = threading.Event()
        self._thread: threading.Thread | None = None
        self.loopback = loopback

    # -- the switch

    @property
    def on(self) -> bool:
        return self._logbook.noted(NOTE) is not None

    @property
    def contact(self) -> str | None:
        said = self._logbook.noted(NOTE)
        found = json.loads(said).get("contact") if said else None
        return found if isinstance(found, str) else None

    def vapid(self) -> Vapid:
        """Raises PushIsOff."""
        if not self.on:
            raise PushIsOff
        if self._vapid is None:
            self._vapid = Vapid.open(self._folder)
        return self._vapid

    def switch_on(self, contact: str | None) -> None:
        self._vapid = Vapid.open(self._folder)
        self._logbook.note(NOTE, json.dumps({"contact": contact}))

    def switch_off(self) -> None:
        """Nothing is kept that could be sent to."""
        self._logbook.note(NOTE, None)
        self._logbook.unsubscribe(*(one["id"] for one in self._logbook.subscriptions()))

    def keep_only(self, paired: Collection[str]) -> None:
        """Who may not come in any more gets no message either; the machine's own browsers stay."""
        gone = [
            one["id"]
            for one in self._logbook.subscriptions()
            if not one["device"].startswith(HERE) and one["device"] not in paired
        ]
        if gone:
            self._logbook.unsubscribe(*gone)

    # -- the rounds

    def start(self) -> None:
        self._logbook.forget_begun()
        self._thread = threading.Thread(target=self._rounds, name="postman", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        self._ended.set()
        if self._thread is not None:
            self._thread.join(2 * EVERY_S + 10)

    def _rounds(self) -> None:
        while not self._ended.wait(EVERY_S):
            try:
                while not self._ended.is_set() and self.carry_one():
                    pass
            except EaselsideError as problem:
                log.error("%s", problem)
            except Exception:
                log.exception("Unforeseen while carrying messages")

    def carry_one(self) -> bool:
        """One delivery, whatever becomes of it; False: none waits."""
        if not self.on:
            return False
        now = self._clock.now()
        delivery = self._logbook.take_delivery(write_instant(now))
        if delivery is None:
            return False
        self._settle(delivery, self._send(delivery))
        return True

    def _send(self, delivery: Delivery) -> Outcome:
        now = self._clock.now()
        left = (read_instant(delivery["until"]) or now) - now
        try:
            return send(
                delivery["endpoint"],
                encrypted(_as_shown(delivery), delivery["p256dh"], delivery["auth"]),
                self.vapid(),
                self.contact,
                key=delivery["key"],
                ttl_s=int(left.total_seconds()),
                urgent=delivery["urgent"],
                now=now,
                loopback=self.loopback,
            )
        except (NoPushService, TooLarge, PushIsOff) as refusal:
            return Outcome("lost", refusal.what_happened)

    def _settle(self, delivery: Delivery, outcome: Outcome) -> None:
        now = self._clock.now()
        if outcome.what == "taken":
            self._logbook.delivered(delivery, write_instant(now))
            return
        if outcome.what == "gone":
            self._logbook.unsubscribe(delivery["subscription"])
            return
        later = now + next_wait(delivery["tries"], outcome.wait)
        if outcome.what == "later" and write_instant(later) < delivery["until"]:
            self._logbook.put_off(delivery, write_instant(later), outcome.why)
            return
        log.warning(words.PUSH_GIVEN_UP, outcome.why)
        self._logbook.given_up(delivery, outcome.why)

    def lay_out_trial(self, device: str) -> int:
        """A message for one device, to try it out; how many subscriptions it goes to."""
        self.vapid()
        now = self._clock.now()
        key = f"trial/{device}/{write_instant(now)}"
        until = write_instant(now + timedelta(minutes=2))
        return self._logbook.say_to(device, key, shown(key, *words.TRIAL), write_instant(now), until)


def shown(key: str, title: str, text: str) -> str:
    """What the phone is to show, as JSON. The tag lets a message that came twice show once."""
    said = {"title": title, "body": text, "tag": key, "lang": "en", "dir": "ltr"}
    return json.dumps({"web_push": DECLARED, "notification": said}, ensure_ascii=False)


def _as_shown(delivery: Delivery) -> bytes:
    """With the address that a touch opens: the one that this phone subscribed from."""
    said = json.loads(delivery["body"])
    said["notification"]["navigate"] = f"{delivery['origin']}/"
    return json.dumps(said, ensure_ascii=False).encode()
