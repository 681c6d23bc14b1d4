"""What does counting add to the tables of the records? Outcomes, edges, what each stage gave."""

from collections.abc import Mapping

from easelside.blades.model import Edge
from easelside.forecast.counting import Counting
from easelside.profiling.rules import outcome_of
from easelside.records.model import Derived, Stood


def derived_columns(counting: Counting, blade_labels: Mapping[str, str]) -> Derived:
    """The derived columns of all records; `blade_labels` by blade id."""

    def said(edge: Edge) -> str:
        return f"{blade_labels.get(edge.blade, '?')}/{edge.life}"

    outcomes = {piece.id: outcome for piece in counting.pieces.values() if (outcome := outcome_of(piece))}
    return Derived(
        outcome=outcomes,
        piece_edge={piece: said(edge) for piece, edge in counting.cut_by.items()},
        tally_edges={tally.id: [said(edge) for edge in counting.shares(tally)] for tally in counting.tallies},
        stands={
            batch: {stage: Stood(stand.good, stand.second, stand.lost) for stage, stand in stages.items()}
            for batch, stages in counting.batches.items()
        },
    )
