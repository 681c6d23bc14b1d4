"""Coming in over HTTP: who am I here, pair, the list of devices, and the line on which changes are told."""

import io
from collections.abc import Callable
from typing import cast

import flask
import msgspec
import segno
from werkzeug.wrappers import Response

from easelside.pairing.bench import AtTheBench
from easelside.pairing.desk import Desk, hashed
from easelside.pairing.model import Device, Guest, Knock
from easelside.pairing.rules import known_by
from easelside.pairing.schemas import Inviting, Pairing, Renaming, as_shown, clean_name, read, standing
from easelside.pairing.streams import Lines
from easelside.pairing.words import name_for
from easelside.settings import LOOPBACK
from easelside.units import write_instant
from easelside.web.doors import OWN, door_of
from easelside.web.guard import host_name

COOKIE = "__Host-dev"
COOKIE_LASTS_S = 400 * 24 * 3600
LONGEST_TOKEN = 100
RELAYED = ("Forwarded", "Via", "X-Forwarded-For", "X-Forwarded-Host", "X-Forwarded-Proto", "X-Real-IP")

Names = Callable[[], dict[str, str]]
Address = Callable[[], str | None]


def blueprint(desk: Desk, lines: Lines, bench: AtTheBench, names: Names, address: Address) -> flask.Blueprint:
    """The gate before every request, and /api/who, pair, phones, events, at_machines.

    `names`: what the logbook calls its devices; `address`: where phones reach this server, with a slash at
    its end, if they can.
    """
    routes = flask.Blueprint("pairing", __name__, url_prefix="/api")

    @routes.before_app_request
    def gate() -> None:
        flask.g.comes = desk.let_in(_knock(), flask.request.path, flask.request.method)

    @routes.get("/who")
    def who() -> Response:
        answer = _json(_who(flask.g.comes))
        token = flask.request.cookies.get(COOKIE)
        if token is not None and isinstance(flask.g.comes, Guest) and flask.g.comes.device is not None:
            _give(answer, token)
        return answer

    @routes.post("/pair")
    def pair() -> Response:
        said = read(flask.request.get_data(), Pairing)
        name = clean_name(said.name) or name_for(flask.request.headers.get("User-Agent", ""))
        device, token = desk.pair(said.code, name, clean_name(said.device), _before(desk))
        answer = _json(_who(Guest(device.role, device)), 201)
        _give(answer, token)
        return answer

    @routes.get("/phones")
    def phones() -> Response:
        known = names()
        found = sorted(desk.devices(), key=lambda device: device.seen, reverse=True)
        return _json(
            {
                "devices": [as_shown(device, who_asks(), known) for device in found],
                "invitation": standing(desk.invitation()),
                "address": _reached_at(address),
            }
        )

    @routes.post("/phones/codes")
    def invite() -> Response:
        said = read(flask.request.get_data(), Inviting)
        device = who_asks().device
        fresh = desk.invite(said.role, device.id if device else None)
        at = _reached_at(address)
        link = None if at is None else f"{at}#/p/{fresh.square}"
        told = standing(fresh.invitation) or {}
        return _json(
            {**told, "figures": fresh.figures, "link": link, "square": link and drawn(link), "address": at},
            201,
        )

    @routes.delete("/phones/codes")
    def end_code() -> Response:
        desk.end_invitation()
        return Response(status=204)

    @routes.patch("/phones/<id>")
    def change(id: str) -> Response:
        said = read(flask.request.get_data(), Renaming)
        device = desk.change(id, clean_name(said.name), said.role)
        return _json(as_shown(device, who_asks(), {}))

    @routes.delete("/phones/<id>")
    def withdraw(id: str) -> Response:
        desk.withdraw(id)
        lines.end(id)
        return Response(status=204)

    @routes.get("/at_machines")
    def at_machines() -> Response:
        return _json({"at": bench.now()})

    @routes.get("/events")
    def events() -> Response:
        by = flask.request.args.get("device", "")[:LONGEST_TOKEN]
        guest = who_asks()
        key = guest.device.id if guest.device else f"here {by}"
        answer = Response(content_type="text/event-stream; charset=utf-8")
        answer.headers["Cache-Control"] = "no-store"
        answer.headers["X-Accel-Buffering"] = "no"  # a proxy that keeps what it hears keeps it from the phone
        if flask.request.method != "HEAD":
            answer.response = line = lines.open(key, by, lambda: {"at": bench.now()})
            if not isinstance(desk.guest(_knock()), Guest):  # withdrawn while it was let in
                line.end("ended")
        return answer

    return routes


def _knock() -> Knock:
    request = flask.request
    token = request.cookies.get(COOKIE)
    return Knock(
        by_own_door=door_of(request.environ) == OWN,
        by_own_name=host_name(request.headers.get("Host", "")) in LOOPBACK,
        peer=request.remote_addr,
        is_relayed=any(name in request.headers for name in RELAYED),
        token_hash=hashed(token) if token and len(token) <= LONGEST_TOKEN else None,
    )


def who_asks() -> Guest:
    """Of a request that the gate let in."""
    return cast(Guest, flask.g.comes)


def _before(desk: Desk) -> Device | None:
    """The device that pairs again: it keeps its place in the list, also after it was withdrawn."""
    token = flask.request.cookies.get(COOKIE)
    return known_by(token and hashed(token[:LONGEST_TOKEN]), desk.devices())


def _who(comes: object) -> dict[str, object]:
    guest = comes if isinstance(comes, Guest) else None
    device = guest.device if guest else None
    return {
        "comes_in": guest is not None,
        "at_machine": guest is not None and device is None,
        "why": None if guest else comes,
        "role": guest and guest.role,
        "id": device and device.id,
        "name": device and device.name,
        "paired": device and write_instant(device.paired),
    }


def _reached_at(address: Address) -> str | None:
    """Where another device finds us: told by whoever listens for phones, else as this one asked for us."""
    told = address()
    if told is not None:
        return told
    return None if host_name(flask.request.host) in LOOPBACK else flask.request.host_url


def linked(address: Address, path: str) -> tuple[str, str] | None:
    """A path of ours as another device finds it, and the square of that; None where no other device can."""
    at = _reached_at(address)
    link = at and at.rstrip("/") + path
    return (link, drawn(link)) if link else None


def drawn(link: str) -> str:
    """A QR code (ISO/IEC 18004) as SVG, a quarter of it bearing with drips."""
    out = io.BytesIO()
    segno.make(link, error="m", micro=False).save(
        out, kind="svg", xmldecl=False, svgclass=None, lineclass=None, omitsize=True, border=3
    )
    return out.getvalue().decode().strip()


def _json(body: object, status: int = 200) -> Response:
    return Response(msgspec.json.encode(body), status=status, content_type="application/json")


def _give(answer: Response, token: str) -> None:
    """Lax and not partitioned: an app on the home screen would forget it at each start otherwise."""
    answer.set_cookie(
        COOKIE, token, max_age=COOKIE_LASTS_S, path="/", secure=True, httponly=True, samesite="Lax"
    )
