"""How long does an edge last, and how many pieces are left in one that has cut so many?"""

import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from easelside.arguments import chance, number, numbers, several, yes_or_no
from easelside.errors import NotPossible

Interval = tuple[float, float]
FEWEST_PIECES = 1e-6  # above 0: other programs count in thousands
MOST_DOUBLINGS = 60
BISECTIONS = 60


class Node(NamedTuple):
    """One Weibull law that may be the true one, and how much speaks for it."""

    shape: float
    scale: float
    weight: float


@dataclass(frozen=True)
class LifeFit:
    """Lives of edges as a Weibull law: the chance of lasting t pieces is exp(-(t / scale) ** shape).

    `scale` in pieces: 63 % of all edges are off by then. Intervals hold the true value at `level`.
    `nodes`: laws among which what is left is averaged; the fitted one alone where it is taken for certain.
    `log_likelihood` is nan where a prior entered.
    """

    shape: float
    scale: float
    shape_interval: Interval
    scale_interval: Interval
    level: float
    ended: int
    observations: int
    log_likelihood: float
    nodes: tuple[Node, ...]

    @property
    def mean(self) -> float:
        """Pieces that an edge lasts on average, by the fitted law."""
        return self.scale * math.gamma(1 + 1 / self.shape)

    @property
    def mean_left(self) -> float:
        """Pieces that a fresh edge lasts on average, over all that the law may be."""
        return sum(n.weight * n.scale * math.gamma(1 + 1 / n.shape) for n in self.nodes)

    @property
    def standard_deviation(self) -> float:
        second = math.gamma(1 + 2 / self.shape)
        return self.scale * math.sqrt(second - math.gamma(1 + 1 / self.shape) ** 2)

    @property
    def aic(self) -> float:
        """Akaike's criterion of the two parameters."""
        return 4 - 2 * self.log_likelihood


@dataclass(frozen=True)
class Survival:
    """Kaplan and Meier's steps: from `times[k]` pieces on the part `survival[k]` of all edges still cuts."""

    times: tuple[int | float, ...]
    survival: tuple[float, ...]
    standard_error: tuple[float, ...]
    at_risk: tuple[int, ...]

    @property
    def median(self) -> float | None:
        """The first count by which half of the edges are off; None where more than half still cut."""
        return next((t for t, part in zip(self.times, self.survival, strict=True) if part <= 0.5), None)


@dataclass(frozen=True)
class PiecesLeft:
    """Pieces that an edge will still cut: more than `median` as often as less, in the range at `level`."""

    median: float
    lower: float
    upper: float
    level: float


@dataclass(frozen=True)
class LogRank:
    """Two groups of edges held against each other; `p`: how often chance alone sets them so far apart."""

    chi_square: float
    p: float


def checked(pieces: Sequence[float], ended: Sequence[bool]) -> list[tuple[float, bool]]:
    """Edges as (pieces, ended); raises NotPossible for what cannot be."""
    counts = numbers(pieces, "the pieces of each edge", 0, 0)
    over = tuple(yes_or_no(each, "whether an edge ended") for each in several(ended, "the ends"))
    if len(counts) != len(over):
        raise NotPossible(
            detail=f"{len(counts)} counts of pieces and {len(over)} times whether an edge ended"
        )
    if any(
        0 < count < FEWEST_PIECES or (is_over and count == 0)
        for count, is_over in zip(counts, over, strict=True)
    ):
        raise NotPossible(detail="an edge has ended after 0 pieces; it is above 0, or 0 while it still cuts")
    return list(zip(counts, over, strict=True))


def survival(pieces: Sequence[float], ended: Sequence[bool]) -> Survival:
    """The part of edges that lasts so many pieces, with Greenwood's standard error.

    Edges that still cut (`ended` False) count for as long as they were watched. Steps stand only where an
    edge ended; the standard error is 0 once no edge is left. Kaplan and Meier, JASA 53 (1958) 457-481.
    """
    edges = checked(pieces, ended)
    if not edges:
        raise NotPossible(detail="there is no edge to tell from")
    ends = Counter(count for count, is_over in edges if is_over)
    watched = sorted(count for count, _ in edges)
    times, parts, errors, risks = [], [], [], []
    part, greenwood = 1.0, 0.0
    for time in sorted(ends):
        at_risk = len(watched) - bisect_left(watched, time)
        part *= 1 - ends[time] / at_risk
        if at_risk > ends[time]:
            greenwood += ends[time] / (at_risk * (at_risk - ends[time]))
        times.append(int(time) if time.is_integer() else time)
        parts.append(part)
        errors.append(part * math.sqrt(greenwood))
        risks.append(at_risk)
    return Survival(tuple(times), tuple(parts), tuple(errors), tuple(risks))


def chance_of_lasting(fit: LifeFit, pieces_so_far: float, more: float) -> float:
    """The chance that an edge that has cut so many pieces cuts `more` further ones."""
    so_far = number(pieces_so_far, "the number of pieces so far", 0)
    more = number(more, "the number of further pieces", 0)
    return _lasting(_standing(_laws(fit), so_far), so_far, more)


