"""How many pieces until a chart signals, on average: in vain while all is well, and after a shift?

EWMA and CUSUM by Gauss-Legendre solution of Page's integral equation (E. S. Page, Biometrika 41 (1954)
100-115; J. M. Lucas and M. S. Saccucci, Technometrics 32 (1990) 1-29); run rules by an exact Markov chain
(C. W. Champ and W. H. Woodall, Technometrics 29 (1987) 393-399). Values are independent and normal; charts
start at their target.
"""

from collections.abc import Sequence
from functools import cache
from itertools import pairwise
from math import ceil, inf, isfinite, sqrt

from easelside.arguments import above_zero, number
from easelside.errors import NotPossible
from easelside.forecast.charts import rule_names
from easelside.forecast.normal import below, density, gauss_legendre

State = tuple[tuple[int, ...], tuple[int, ...], int, int, int]
SETTLED = 60  # values: four times the longest memory of a rule
LONGEST = 1e12  # beyond this the equations say no more than "practically never"
MOST_NODES = 240
# sigma of one value from end to end of what a chart may hold: with more the nodes lie too far apart (from 0.7
# sigma on, one sees between them) and the answer is wrong without a sign of it
WIDEST = 100.0


def solved(rows: list[list[float]], right: list[float]) -> list[float]:
    """Gaussian elimination with partial pivoting; the arguments are used up."""
    n = len(right)
    for i in range(n):
        pivot = max(range(i, n), key=lambda k: abs(rows[k][i]))
        rows[i], rows[pivot], right[i], right[pivot] = rows[pivot], rows[i], right[pivot], right[i]
        head = rows[i]
        if head[i] == 0:
            return [inf] * n
        rest = head[i + 1 :]
        for k in range(i + 1, n):
            row = rows[k]
            share = row[i] / head[i]
            if share:
                row[i + 1 :] = [x - share * y for x, y in zip(row[i + 1 :], rest, strict=True)]
                right[k] -= share * right[i]
    for i in range(n - 1, -1, -1):
        right[i] = (right[i] - sum(rows[i][j] * right[j] for j in range(i + 1, n))) / rows[i][i]
    return right


def _length(found: float) -> float:
    return found if isfinite(found) and 1 <= found <= LONGEST else LONGEST


def ewma_run_length(shift_sigma: float, weight: float, width: float) -> float:
    """Average run length of a two-sided EWMA with its limits of the long run, from the target on.

    `shift_sigma`: how far the mean has shifted, in sigma of one value; `width`: limits in sigma of the EWMA.
    """
    shift, weight = number(shift_sigma, "the shift"), above_zero(weight, "the weight", 1)
    width = above_zero(width, "the width")
    span = 2 * width / sqrt(weight * (2 - weight))  # in the steps that one value makes
    if span > WIDEST:
        raise NotPossible(
            detail=f"a weight of {weight:g} within {width:g} sigma is too fine;"
            f" 2 width / sqrt(weight (2 - weight)) is {WIDEST:g} at most"
        )
    return _ewma_length(shift, weight, width)


@cache
def _ewma_length(shift: float, weight: float, width: float) -> float:
    limit = width * sqrt(weight / (2 - weight))
    n = min(MOST_NODES, max(40, ceil(6 * limit / weight)))
    nodes = [(limit * x, limit * w) for x, w in gauss_legendre(n)]

    def kernel(at: float) -> list[float]:
        return [w * density((y - (1 - weight) * at) / weight - shift) / weight for y, w in nodes]

    rows = [[(i == j) - k for j, k in enumerate(kernel(at))] for i, (at, _) in enumerate(nodes)]
    lengths = solved(rows, [1.0] * n)
    return _length(1 + sum(k * run for k, run in zip(kernel(0.0), lengths, strict=True)))


def cusum_run_length(shift_sigma: float, allowance: float, decision: float) -> float:
    """Average run length of the two-sided tabular CUSUM from zero on; all three in sigma of one value."""
    shift = number(shift_sigma, "the shift")
    sides = [upper_cusum_run_length(way * shift, allowance, decision) for way in (1, -1)]
    signals = sum(1 / length for length in sides if length < LONGEST)
    return max(1.0, 1 / signals) if signals else LONGEST


def upper_cusum_run_length(shift_sigma: float, allowance: float, decision: float) -> float:
    """Average run length of the sum above the target alone; `decision` up to 100 sigma."""
    return _cusum_length(
        number(shift_sigma, "the shift"),
        number(allowance, "the allowance", 0),
        above_zero(decision, "the decision", WIDEST),
    )


