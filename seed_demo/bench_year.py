"""What was cut in the months before the last one? Batches in totals, spread over the lives of the edges."""

from easelside.units import write_instant
from seed_demo.story import (
    EDGES,
    LAST_DAY_OF_TOTALS,
    LOTS,
    MONTH,
    OPENING_ON_THE_FIRST_EDGE,
    WINDOW,
    Edge,
    Lot,
)
from seed_demo.telling import Telling

A_BATCH = 30
FAULTS = ("split", "dig_in", "torn", "slipped", "ridge_middle", "not_said")
FAULTS_OF_HARD_CANE = ("split", "hard_work", "split", "torn")
DAYS_BETWEEN = {"shaped": 2, "formed": 5, "finished": 30}


class Labels:
    """The next label of each lot: B1, B2, ..."""

    def __init__(self) -> None:
        self._given: dict[str, int] = {}

    def next(self, lot: str) -> str:
        self._given[lot] = self._given.get(lot, 0) + 1
        return f"{lot}{self._given[lot]}"


def lot_in_use(edge: Edge, days_ago: int, turn: int) -> Lot:
    """Contrabassoon cane on the door machine; else the newest old lot, the hard one every third time."""
    if edge.machine != WINDOW:
        return next(lot for lot in LOTS if lot.label == "K")
    bought = [lot for lot in LOTS if lot.label in "YZA" and lot.bought > days_ago + 2]
    if bought[-1].label == "A":
        return bought[-1] if turn % 3 == 0 else bought[-2]
    return bought[-1]


def sizes(pieces: int) -> list[int]:
    """So many pieces as batches of at most thirty, as alike as they can be."""
    count = -(-pieces // A_BATCH)
    return [pieces // count + (1 if i < pieces % count else 0) for i in range(count)]


def cut_before(edge: Edge) -> int:
    """How many of this edge's pieces were cut before the month that is told piece by piece."""
    if edge.out >= LAST_DAY_OF_TOTALS or edge.machine != WINDOW:
        return edge.pieces
    return edge.pieces - sum(
        day.pieces for day in MONTH if edge.out <= day.days_ago <= edge.fitted and day.blade == edge.blade
    )


def tell_year(
    telling: Telling, machines: dict[str, str], lots: dict[str, str], blades: dict[str, str], labels: Labels
) -> None:
    """Writes the batches and tallies of all edges up to a month ago, and the first edge's opening count."""
    days: list[tuple[int, Edge, int]] = []
    for edge in EDGES:
        pieces = cut_before(edge)
        if edge is EDGES[0]:
            pieces -= OPENING_ON_THE_FIRST_EDGE
            opened = telling.at(edge.fitted, "16:20")
            telling.write(
                opened,
                "tally",
                {
                    "machine": machines[edge.machine],
                    "blade": blades[edge.blade],
                    "at": write_instant(opened),
                    "stage": "profiled",
                    "started": OPENING_ON_THE_FIRST_EDGE,
                    "opening": True,
                    "note": "about 40 on this edge already",
                },
            )
        batches = sizes(pieces) if pieces else []
        first, last = edge.fitted - 2, max(edge.out + 1, LAST_DAY_OF_TOTALS + 1)
        for i, size in enumerate(batches):
            days.append((round(first - (first - last) * i / max(1, len(batches) - 1)), edge, size))
    days.sort(key=lambda entry: -entry[0])
    for turn, (days_ago, edge, size) in enumerate(days):
        lot = lot_in_use(edge, days_ago, turn)
        tell_batch(
            telling, machines[edge.machine], lot, lots[lot.label], labels.next(lot.label), days_ago, size
        )


def tell_batch(
    telling: Telling, machine: str, lot: Lot, lot_id: str, label: str, days_ago: int, size: int
) -> None:
    """One batch in totals, from the gouge to the last reed of it."""
    planned = telling.at(days_ago + 1, "18:10")
    batch = telling.write(
        planned,
        "batch",
        {
            "label": label,
            "lot": lot_id,
            "pieces": size,
            "machine": machine,
            "planned_day": telling.day(days_ago).isoformat(),
        },
    )

    def tally(
        days_ago: int, clock: str, stage: str, started: int, lost_by: dict[str, int], second: int = 0
    ) -> int:
        at = telling.at(days_ago, clock)
        good = started - sum(lost_by.values()) - second
        on_machine = {"machine": machine} if stage == "profiled" else {}
        telling.write(
            at,
            "tally",
            {
                "batch": batch,
                "stage": stage,
                **on_machine,
                "at": write_instant(at),
                "started": started,
                "good": good,
                "second_count": second,
                "lost_by": lost_by,
                "opening": False,
            },
        )
        return good + second

    chance = telling.chance
    tally(days_ago + 1, "18:15", "gouged", size, {})
    seen = FAULTS_OF_HARD_CANE if lot.label == "A" else FAULTS
    lost_by: dict[str, int] = {}
    second = 0
    for _ in range(size):
        if chance.random() * 100 >= lot.good_in_hundred:
            if chance.random() < 0.3:
                second += 1
            else:
                fault = chance.choice(seen)
                lost_by[fault] = lost_by.get(fault, 0) + 1
    stands = tally(days_ago, "16:20", "profiled", size, lost_by, second)
    for stage, later in DAYS_BETWEEN.items():
        stands = tally(
            max(1, days_ago - later), "17:05", stage, stands, {"split": 1} if chance.random() < 0.2 else {}
        )
    telling.write(telling.at(max(1, days_ago - 30), "17:10"), "batch", {"closed": True}, record=batch)
