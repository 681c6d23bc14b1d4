"""What does counting add to the tables that a maker takes away? Outcomes, edges, stands."""

from collections.abc import Iterable

from easelside.blades.model import Edge
from easelside.forecast.counting import Counting
from easelside.logbook.model import Record, values
from easelside.profiling.rules import outcome_of
from easelside.records.model import Derived, Entry, Stood


def entries_of(records: Iterable[Record]) -> dict[str, list[Entry]]:
    """{kind: its records as plain values}, removed ones left out."""
    found: dict[str, list[Entry]] = {}
    for record in records:
        said = values(record["fields"])
        if said.get("removed") is not True:
            found.setdefault(record["kind"], []).append(Entry(record["id"], said))
    return found


def derived_of(counting: Counting, blades: Iterable[Entry]) -> Derived:
    labels = {blade.id: str(blade.fields.get("label") or "") for blade in blades}

    def named(edge: Edge) -> str:
        return f"{labels.get(edge.blade) or edge.blade}/{edge.life}"

    outcomes = {piece.id: outcome_of(piece) for piece in counting.pieces.values()}
    return Derived(
        outcome={id: outcome for id, outcome in outcomes.items() if outcome is not None},
        piece_edge={id: named(edge) for id, edge in counting.cut_by.items()},
        tally_edges={t.id: [named(edge) for edge in counting.shares(t)] for t in counting.tallies},
        stands={
            batch: {stage: Stood(s.good, s.second, s.lost) for stage, s in stands.items()}
            for batch, stands in counting.batches.items()
        },
    )
