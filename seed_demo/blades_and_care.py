"""When was each blade fitted, set, sent, ground; and what care was done?"""

from easelside.units import write_instant
from seed_demo.story import DOOR, EDGES, SENT, TASKS
from seed_demo.telling import Telling


def tell_edges(telling: Telling, machines: dict[str, str], blades: dict[str, str]) -> dict[str, str]:
    """Every fitting with its setting, and the boxes sent; gives the last setting of each blade."""
    settings: dict[str, str] = {}
    holds: dict[str, str] = {}
    for edge in EDGES:
        fitted = telling.at(edge.fitted, "16:10")
        telling.write(
            fitted,
            "blade_move",
            {
                "blade": blades[edge.blade],
                "machine": machines[edge.machine],
                "what": "fitted",
                "at": write_instant(fitted),
                "took_out": holds.get(edge.machine),
            },
        )
        holds[edge.machine] = blades[edge.blade]
        set_at = telling.at(edge.fitted, "17:05")
        settings[edge.blade] = telling.write(
            set_at,
            "setting",
            {
                "machine": machines[edge.machine],
                "blade": blades[edge.blade],
                "at": write_instant(set_at),
                "why": edge.why,
                "middle_stop": {"way": "turns", "value": edge.middle_turns},
                "shoulder_stop": {"way": "turns", "value": edge.shoulder_turns},
                "projection_mm": 0.05,
                "template": "1" if edge.machine == DOOR or edge.fitted > 51 else "2",
            },
        )
        if edge.machine == DOOR and edge.blade == "8":
            out = telling.at(edge.out, "10:30")
            telling.write(
                out,
                "blade_move",
                {
                    "blade": blades["8"],
                    "machine": machines[DOOR],
                    "what": "taken_out",
                    "at": write_instant(out),
                    "note": "a nick",
                },
            )
    for what, which, days_ago, note in SENT:
        at = telling.at(days_ago, "09:20")
        for label in which.split():
            telling.write(
                at,
                "blade_move",
                {
                    "blade": blades[label],
                    "machine": None,
                    "what": what,
                    "at": write_instant(at),
                    **({"note": note} if note else {}),
                },
                device=telling.laptop,
            )
    return settings


def tell_care(telling: Telling, machines: dict[str, str]) -> None:
    for task in TASKS:
        since = telling.at(365 if task.machine != DOOR else 131, "09:30")
        where = {"machine": machines[task.machine]} if task.machine else {"tool": task.tool}
        every = {"every_pieces": task.pieces, "every_sessions": task.sessions, "every_days": task.days}
        record = telling.write(
            since,
            "care_task",
            {
                "what": task.what,
                "words": task.words,
                **where,
                **{k: v for k, v in every.items() if v is not None},
                "since": write_instant(since),
                **({"note": task.note} if task.note else {}),
            },
        )
        for days_ago in task.done:
            at = telling.at(days_ago, "17:20")
            telling.write(at, "care_done", {"task": record, "at": write_instant(at), "what": "done"})
        if task.put_off:
            days_ago, until = task.put_off
            at = telling.at(days_ago, "17:25")
            telling.write(
                at,
                "care_done",
                {
                    "task": record,
                    "at": write_instant(at),
                    "what": "put_off",
                    "until_day": telling.day(-until).isoformat(),
                },
            )
