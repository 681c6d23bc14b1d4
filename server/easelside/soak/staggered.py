"""With this pace and these jars: when to put in how many, so that none is late or over-soaked?

Pieces lie in the water until the machine takes them, one after the other; or a whole jar is emptied when the
first of its pieces is wanted. A group goes in at the last moment at which it is still ready in time if the
work goes quicker than usual, and none of it is too soft if it goes slower. All groups but the last are
alike, because a maker counts sixes, not a table. Once the real pace shows, `next_group` says anew when the
next one goes in. The phone plans the same way (webclient/src/soak/foreseen_stagger_rules.ts), held to it by
tests/shared_cases/staggered.json.
"""

import math
from dataclasses import dataclass, replace

from easelside.arguments import above_zero, number, whole
from easelside.errors import NotPossible

EPSILON = 1e-9  # of a piece: what is equal on paper stays equal after a division
MOST_PIECES, MOST_JARS = 1000, 100  # of one row
LEAST_S, MOST_S = 0.01, 30 * 86400.0
COLDEST_TIMES = 8.0  # from warm to cold by common practice, no source: half an hour to four


@dataclass(frozen=True)
class Pace:
    """Seconds a piece: the usual, and between what it lies 9 times in 10."""

    usual_s: float
    quick_s: float
    slow_s: float


@dataclass(frozen=True)
class Wish:
    """`start_s`: seconds from now until the first piece shall be cut; None: as soon as it is ready.

    `ready_s`: in water until ready (with its range: the upper end); `too_soft_s`: until too soft, or until
    the maker would not leave it longer. `each`: so many at a time; None: as it goes best. `out_together`: a
    jar is emptied at once, and what is not on the machine yet waits in the air; where `each` is None, no
    longer than it was in the water.
    """

    pieces: int
    pace: Pace
    ready_s: float
    too_soft_s: float
    jars: int
    start_s: float | None = None
    each: int | None = None
    out_together: bool = False


@dataclass(frozen=True)
class Group:
    put_in_s: float  # from now
    pieces: int
    jar: int  # 1, 2, ...
    first_cut_s: float
    last_cut_s: float


@dataclass(frozen=True)
class Change:
    """What would make it possible, and how much of it.

    `what`: "smaller_groups" or "larger_groups" (of `number`), "more_jars" (`number` in all), "colder_water"
    (so that all takes `number` times as long), "start_later" (`number` seconds, or cane in so much earlier).
    """

    what: str
    number: float


@dataclass(frozen=True)
class Plan:
    """`groups` is empty where it cannot be; `changes` tells then what would make it so, each by itself."""

    groups: tuple[Group, ...]
    changes: tuple[Change, ...] = ()

    @property
    def every_s(self) -> float | None:
        """Time between two groups; None: there is one at most."""
        return self.groups[1].put_in_s - self.groups[0].put_in_s if len(self.groups) > 1 else None


def plan(wish: Wish) -> Plan:
    """The fewest groups that do it; where none do, what would."""
    wish = _checked(wish)
    groups = _groups(wish)
    return Plan(groups) if groups else Plan((), tuple(_changes(wish)))


def largest_group(wish: Wish) -> int:
    """Pieces of one group, between the first that is just ready and the last that is not yet too soft."""
    return wish.pieces if _fits(wish, wish.pieces) else min(wish.pieces, _most_of_several(wish))


def _fits(wish: Wish, size: int) -> bool:
    """One group alone is cut from when it is ready; later ones wait for a pace that is not known yet."""
    if size < wish.pieces:
        return size <= _most_of_several(wish)
    return wish.out_together or size <= _count((wish.too_soft_s - wish.ready_s) / wish.pace.slow_s)


def _most_of_several(wish: Wish) -> int:
    spare = wish.too_soft_s / wish.pace.slow_s - wish.ready_s / wish.pace.quick_s
    return _count(spare) if not wish.out_together else wish.pieces if spare >= -EPSILON else 0


def next_group(
    ahead: int,
    pieces: int,
    pace: Pace,
    ready_s: float,
    too_soft_s: float,
    out_together: bool = False,
    starts_in_s: float = 0.0,
) -> tuple[float, bool]:
    """Seconds from now at which the next `pieces` go in, where `ahead` others are cut before them.

    `starts_in_s`: until the machine goes on with those. 0: now. The second tells whether none of them is too
    soft by the time it comes out.
    """
    put_in = max(0.0, starts_in_s + ahead * pace.quick_s - ready_s)
    until_out = ahead if out_together else ahead + pieces - 1
    return put_in, starts_in_s + until_out * pace.slow_s - put_in <= too_soft_s + EPSILON


