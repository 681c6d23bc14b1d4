"""What may call the maker back, of all that the records say? Joins soaks, care and batches for the alarms."""

from collections.abc import Iterator
from datetime import datetime

from easelside.alarms.model import Caring, Facts, Planned, Soaking, read_quiet
from easelside.batches.model import read_batch
from easelside.care.rules import counting_since
from easelside.forecast.current import WORKSHOP, Current
from easelside.logbook.model import values
from easelside.shelf.at_hand import Shelf
from easelside.soak.model import read_soak
from easelside.soak.practice import as_usual
from easelside.soak.row import next_group
from easelside.soak.rules import is_in_water, put_in_at, ready_at
from easelside.units import Fields, count, instant, text, write_instant


def facts(shelf: Shelf, current: Current, now: datetime) -> Facts:
    said = {kind: dict(_said(shelf, kind)) for kind in ("soak", "batch", "machine", "care_task")}
    own = workshop(shelf)
    return Facts(
        soaks=(*_soaks(said["soak"], said["batch"], own), *_goes_in(said["soak"], said["batch"], now)),
        care=tuple(_care(said["care_task"], said["machine"], current, now)),
        planned=tuple(_planned(said["batch"])),
        zone=current.zone(),
        quiet=read_quiet(own),
        workshop=text(own, "name"),
    )


def workshop(shelf: Shelf) -> Fields:
    """What its own record says: its name, the maker's habits, when it is to be quiet."""
    found = shelf.record("workshop", WORKSHOP)
    return values(found["fields"]) if found else {}


def _said(shelf: Shelf, kind: str) -> Iterator[tuple[str, Fields]]:
    for record in shelf.records(kind):
        yield record["id"], values(record["fields"])


def _soaks(soaks: dict[str, Fields], batches: dict[str, Fields], own: Fields) -> Iterator[Soaking]:
    for id, fields in soaks.items():
        soak = as_usual(read_soak(id, fields), lambda: own)
        at = ready_at(soak)
        if at is not None:
            yield Soaking(
                soak=id,
                at=at,
                put_in=put_in_at(soak),
                in_water=is_in_water(soak) and instant(fields, "drying_since") is None,
                silenced=instant(fields, "silenced_at") is not None,
                again_at=instant(fields, "rings_again_at"),
                jar=soak.jar,
                pieces=count(fields, "pieces"),
                batch=text(batches.get(soak.batch or "", {}), "label"),
            )


def _goes_in(soaks: dict[str, Fields], batches: dict[str, Fields], now: datetime) -> Iterator[Soaking]:
    """The next group has no record of its own yet: who answers for it does so on the soak before it."""
    group = next_group(soaks, now)
    if group is not None:
        last = soaks[group.last]
        yield Soaking(
            soak=f"{group.last}-next",
            at=group.at,
            put_in=put_in_at(read_soak(group.last, last)),
            silenced=instant(last, "next_silenced_at") is not None,
            again_at=instant(last, "next_rings_again_at"),
            pieces=group.pieces,
            batch=text(batches.get(text(last, "batch") or "", {}), "label"),
            goes_in=True,
        )


def _care(
    tasks: dict[str, Fields], machines: dict[str, Fields], current: Current, now: datetime
) -> Iterator[Caring]:
    counting = current.counting(now)
    for task in counting.tasks:
        due = counting.due(task, now)
        if due.roughly_day is None:
            continue
        since = counting_since(task, counting.dones)
        last = f"{write_instant(since) if since else 'ever'}/{due.put_off_until or ''}"
        machine = machines.get(task.machine or "", {})
        yield Caring(
            task=task.id,
            last=last,
            day=due.roughly_day,
            is_due=due.is_due,
            what=task.what,
            words=text(tasks.get(task.id, {}), "words"),
            machine=text(machine, "name") if len(machines) > 1 else None,
            tool=task.tool,
        )


def _planned(batches: dict[str, Fields]) -> Iterator[Planned]:
    for id, fields in batches.items():
        batch = read_batch(id, fields)
        if batch.planned_day is not None and not batch.closed:
            yield Planned(id, batch.planned_day, batch.label)
