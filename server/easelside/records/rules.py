"""How is a table written so that every spreadsheet reads it, and none runs it?

The form is RFC 4180: comma, CRLF after every line, a cell in double quotes where it holds a comma, a quote or
a line break, a quote inside doubled. The text is UTF-8, the default of text/csv by RFC 7111.

Spreadsheets take a text cell that begins with = + - @ (or a tab, a line break, NUL, or a wide form of those)
for a formula. Such a *text* gets a leading apostrophe, as OWASP ASVS 5.0, requirement 1.2.10, asks;
numbers stay numbers, so -0.05 is written as it is. JSON is the form that comes back word for word.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

Cell = str | int | float | bool | None

FORMULA_SIGNS = "=+-@\t\r\n\0＝＋－＠"
_NEEDS_QUOTES = (",", '"', "\r", "\n")


def cell_text(value: Cell) -> str:
    """One cell as it stands in the file. None is empty; yes and no are words; a whole number has no point."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return number_text(value)
    text = f"'{value}" if value[:1] and value[0] in FORMULA_SIGNS else value
    if any(sign in text for sign in _NEEDS_QUOTES):
        return '"' + text.replace('"', '""') + '"'
    return text


def number_text(value: float) -> str:
    """A number with a point and as many digits as tell it apart, never in powers of ten: 2.375, 30, -0.05.

    Nothing at a bench is below a millionth (written 0) or above a thousand million million (left empty).
    """
    if value != value or abs(value) >= 1e15:
        return ""
    if abs(value) < 1e-6:
        return "0"
    return f"{Decimal(repr(value)):f}".removesuffix(".0")


def csv_text(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A whole file: the header line, then the rows, CRLF after each."""
    lines = [",".join(cell_text(cell) for cell in line) for line in (header, *rows)]
    return "".join(line + "\r\n" for line in lines)
