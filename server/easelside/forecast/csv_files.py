"""How do all records of a logbook become the tables of a folder? Counted first, then written."""

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any, Protocol

from easelside.forecast.counting import Counting, Fact
from easelside.forecast.derived_columns import derived_columns
from easelside.records.export import write_tables
from easelside.records.model import Derived, Entries, Entry
from easelside.units import text, zone_of


class HasRecords(Protocol):
    """A logbook, as far as its tables need one."""

    def all_records(self) -> Iterable[Any]: ...


def tables_of(records: Iterable[Mapping[str, Any]]) -> tuple[Entries, Derived, str | None]:
    """The entries, what counting adds, and the name of the workshop's time zone.

    Each record has `kind`, `id` and `fields`, a field its `value` and `when`.
    """
    facts = [
        Fact(
            kind=record["kind"],
            id=record["id"],
            fields={name: f["value"] for name, f in record["fields"].items() if f["value"] is not None},
            when={name: f["when"] for name, f in record["fields"].items()},
        )
        for record in records
    ]
    entries: dict[str, list[Entry]] = {}
    for fact in facts:
        entries.setdefault(fact.kind, []).append(Entry(fact.id, fact.fields))
    zone_name = next((text(e.fields, "time_zone") for e in entries.get("workshop", ())), None)
    labels = {e.id: text(e.fields, "label") or "?" for e in entries.get("blade", ())}
    return entries, derived_columns(Counting(facts, zone_of(zone_name)), labels), zone_name


def write_csv(
    logbook: HasRecords, folder: Path, progress: Callable[[str], None] = lambda file: None
) -> list[Path]:
    """Writes every table of the logbook's records into a folder; gives the files. `progress` names each."""
    entries, derived, zone_name = tables_of(logbook.all_records())
    return write_tables(folder, entries, derived, zone_of(zone_name), progress)
