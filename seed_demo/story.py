"""What happened in this workshop? The facts alone; days are counted back from the day that it is loaded.

Every name and number is invented. The last eleven edges cut 198, 219, 231, 244, 258, 268, 272, 310 pieces
before they went off, 96 and 140 before they were taken out, and 235 on the edge that is going off now.
"""

from dataclasses import dataclass

WINDOW, DOOR = "Window machine", "Door machine"
LAST_DAY_OF_TOTALS = 30


@dataclass(frozen=True)
class Lot:
    label: str
    bought: int  # days ago
    comes: str
    gouge_mm: float
    diameter_mm: float
    pieces: int
    good_in_hundred: int
    note: str | None = None


LOTS = (
    Lot("Y", 380, "tube", 1.26, 25.0, 900, 95),
    Lot("Z", 262, "tube", 1.25, 25.0, 1200, 95),
    Lot("A", 128, "tube", 1.27, 24.5, 400, 86, "hard cane: soak longer, keep it apart"),
    Lot("K", 140, "gouged", 1.48, 32.0, 240, 90, "contrabassoon"),
    Lot("B", 40, "tube", 1.25, 25.0, 300, 95),
    Lot("C", 12, "tube", 1.24, 25.5, 150, 90),
    Lot("D", 4, "tube", 1.28, 25.5, 200, 90, "gouged a little thicker than the last"),
)


@dataclass(frozen=True)
class Edge:
    """A blade from the day it was fitted to the day it was taken out, and what it cut meanwhile."""

    machine: str
    blade: str
    fitted: int
    out: int
    pieces: int
    why: str
    middle_turns: float
    shoulder_turns: float


# Blade 5 had cut about 40 when the records began. The edge of blade 7 cut its last 60 in the month told
# piece by piece; all of the edge of blade 3 belongs to that month.
EDGES = (
    Edge(WINDOW, "5", 364, 328, 198, "as it stood when the records began", 2.25, 1.25),
    Edge(WINDOW, "4", 328, 282, 272, "stops set with scrap", 2.5, 1.25),
    Edge(WINDOW, "7", 282, 236, 310, "stops set with scrap", 2.375, 1.25),
    Edge(WINDOW, "1", 236, 198, 258, "stops set with scrap", 2.25, 1.125),
    Edge(WINDOW, "2", 198, 160, 231, "stops set with scrap", 2.375, 1.25),
    Edge(WINDOW, "6", 160, 118, 244, "shoulder stop an eighth more", 2.375, 1.375),
    Edge(DOOR, "1", 130, 80, 140, "set for contrabassoon cane", 3.0, 1.5),
    Edge(WINDOW, "5", 118, 51, 268, "stops set with scrap", 2.5, 1.25),
    Edge(DOOR, "8", 80, 9, 96, "stops set with scrap", 3.125, 1.5),
    Edge(WINDOW, "7", 51, 23, 219, "new template", 2.375, 1.25),
    Edge(WINDOW, "3", 23, 1, 235, "middle stop 1/8 less", 2.25, 1.25),
    Edge(WINDOW, "4", 1, 0, 0, "stops set with scrap", 2.375, 1.25),
)
OPENING_ON_THE_FIRST_EDGE = 40

# what, blades, days ago, note
SENT = (
    ("sent", "5 4 7 1", 196, "four together"),
    ("ground", "5 4 7 1", 184, None),
    ("back", "5 4 7 1", 182, "in their sleeves"),
    ("sent", "1", 78, "taken out early, with a nick"),
    ("back", "1", 64, "ground, in its sleeve"),
    ("sent", "8", 7, "a nick; back in two weeks"),
)


