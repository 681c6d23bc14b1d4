"""What can be asked about a piece: its session, batch, machine, outcome, minutes and turns, as columns."""

from datetime import datetime
from typing import Any

from easelside.logbook.model import Field, Fields, Value, is_removed

OUTCOMES = ("good", "second", "lost")
_COLUMNS = "key id session number batch machine outcome outcomes at minutes turns whole removed".split()
NEW = f"INSERT INTO pieces ({', '.join(_COLUMNS)}) VALUES ({', '.join(['{}'] * len(_COLUMNS))})"


def _latest_last(outcome: Field) -> tuple[str, str]:
    return outcome["when"], outcome["change"]


def _text(value: Value) -> str | None:
    return value if isinstance(value, str) and "\0" not in value else None


def _minutes(began: str, at: str) -> float | None:
    try:
        return (datetime.fromisoformat(at) - datetime.fromisoformat(began)).total_seconds() / 60
    except (ValueError, TypeError, OverflowError):
        return None  # not instants, or one without an offset: not said


def columns(key: int, id: str, fields: Fields) -> tuple[Any, ...]:
    """The row of `pieces`. Its lot is its batch's, its edge follows from the blade moves: not stored.

    More than one outcome that stands: two people finished the same piece; the latest is in the column.
    """
    stand: list[Field] = []
    turns = 0
    said: dict[str, Value] = {}
    for name, field in fields.items():
        value = field["value"]
        if "/" not in name:
            said[name] = value
        elif name.startswith("outcome/"):
            if value in OUTCOMES:
                stand.append(field)
        elif name.startswith("turns/") and isinstance(value, list):
            turns += len(value)
    number = said.get("number")
    began, at = _text(said.get("began")), _text(said.get("at"))
    return (
        key,
        id,
        _text(said.get("session")),
        number if type(number) is int and abs(number) < 2**31 else None,
        _text(said.get("batch")),
        _text(said.get("machine")),
        max(stand, key=_latest_last)["value"] if stand else None,
        len(stand),
        at,
        _minutes(began, at) if began and at else None,
        turns,
        said.get("full") is True,
        is_removed(fields),
    )
