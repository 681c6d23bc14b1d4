"""What can be asked about a piece: its session, batch, machine, outcome, minutes and turns, as columns."""

from typing import Any

from easelside.logbook.model import Field, Fields, is_removed
from easelside.units import read_instant

OUTCOMES = ("good", "second", "lost")


def standing_outcomes(fields: Fields) -> list[Field]:
    """The outcomes that stand, the latest last; more than one: two people finished the same piece."""
    stand = [f for name, f in fields.items() if name.startswith("outcome/") and f["value"] in OUTCOMES]
    return sorted(stand, key=lambda f: (f["when"], f["change"]))


def columns(key: int, id: str, fields: Fields) -> dict[str, Any]:
    """The row of `pieces`. Its lot is its batch's, its edge follows from the blade moves: not stored."""

    def text(name: str) -> str | None:
        value = fields[name]["value"] if name in fields else None
        return value if isinstance(value, str) and "\0" not in value else None

    stand = standing_outcomes(fields)
    began, at = read_instant(text("began")), read_instant(text("at"))
    number = fields["number"]["value"] if "number" in fields else None
    turns = (f["value"] for name, f in fields.items() if name.startswith("turns/"))
    return {
        "key": key,
        "id": id,
        "session": text("session"),
        "number": number if type(number) is int and abs(number) < 2**31 else None,
        "batch": text("batch"),
        "machine": text("machine"),
        "outcome": stand[-1]["value"] if stand else None,
        "outcomes": len(stand),
        "at": text("at"),
        "minutes": (at - began).total_seconds() / 60 if began and at else None,
        "turns": sum(len(moments) for moments in turns if isinstance(moments, list)),
        "whole": "full" in fields and fields["full"]["value"] is True,
        "removed": is_removed(fields),
    }
