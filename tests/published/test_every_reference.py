"""Each of the published references has its test, or the reason why it has none: `covered.json` says which."""

import ast
import json
import re
from functools import cache
from pathlib import Path

import pytest

from tests.published.reference import Reference, all_references

ROOT = Path(__file__).parents[2]
COVERED: dict[str, dict[str, str]] = json.loads(Path(__file__).with_name("covered.json").read_text("utf-8"))
# by other words than the reference's own name: what the test has to name instead
NAMED_BY = {
    "RFC 8291 worked example": "RFC 8291, section 5 and appendix A",
    "problem details example": "application/problem+json",
    "folding: octet length limit and continuation": "LONGEST_LINE",
    "soak before profiling, h": "soak before profiling, h",
    "warm soak water": "warm soak water",
    "incidental food contact oils, ppm in food": "21 CFR 178.3570",
    "lung disease from mould in wind instruments": "mould.*lung disease",
    "plant-fibre dust as cause": "Cane dust: work wet, a mask",
    "sprays": "air, no flame",
    "blades": "skin.*housed.*rigid box",
    "water near mains devices": "lower than phone and charger",
}


@cache
def written(path: str) -> str:
    """A test's file as one text, its strings that go over several lines joined."""
    return re.sub(r'"\s*\n\s*f?"', "", (ROOT / path).read_text("utf-8"))


@cache
def names_of_tests(path: str) -> set[str]:
    if path.endswith(".py"):
        body = ast.parse((ROOT / path).read_text("utf-8")).body
        return {node.name for node in body if isinstance(node, ast.FunctionDef) and "test_" in node.name}
    return set(re.findall(r'\b(?:test|it)\("([^"]+)"', written(path)))


def names_it(path: str, told: Reference) -> bool:
    """By its name, by all of its topic at once, or by the words that stand for it."""
    text = written(path)
    by_topic = f'references("{told.topic}")' in text or (
        f'"{told.topic}"' in text and "references(TOPIC)" in text
    )
    return told.name in text or by_topic or NAMED_BY.get(told.name, "\0") in text


def test_the_table_has_every_reference_and_no_other() -> None:
    assert set(COVERED) == {told.name for told in all_references()}


@pytest.mark.parametrize("told", all_references(), ids=lambda told: told.name)
def test_it_has_its_test_or_the_reason_why_not(told: Reference) -> None:
    said = COVERED[told.name]
    if "test" in said:
        path, name = said["test"].split("::")
        assert name in names_of_tests(path), f"{path} has no test of that name"
        assert names_it(path, told), f"{path} does not say that it tests this"
    else:
        assert re.fullmatch(r"[A-Z0-9].{20,}\.", said["why_not"]), "a reason is a sentence"
    assert len(said) == 1


def test_most_of_what_is_computed_here_is_tested() -> None:
    tested = [told.topic for told in all_references() if "test" in COVERED[told.name]]
    for topic in ("1-water-uptake", "2-emc", "3-threads", "4-spc", "5-reliability", "6-yield"):
        of_topic = [told for told in all_references() if told.topic == topic]
        assert tested.count(topic) >= 0.7 * len(of_topic), topic