@dataclass(frozen=True)
class Day:
    """One batch at the machine in the last month. `lost`, `second`: the piece's number, and what was seen."""

    lot: str
    days_ago: int
    began: str
    pieces: int
    blade: str
    minutes: float
    grows: float = 0
    grows_from: int = 0
    lost: tuple[tuple[int, str], ...] = ()
    second: tuple[tuple[int, str], ...] = ()
    totals_only: bool = False
    bench_minutes: float | None = None
    edge_looked_at: bool = False
    shaped: int | None = None
    formed: int | None = None
    finished: int | None = None


MONTH = (
    Day(
        "Z",
        29,
        "14:05",
        30,
        "7",
        3.05,
        lost=((11, "dig_in"),),
        second=((24, "shoulder_slanted"),),
        shaped=29,
        formed=28,
        finished=28,
    ),
    Day(
        "A",
        26,
        "13:40",
        30,
        "7",
        4.0,
        grows=0.02,
        lost=((6, "split"), (19, "split"), (27, "hard_work")),
        second=((13, "hard_work"),),
        shaped=27,
        formed=26,
        finished=11,
    ),
    Day(
        "B",
        22,
        "13:45",
        30,
        "3",
        3.02,
        lost=((17, "dig_in"),),
        edge_looked_at=True,
        shaped=29,
        formed=28,
        finished=9,
    ),
    Day(
        "B",
        19,
        "14:10",
        30,
        "3",
        3.02,
        lost=((8, "split"),),
        edge_looked_at=True,
        shaped=29,
        formed=29,
        finished=4,
    ),
    Day("B", 15, "13:30", 30, "3", 3.02, lost=((1, "slipped"),), totals_only=True, shaped=29, formed=29),
    Day("B", 12, "13:55", 30, "3", 3.02, lost=((22, "ridge_middle"),), shaped=29, formed=29),
    Day("B", 9, "14:00", 30, "3", 3.02, lost=((3, "slipped"), (26, "split")), shaped=28, formed=28),
    Day("B", 7, "13:30", 25, "3", 3.02, lost=((1, "not_said"),), totals_only=True, shaped=24, formed=24),
    Day(
        "B",
        5,
        "13:50",
        30,
        "3",
        3.02,
        grows=0.033,
        grows_from=5,
        lost=((12, "twisted"), (20, "split")),
        bench_minutes=97,
        shaped=28,
    ),
    Day(
        "C",
        2,
        "13:54",
        30,
        "3",
        3.581,
        grows=0.033,
        lost=((9, "torn"), (15, "torn"), (22, "torn"), (29, "torn")),
        bench_minutes=123,
    ),
)
# The last six pieces of that day took these minutes.
LAST_SIX = {25: 4.3, 26: 4.2, 27: 4.6, 28: 4.4, 29: 4.7, 30: 4.5}
TODAY = ("D", 24)
FIRST_SIX_IN_WATER_MINUTES = 14


@dataclass(frozen=True)
class Task:
    what: str
    words: str
    machine: str | None = None
    tool: str | None = None
    pieces: int | None = None
    sessions: int | None = None
    days: int | None = None
    done: tuple[int, ...] = ()
    put_off: tuple[int, int] | None = None  # said so many days ago, until so many days from now
    note: str | None = None


TASKS = (
    Task(
        "oil",
        "Oil the pivot",
        WINDOW,
        pieces=100,
        days=6,
        done=(25, 19, 12, 6),
        note="one drop, wiped dry; never on cane or bed",
    ),
    Task("clean", "Clean the arm", WINDOW, pieces=350, days=35, done=(58, 23)),
    Task("oil", "Oil the pivot", DOOR, pieces=100, days=30, done=(39, 9)),
    Task("look", "Blade of the gouger", tool="gouger", days=90, done=(131, 40)),
    Task("clean", "Shaper, screws and jaws", tool="shaper", sessions=20, days=45, done=(55, 10)),
    Task("grind", "Knife on the fine stone", tool="knife", days=30, done=(50, 20)),
    Task("look", "Reamer, edge and rust", tool="reamer", days=60, done=(63,), put_off=(3, 4)),
)
