"""Which care has become due since the last look? Kept as a slip for each task, so that each is told once."""

from dataclasses import asdict
from datetime import date, datetime

from easelside.care.model import CareTask
from easelside.forecast.current import Current
from easelside.logbook.book import Logbook

KIND = "care"


def sweep(logbook: Logbook, current: Current, now: datetime) -> list[CareTask]:
    """Renews the slips of tasks whose outlook changed; answers those that have become due.

    A slip stays through a restart: what was told as due is not told again until it was done.
    """
    counting = current.counting(now)
    seq = logbook.end()["seq"]
    told = {slip["subject"]: slip["body"] for slip in logbook.slips() if slip["kind"] == KIND}
    become: list[CareTask] = []
    for task in counting.tasks:
        due = counting.due(task, now)
        body = {name: v.isoformat() if isinstance(v, date) else v for name, v in asdict(due).items()}
        before = told.get(task.id)
        if body != before:
            logbook.keep_slip(KIND, task.id, seq, len(counting.pieces), body)
        if due.is_due and not (before or {}).get("is_due"):
            become.append(task)
    return become
