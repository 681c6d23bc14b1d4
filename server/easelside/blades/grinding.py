"""Which blades go to be ground, when, how many are wanted, and what does it cost one by one or by the box?"""

import math
from dataclasses import dataclass
from typing import Literal

from easelside.arguments import above_zero, chance, number
from easelside.errors import NotPossible

MOST_BLADES = 1000

When = Literal["nothing", "wait", "one", "box"]


@dataclass(frozen=True)
class Away:
    """Blades that will be away or blunt at one time, as a Poisson number round `mean`."""

    mean: float

    def at_most(self, blades: int) -> float:
        """The chance that no more than so many are away."""
        if blades < 0:
            return 0.0
        term = total = math.exp(-self.mean)
        for k in range(1, blades + 1):
            term *= self.mean / k
            total += term
        return min(1.0, total)

    def more_than(self, blades: int) -> float:
        return max(0.0, 1 - self.at_most(blades))

    def shortage(self, spare: int) -> float:
        """How many blades are wanting on average, with so many spare."""
        at_most, exactly = 0.0, math.exp(-self.mean)
        wanting = self.mean
        for k in range(spare):
            at_most += exactly
            wanting -= 1 - at_most
            exactly *= self.mean / (k + 1)
        return max(0.0, wanting)


def used_up(pieces_per_edge: float, pieces_per_day: float, days: float) -> Away:
    """Edges that are used up in so many days: Poisson, whatever the days are (C. Palm, 1938)."""
    pieces_per_edge = above_zero(pieces_per_edge, "the number of pieces an edge cuts")
    pieces_per_day = number(pieces_per_day, "the number of pieces a day", 0)
    days = number(days, "the number of days away", 0)
    mean = pieces_per_day * days / pieces_per_edge
    if mean > MOST_BLADES / 2:
        raise NotPossible(detail=f"{mean:.0f} blades away at one time; at most {MOST_BLADES // 2} can be")
    return Away(mean)


def blades_needed(pieces_per_edge: float, pieces_per_day: float, turnaround_days: float, risk: float) -> int:
    """How many blades, the one in use included, keep the chance of standing without one at `risk` or less."""
    risk = chance(risk, "the risk")
    away = used_up(pieces_per_edge, pieces_per_day, turnaround_days)
    spare = 0
    while away.more_than(spare) > risk and spare < MOST_BLADES:
        spare += 1
    return spare + 1


def chance_without(
    blades: int, pieces_per_edge: float, pieces_per_day: float, turnaround_days: float
) -> float:
    """The chance of standing without a blade, with so many here that cut, the one in use among them."""
    return used_up(pieces_per_edge, pieces_per_day, turnaround_days).more_than(blades - 1)


def share_without(blades: int, mean_away: float) -> float:
    """The part of the time in which all blades are away and work rests: Erlang's loss formula."""
    if blades < 0 or not math.isfinite(mean_away) or mean_away < 0:
        raise NotPossible(detail=f"{blades} blades, {mean_away} away on average; both are 0 or above")
    share = 1.0
    for k in range(1, blades + 1):
        share = mean_away * share / (k + mean_away * share)
    return share


@dataclass(frozen=True)
class Blades:
    """Where the blades are: `blunt` wait here, `keen` are here and cut (the one in use included), `away`."""

    blunt: int
    keen: int
    away: int


@dataclass(frozen=True)
class Grinding:
    """What grinding takes: days away, and what one blade alone or a box of `box_of` costs; None: not said."""

    turnaround_days: float
    one: float | None
    box: float | None
    box_of: int


@dataclass(frozen=True)
class Advice:
    """What to send, and what it costs both ways.

    `when`: nothing is blunt, wait until the box is full, send one by one, or send the box. `send`: so many
    now; `wait_for`: so many more make a box. Costs are of `counted` blades: of those sent, or of the full box
    waited for. `risk_now`, `risk_waiting`: the chance of standing without a blade until they are back,
    if they go now, or all together once the box is full. Blades away already count for nothing until then.
    """

    when: When
    send: int
    wait_for: int
    counted: int
    cost_one_by_one: float | None
    cost_box: float | None
    risk_now: float
    risk_waiting: float


def advice(
    blades: Blades, grinding: Grinding, pieces_per_edge: float, pieces_per_day: float, risk: float = 0.05
) -> Advice:
    """What to send now. The box is waited for while that is cheaper and leaves a blade here nearly always.

    The phone says it (`advice` in webclient/src/blades/foreseen_grinding_rules.ts), held to this by
    tests/shared_cases/edge_life.json.
    """
    if min(blades.blunt, blades.keen, blades.away) < 0 or grinding.box_of < 1 or not 0 < risk < 1:
        raise NotPossible(detail="a count of blades below 0, an empty box, or a risk outside of 0 to 1")
    away = used_up(pieces_per_edge, pieces_per_day, grinding.turnaround_days)
    missing = max(0, grinding.box_of - blades.blunt)
    risk_now, risk_waiting = away.more_than(blades.keen - 1), away.more_than(blades.keen - missing - 1)
    when = _when(blades, grinding, missing, risk_waiting <= risk)
    counted = grinding.box_of if when in ("wait", "nothing") else blades.blunt
    boxes = -(-counted // grinding.box_of)
    return Advice(
        when=when,
        send=blades.blunt if when in ("one", "box") else 0,
        wait_for=missing if when == "wait" else 0,
        counted=counted,
        cost_one_by_one=None if grinding.one is None else grinding.one * counted,
        cost_box=None if grinding.box is None else grinding.box * boxes,
        risk_now=risk_now,
        risk_waiting=risk_waiting,
    )


def _when(blades: Blades, grinding: Grinding, missing: int, can_wait: bool) -> When:
    if blades.blunt == 0:
        return "nothing"
    told = grinding.one is not None and grinding.box is not None
    one, box = grinding.one or 0, grinding.box or 0
    if missing == 0:
        return "one" if told and box >= one * grinding.box_of else "box"
    if told and box < one * blades.blunt:
        return "box"
    is_worth_it = not told or box < one * grinding.box_of
    can_fill = blades.blunt + blades.keen + blades.away >= grinding.box_of
    return "wait" if is_worth_it and can_fill and can_wait else "one"


PRACTICE_TURNAROUND_DAYS = 14.0  # common practice, no source; the maker's own sendings replace it


@dataclass(frozen=True)
class Turnaround:
    """Days from sending to coming back: the middle of what was seen, and how many sendings that were."""

    days: float
    seen: int


def turnaround(days_away: list[float]) -> Turnaround:
    """The mean of the maker's own sendings, with common practice counted as one of them."""
    told = [days for days in days_away if math.isfinite(days) and days >= 0]
    return Turnaround((sum(told) + PRACTICE_TURNAROUND_DAYS) / (len(told) + 1), len(told))