def pieces_left(fit: LifeFit, pieces_so_far: float, level: float = 0.9) -> PiecesLeft:
    """Pieces left in an edge that has cut `pieces_so_far` and still cuts, with the range at `level`.

    As many edges fall short of the range as outlast it. By the fitted law, or averaged over what it may be.
    """
    level = chance(level, "the level")
    tail = (1 - level) / 2
    lower, median, upper = quantiles_left(fit, pieces_so_far, (tail, 0.5, 1 - tail))
    return PiecesLeft(median, lower, upper, level)


def quantiles_left(fit: LifeFit, pieces_so_far: float, chances: Sequence[float]) -> tuple[float, ...]:
    """Counts of pieces left; with each of these chances, strictly within 0 to 1, no more than that are."""
    so_far = number(pieces_so_far, "the number of pieces so far", 0)
    standing = _standing(_laws(fit), so_far)
    return tuple(
        _left(standing, so_far, 1 - chance(each, "a chance")) for each in several(chances, "the chances")
    )


def _laws(fit: LifeFit) -> list[Node]:
    if not isinstance(fit, LifeFit):
        raise NotPossible(detail="the law of the edges' lives is what fit_life gives")
    return [n for n in fit.nodes if n.weight > 0]


def _standing(nodes: Sequence[Node], so_far: float) -> list[Node]:
    """The laws weighed anew: those under which an edge seldom lasts so long have less to say."""
    logs = [math.log(n.weight) - _spent(n, so_far) for n in nodes]
    most = max(logs)
    if most == -math.inf:  # longer than any law knows of: the one that is least surprised
        return [min(nodes, key=lambda n: n.shape * math.log(so_far / n.scale))._replace(weight=1.0)]
    weights = [math.exp(log - most) for log in logs]
    total = sum(weights)
    return [Node(n.shape, n.scale, w / total) for n, w in zip(nodes, weights, strict=True)]


def _spent(law: Node, pieces: float) -> float:
    """Of an edge's life, as -ln of the chance to last so long; infinite where no number can tell it."""
    try:
        return float((pieces / law.scale) ** law.shape)
    except OverflowError:
        return math.inf


def _gained(law: Node, so_far: float, more: float) -> float:
    spent = _spent(law, so_far)
    if math.isinf(spent):
        return math.inf
    if spent > 1 and (stretched := law.shape * math.log1p(more / so_far)) < 1:
        return float(spent * math.expm1(stretched))  # the difference of two large numbers would tell nothing
    return _spent(law, so_far + more) - spent


def _lasting(nodes: Sequence[Node], so_far: float, more: float) -> float:
    if more == 0:
        return 1.0
    return sum(n.weight * math.exp(-_gained(n, so_far, more)) for n in nodes)


def _left(nodes: Sequence[Node], so_far: float, part: float) -> float:
    """The count that is cut with this chance, `part`."""
    if len(nodes) == 1:
        (only,) = nodes
        spent = _spent(only, so_far)
        if spent > 1:  # as a share of what was cut, or the difference of two large numbers would tell nothing
            return so_far * math.expm1(math.log1p(-math.log(part) / spent) / only.shape)
        return only.scale * float((spent - math.log(part)) ** (1 / only.shape)) - so_far
    high = max(n.scale for n in nodes)
    for _ in range(MOST_DOUBLINGS):
        if _lasting(nodes, so_far, high) <= part:
            break
        high *= 2
    low = 0.0
    for _ in range(BISECTIONS):
        middle = (low + high) / 2
        if _lasting(nodes, so_far, middle) > part:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def log_rank(
    pieces: Sequence[float], ended: Sequence[bool], others: Sequence[float], others_ended: Sequence[bool]
) -> LogRank:
    """Do the edges of one group last as long as those of another? Mantel's log-rank test."""
    mine, theirs = checked(pieces, ended), checked(others, others_ended)
    apart, variance = 0.0, 0.0
    watched, others_watched = (sorted(count for count, _ in edges) for edges in (mine, theirs))
    ends_of, others_ends = (Counter(count for count, over in edges if over) for edges in (mine, theirs))
    for time in sorted(ends_of.keys() | others_ends.keys()):
        here = len(watched) - bisect_left(watched, time)
        there = len(others_watched) - bisect_left(others_watched, time)
        ends_here = ends_of[time]
        ends = ends_here + others_ends[time]
        at_risk = here + there
        apart += ends_here - ends * here / at_risk
        if at_risk > 1:
            variance += ends * (at_risk - ends) * here * there / (at_risk**2 * (at_risk - 1))
    if variance == 0:
        raise NotPossible(detail="no edge of either group ended while one of the other was cutting")
    chi_square = apart**2 / variance
    return LogRank(chi_square, math.erfc(math.sqrt(chi_square / 2)))
