"""How is a value written in JSON? Each field takes what its JSON Schema says, no more and no less.

Marshmallow's numbers take texts and truths, and its strict whole numbers refuse 1.0, which JSON Schema takes.
"""

import math
import re
from collections.abc import Sequence
from typing import Any

import marshmallow as ma
from marshmallow import validate

from easelside.units import read_day, read_instant, write_instant

_UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")

Messages = dict[str, str | list[Any] | dict[Any, Any]]

NO_NUMBER: Messages = {"invalid": "This is not a number."}
NO_WHOLE: Messages = {"invalid": "This is not a whole number."}
NO_TRUTH: Messages = {"invalid": "This is neither true nor false."}
NO_INSTANT: Messages = {"invalid": "This is not an instant like 2026-11-25T14:06:00.000Z."}
NO_DAY: Messages = {"invalid": "This is not a day like 2026-11-25."}


class _Plain(ma.fields.Field[Any]):
    """Leaves as it was stored."""

    def _serialize(self, value: Any, attr: str | None, obj: Any, **kwargs: Any) -> Any:
        return value


class Number(_Plain, ma.fields.Float):
    def __init__(self, least: float, most: float, **more: Any) -> None:
        bounds = validate.Range(least, most)
        super().__init__(error_messages=NO_NUMBER, validate=bounds, allow_none=True, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or not math.isfinite(value):
            raise self.make_error("invalid")
        return value


class Whole(_Plain, ma.fields.Integer):
    def __init__(self, least: int = 0, most: int = 1_000_000, **more: Any) -> None:
        bounds = validate.Range(least, most)
        super().__init__(error_messages=NO_WHOLE, validate=bounds, allow_none=True, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, (int, float)) or value != value // 1:
            raise self.make_error("invalid")
        return int(value)


class YesNo(_Plain, ma.fields.Boolean):
    def __init__(self, **more: Any) -> None:
        super().__init__(error_messages=NO_TRUTH, allow_none=True, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, bool):
            raise self.make_error("invalid")
        return value


class Text(_Plain, ma.fields.String):
    def __init__(self, longest: int = 200, **more: Any) -> None:
        super().__init__(validate=validate.Length(max=longest), allow_none=True, **more)


class OneOf(_Plain, ma.fields.String):
    """One of some words of the trade."""

    def __init__(self, words: Sequence[str], **more: Any) -> None:
        super().__init__(validate=validate.OneOf(words), allow_none=True, **more)


class Uuid(_Plain, ma.fields.String):
    """A lower-case UUID (RFC 9562)."""

    def __init__(self, **more: Any) -> None:
        pattern = validate.Regexp(f"^{_UUID.pattern}$", error="This is not a lower-case UUID.")
        super().__init__(validate=[pattern, validate.Length(equal=36)], allow_none=True, **more)


class Instant(_Plain, ma.fields.String):
    """RFC 3339; kept in UTC with milliseconds."""

    def __init__(self, **more: Any) -> None:
        metadata = {"format": "date-time", **more.pop("metadata", {})}
        super().__init__(error_messages=NO_INSTANT, allow_none=True, metadata=metadata, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        at = read_instant(value)
        if at is None or "T" not in value.upper():
            raise self.make_error("invalid")
        return write_instant(at)


class Day(_Plain, ma.fields.String):
    """A calendar day in the workshop: ISO 8601."""

    def __init__(self, **more: Any) -> None:
        metadata = {"format": "date", **more.pop("metadata", {})}
        super().__init__(error_messages=NO_DAY, allow_none=True, metadata=metadata, **more)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if read_day(value) is None:
            raise self.make_error("invalid")
        return value


class Closed(ma.Schema):
    """A schema that takes no name but its own."""

    class Meta:
        unknown = ma.RAISE
