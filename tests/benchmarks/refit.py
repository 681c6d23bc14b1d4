"""How long does it take to fit all slips anew, and how much memory? Ten years of a busy shop, or the demo.

    python -m tests.benchmarks.refit            100,000 pieces, no subsampling (aim: under 2 s and 300 MB)
    python -m tests.benchmarks.refit --demo     every slip of the demo workshop, printed

The ten years are an invented workshop: two machines, 400 edges, 60 lots, a session of 24 pieces at a time;
in every twelfth of a machine a screw is turned, three pieces measured before and three after; three things
to care for on each.
"""

import argparse
import json
import random
import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from importlib import import_module
from pathlib import Path
from typing import Any

from easelside.clock import FakeClock
from easelside.forecast.past import Past
from easelside.forecast.refit import MAKERS, slips_of
from easelside.logbook.book import Logbook
from easelside.logbook.ids import piece_id
from easelside.units import write_instant
from seed_demo.load import load

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
PIECES, A_SESSION, AN_EDGE = 100_000, 24, 250
DEVICE = "bench"
EVERY_SCREW = 24  # sessions of both machines
POINTS = ("middle", "shoulder")
SCREW = {"thread": "M4", "lowers": "clockwise", "wanted_mm": 0.6, "give_mm": 0.05}
TASKS: tuple[dict[str, Any], ...] = (
    {"what": "oil", "every_pieces": 120},
    {"what": "clean", "every_sessions": 2},
    {"what": "look", "every_sessions": 4, "every_days": 60},
)


def id_of(kind: int, number: int) -> str:
    return f"019aba0f-f7c0-7000-8{kind:03x}-{number:012x}"


