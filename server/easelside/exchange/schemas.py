"""Reads the body of an exchange: quickly where all is well, one change at a time where something is not.

msgspec checks types while it parses, which is some ten times quicker than a schema walked in Python; it
refuses what is no JSON text (NaN, lone surrogates, wrong UTF-8) and nesting that would exhaust the stack.
"""

from collections.abc import Callable
from typing import Any, NotRequired, TypedDict, TypeVar

import msgspec

from easelside.errors import Malformed, TooLarge
from easelside.exchange import rules
from easelside.exchange.model import Refused, Request, Sorted
from easelside.exchange.words import PROBLEMS
from easelside.logbook.model import Change, End, Offer

LARGEST_BODY = 1024 * 1024
LARGEST_CHANGE = 64 * 1024
FULL_LIMIT = 500
MOST_ROWS = 2000
MOST_CHANGES = 5000  # a MiB of nothing but commas must not be answered with a refusal for each
_UNREADABLE = (msgspec.MsgspecError, UnicodeDecodeError, RecursionError)


class _Loose(TypedDict):
    """The same request with its changes still as text."""

    device: str
    device_now: str
    logbook: str | None
    end: NotRequired[End | None]
    after: NotRequired[int]
    limit: NotRequired[int]
    offers: NotRequired[list[msgspec.Raw]]
    changes: NotRequired[list[msgspec.Raw]]


class _Named(TypedDict):
    id: NotRequired[Any]
    change: NotRequired[Any]


_request = msgspec.json.Decoder(Request).decode
_loose = msgspec.json.Decoder(_Loose).decode
_change = msgspec.json.Decoder(Change).decode
_offer = msgspec.json.Decoder(Offer).decode
_named = msgspec.json.Decoder(_Named).decode
_encode = msgspec.json.encode
T = TypeVar("T")


def read(body: bytes) -> Sorted:
    """Raises TooLarge and Malformed for the request as a whole; a single bad change lands in `refused`."""
    if len(body) > LARGEST_BODY:
        raise TooLarge(limit="1 MiB")
    refused: list[Refused] = []
    try:
        request = _request(body)
    except _UNREADABLE as first:
        try:
            loose = _loose(body)
        except _UNREADABLE as problem:
            raise Malformed(detail=_short(problem)) from first
        _refuse_many(loose)
        changes = _each(loose.get("changes", []), _change, "id", refused)
        offers = _each(loose.get("offers", []), _offer, "change", refused)
        outer: _Loose | Request = loose
    else:
        _refuse_many(request)
        changes, offers, outer = request.get("changes", []), request.get("offers", []), request
    after, limit, end = outer.get("after", 0), outer.get("limit", FULL_LIMIT), outer.get("end")
    _check_outside(outer["device"], outer["device_now"], outer["logbook"], after, limit, end)
    large = len(body) > LARGEST_CHANGE
    return Sorted(
        device=outer["device"],
        device_now=outer["device_now"],
        logbook=outer["logbook"],
        end=end,
        after=after,
        limit=min(limit, MOST_ROWS),
        offers=_well_formed(offers, rules.problem_with_offer, "change", large, refused),
        changes=_well_formed(changes, rules.problem_with_change, "id", large, refused),
        refused=refused,
    )


def _refuse_many(request: _Loose | Request) -> None:
    if len(request.get("changes", [])) + len(request.get("offers", [])) > MOST_CHANGES:
        raise TooLarge(limit=f"{MOST_CHANGES:,} changes")


def _check_outside(
    device: str, device_now: str, logbook: str | None, after: int, limit: int, end: End | None
) -> None:
    if not rules.is_device(device):
        raise Malformed(detail="`device` is not the id of a device")
    if not rules.is_instant(device_now):
        raise Malformed(detail="`device_now` is not an instant like 2026-11-25T14:06:00.000Z")
    if logbook is not None and not rules.is_id(logbook):
        raise Malformed(detail="`logbook` is not the id of a logbook")
    if not 0 <= after < 2**53:
        raise Malformed(detail="`after` is not the number of a row")
    if limit < 1:
        raise Malformed(detail="`limit` is below 1")
    if end is not None and not 0 <= end["seq"] < 2**53:
        raise Malformed(detail="`end` is not the end of a logbook")


def _each(
    texts: list[msgspec.Raw], decode: Callable[[bytes], T], id_at: str, refused: list[Refused]
) -> list[T]:
    read: list[T] = []
    for text in texts:
        try:
            read.append(decode(bytes(text)))
        except _UNREADABLE as problem:
            refused.append(_refusal(_name_of(bytes(text), id_at), "not_a_change", id_at, _short(problem)))
    return read


def _name_of(text: bytes, id_at: str) -> str:
    try:
        name = _named(text).get(id_at)
    except _UNREADABLE:
        return ""
    return name if isinstance(name, str) and len(name) <= 64 else ""


def _well_formed(
    items: list[T], problem_with: Callable[[Any], str | None], id_at: str, large: bool, refused: list[Refused]
) -> list[T]:
    kept: list[T] = []
    for item in items:
        code = problem_with(item)
        if code is None and large and len(_encode(item)) > LARGEST_CHANGE:
            code = "too_large"
        if code is None:
            kept.append(item)
        else:
            id = item[id_at]  # type: ignore[index]
            refused.append(_refusal(id if len(id) <= 64 else "", code, id_at))
    return kept


def _refusal(id: str, code: str, id_at: str, detail: str = "") -> Refused:
    refusal = Refused(id=id, code=code, problem=PROBLEMS[code].format(detail=detail))
    if id_at == "change":
        refusal["offer"] = True
    return refusal


def _short(problem: BaseException) -> str:
    return str(problem).replace("\n", " ")[:200]
