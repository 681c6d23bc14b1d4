"""What does the workshop keep beside its records, that no phone needs? Slips, what was told, whom to tell.

Each call is one transaction: it is durable when it returns.
"""

import threading
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, TypedDict

import sqlalchemy as sa

from easelside.logbook import asking
from easelside.logbook.door import reading, understood
from easelside.logbook.model import Value
from easelside.logbook.tables import deliveries, events, messages, meta, subscriptions


class Delivery(TypedDict):
    """One message on its way to one phone."""

    key: str
    subscription: str
    body: str
    urgent: bool
    until: str
    tries: int
    endpoint: str
    p256dh: str
    auth: str
    origin: str


class Beside:
    _engine: sa.Engine
    _writer: threading.Lock
    slips_rev = 0  # of the slip that was replaced last: each answer to a phone names it

    @contextmanager
    def _beside(self) -> Iterator[sa.Connection]:
        with self._writer, understood(), self._engine.begin() as connection:
            yield connection

    def keep_slips(self, as_of_seq: int, slips: Iterable[tuple[str, str, int, Value]]) -> int:
        """All slips, in the place of those there were: how many changed.

        `slips`: (kind, subject, observations, body). One that is there no longer is kept with an empty body,
        so that a phone hears of it.
        """
        with self._beside() as connection:
            known = {
                (s["kind"], s["subject"]): (s["observations"], s["body"]) for s in asking.slips(connection)
            }
            now: dict[tuple[str, str], tuple[int, Value]] = dict.fromkeys(known, (0, {}))
            now |= {(kind, subject): (n, body) for kind, subject, n, body in slips}
            changed = {at: said for at, said in now.items() if known.get(at) != said}
            for (kind, subject), (observations, body) in changed.items():
                asking.keep_slip(connection, kind, subject, as_of_seq, observations, body)
            rev = asking.slips_rev(connection)
        self.slips_rev = rev
        return len(changed)

    # -- notes of a few words

    def noted(self, name: str) -> str | None:
        with reading(self._engine) as connection:
            return asking.meta(connection, name)

    def note(self, name: str, value: str | None) -> None:
        """Replaces the note of that name; None takes it away."""
        with self._beside() as connection:
            connection.execute(sa.delete(meta).where(meta.c.name == name))
            if value is not None:
                connection.execute(sa.insert(meta), {"name": name, "value": value})

    # -- messages

    def said(self) -> set[str]:
        """The keys of all messages that were ever said: some hundred a year."""
        with reading(self._engine) as connection:
            return set(connection.execute(sa.select(messages.c.key)).scalars())

    def say(self, key: str, body: str, now: str, until: str, *, urgent: bool) -> bool:
        """Mark a message as said and lay it out for every phone, both or neither; False: it was said."""
        with self._beside() as connection:
            if connection.execute(sa.select(messages.c.key).where(messages.c.key == key)).first():
                return False
            connection.execute(sa.insert(messages), {"key": key, "said": now})
            _lay_out(connection, key, body, now, until, urgent, None)
            return True

    def say_to(self, device: str, key: str, body: str, now: str, until: str) -> int:
        """Lay out a trial message for one device; how many subscriptions it goes to."""
        with self._beside() as connection:
            return _lay_out(connection, key, body, now, until, True, device)

    def waiting(self) -> set[str]:
        """The keys of messages that still wait for a push service."""
        with reading(self._engine) as connection:
            return set(connection.execute(sa.select(deliveries.c.key).distinct()).scalars())

    def call_back(self, keys: Iterable[str]) -> None:
        """Send no more of these."""
        with self._beside() as connection:
            connection.execute(sa.delete(deliveries).where(deliveries.c.key.in_(list(keys))))

    def take_delivery(self, now: str) -> Delivery | None:
        """The next one to be sent, marked as begun before anybody is asked; those past their time go."""
        with reading(self._engine) as connection:
            if connection.execute(sa.select(deliveries.c.key).limit(1)).first() is None:
                return None
        with self._beside() as connection:
            connection.execute(sa.delete(deliveries).where(deliveries.c.until <= now))
            query = (
                sa.select(deliveries, subscriptions)
                .join(subscriptions, subscriptions.c.id == deliveries.c.subscription)
                .where(deliveries.c.begun.is_(False), deliveries.c.next_try <= now)
                .order_by(deliveries.c.next_try, deliveries.c.key, deliveries.c.subscription)
                .limit(1)
            )
            row = connection.execute(query).mappings().first()
            if row is None:
                return None
            here = _at(row["key"], row["subscription"])
            begun = sa.update(deliveries).where(*here).values(begun=True, tries=row["tries"] + 1)
            connection.execute(begun)
            found: dict[str, Any] = {name: row[name] for name in Delivery.__annotations__}
            return Delivery(**{**found, "tries": row["tries"] + 1})  # type: ignore[typeddict-item]

    def forget_begun(self) -> None:
        """After a start: nobody knows whether these arrived, and nothing is said twice."""
        with self._beside() as connection:
            connection.execute(sa.delete(deliveries).where(deliveries.c.begun))

    def delivered(self, delivery: Delivery, now: str) -> None:
        self._end(delivery, went_well=now, went_wrong=None)

    def given_up(self, delivery: Delivery, why: str) -> None:
        self._end(delivery, went_wrong=why)

    def _end(self, delivery: Delivery, **outcome: str | None) -> None:
        at = delivery["subscription"]
        with self._beside() as connection:
            connection.execute(sa.delete(deliveries).where(*_at(delivery["key"], at)))
            connection.execute(sa.update(subscriptions).where(subscriptions.c.id == at).values(**outcome))

    def put_off(self, delivery: Delivery, next_try: str, why: str) -> None:
        at = delivery["subscription"]
        with self._beside() as connection:
            later = sa.update(deliveries).where(*_at(delivery["key"], at))
            connection.execute(later.values(begun=False, next_try=next_try))
            known = sa.update(subscriptions).where(subscriptions.c.id == at)
            connection.execute(known.values(went_wrong=why))

    # -- subscriptions

    def subscriptions(self) -> list[dict[str, Any]]:
        with reading(self._engine) as connection:
            found = connection.execute(sa.select(subscriptions).order_by(subscriptions.c.since))
            return [dict(row) for row in found.mappings()]

    def subscribe(self, id: str, **said: str) -> None:
        """A phone's subscription, in the place of another that it had; what waits for this one stays."""
        with self._beside() as connection:
            before = sa.select(subscriptions.c.id).where(subscriptions.c.device == said["device"])
            _drop(connection, set(connection.execute(before).scalars()) - {id})
            known = sa.update(subscriptions).where(subscriptions.c.id == id).values(**said)
            if not connection.execute(known).rowcount:
                connection.execute(sa.insert(subscriptions), {"id": id, **said})

    def unsubscribe(self, *ids: str) -> None:
        """With all that still waits for them."""
        with self._beside() as connection:
            _drop(connection, set(ids))

    # -- calendar events

    def revised(self, digests: Mapping[str, str], now: str) -> dict[str, tuple[int, str]]:
        """{uid: (how often it was changed, when last)}, from what each event says now."""
        with reading(self._engine) as connection:
            known = _known(connection, digests)
        if any(known.get(uid, ("",))[0] != digest for uid, digest in digests.items()):
            with self._beside() as connection:
                known = _known(connection, digests)
                for uid, digest in digests.items():
                    if uid not in known:
                        known[uid] = (digest, 0, now)
                    elif known[uid][0] != digest:
                        known[uid] = (digest, known[uid][1] + 1, max(now, known[uid][2]))
                    else:
                        continue
                    connection.execute(sa.delete(events).where(events.c.uid == uid))
                    row = dict(zip(("digest", "sequence", "changed"), known[uid], strict=True))
                    connection.execute(sa.insert(events), {"uid": uid, **row})
        return {uid: known[uid][1:] for uid in digests}


