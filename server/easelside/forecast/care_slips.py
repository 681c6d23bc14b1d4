"""On which day is each care due, with its range?"""

from collections.abc import Iterator
from datetime import datetime

import numpy as np

from easelside.batches.rules import cut_pieces, started_of
from easelside.care.fit import OTHERWISE_DAYS, present_pace
from easelside.care.model import CareTask
from easelside.care.outlook import Count, outlook
from easelside.care.pace import Pace
from easelside.care.rules import counting_since, put_off_until
from easelside.forecast.counting import STAGE_OF_TOOL
from easelside.forecast.edge_slips import LEVELS, outward, pace_body, pieces_by_day
from easelside.forecast.past import Past
from easelside.forecast.slip import Slip
from easelside.logbook.model import Value
from easelside.units import day_of, days_after


def slips(past: Past) -> Iterator[Slip]:
    paces: dict[str | None, Pace | None] = {}
    for task in past.counting.tasks:
        if task.machine is not None and task.machine not in past.machines:
            continue
        if task.machine is not None and task.machine not in paces:
            paces[task.machine] = present_pace(*pieces_by_day(past, task.machine))
        pieces_pace = paces[task.machine] if task.machine else _pace_of_tool(past, task)
        body, observations = _due(past, task, pieces_pace)
        yield Slip("care", task.id, observations, body)


def _due(past: Past, task: CareTask, pieces_pace: Pace | None) -> tuple[dict[str, Value], int]:
    since, today = counting_since(task, past.counting.dones), day_of(past.now, past.zone)
    sessions = _sessions(past, task)
    sessions_pace = _session_pace(past, sessions) if task.every_sessions else None
    done = _done_since(past, task, since)
    pieces = Count(task.every_pieces - done, pieces_pace) if task.every_pieces else None
    told = sum(1 for at in sessions if since is None or at > since)
    by_sessions = Count(task.every_sessions - told, sessions_pace) if task.every_sessions else None
    due_day = days_after(day_of(since, past.zone), task.every_days) if since and task.every_days else None
    found = outlook(pieces, by_sessions, (due_day - today).days if due_day else None, LEVELS)
    body: dict[str, Value] = {
        "pieces_left": pieces.left if pieces else None,
        "sessions_left": by_sessions.left if by_sessions else None,
        "pace": pace_body(pieces_pace) if pieces and pieces_pace else None,
        "sessions_pace": pace_body(sessions_pace) if by_sessions and sessions_pace else None,
    }
    if found is not None:
        until = put_off_until(task, past.counting.dones)
        days = [days_after(today, n) for n in outward(found.days)]
        lower, median, upper = (day if until is None else max(day, until) for day in days)
        body |= {
            "by": found.by,
            "due": {"lower": lower.isoformat(), "median": median.isoformat(), "upper": upper.isoformat()},
        }
    return body, round(pieces_pace.events if pieces_pace else 0) or len(sessions)


def _done_since(past: Past, task: CareTask, since: datetime | None) -> int:
    """Pieces that went over the machine or tool since."""
    if task.machine is None:
        return sum(n for at, n in _tool_work(past, task) if since is None or at > since)
    here = past.pieces.machine == past.machines.index(task.machine)
    if since is not None:
        here &= past.pieces.at_s > since.timestamp()
    tallied = sum(
        cut_pieces(t)
        for t in past.counting.tallies
        if t.machine == task.machine and t.at is not None and (since is None or t.at > since)
    )
    return int(np.count_nonzero(here)) + tallied


def _tool_work(past: Past, task: CareTask) -> list[tuple[datetime, int]]:
    stage = STAGE_OF_TOOL.get(task.tool or "")
    return [
        (t.at, started_of(t))
        for t in past.counting.tallies
        if stage and t.stage == stage and not t.opening and t.at is not None
    ]


def _pace_of_tool(past: Past, task: CareTask) -> Pace | None:
    today, by_day = day_of(past.now, past.zone), dict[int, int]()
    for at, n in _tool_work(past, task):
        ago = (today - day_of(at, past.zone)).days
        if 0 <= ago < OTHERWISE_DAYS:
            by_day[ago] = by_day.get(ago, 0) + n
    days = sorted(by_day)
    return present_pace(days, [by_day[ago] for ago in days])


def _sessions(past: Past, task: CareTask) -> list[datetime]:
    began = (s.began for s in past.counting.sessions_once if s.machine and s.machine == task.machine)
    return [at for at in began if at is not None]


def _session_pace(past: Past, sessions: list[datetime]) -> Pace | None:
    today = day_of(past.now, past.zone)
    ago = [(today - day_of(at, past.zone)).days for at in sessions]
    by_day = {days: ago.count(days) for days in ago if 0 <= days < OTHERWISE_DAYS}
    days = sorted(by_day)
    return present_pace(days, [by_day[d] for d in days])
