"""Bell, calendar and push over REST."""

import hashlib
import hmac
import json
import secrets
from collections.abc import Callable, Mapping
from uuid import UUID

from flask import Response, request
from werkzeug.exceptions import NotFound, UnprocessableEntity

from easelside.alarms import calendar
from easelside.alarms.model import Asker
from easelside.alarms.postman import HERE
from easelside.alarms.push import check_endpoint, check_keys
from easelside.alarms.schemas import (
    BellSchema,
    CalendarMadeSchema,
    CalendarSchema,
    Nothing,
    PushSchema,
    PushSwitchSchema,
    SubscribedSchema,
    SubscriptionSchema,
    TrialSchema,
    TrialSentSchema,
)
from easelside.alarms.watch import Alarms
from easelside.errors import MakersOnly, PushIsOff
from easelside.web.blueprint import Blueprint
from easelside.web.house import house
from easelside.web.records import Shaped

ICS = "text/calendar; charset=utf-8"
NOTE = "calendar"


def _ics(body: bytes, name: str) -> Response:
    answer = Response(body, content_type=ICS)
    answer.headers["Content-Disposition"] = f'inline; filename="{name}"'
    answer.headers["Cache-Control"] = "private, no-cache"
    answer.set_etag(hashlib.sha256(body).hexdigest())
    answer.make_conditional(request)
    return answer


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def blueprint(
    alarms: Alarms,
    linked: Callable[[str], tuple[str, str] | None],
    asker: Callable[[], Asker],
    writes_as: Callable[[], Mapping[str, str]],
) -> Blueprint:
    """`linked`: a path of ours as another device finds it, and the square of that; None where none can.

    `asker`: who asks in this request; `writes_as`: under which name each paired device writes.
    """
    routes = Blueprint("alarms", __name__, url_prefix="/api", description="Bell, calendar, push")
    in_ics = routes.answers_text("text/calendar")

    def revised(digests: Mapping[str, str]) -> Mapping[str, tuple[int, str]]:
        at = house()
        return at.logbook.revised(digests, at.logbook.now())

    # -- calendar

    @routes.at("/soaks/<uuid:id>/event.ics")
    @in_ics
    @routes.refuses(404)
    def one_event(id: UUID) -> Response:
        """One soak's end, with an alarm of the calendar's own"""
        found = next((one for one in alarms.facts().soaks if one.soak == str(id)), None)
        if found is None:
            raise NotFound
        return _ics(calendar.one_event(found, revised), "soak.ics")

    @routes.at("/calendar/<string:token>.ics")
    @in_ics
    @routes.refuses(404)
    def feed(token: str) -> Response:
        """Soaks, care due and planned sessions, for a calendar that reads it now and then"""
        kept = house().logbook.noted(NOTE)
        known = json.loads(kept)["hash"] if kept else ""
        if not hmac.compare_digest(_digest(token), known):
            raise NotFound
        return _ics(calendar.feed(alarms.facts(), revised), "workshop.ics")

    @routes.at("/calendar")
    @routes.answers(200, CalendarSchema)
    def calendar_on() -> Shaped:
        """Is there a private address for calendars?"""
        kept = house().logbook.noted(NOTE)
        return {"on": kept is not None, "since": json.loads(kept)["since"] if kept else None}

    @routes.at("/calendar", "POST")
    @routes.takes(Nothing)
    @routes.answers(201, CalendarMadeSchema)
    def make_address(said: Shaped) -> Shaped:
        """A new private address; the one before it is withdrawn"""
        token, book = secrets.token_urlsafe(32), house().logbook
        book.note(NOTE, json.dumps({"hash": _digest(token), "since": book.now()}))
        path = f"/api/calendar/{token}.ics"
        address, square = linked(path) or (None, None)
        return {"path": path, "address": address, "square": square}

    @routes.at("/calendar", "DELETE")
    @routes.answers_nothing
    def withdraw_address() -> None:
        """No calendar can read it any more"""
        house().logbook.note(NOTE, None)

    # -- the bell at the bench

    def bell_now() -> Shaped:
        return {"there": alarms.bell.there, "ringing": alarms.bell.is_ringing, "works": alarms.bell.works}

    @routes.at("/bell")
    @routes.answers(200, BellSchema)
    def bell() -> Shaped:
        """Does the bench ring, and did it work?"""
        return bell_now()

    @routes.at("/bell/trial", "POST")
    @routes.takes(Nothing)
    @routes.answers(202, BellSchema)
    def try_bell(said: Shaped) -> Shaped:
        """Ring once, to hear it"""
        alarms.bell.try_once()
        return bell_now()

    # -- push

    def whose(told: object) -> str:
        """By the pairing, never by what is told; the machine's own browsers tell themselves apart."""
        return asker().device or f"{HERE}{told or ''}"

    def may_see(subscription: Mapping[str, str]) -> bool:
        return asker().is_maker or subscription["device"] == asker().device

    def push_now() -> Shaped:
        if not alarms.postman.on:
            return {"on": False, "public_key": None, "devices": []}
        names, shown = writes_as(), ("id", "since", "went_well", "went_wrong")
        devices = [
            {
                **{name: one[name] for name in shown},
                "device": names.get(one["device"], one["device"].removeprefix(HERE)),
                "service": one["endpoint"].split("/")[2],
            }
            for one in house().logbook.subscriptions()
            if may_see(one)
        ]
        return {"on": True, "public_key": alarms.postman.vapid().public, "devices": devices}

    @routes.at("/push")
    @routes.answers(200, PushSchema)
    def push() -> Shaped:
        """Is push on, with which key, and which phones get it? A hand sees its own device only"""
        return push_now()

    @routes.at("/push", "PUT")
    @routes.takes(PushSwitchSchema)
    @routes.answers(200, PushSchema)
    def switch(said: Shaped) -> Shaped:
        """Switch push on or off; off forgets every subscription"""
        contact = said["contact"]
        if said["on"]:
            alarms.postman.switch_on(contact if isinstance(contact, str) else None)
        elif alarms.postman.on:
            alarms.postman.switch_off()
        return push_now()

    @routes.at("/push/subscriptions", "POST")
    @routes.takes(SubscriptionSchema)
    @routes.answers(201, SubscribedSchema)
    @routes.refuses(409)
    def subscribe(said: dict[str, str | dict[str, str]]) -> Shaped:
        """A phone's subscription as its browser gives it, in the place of the one before"""
        if not alarms.postman.on:
            raise PushIsOff
        endpoint, keys = said["endpoint"], said["keys"]
        assert isinstance(endpoint, str) and isinstance(keys, dict)
        check_endpoint(endpoint, loopback=alarms.postman.loopback)
        try:
            check_keys(keys["p256dh"], keys["auth"])
        except ValueError as wrong:
            refusal = UnprocessableEntity()
            refusal.data = {"messages": {"json": {"keys": [str(wrong)]}}}  # type: ignore[attr-defined]
            raise refusal from None
        book, id = house().logbook, _digest(endpoint)[:32]
        origin = request.headers.get("Origin") or request.host_url.rstrip("/")
        at = {"device": whose(said["device"]), "endpoint": endpoint, "origin": origin, "since": book.now()}
        book.subscribe(id, **at, p256dh=keys["p256dh"], auth=keys["auth"])
        return {"id": id}

    @routes.at("/push/subscriptions/<string(length=32):id>", "DELETE")
    @routes.answers_nothing
    @routes.refuses(403)
    def unsubscribe(id: str) -> None:
        """This phone gets no more; also where it got none. A hand ends its own only"""
        book = house().logbook
        if any(one["id"] == id and not may_see(one) for one in book.subscriptions()):
            raise MakersOnly
        book.unsubscribe(id)

    @routes.at("/push/trial", "POST")
    @routes.takes(TrialSchema)
    @routes.answers(202, TrialSentSchema)
    @routes.refuses(409)
    def try_push(said: dict[str, str]) -> Shaped:
        """A message to who asks for it, to try it out; `GET /api/push` tells how it went"""
        return {"messages": alarms.postman.lay_out_trial(whose(said["device"]))}

    return routes