def _at(key: str, subscription: str) -> tuple[sa.ColumnElement[bool], sa.ColumnElement[bool]]:
    return deliveries.c.key == key, deliveries.c.subscription == subscription


def _lay_out(
    connection: sa.Connection, key: str, body: str, now: str, until: str, urgent: bool, device: str | None
) -> int:
    query = sa.select(subscriptions.c.id)
    if device is not None:
        query = query.where(subscriptions.c.device == device)
    said = {"key": key, "body": body, "urgent": urgent, "until": until, "next_try": now}
    rows = [
        {**said, "subscription": id, "tries": 0, "begun": False} for id in connection.execute(query).scalars()
    ]
    if rows:
        connection.execute(sa.insert(deliveries), rows)
    return len(rows)


def _drop(connection: sa.Connection, ids: set[str]) -> None:
    connection.execute(sa.delete(deliveries).where(deliveries.c.subscription.in_(ids)))
    connection.execute(sa.delete(subscriptions).where(subscriptions.c.id.in_(ids)))


def _known(connection: sa.Connection, uids: Iterable[str]) -> dict[str, tuple[str, int, str]]:
    found = connection.execute(sa.select(events).where(events.c.uid.in_(list(uids))))
    return {row.uid: (row.digest, row.sequence, row.changed) for row in found}
