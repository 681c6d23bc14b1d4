"""The published references themselves: one name each, and a comparison that can fail."""

from dataclasses import dataclass

import pytest

from tests.published.reference import all_references, is_comparable, reference, references, within


def test_every_reference_has_a_name_of_its_own_and_a_source() -> None:
    names = [r.name for r in all_references()]
    assert len(names) == 218
    assert len(set(names)) == len(names)
    assert all(r.source.strip() for r in all_references())
    assert {r.basis for r in all_references()} == {"read", "computed", "memory"}


def test_each_agrees_with_what_it_expects_itself() -> None:
    for r in all_references():
        if is_comparable(r.tolerance):
            assert r.agrees_with(r.expected), r.name


def test_a_topic_is_found_by_its_number() -> None:
    assert references("6") == references("6-yield")
    assert {r.topic for r in references("1")} == {"1-water-uptake"}


def test_a_name_that_is_not_there_is_told() -> None:
    with pytest.raises(AssertionError):
        reference("no such table")


@dataclass(frozen=True)
class Found:
    d2: float
    more: float = 9


@pytest.mark.parametrize(
    ("found", "expected", "tolerance", "agrees"),
    [
        (1.0, 1, "exact", True),
        (1.0000001, 1, "exact", False),
        (True, 1, "exact", False),
        (None, None, "exact", True),
        (8, None, "exact", False),
        ((1, 2), [1, 2], "exact", True),
        ([1, 2, 3], [1, 2], {"abs": 1}, False),
        ("ab", ["a", "b"], "exact", False),
        (1.05, 1, {"abs": 0.1}, True),
        (1.2, 1, {"abs": 0.1}, False),
        (1.2, 1, {"abs": 0.1, "rel": 0.3}, True),
        (-110, -100, {"rel": 0.1}, True),
        (-111, -100, {"rel": 0.1}, False),
        (float("nan"), 1, {"abs": 10}, False),
        ({"d2": 1.1, "d3": 2}, {"d2": 1}, {"abs": 0.2}, True),
        ({"d3": 1.1}, {"d2": 1}, {"abs": 0.2}, False),
        (Found(1.1), {"d2": 1}, {"abs": 0.2}, True),
        ([1, [2.0, 3.1]], [1, [2, 3]], {"abs": 0.2}, True),
        (25, [24, 27], {"range": True}, True),
        ([24, 27], [24, 27], {"range": True}, True),
        ([24, 28], [24, 27], {"range": True}, False),
        ("25", [24, 27], {"range": True}, False),
    ],
)
def test_agreement_is_part_by_part(found: object, expected: object, tolerance: object, agrees: bool) -> None:
    assert within(found, expected, tolerance) is agrees  # type: ignore[arg-type]


def test_a_fact_in_words_cannot_be_compared_by_mistake() -> None:
    with pytest.raises(AssertionError):
        within("a", "a", {"fact": True})
