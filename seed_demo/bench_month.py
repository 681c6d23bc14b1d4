"""What was cut in the last month? Ten days at the machine, eight of them piece by piece, two in totals."""

from typing import Any

from easelside.units import write_instant
from seed_demo.bench_year import Labels
from seed_demo.story import LAST_SIX, MONTH, WINDOW, Day
from seed_demo.telling import Telling

SIX = 6
PAUSED_DAY, PAUSED_AT_PIECE, PAUSED_MINUTES = 12, 16, 14
CHECKS = ("projection", "middle_stop", "shoulder_stop", "pivot", "template", "scrap", "lot", "soaked")
WIND = ("wiped", "housed", "oiled", "jars", "dried", "dust")


def tell_month(
    telling: Telling, machines: dict[str, str], lots: dict[str, str], settings: dict[str, str], labels: Labels
) -> dict[str, str]:
    """Writes the last month's batches, sessions, pieces, soaks and tallies; gives the batches by label."""
    batches: dict[str, str] = {}
    machine = machines[WINDOW]
    for day in MONTH:
        label = labels.next(day.lot)
        planned = telling.at(day.days_ago + 1, "18:10")
        batches[label] = batch = telling.write(
            planned,
            "batch",
            {
                "label": label,
                "lot": lots[day.lot],
                "pieces": day.pieces,
                "machine": machine,
                "planned_day": telling.day(day.days_ago).isoformat(),
            },
            device=telling.laptop,
        )
        stage(telling, batch, "gouged", day.days_ago + 1, "18:15", day.pieces, day.pieces)
        if day.totals_only:
            write_up_later(telling, batch, machine, day)
        else:
            at_the_machine(telling, batch, machine, lots[day.lot], settings[day.blade], day)
        stands = day.pieces - len(day.lost)
        for name, passed, later, clock in (
            ("shaped", day.shaped, 3, "11:20"),
            ("formed", day.formed, 5, "17:30"),
            ("finished", day.finished, 20, "18:40"),
        ):
            if passed is not None:
                started = passed if name == "finished" else stands
                stage(telling, batch, name, max(1, day.days_ago - later), clock, started, passed)
                stands = passed
        if day.lot == "Z":
            telling.write(telling.at(3, "18:50"), "batch", {"closed": True}, record=batch)
    return batches


def stage(
    telling: Telling, batch: str, name: str, days_ago: int, clock: str, started: int, good: int
) -> None:
    at = telling.at(days_ago, clock)
    telling.write(
        at,
        "tally",
        {
            "batch": batch,
            "stage": name,
            "at": write_instant(at),
            "started": started,
            "good": good,
            "second_count": 0,
            "lost_by": {"split": started - good} if started > good else {},
            "opening": False,
        },
    )


def write_up_later(telling: Telling, batch: str, machine: str, day: Day) -> None:
    """The evening after: only how many. The day is known, the hour is not: noon stands for it."""
    telling.write(
        telling.at(day.days_ago - 1, "17:45"),
        "tally",
        {
            "batch": batch,
            "stage": "profiled",
            "machine": machine,
            "at": write_instant(telling.at(day.days_ago, "12:00")),
            "day": telling.day(day.days_ago).isoformat(),
            "started": day.pieces,
            "good": day.pieces - len(day.lost),
            "second_count": 0,
            "lost_by": {fault: 1 for _, fault in day.lost},
            "opening": False,
        },
    )


def minutes_of(telling: Telling, day: Day) -> list[float]:
    """How long each piece took, in minutes: the edge's own rise, and the hand's unevenness."""
    taken: list[float] = []
    for i in range(day.pieces):
        rise = day.minutes + day.grows * max(0, i - day.grows_from)
        uneven = (sum(telling.chance.random() for _ in range(3)) - 1.5) * 0.42
        taken.append(max(2.2, rise + uneven))
    if day.bench_minutes is not None:
        fixed = LAST_SIX if day.lot == "C" else {}
        free = [i for i in range(day.pieces) if i + 1 not in fixed]
        scale = (day.bench_minutes - sum(fixed.values())) / sum(taken[i] for i in free)
        taken = [fixed.get(i + 1, taken[i] * scale) for i in range(day.pieces)]
    return taken


def at_the_machine(telling: Telling, batch: str, machine: str, lot: str, setting: str, day: Day) -> None:
    """One session: the set-up's ticks, the jars, each piece as it came off, the wind-down."""
    taken = minutes_of(telling, day)
    starts, clock = [], 0.0
    for number, minutes in enumerate(taken, start=1):
        if day.days_ago == PAUSED_DAY and number == PAUSED_AT_PIECE:
            clock += PAUSED_MINUTES
        starts.append(clock)
        clock += minutes
    hard = day.lot == "A"
    soak_days(telling, batch, lot, day, starts, 45 if hard else 30)
    set_up_at = telling.at(day.days_ago, day.began, -22)
    session = telling.write(
        set_up_at,
        "session",
        {
            "machine": machine,
            "began": write_instant(set_up_at),
            "batches": [batch],
            "setting": setting,
            "turns": False,
            "check/edge": "good" if day.edge_looked_at else "not_looked",
        },
    )
    for i, check in enumerate(CHECKS):
        telling.write(
            telling.at(day.days_ago, day.began, -20 + 2 * i),
            "session",
            {f"check/{check}": "good"},
            record=session,
        )
    lost, second = dict(day.lost), dict(day.second)
    for number, (start, minutes) in enumerate(zip(starts, taken, strict=True), start=1):
        outcome = "lost" if number in lost else "second" if number in second else "good"
        seen = [found for found in (lost.get(number), second.get(number)) if found]
        telling.piece(
            session,
            number,
            telling.at(day.days_ago, day.began, start + minutes),
            outcome,
            {
                "batch": batch,
                "machine": machine,
                "began": write_instant(telling.at(day.days_ago, day.began, start)),
                "seen": seen,
                "full": not (day.days_ago == PAUSED_DAY and number == PAUSED_AT_PIECE),
            },
        )
    ended = telling.at(day.days_ago, day.began, clock + 9)
    oiled = day.days_ago in (26, 12)
    ticks: dict[str, Any] = {f"wind/{what}": what != "oiled" or oiled for what in WIND}
    end = {"ended": write_instant(ended), "left_in_water": 0, **ticks}
    telling.write(ended, "session", end, record=session)


def soak_days(
    telling: Telling, batch: str, lot: str, day: Day, starts: list[float], soak_minutes: int
) -> None:
    """Six at a time into two jars by turns, so that each six comes out as the machine is free for it."""
    run: str | None = None
    for six, first in enumerate(range(0, day.pieces, SIX)):
        lain = soak_minutes + (0 if first == 0 else telling.chance.randint(0, 3))
        into = telling.at(day.days_ago, day.began, starts[first] - lain)
        out = telling.at(day.days_ago, day.began, starts[first])
        soak = telling.write(
            into,
            "soak",
            {
                "purpose": "profile",
                "pieces": min(SIX, day.pieces - first),
                "batch": batch,
                "lot": lot,
                "jar": str(six % 2 + 1),
                "water": "warm",
                "water_c": 38,
                "soak_s": soak_minutes * 60,
                "put_in": write_instant(into),
                "put_in_skew_ms": 0,
                **(
                    {"run": run}
                    if run
                    else {"of_pieces": day.pieces, "every_s": SIX * round(day.minutes) * 60}
                ),
            },
        )
        run = run or soak
        mark = "still_hard" if day.lot == "A" and six < 2 else "good"
        telling.write(out, "soak", {"taken_out": write_instant(out), "mark": mark}, record=soak)
