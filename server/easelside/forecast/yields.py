"""How many pieces must be started so that enough come out good?

Several stages, in any order, are a sequence of yields: what is good after one goes into the next.
"""

import math
from collections.abc import Sequence
from itertools import accumulate

from easelside.arguments import chance as chance_between
from easelside.arguments import whole
from easelside.errors import NotPossible
from easelside.forecast.beta import log_beta
from easelside.forecast.shares import Share, Yield, shares_of

MOST_WANTED = 20_000  # good pieces: years of work of one workshop
MOST_PIECES = 10_000_000
ONE_BY_ONE = 50_000  # pieces beyond those wanted; further on the answer is closed in on
EXACT_TO = 600  # pieces: above, several stages are taken as one with the same mean and spread
_HAIR = 1e-12  # a chance that is reached but for rounding is reached


def pieces_to_start(good_wanted: int, yield_or_counts: Yield | Sequence[Yield], chance: float) -> int:
    """
    The fewest pieces to start so that at least `good_wanted` come out good with that `chance` (0 to 1).

    `yield_or_counts`: a share above 0, or whole pieces (good, tried) with one tried at least; or several.
    Exact: negative binomial for a known share, beta negative binomial for counts, the sum over all that may
    come through for several stages (above 600 pieces by a beta distribution of the same mean and spread).
    Raises NotPossible for numbers that cannot be, for more than 20,000 wanted, and where even ten million
    pieces were too few.
    """
    wanted = whole(good_wanted, "the number of good pieces wanted", most=MOST_WANTED)
    chance = chance_between(chance, "the chance")
    return pieces_for(wanted, shares_of(yield_or_counts), chance)


def pieces_for(good_wanted: int, shares: Sequence[Share], chance: float) -> int:
    """The same for shares that are already read."""
    shares = _known_as_one(shares)
    if good_wanted == 0 or not shares:
        return good_wanted
    if len(shares) > 1:
        if (found := _through_stages(good_wanted, shares, chance)) is not None:
            return found
        shares = [as_one(shares)]
    return _waiting(good_wanted, shares[0], chance)


def good_chances(started: int, yield_or_counts: Yield | Sequence[Yield]) -> list[float]:
    """The chance of 0, 1, ... `started` good pieces out of so many started."""
    started = whole(started, "the number of pieces started", most=MOST_WANTED)
    shares = _known_as_one(shares_of(yield_or_counts))
    if len(shares) > 1 and started > EXACT_TO:
        shares = [as_one(shares)]
    chances = [0.0] * started + [1.0]
    for share in shares:
        after = [0.0] * (started + 1)
        ways = _Ways(share, started)
        for n, of_n in enumerate(chances):
            if of_n:
                for x in range(n + 1):
                    after[x] += of_n * ways.chance(x, n)
        chances = after
    return chances


def good_between(started: int, yield_or_counts: Yield | Sequence[Yield], level: float) -> tuple[int, int]:
    """The fewest and the most good pieces of so many started, as often as `level` says (0.9: 9 in 10).

    The phone says it (`goodBetween` in webclient/src/batches/foreseen_rules.ts), held to this by
    tests/shared_cases/yields.json.
    """
    level = chance_between(level, "the level")
    upto = list(accumulate(good_chances(started, yield_or_counts)))
    below = (1 - level) / 2
    fewest = next(x for x, sum_ in enumerate(upto) if sum_ > below + _HAIR)
    most = next((x for x, sum_ in enumerate(upto) if sum_ >= 1 - below - _HAIR), started)
    return fewest, most


def beta_binomial(x: int, n: int, a: float, b: float) -> float:
    """The chance of x good ones out of n, where their share has the beta distribution (a, b)."""
    if not 0 <= x <= n:
        return 0.0
    ways = math.lgamma(n + 1) - math.lgamma(x + 1) - math.lgamma(n - x + 1)
    return math.exp(ways + log_beta(a + x, b + n - x) - log_beta(a, b))