def _groups(wish: Wish) -> tuple[Group, ...]:
    most = _count(wish.ready_s / wish.pace.slow_s) if wish.out_together else wish.pieces
    sizes = range(1, min(most, wish.pieces) + 1) if wish.each is None else [min(wish.each, wish.pieces)]
    fitting = (size for size in sizes if _fits(wish, size))
    fewest_first = sorted(fitting, key=lambda size: (-(-wish.pieces // size), size))
    return next((groups for size in fewest_first if (groups := _of_size(wish, size))), ())


def _of_size(wish: Wish, size: int) -> tuple[Group, ...]:
    usual = wish.pace.usual_s
    lead = wish.ready_s if size >= wish.pieces else wish.ready_s * usual / wish.pace.quick_s
    start = lead if wish.start_s is None else wish.start_s
    if start - lead < -EPSILON * usual:
        return ()
    free = [-math.inf] * wish.jars
    groups = []
    for first in range(0, wish.pieces, size):
        pieces = min(size, wish.pieces - first)
        put_in = start + first * usual - lead
        last_cut = start + (first + pieces - 1) * usual
        jar = next((j for j, until in enumerate(free) if until <= put_in + EPSILON * usual), None)
        if jar is None:
            return ()
        free[jar] = start + first * usual if wish.out_together else last_cut
        groups.append(Group(put_in, pieces, jar + 1, start + first * usual, last_cut))
    return tuple(groups)


def _changes(wish: Wish) -> list[Change]:
    found = []
    if wish.start_s is not None:
        late = next(
            (wish.ready_s * f - wish.start_s for f in _leads(wish) if _groups(_starting(wish, f))), None
        )
        if late is not None:
            found.append(Change("start_later", late))
    if wish.each is not None and (others := _groups(replace(wish, each=None))):
        size = others[0].pieces
        found.append(Change("smaller_groups" if size < wish.each else "larger_groups", size))
    for jars in range(wish.jars + 1, wish.jars + 9):
        if _groups(replace(wish, jars=jars)):
            found.append(Change("more_jars", jars))
            break
    times = 1.0
    while times < COLDEST_TIMES:
        times += 0.25
        colder = replace(wish, ready_s=wish.ready_s * times, too_soft_s=wish.too_soft_s * times)
        if _groups(colder):
            found.append(Change("colder_water", times))
            break
    return found


def _leads(wish: Wish) -> tuple[float, float]:
    return 1.0, wish.pace.usual_s / wish.pace.quick_s


def _starting(wish: Wish, lead: float) -> Wish:
    return replace(wish, start_s=wish.ready_s * lead)


def _count(last: float) -> int:
    return math.floor(last + EPSILON) + 1 if last >= -EPSILON else 0


def _checked(wish: Wish) -> Wish:
    if not (isinstance(wish, Wish) and isinstance(wish.pace, Pace)):
        raise NotPossible(detail="a wish tells how many pieces, at which pace, and when they are ready")
    pieces = whole(wish.pieces, "the number of pieces", 1, MOST_PIECES)
    jars = whole(wish.jars, "the number of jars", 1, MOST_JARS)
    each = None if wish.each is None else whole(wish.each, "the number of pieces at a time", 1, MOST_PIECES)
    pace = wish.pace
    for seconds in (pace.quick_s, pace.usual_s, pace.slow_s):
        above_zero(seconds, "the time for a piece in seconds", MOST_S, LEAST_S)
    if not pace.quick_s <= pace.usual_s <= pace.slow_s:
        raise NotPossible(detail="the range of a pace lies about the usual one")
    for seconds in (wish.ready_s, wish.too_soft_s):
        above_zero(seconds, "the time in water in seconds", MOST_S, LEAST_S)
    if wish.ready_s > wish.too_soft_s:
        raise NotPossible(detail="cane is ready before it is too soft")
    if wish.start_s is not None:
        number(wish.start_s, "the time until the first piece is cut in seconds", 0, MOST_S)
    return replace(wish, pieces=pieces, jars=jars, each=each)
