"""The records as CSV: RFC 4180 in form, harmless to spreadsheets, the same on the phone and on the server."""

import csv
import io
import json
import re
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from easelside.records.columns import HEADERS, NAMES
from easelside.records.model import Derived, Entry, Stood
from easelside.records.rules import FORMULA_SIGNS, cell_text, csv_text
from easelside.records.tables import rows_of

CASES = json.loads((Path(__file__).parents[1] / "shared_cases/csv.json").read_text("utf-8"))

# RFC 4180, section 2, the grammar: record = field *(COMMA field); field = (escaped / non-escaped);
# escaped = DQUOTE *(TEXTDATA / COMMA / CR / LF / 2DQUOTE) DQUOTE; non-escaped = *TEXTDATA;
# TEXTDATA = %x20-21 / %x23-2B / %x2D-7E. The grammar knows ASCII alone; RFC 7111 made UTF-8 the default,
# so every other character that is no control character is taken as TEXTDATA too. A tab is none of these.
TEXTDATA = r"[\x20\x21\x23-\x2b\x2d-\x7e\x80-\U0010ffff]"
FIELD = rf'(?:"(?:{TEXTDATA}|,|\r|\n|"")*"|{TEXTDATA}*)'
FILE = re.compile(rf"(?:{FIELD}(?:,{FIELD})*\r\n)+")


def read_back(text: str) -> list[list[str]]:
    return list(csv.reader(io.StringIO(text, newline=""), strict=True))


@pytest.mark.parametrize("case", CASES["cells"], ids=lambda case: case["name"])
def test_a_cell_is_written_as_the_shared_case_says(case: dict[str, Any]) -> None:
    assert cell_text(case["value"]) == case["text"]


@pytest.mark.parametrize("name", NAMES)
def test_a_table_is_written_as_the_shared_case_says(name: str) -> None:
    for case in CASES["tables"]:
        entries = {
            kind: [Entry(r["id"], r["fields"]) for r in found] for kind, found in case["records"].items()
        }
        stands = {
            b: {s: Stood(**n) for s, n in stages.items()} for b, stages in case["derived"]["stands"].items()
        }
        derived = Derived(
            case["derived"]["outcome"],
            case["derived"]["piece_edge"],
            case["derived"]["tally_edges"],
            stands,
        )
        rows = rows_of(name, entries, derived, ZoneInfo(case["time_zone"]))
        assert csv_text(HEADERS[name], rows).split("\r\n") == [*case["expect"][name], ""]


def test_the_examples_of_rfc_4180_are_written_so_that_they_read_back() -> None:
    # RFC 4180, section 2, rules 1 to 7: its example records, as their cells.
    rows = [["aaa", "b \r\nbb", "ccc"], ["zzz", "yyy", "xxx"], ["aaa", 'b"bb', "ccc"]]
    text = csv_text(["field_name", "field_name", "field_name"], rows)
    assert text == (
        'field_name,field_name,field_name\r\naaa,"b \r\nbb",ccc\r\nzzz,yyy,xxx\r\naaa,"b""bb",ccc\r\n'
    )
    assert read_back(text)[1:] == rows


@given(st.lists(st.lists(st.text(st.characters(exclude_categories=["Cs", "Cc"])), min_size=2, max_size=4)))
def test_any_words_fit_the_grammar_and_read_back_but_for_the_apostrophe(rows: list[list[str]]) -> None:
    text = csv_text(["a", "b"], rows)
    assert FILE.fullmatch(text)
    expected = [["'" + c if c and c[0] in FORMULA_SIGNS else c for c in row] for row in rows]
    assert read_back(text)[1:] == expected


@given(st.text())
def test_no_words_are_read_as_a_formula(words: str) -> None:
    (_, (cell, *_rest)) = read_back(csv_text(["a", "b"], [[words, ""]]))
    assert not cell or cell[0] not in FORMULA_SIGNS


@given(st.floats(-1e6, 1e6).filter(lambda n: n == 0 or abs(n) >= 1e-6))
def test_a_number_reads_back_as_the_same_number(number: float) -> None:
    text = cell_text(number)
    assert float(text) == number
    assert "e" not in text