def _known_as_one(shares: Sequence[Share]) -> list[Share]:
    """All that are known as one; none where everything comes through."""
    known = math.prod(share.a for share in shares if share.is_known)
    return [share for share in shares if not share.is_known] + ([Share(known)] if known < 1 else [])


def as_one(shares: Sequence[Share]) -> Share:
    """One beta distribution with the mean and the spread of what comes through all of these."""
    if len(shares) == 1:
        return shares[0]
    mean, square = (math.prod(moment) for moment in zip(*(share.moments() for share in shares), strict=True))
    together = (mean - square) / (square - mean**2)
    return Share(mean * together, (1 - mean) * together)


def _waiting(wanted: int, share: Share, chance: float) -> int:
    """Piece by piece, until the chance that the last one wanted has come is large enough."""
    a, b, known = share.a, share.b, share.is_known
    first = wanted * math.log(a) if known else sum(math.log((a + i) / (a + b + i)) for i in range(wanted))
    log_here, so_far, n = first, math.exp(first), wanted
    while so_far < chance - _HAIR:
        if n >= wanted + ONE_BY_ONE:
            return _closed_in(wanted, share, chance, n)
        lost = math.log1p(-a) if known else math.log((b + n - wanted) / (a + b + n))
        log_here += math.log(n / (n - wanted + 1)) + lost
        so_far += math.exp(log_here)
        n += 1
    return n


def _closed_in(wanted: int, share: Share, chance: float, low: int) -> int:
    """The same where `low` pieces are too few, by halving what lies between them and the most."""
    high = MOST_PIECES
    if not _enough(high, wanted, share, chance):
        raise NotPossible(detail=f"with so few good ones, {MOST_PIECES:,} pieces were not enough")
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _enough(middle, wanted, share, chance) else (middle, high)
    return high


def _enough(n: int, wanted: int, share: Share, chance: float) -> bool:
    """Whether fewer good ones than wanted come out of n seldom enough."""
    a, b, known = share.a, share.b, share.is_known
    log_none = n * math.log1p(-a) if known else log_beta(a, b + n) - log_beta(a, b)
    log_here, fewer = log_none, math.exp(log_none)
    for x in range(wanted - 1):
        odds = a / (1 - a) if known else (a + x) / (b + n - x - 1)
        log_here += math.log((n - x) / (x + 1) * odds)
        fewer += math.exp(log_here)
    return 1 - fewer >= chance - _HAIR


def _through_stages(wanted: int, shares: Sequence[Share], chance: float) -> int | None:
    """From the last stage back: the chance that so many before a stage are enough. None: over EXACT_TO."""
    most = min(EXACT_TO, 2 * wanted + 16)
    while wanted <= EXACT_TO:
        enough = [0.0] * wanted + [1.0] * (most - wanted + 1)
        for share in reversed(shares):
            ways = _Ways(share, most)
            enough = [
                sum(ways.chance(x, n) * enough[x] for x in range(wanted, n + 1)) for n in range(most + 1)
            ]
        found = next((n for n, of_n in enumerate(enough) if of_n >= chance - _HAIR), None)
        if found is not None or most == EXACT_TO:
            return found
        most = min(EXACT_TO, 2 * most)
    return None


class _Ways:
    """Chances of x good ones out of n, for every n up to the most, from logarithms of their parts."""

    def __init__(self, share: Share, most: int) -> None:
        self._whole = _running(1, most)
        if share.is_known:
            self._good = [x * math.log(share.a) for x in range(most + 1)]
            self._lost = [x * math.log1p(-share.a) for x in range(most + 1)]
            self._both = [0.0] * (most + 1)
        else:
            self._good, self._lost = _running(share.a, most), _running(share.b, most)
            self._both = _running(share.a + share.b, most)

    def chance(self, x: int, n: int) -> float:
        ways = self._whole[n] - self._whole[x] - self._whole[n - x]
        return math.exp(ways + self._good[x] + self._lost[n - x] - self._both[n])


def _running(start: float, most: int) -> list[float]:
    """Logarithms of 1, start, start (start + 1), ..."""
    return list(accumulate((math.log(start + i) for i in range(most)), initial=0.0))
