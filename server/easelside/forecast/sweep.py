"""Which care has become due since the last look?"""

import json
from datetime import datetime

from easelside.care.model import CareTask
from easelside.forecast.current import Current
from easelside.logbook.book import Logbook

NOTE = "care told"


def sweep(logbook: Logbook, current: Current, now: datetime) -> list[CareTask]:
    """Tasks that are due and were not at the last look; noted, so that a restart tells none again."""
    counting = current.counting(now)
    due = {task.id: task for task in counting.tasks if counting.due(task, now).is_due}
    told: list[str] = json.loads(logbook.noted(NOTE) or "[]")
    if sorted(due) != told:
        logbook.note(NOTE, json.dumps(sorted(due)))
    return [task for id, task in due.items() if id not in told]
