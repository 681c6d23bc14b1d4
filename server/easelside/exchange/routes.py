"""The exchange over HTTP: changes in and out in one round trip, and a first helping for a new phone."""

import zlib
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

import flask
import msgspec

from easelside.clock import Clock
from easelside.errors import Malformed, TooLarge
from easelside.exchange.model import Json, Refused, Sorted
from easelside.exchange.schemas import LARGEST_BODY, read
from easelside.logbook import asking
from easelside.logbook.book import Logbook
from easelside.logbook.model import Answer
from easelside.shelf.rules import is_in_play, needed_since
from easelside.units import write_instant

RECENT = timedelta(days=90)
LARGEST_ANSWER = 512 * 1024
_encode = msgspec.json.encode


def blueprint(book: Logbook, clock: Clock) -> flask.Blueprint:
    """POST /api/exchange and GET /api/exchange/snapshot. Errors of `errors` are left to `web/`."""
    routes = flask.Blueprint("exchange", __name__, url_prefix="/api/exchange")

    @routes.post("", strict_slashes=False)
    def exchange() -> flask.Response:
        body = flask.request.get_data(cache=False)
        if len(body) > LARGEST_BODY:
            raise TooLarge(limit="1 MiB")
        return flask.Response(answer(book, read(body)), content_type="application/json")

    @routes.get("/snapshot", strict_slashes=False)
    def snapshot() -> flask.Response:
        parts = snapshot_parts(book, clock)  # all of it, before any is sent: a half would be none
        response = flask.Response(content_type="application/json")
        if flask.request.accept_encodings["gzip"]:
            parts = compressed(parts)
            response.headers["Content-Encoding"] = "gzip"
        response.headers["Vary"] = "Accept-Encoding"
        response.data = b"".join(parts)
        return response

    @routes.get("/slips", strict_slashes=False)
    def slips() -> flask.Response:
        after = flask.request.args.get("after", "0")
        return flask.Response(slips_after(book, after), content_type="application/json")

    return routes


def slips_after(book: Logbook, after: str) -> bytes:
    """What is foreseen, as far as it was fitted anew since the revision that a phone names."""
    if not after.isdecimal() or len(after) > 15:
        raise Malformed(detail="`after` is not the revision of a slip")
    with book.view() as view:
        slips = asking.slips(view, int(after))
        return _encode({"logbook": book.id, "rev": asking.slips_rev(view), "slips": slips})


def answer(book: Logbook, request: Sorted) -> bytes:
    """One exchange. A phone that names another logbook, or an end that this one does not have, is told so."""
    if request["logbook"] is None:
        return _encode(_told(book, restored=False, after=request["after"]))
    end = request["end"]
    if request["logbook"] != book.id:
        return _encode(_told(book, restored=True, after=0))
    if end is not None and not book.holds(end):
        book.was_put_back(request["device"], request["logbook"])
        return _encode(_told(book, restored=True, after=0))
    taken = book.receive(request["device"], request["device_now"], request["changes"], request["offers"])
    if request["changes"] or request["offers"]:
        book.told(request["device"])
    own = {change["id"] for change in request["changes"]}
    return _encode(_pulled(book, taken, request, own))


def _told(book: Logbook, *, restored: bool, after: int) -> Json:
    end = book.end()
    return {
        "logbook": book.id,
        "restored": restored,
        "accepted": [],
        "offered": [],
        "refused": [],
        "changes": [],
        "cursor": after,
        "more": end["seq"] > after,
        "end": end,
        "now": book.now(),
        "safe": book.safe(),
        "slips": book.slips_rev,
    }


def _pulled(book: Logbook, taken: Answer, request: Sorted, own: set[str]) -> Json:
    """Rows behind `after`, less those of the changes just sent: the phone has them."""
    rows: list[msgspec.Raw] = []
    cursor, size, end = request["after"], 0, taken["end"]
    sent_now = {one["seq"] for one in taken["accepted"] if one["seq"] > cursor}
    if end["seq"] - cursor <= len(sent_now):  # nobody else wrote in between: no question is needed
        cursor = max(cursor, end["seq"])
    else:
        with book.view() as view:
            end = asking.end(view)
            for seq, id, text in asking.texts_after(view, cursor, request["limit"]):
                if size > LARGEST_ANSWER:
                    break
                cursor = seq
                if id not in own:
                    rows.append(msgspec.Raw(text.encode()))
                    size += len(text)
    refused: list[Refused] = request["refused"]
    return {
        "logbook": book.id,
        "restored": False,
        "accepted": taken["accepted"],
        "offered": taken["offered"],
        "refused": refused,
        "changes": rows,
        "cursor": cursor,
        "more": cursor < end["seq"],
        "end": end,
        "now": taken["now"],
        "safe": book.safe(),
        "slips": book.slips_rev,
    }


def snapshot_parts(book: Logbook, clock: Clock) -> Iterator[bytes]:
    """What is in play, the last ninety days, and what the counts need, in one consistent view."""
    now = clock.now()
    with book.view() as view:
        end = asking.end(view)
        counted = {
            kind: list(asking.all_records(view, kind)) for kind in ("blade_move", "care_task", "care_done")
        }
        recent = write_instant(now - RECENT)
        needed = needed_since(counted["blade_move"], counted["care_task"], counted["care_done"])
        head: dict[str, Any] = {
            "logbook": book.id,
            "end": end,
            "cursor": end["seq"],
            "now": write_instant(now),
            "safe": book.safe(),
            "since": min(recent, needed or recent),
        }
        yield _encode(head)[:-1] + b',"records":['
        comma = b""
        for record in asking.all_records(view):
            counts = needed is not None and record["kind"] in ("piece", "tally", "session")
            if (
                record["when"] >= recent
                or (counts and record["when"] >= (needed or recent))
                or is_in_play(record, now)
            ):
                yield comma + _encode(record)
                comma = b","
        yield b"]}"


def compressed(parts: Iterator[bytes]) -> Iterator[bytes]:
    squeeze = zlib.compressobj(wbits=31)
    for part in parts:
        some = squeeze.compress(part)
        if some:
            yield some
    yield squeeze.flush()