@cache
def _cusum_length(shift: float, allowance: float, decision: float) -> float:
    n = min(MOST_NODES, max(40, ceil(3 * decision)))
    nodes = [(decision * (1 + x) / 2, decision * w / 2) for x, w in gauss_legendre(n)]
    at_all = [0.0, *(y for y, _ in nodes)]
    rows = []
    for i, at in enumerate(at_all):
        to = [below(allowance - at - shift), *(w * density(y + allowance - at - shift) for y, w in nodes)]
        rows.append([(i == j) - k for j, k in enumerate(to)])
    return _length(solved(rows, [1.0] * (n + 1))[0])


def run_rules_run_length(shift_sigma: float, rules: str | Sequence[str]) -> float:
    """Average run length with these rules together. Those that look at steps (nelson 3 and 4) have no zones.

    NotPossible for those two: their run lengths are simulated where they are needed.
    """
    names = rule_names(rules)
    if {"nelson 3", "nelson 4"} & set(names):
        raise NotPossible(detail="nelson 3 and 4 look at steps, which zones do not tell")
    return _rules_length(number(shift_sigma, "the shift"), tuple(sorted(set(names))))


@cache
def _rules_length(shift: float, names: tuple[str, ...]) -> float:
    """Survival by powers of the chain; once it shrinks by one ratio, the rest is a geometric series."""
    zones = [-inf, -3.0, -2.0, -1.0, 0.0, 1.0, 2.0, 3.0, inf]
    chance = [below(b - shift) - below(a - shift) for a, b in pairwise(zones)]
    start: State = ((), (), 0, 0, 0)
    ways: dict[State, list[tuple[State, float]]] = {}
    waiting = [start]
    while waiting:
        state = waiting.pop()
        if state in ways:
            continue
        steps = [
            (after, p)
            for zone, p in enumerate(chance)
            if (after := _after(state, zone - 4, names)) is not None
        ]
        ways[state] = steps
        waiting.extend(after for after, _ in steps)
    place = {state: i for i, state in enumerate(ways)}
    moves = [[(place[after], p) for after, p in steps] for steps in ways.values()]
    here, total, alive, ratio = [0.0] * len(moves), 0.0, 1.0, 0.0
    here[place[start]] = 1.0
    for n in range(100_000):
        total += alive
        there = [0.0] * len(moves)
        for i, share in enumerate(here):
            if share:
                for j, p in moves[i]:
                    there[j] += share * p
        left = sum(there)
        if left < 1e-15:
            return total
        if n > SETTLED and abs(left / alive - ratio) < 1e-13:
            return total + left / (1 - left / alive)
        ratio, alive, here = left / alive, left, there
    return total


WINDOWS = {
    "nelson 5": (2, 3, 2),
    "western electric 2": (2, 3, 2),
    "nelson 6": (4, 5, 1),
    "western electric 3": (4, 5, 1),
}
RUNS = {"nelson 2": 9, "western electric 4": 8}


def _after(state: State, zone: int, names: tuple[str, ...]) -> State | None:
    """The state after a value in `zone` (-4 to 3: whole sigmas from the centre); None: a rule signalled."""
    beyond = zone if zone >= 0 else zone + 1  # whole sigmas beyond, signed
    side = 1 if zone >= 0 else -1
    twos, ones, run, within, outside = state
    two, one = side * (abs(beyond) >= 2), side * (abs(beyond) >= 1)
    is_far, run = abs(beyond) >= 3, side * (abs(run) + 1) if run * side > 0 else side
    within, outside = (within + 1, 0) if abs(beyond) < 1 else (0, outside + 1)
    longest = 0
    for name in names:
        if name.endswith(" 1"):
            if is_far:
                return None
        elif name in WINDOWS:
            some, _, sigmas = WINDOWS[name]
            new, past = (two, twos) if sigmas == 2 else (one, ones)
            if new and 1 + past.count(new) >= some:
                return None
        elif name in RUNS:
            longest = max(longest, RUNS[name])
            if abs(run) >= RUNS[name]:
                return None
        elif (name == "nelson 7" and within >= 15) or (name == "nelson 8" and outside >= 8):
            return None
    return (
        (*twos, two)[-2:] if any(WINDOWS.get(n, (0, 0, 0))[2] == 2 for n in names) else (),
        (*ones, one)[-4:] if any(WINDOWS.get(n, (0, 0, 0))[2] == 1 for n in names) else (),
        run if longest else 0,
        within if "nelson 7" in names else 0,
        outside if "nelson 8" in names else 0,
    )
