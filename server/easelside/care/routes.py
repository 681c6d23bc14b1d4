"""Care over REST: tasks with when they are due, and what was done or put off; both can be written."""

from collections.abc import Callable
from datetime import datetime

from easelside.care.model import CareTask, read_care_task
from easelside.care.rules import Due
from easelside.care.schemas import CareDoneSchema, CareTaskSchema, DueSchema
from easelside.logbook.model import Record, values
from easelside.units import write_instant
from easelside.web.blueprint import Blueprint
from easelside.web.records import Resource, Shaped, publish


def since_now(now: datetime, said: Shaped) -> Shaped:
    return {"since": write_instant(now)}


def done_now(now: datetime, said: Shaped) -> Shaped:
    return {"at": write_instant(now), "what": "done"}


def blueprint(due_of: Callable[[CareTask], Due]) -> Blueprint:
    """`due_of` answers how far off a task is now."""

    def due(record: Record) -> Shaped:
        found = due_of(read_care_task(record["id"], values(record["fields"])))
        return {
            "due_day": found.due_day and found.due_day.isoformat(),
            "due_pieces_left": found.due_pieces_left,
            "due_sessions_left": found.due_sessions_left,
            "put_off_until": found.put_off_until and found.put_off_until.isoformat(),
            "roughly_day": found.roughly_day and found.roughly_day.isoformat(),
            "is_due": found.is_due,
        }

    care = Blueprint("care", __name__, url_prefix="/api", description="Care tasks, done and put off")
    task = Resource("care_task", "CareTask", CareTaskSchema, derived=DueSchema, derive=due, first=since_now)
    publish(care, task, writable=True)
    publish(care, Resource("care_done", "CareDone", CareDoneSchema, first=done_now), writable=True)
    return care
