"""Can this change be kept word for word? Only what is malformed or too large cannot."""

import re
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from easelside.logbook.model import Change, Offer

MOST_FIELDS = 500
DEEPEST = 20

LONGEST_NAME = 120
_NESTED = (list, dict)

UUID = "[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"
KIND = "[a-z][a-z0-9_]{0,63}"
DEVICE = "[a-z0-9][a-z0-9_-]{0,63}"
_uuid = re.compile(UUID).fullmatch
_kind = re.compile(KIND).fullmatch
_device = re.compile(DEVICE).fullmatch
_plain = re.compile(f"{UUID} {UUID} {KIND} {DEVICE}").fullmatch
_instant = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z").fullmatch
_field = re.compile(f"[^\x00-\x1f\x7f\ud800-\udfff]{{1,{LONGEST_NAME}}}").fullmatch


def is_instant(written: str) -> bool:
    """RFC 3339 in UTC with three digits of a second, and a moment that exists."""
    if not _instant(written):
        return False
    try:
        datetime.fromisoformat(written)
    except ValueError:
        return False
    return True


def is_id(written: str) -> bool:
    return _uuid(written) is not None


def is_device(written: str) -> bool:
    return _device(written) is not None


def _too_deep(value: Any, left: int = DEEPEST) -> bool:
    inner: Iterable[Any] = value.values() if type(value) is dict else value
    for item in inner:
        if type(item) in _NESTED and (left == 1 or _too_deep(item, left - 1)):
            return True
    return False


def _is_field(name: str) -> bool:
    if name.isprintable():  # most names; the pattern also lets through what only looks like nothing
        return 0 < len(name) <= LONGEST_NAME
    return _field(name) is not None


def problem_with_change(change: Change) -> str | None:
    """The code of what is wrong with a change, or None. See `words.PROBLEMS`."""
    id, record, kind, device = change["id"], change["record"], change["kind"], change["device"]
    if not _plain(f"{id} {record} {kind} {device}"):  # all four at once: this runs for every change
        if not _uuid(id):
            return "bad_id"
        if not _uuid(record):
            return "bad_record"
        return "bad_device" if _kind(kind) else "bad_kind"
    if not is_instant(change["made"]):
        return "bad_time"
    if not 1 <= change["v"] < 2**31:
        return "bad_version"
    set, saws = change["set"], change["saw"]
    if len(set) > MOST_FIELDS:
        return "too_many"
    for name, value in set.items():
        if not _is_field(name):
            return "bad_field"
        if type(value) in _NESTED and _too_deep(value):
            return "too_deep"
    if not saws.keys() <= set.keys():
        return "bad_saw"
    for saw in saws.values():
        if saw is not None and not _uuid(saw):
            return "bad_saw"
    given = change.get("given")
    if given is not None and not is_instant(given["when"]):
        return "bad_time"
    return None


def problem_with_offer(offer: Offer) -> str | None:
    if not _uuid(offer["change"]):
        return "bad_id"
    if not _uuid(offer["record"]):
        return "bad_record"
    if not _kind(offer["kind"]):
        return "bad_kind"
    if not is_instant(offer["when"]):
        return "bad_time"
    if not _is_field(offer["field"]):
        return "bad_field"
    if type(offer["value"]) in _NESTED and _too_deep(offer["value"]):
        return "too_deep"
    if offer["saw"] is not None and not _uuid(offer["saw"]):
        return "bad_saw"
    return None
