"""Is what is asked of a pace something that it can tell?"""

from collections.abc import Iterable, Sequence

from easelside.arguments import above_zero, number, several
from easelside.errors import NotPossible

MOST_PIECES = 10_000  # in a row
MOST_AGE = 1e6  # pieces that an edge has cut
MOST_LOG = 100.0  # log minutes either way: within it no sum of pieces leaves the floats
SPREADS = ("error", "sigma", "tau")
BOTH_WAYS = ("centre", "by_age", "by_long_use")


def check_pace(pace: object) -> None:
    """NotPossible where a pace says what cannot be; all in log minutes, spreads 0 to 10."""
    for name in SPREADS:
        number(getattr(pace, name, None), f"a pace's {name}", 0, 10)
    for name in BOTH_WAYS:
        number(getattr(pace, name, None), f"a pace's {name}", -MOST_LOG, MOST_LOG)
    number(getattr(pace, "degrees", None), "a pace's degrees of freedom", 0)
    for name in ("with_slopes", "slopes"):
        for each in several(getattr(pace, name, ()), f"a pace's {name}"):
            number(each, f"a pace's {name}", -MOST_LOG, MOST_LOG)


def check_log_minutes(log_minutes: Iterable[float]) -> None:
    """Where what a pace leads to is beyond any piece."""
    if not all(abs(each) <= MOST_LOG for each in log_minutes):
        raise NotPossible(detail="at this age of an edge the pace leads to times beyond any piece's")


def pieces_told(pieces: Sequence[Sequence[float]], figures: int) -> list[tuple[float, ...]]:
    """Of each piece minutes (above 0; others are left out), the edge's age, and what else is told of it."""
    told = []
    for piece in several(pieces, "the pieces", most=MOST_PIECES):
        each = several(piece, "what is told of a piece", figures, figures)
        minutes = number(each[0], "the minutes of a piece")
        age = number(each[1], "an edge's age", 0, MOST_AGE)
        rest = [number(more, "a lot's centre", -MOST_LOG, MOST_LOG) for more in each[2:]]
        if minutes > 0:
            told.append((above_zero(minutes, "the minutes of a piece", 1e6, 1e-6), age, *rest))
    return told
