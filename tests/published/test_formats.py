"""What others must be able to read: squares, instants, tables, ids, alarms, as their standards print them."""

import csv
import io
import uuid
from datetime import timedelta
from typing import Any

import segno
from icalendar import Alarm
from icalendar.prop import vDuration

from easelside.logbook.ids import time_ordered_id
from easelside.records.rules import csv_text
from easelside.units import read_instant, write_instant
from tests.published.reference import reference

# ISO/IEC 18004, data mask patterns, row i and column j
MASKS = (
    lambda i, j: (i + j) % 2 == 0,
    lambda i, j: i % 2 == 0,
    lambda i, j: j % 3 == 0,
    lambda i, j: (i + j) % 3 == 0,
    lambda i, j: (i // 2 + j // 3) % 2 == 0,
    lambda i, j: i * j % 2 + i * j % 3 == 0,
    lambda i, j: (i * j % 2 + i * j % 3) % 2 == 0,
    lambda i, j: ((i + j) % 2 + i * j % 3) % 2 == 0,
)
SIDE = 21  # version 1
DATA = 16  # codewords of version 1-M; ten of error correction follow


def format_word(square: segno.QRCode) -> str:
    """The fifteen bits beside the upper left corner, as hexadecimal digits."""
    dark = [list(row) for row in square.matrix]
    bits = [dark[8][j] for j in (0, 1, 2, 3, 4, 5, 7, 8)] + [dark[i][8] for i in (7, 5, 4, 3, 2, 1, 0)]
    return f"{int(''.join(map(str, bits)), 2):04x}"


def codewords(square: segno.QRCode, mask: int) -> list[int]:
    """What stands in the modules of a version 1 symbol: two columns at a time, up and down in turn."""
    dark = [list(row) for row in square.matrix]
    bits: list[int] = []
    for turn, right in enumerate((20, 18, 16, 14, 12, 10, 8, 5, 3, 1)):
        rows = range(SIDE) if turn % 2 else reversed(range(SIDE))
        for i in rows:
            for j in (right, right - 1):
                in_corner = (i < 9 and (j < 9 or j > 12)) or (i > 12 and j < 9)
                if i != 6 and not in_corner:
                    bits.append(dark[i][j] ^ MASKS[mask](i, j))
    return [int("".join(map(str, bits[at : at + 8])), 2) for at in range(0, len(bits) - 7, 8)]


def square_of(text: str, error: str, mask: int) -> segno.QRCode:
    return segno.make(text, version=1, error=error, mask=mask, boost_error=False, micro=False)


def test_the_square_of_digits() -> None:
    """QR 01234567 version 1-M: data and error-correction codewords"""
    told = reference("QR 01234567 version 1-M: data and error-correction codewords")
    mask = told.expected["mask_in_standard"]
    found = codewords(square_of(told.inputs["text"], "m", mask), mask)
    assert told.agrees_with({"data": found[:DATA], "ec": found[DATA:], "mask_in_standard": mask})


def test_the_square_of_letters() -> None:
    """QR HELLO WORLD version 1-M"""
    told = reference("QR HELLO WORLD version 1-M")
    found = codewords(square_of("HELLO WORLD", "m", 0), 0)
    assert found[:DATA] == told.inputs["data"]
    assert told.agrees_with(found[DATA:])


def test_what_a_square_says_of_itself() -> None:
    """QR format information, masks 0-7"""
    told = reference("QR format information, masks 0-7")
    levels = [level.lower() for level in told.inputs["levels"]]
    assert told.agrees_with(
        [[format_word(square_of("1", level, mask)) for mask in range(8)] for level in levels]
    )


def test_instants_are_read_in_any_offset() -> None:
    """internet timestamps to UTC"""
    told = reference("internet timestamps to UTC")
    found = [read_instant(written) for written in told.inputs["in"]]
    assert found == [read_instant(utc) for utc in told.expected]
    assert None not in found
    assert [write_instant(at) for at in found if at] == [
        utc if "." in utc else utc.replace("Z", ".000Z") for utc in told.expected
    ]


def test_a_table_with_quotes_and_line_breaks_is_read_as_it_was_written() -> None:
    """CSV quoting"""
    told = reference("CSV quoting")
    header, *rows = told.expected
    assert list(csv.reader(io.StringIO(told.inputs["text"], newline=""))) == told.expected
    assert list(csv.reader(io.StringIO(csv_text(header, rows), newline=""))) == told.expected


def test_an_id_with_its_time() -> None:
    """UUIDv7 example"""
    told = reference("UUIDv7 example")
    chance = int(told.inputs["rand_a_hex"], 16) << 64 | int(told.inputs["rand_b_hex"], 16)
    made = uuid.UUID(time_ordered_id(told.inputs["unix_ts_ms"], chance.to_bytes(10, "big")))
    assert str(made).upper() == told.expected["uuid"]
    assert (made.version, f"{made.int >> 62 & 3:02b}") == (told.expected["version"], told.expected["variant"])


def alarm_of(lines: list[str]) -> dict[str, Any]:
    alarm = Alarm.from_ical("\r\n".join(lines) + "\r\n")
    trigger = alarm["TRIGGER"].dt
    return {
        "repeat": int(alarm["REPEAT"]),
        "duration_s": alarm["DURATION"].dt.total_seconds(),
        "action": str(alarm["ACTION"]),
        "attach": str(alarm.get("ATTACH", "")),
        **(
            {"trigger_s": trigger.total_seconds()}
            if isinstance(trigger, timedelta)
            else {"trigger": trigger.strftime("%Y-%m-%dT%H:%M:%SZ")}
        ),
    }


def test_an_alarm_at_an_instant() -> None:
    """VALARM, absolute audio alarm"""
    told = reference("VALARM, absolute audio alarm")
    assert told.agrees_with(alarm_of(told.inputs["lines"]))


def test_an_alarm_before_its_event() -> None:
    """VALARM, relative display alarm"""
    told = reference("VALARM, relative display alarm")
    assert told.agrees_with(alarm_of(told.inputs["lines"]))


def test_durations() -> None:
    """durations in seconds"""
    told = reference("durations in seconds")
    found = [vDuration.from_ical(written).total_seconds() for written in told.inputs["value"]]
    assert told.agrees_with(found)
