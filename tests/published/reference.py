"""What do published tables and worked examples say, and does what was found agree with them?

`references.json` beside this file holds them: topic, name, inputs, expected, tolerance, source, and the
basis, which is `read` (in the source or a public copy of it), `computed` (by another program) or `memory`.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("references.json")
Tolerance = str | Mapping[str, Any]


@dataclass(frozen=True)
class Reference:
    topic: str
    name: str
    inputs: dict[str, Any]
    expected: Any
    tolerance: Tolerance
    source: str
    basis: str

    def agrees_with(self, found: object) -> bool:
        """Whether what was found lies within the tolerance of what is expected."""
        return within(found, self.expected, self.tolerance)


@cache
def all_references() -> tuple[Reference, ...]:
    return tuple(Reference(**entry) for entry in json.loads(FILE.read_text(encoding="utf-8")))


def references(topic: str) -> tuple[Reference, ...]:
    """Those of a topic, by its whole name or its number: "6-yield" or "6"."""
    found = tuple(r for r in all_references() if r.topic == topic or r.topic.split("-")[0] == topic)
    assert found, f"no reference of topic {topic!r}"
    return found


def reference(name: str, topic: str | None = None) -> Reference:
    """The one reference of that name (in that topic, where a name comes twice)."""
    found = [r for r in all_references() if r.name == name and topic in (None, r.topic)]
    assert len(found) == 1, f"{len(found)} references are named {name!r}"
    return found[0]


def within(found: object, expected: object, tolerance: Tolerance) -> bool:
    """
    Whether `found` lies within `tolerance` of `expected`, part by part; a sequence has to be as long as the
    one expected; a mapping (or an object with such fields) has to hold all that is expected, and may hold
    more.

    `tolerance`: "exact"; {"abs": a} and {"rel": r}, of each number (both: the wider); {"range": true}: every
    number found lies between the two that are expected, the ends included. Not a number agrees with nothing.
    """
    if tolerance == "exact":
        return _agree(found, expected, 0.0, 0.0)
    assert isinstance(tolerance, Mapping), f"unknown tolerance {tolerance!r}"
    if tolerance.get("range") is True:
        return _inside(found, expected)
    assert {"abs", "rel"} & tolerance.keys(), f"{tolerance!r} says nothing that could be compared"
    return _agree(found, expected, float(tolerance.get("abs", 0.0)), float(tolerance.get("rel", 0.0)))


def _is_number(value: object) -> bool:
    if isinstance(value, (bool, str)) or value is None:
        return False
    return hasattr(value, "__float__") and not hasattr(value, "__len__")


def _agree(found: object, expected: object, absolute: float, relative: float) -> bool:
    if isinstance(expected, Mapping):
        parts = [(_part(found, str(name)), part) for name, part in expected.items()]
        return all(_agree(mine, theirs, absolute, relative) for mine, theirs in parts)
    if isinstance(expected, Sequence) and not isinstance(expected, str):
        mine = _listed(found)
        return (
            mine is not None
            and len(mine) == len(expected)
            and all(_agree(a, b, absolute, relative) for a, b in zip(mine, expected, strict=True))
        )
    if _is_number(expected):
        if not _is_number(found):
            return False
        difference = abs(float(found) - float(expected))  # type: ignore[arg-type]
        return difference <= max(absolute, relative * abs(float(expected)))  # type: ignore[arg-type]
    return type(found) is type(expected) and found == expected


class _Missing:
    """What is not there agrees with nothing."""


def _part(found: object, name: str) -> object:
    if isinstance(found, Mapping):
        return found.get(name, _Missing())
    return getattr(found, name, _Missing())


def _listed(found: object) -> list[object] | None:
    if isinstance(found, (str, Mapping)) or not hasattr(found, "__len__") or not hasattr(found, "__iter__"):
        return None
    return list(found)


def _inside(found: object, expected: object) -> bool:
    if isinstance(expected, Mapping):
        return all(_inside(_part(found, str(name)), part) for name, part in expected.items())
    assert isinstance(expected, Sequence) and len(expected) == 2
    low, high = float(expected[0]), float(expected[1])
    mine = _listed(found)
    numbers = [found] if mine is None else mine
    return bool(numbers) and all(_is_number(n) and low <= float(n) <= high for n in numbers)  # type: ignore[arg-type]


def is_comparable(tolerance: Tolerance) -> bool:
    """A fact is told in words: there is nothing to compare."""
    return tolerance == "exact" or (isinstance(tolerance, Mapping) and tolerance.get("fact") is not True)
