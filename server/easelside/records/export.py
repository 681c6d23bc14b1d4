"""Where do the tables go? Into a folder, one CSV file each."""

from collections.abc import Callable
from pathlib import Path
from zoneinfo import ZoneInfo

from easelside.logbook.folder import written_whole
from easelside.records.columns import HEADERS, NAMES
from easelside.records.model import Derived, Entries
from easelside.records.rules import csv_text
from easelside.records.tables import rows_of


def file_name(table: str) -> str:
    return f"easelside-{table}.csv"


def table_text(table: str, entries: Entries, derived: Derived, zone: ZoneInfo) -> str:
    """One whole table as RFC 4180 text; the names are those of `columns.NAMES`."""
    return csv_text(HEADERS[table], rows_of(table, entries, derived, zone))


def write_tables(
    folder: Path,
    entries: Entries,
    derived: Derived,
    zone: ZoneInfo,
    progress: Callable[[str], None] = lambda file: None,
) -> list[Path]:
    """Writes every table into the folder (made where it is missing) as UTF-8; gives the files."""
    folder.mkdir(parents=True, exist_ok=True)
    written: list[Path] = []
    for table in NAMES:
        path = folder / file_name(table)
        with written_whole(path) as out:
            out.write(table_text(table, entries, derived, zone).encode())
        written.append(path)
        progress(path.name)
    return written
