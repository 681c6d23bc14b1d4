"""Can this change be kept word for word? Only what is malformed or too large cannot."""

import re
from collections.abc import Iterable
from datetime import datetime
from typing import Any

from easelside.logbook.model import Change, Offer

MOST_FIELDS = 500
DEEPEST = 20

_uuid = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}").fullmatch
_kind = re.compile(r"[a-z][a-z0-9_]{0,63}").fullmatch
_device = re.compile(r"[a-z0-9][a-z0-9_-]{0,63}").fullmatch
_instant = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z").fullmatch
_field = re.compile(r"[^\x00-\x1f\x7f\ud800-\udfff]{1,120}").fullmatch


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
    if type(value) is list:
        inner: Iterable[Any] = value
    elif type(value) is dict:
        inner = value.values()
    else:
        return False
    return left == 0 or any(_too_deep(item, left - 1) for item in inner)


def problem_with_change(change: Change) -> str | None:
    """The code of what is wrong with a change, or None. See `words.PROBLEMS`."""
    if not _uuid(change["id"]):
        return "bad_id"
    if not _uuid(change["record"]):
        return "bad_record"
    if not _kind(change["kind"]):
        return "bad_kind"
    if not _device(change["device"]):
        return "bad_device"
    if not is_instant(change["made"]):
        return "bad_time"
    if not 1 <= change["v"] < 2**31:
        return "bad_version"
    if len(change["set"]) > MOST_FIELDS or len(change["saw"]) > MOST_FIELDS:
        return "too_many"
    for name, value in change["set"].items():
        if not _field(name):
            return "bad_field"
        if type(value) in (list, dict) and _too_deep(value):
            return "too_deep"
    for name, saw in change["saw"].items():
        if saw is not None and not _uuid(saw):
            return "bad_saw"
        if name not in change["set"]:
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
    if not _field(offer["field"]):
        return "bad_field"
    if _too_deep(offer["value"]):
        return "too_deep"
    if offer["saw"] is not None and not _uuid(offer["saw"]):
        return "bad_saw"
    return None
