"""Reading a body: what is refused before the parser, and what after."""

import json
import time
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from easelside.errors import Malformed, TooLarge
from easelside.web.body import DEEPEST, MOST_BYTES, read_json, refuse_deep

JSON = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=200)
@given(JSON, st.booleans())
def test_what_a_well_meaning_client_sends_is_read_as_it_is(value: object, ascii: bool) -> None:
    assert read_json(json.dumps(value, ensure_ascii=ascii).encode()) == value


def test_brackets_inside_texts_are_not_counted() -> None:
    value = {"note": '[{"' * 200, "back\\": "\\" * 99 + "[" * 99}
    assert read_json(json.dumps(value).encode()) == value


def test_as_deep_as_is_taken_and_one_deeper() -> None:
    refuse_deep(b"[" * DEEPEST + b"]" * DEEPEST)
    with pytest.raises(Malformed, match="nested deeper"):
        refuse_deep(b"[" * (DEEPEST + 1) + b"]" * (DEEPEST + 1))


@pytest.mark.parametrize(
    "body",
    [
        b"[" * MOST_BYTES,
        b'[{"a":' * 170_000,
        b"[]" * 500_000,
        b"[" * 40 + b'"' + b'\\"' * 500_000,
        b'"' * MOST_BYTES,
    ],
    ids=["lists", "both", "flat", "open string", "quotes"],
)
def test_a_body_of_brackets_costs_as_much_more_as_it_is_longer(body: bytes) -> None:
    whole, part = looked_through_s(body), looked_through_s(body[: len(body) // 16])
    assert whole < 100 * part  # 16 times as long; by the square of that it would be 256 times


def looked_through_s(body: bytes) -> float:
    took = []
    for _ in range(7):
        began = time.process_time()
        for _ in range(4):
            with suppress(Malformed):
                refuse_deep(body)
        took.append(time.process_time() - began)
    return min(took)


def test_one_byte_above_a_mib_is_too_large() -> None:
    with pytest.raises(TooLarge):
        read_json(b" " * (MOST_BYTES + 1))


@pytest.mark.parametrize("number", [2**53 - 1, -(2**53) + 1, 1.5e300, 0.1])
def test_numbers_that_every_reader_takes_alike_are_kept(number: float) -> None:
    assert read_json(json.dumps(number).encode()) == number


@pytest.mark.parametrize("number", [str(2**53), "-" + "9" * 40, "1e400", "NaN", "-Infinity"])
def test_numbers_that_readers_take_differently_are_refused(number: str) -> None:
    with pytest.raises(Malformed):
        read_json(number.encode())


def test_a_whole_surrogate_pair_is_one_character() -> None:
    assert read_json(b'"\\ud83c\\udfb6"') == "🎶"