def ten_years() -> Iterator[tuple[str, str, dict[str, Any]]]:
    """(kind, id, fields) of everything, oldest first."""
    chance = random.Random(20261125)
    machines = [id_of(1, 1), id_of(1, 2)]
    screws = {f"{point}_{what}": value for point in POINTS for what, value in SCREW.items()}
    for i, machine in enumerate(machines):
        yield "machine", machine, {"name": f"Machine {i + 1}", "bow_after_pieces": 200, **screws}
        for k, task in enumerate(TASKS):
            first = {"since": write_instant(NOW - timedelta(days=3652)), "machine": machine}
            yield "care_task", id_of(10, 10 * i + k), task | first
    for i in range(60):
        yield "lot", id_of(2, i), {"label": f"L{i}", "gouge_mm": 1.25}
    for i in range(8):
        yield "blade", id_of(3, i), {"label": str(i)}
    start, cut = NOW - timedelta(days=3652), [0, 0]
    holds = [0, 1]
    stops = dict.fromkeys([(m, point) for m in machines for point in POINTS], 2.0)
    for s in range(PIECES // A_SESSION + 1):
        at = start + timedelta(days=3650 * s * A_SESSION / PIECES, hours=8)
        m, lot = s % 2, s * 60 // (PIECES // A_SESSION + 1)
        session, batch = id_of(5, s), id_of(6, s)
        if s < 2 or cut[m] >= AN_EDGE:
            old = holds[m]
            holds[m], cut[m] = (old + 2) % 8, 0
            for what, blade in (("fitted", holds[m]), ("sent", old), ("back", old)):
                move = {"blade": id_of(3, blade), "machine": machines[m], "what": what}
                yield (
                    "blade_move",
                    id_of(4, s * 3 + len(what)),
                    move | {"at": write_instant(at - timedelta(hours=2))},
                )
        yield "batch", batch, {"label": f"B{s}", "lot": id_of(2, lot), "pieces": A_SESSION}
        minutes = chance.choice((30, 240, 600))
        soak = {
            "purpose": "profile",
            "pieces": A_SESSION,
            "batch": batch,
            "lot": id_of(2, lot),
            "water": "warm",
            "water_c": 38,
            "soak_s": minutes * 60,
            "put_in": write_instant(at - timedelta(minutes=minutes)),
            "taken_out": write_instant(at),
            "mark": chance.choice(("good", "good", "good", "still_hard", "too_soft")),
        }
        yield "soak", id_of(7, s), soak
        ended = write_instant(at + timedelta(hours=2))
        yield (
            "session",
            session,
            {"machine": machines[m], "began": write_instant(at), "ended": ended, "batches": [batch]},
        )
        yield from cared(machines[m], m, s // 2, ended)
        if s % EVERY_SCREW == m:
            yield from measured(machines[m], id_of(3, holds[m]), s, at, stops, chance)
        for n in range(1, A_SESSION + 1):
            began = at
            at += timedelta(minutes=chance.lognormvariate(1.2 + 0.001 * cut[m], 0.25))
            cut[m] += 1
            outcome = chance.choices(("good", "second", "lost"), (90, 5, 5))[0]
            fields = {
                "session": session,
                "number": n,
                "batch": batch,
                "machine": machines[m],
                "full": True,
                "began": write_instant(began),
                "at": write_instant(at),
                f"outcome/{n}": outcome,
            }
            yield "piece", piece_id(session, n), fields  # fmt: skip


def cared(machine: str, place: int, session: int, at: str) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Each care, once it is due: oil and a change by pieces, the rest by the machine's sessions."""
    for k, task in enumerate(TASKS):
        every = task.get("every_sessions") or task["every_pieces"] // A_SESSION
        if session % every == every - 1:
            done = {"task": id_of(10, 10 * place + k), "machine": machine, "what": "done", "at": at}
            yield "care_done", id_of(11, (session * 2 + place) * 10 + k), done


def measured(
    machine: str,
    blade: str,
    session: int,
    at: datetime,
    stops: dict[tuple[str, str], float],
    chance: random.Random,
) -> Iterator[tuple[str, str, dict[str, Any]]]:
    """Three pieces, a screw turned by an eighth or so, three more; each point in its turn."""
    point = POINTS[session // EVERY_SCREW % 2]
    for i in range(6):
        if i == 3:
            stops[machine, point] += chance.choice((-0.25, -0.125, 0.125, 0.25))
            of = {f"{each}_stop": {"way": "turns", "value": stops[machine, each]} for each in POINTS}
            when = write_instant(at + timedelta(minutes=17))
            yield "setting", id_of(12, session), {"machine": machine, "blade": blade, "at": when, **of}
        value = 0.6 - 0.7 * (stops[machine, point] - 2) + chance.gauss(0, 0.012)
        found = {"machine": machine, "point": point, "value_mm": round(value, 3), "wet": True}
        when = write_instant(at + timedelta(minutes=5 * i + 3))
        yield "reading", id_of(13, session * 6 + i), found | {"at": when}


def fill(book: Logbook) -> None:
    batch: list[Any] = []
    for i, (kind, record, fields) in enumerate(ten_years()):
        made = write_instant(NOW)
        change = {"id": id_of(9, i), "v": 1, "kind": kind, "record": record, "device": DEVICE, "made": made}
        batch.append(change | {"set": fields, "saw": dict.fromkeys(fields), "back": False})
        if len(batch) == 500:
            book.receive(DEVICE, made, batch)
            batch = []
    book.receive(DEVICE, write_instant(NOW), batch)


def memory_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform == "linux" else 1024**2)


def measure(book: Logbook, show: bool) -> None:
    began = time.perf_counter()
    with book.view() as view:
        past = Past.read(view, NOW)
    edges, whole = len(past.edges), time.perf_counter() - began
    print(f"{len(past.pieces):>9,} pieces on {edges:,} edges, read in {whole:6.3f} s")
    for name in MAKERS:
        make = import_module(f"easelside.forecast.{name}_slips").slips
        began, busy = time.perf_counter(), time.process_time()
        made = list(make(past))
        took, busy = time.perf_counter() - began, time.process_time() - busy
        whole += took
        size = sum(len(json.dumps(slip.body)) for slip in made)
        print(f"{name:>9}: {len(made):4} slips, {size / 1000:7.1f} kB, in {took:6.3f} s ({busy:.3f} s busy)")
        for slip in made if show else ():
            print(
                " ",
                slip.kind,
                past.label("lot", slip.subject) or slip.subject,
                slip.observations,
                json.dumps(slip.body),
            )
    counts = {kind: len(past.of(kind)) for kind in ("setting", "reading", "care_task", "care_done")}
    print(", ".join(f"{n:,} of {kind}" for kind, n in counts.items()))
    began, busy = time.perf_counter(), time.process_time()
    list(slips_of(past))
    again, busy = time.perf_counter() - began, time.process_time() - busy
    print(f"all fitted anew, modules loaded: {again:.3f} s ({busy:.3f} s busy)")
    print(f"the first time, with reading: {whole:.3f} s")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("--demo", action="store_true", help="the demo workshop, every slip printed")
    demo = asked.parse_args().demo
    with (
        tempfile.TemporaryDirectory() as folder,
        Logbook.open(Path(folder), FakeClock(NOW), durable=False) as book,
    ):
        load(book, NOW) if demo else fill(book)
        before = memory_mb()
        measure(book, demo)
        print(f"memory at most {memory_mb():.0f} MB (before fitting {before:.0f} MB)")


if __name__ == "__main__":
    main()
