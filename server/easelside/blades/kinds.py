"""Which blades, or which machine's edges, last otherwise than all the others here?"""

from collections.abc import Sequence

from easelside.blades.life import checked, log_rank
from easelside.errors import NotPossible

FEWEST = 3  # edges that ended, on either side
BY_CHANCE = 0.01  # rarer than this is no chance: other steel, other cane, another machine


def last_otherwise(
    pieces: Sequence[float], ended: Sequence[bool], kind: Sequence[str | None]
) -> frozenset[str]:
    """Kinds (a blade's id, say) whose edges last longer or shorter than all the others together.

    By the log-rank test, each kind against the rest; the one that differs most is set apart first, and the
    rest is looked at again without it. An edge of kind None belongs to the rest.
    """
    left = list(zip(checked(pieces, ended), kind, strict=True))
    apart: set[str] = set()
    while True:
        chances = {one: _chance(left, one) for one in sorted({k for _, k in left if k is not None})}
        least = min(chances, key=lambda one: chances[one], default=None)
        if least is None or chances[least] >= BY_CHANCE:
            return frozenset(apart)
        apart.add(least)
        left = [(edge, k) for edge, k in left if k != least]


def _chance(edges: Sequence[tuple[tuple[float, bool], str | None]], one: str) -> float:
    """How often chance alone sets a kind so far apart from the rest; 1 where too few edges ended to tell."""
    mine = [edge for edge, k in edges if k == one]
    others = [edge for edge, k in edges if k != one]
    if min(sum(over for _, over in mine), sum(over for _, over in others)) < FEWEST:
        return 1.0
    try:
        return log_rank(*_columns(mine), *_columns(others)).p
    except NotPossible:
        return 1.0


def _columns(edges: Sequence[tuple[float, bool]]) -> tuple[list[float], list[bool]]:
    return [count for count, _ in edges], [over for _, over in edges]
