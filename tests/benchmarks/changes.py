"""What does a change cost: beside the bare database, at the millionth row, and when the server starts?

    python tests/benchmarks/changes.py            all figures, some minutes
    python tests/benchmarks/changes.py --rows 100000

Everything is printed as measured; ratios compare runs of this one process on this one disk.
"""

import argparse
import json
import os
import resource
import socket
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "server"), str(ROOT)]

import msgspec  # noqa: E402

from easelside.clock import Clock, FakeClock, SystemClock  # noqa: E402
from easelside.exchange.routes import answer  # noqa: E402
from easelside.exchange.schemas import read  # noqa: E402
from easelside.logbook.book import Logbook  # noqa: E402
from easelside.logbook.folder import DATABASE  # noqa: E402
from easelside.logbook.ids import IdMaker, piece_id  # noqa: E402

BATCH = 100
ids = IdMaker(os.urandom)
clock: Clock = SystemClock()
Json = dict[str, Any]


def now_ms() -> int:
    return int(clock.now().timestamp() * 1000)


def new_id() -> str:
    return ids.make(now_ms())


def written(at: Clock = clock) -> str:
    return at.now().isoformat(timespec="milliseconds").replace("+00:00", "Z")


def bench_day(device: str, at: Clock = clock) -> Iterator[Json]:
    """What one bench sends: a session, then piece after piece, each written in three changes."""

    def change(kind: str, record: str, set: Json) -> Json:
        plain = {
            "id": new_id(),
            "v": 1,
            "kind": kind,
            "record": record,
            "device": device,
            "made": written(at),
        }
        return plain | {"set": set, "saw": dict.fromkeys(set), "back": False}

    while True:
        session, batch, machine = new_id(), new_id(), new_id()
        yield change("session", session, {"machine": machine, "batches": [batch], "began": written(at)})
        for number in range(1, 31):
            piece = piece_id(session, number)
            cut_in = {"session": session, "number": number, "batch": batch, "machine": machine}
            yield change("piece", piece, cut_in | {"began": written(at)})
            yield change("piece", piece, {f"turns/{device}": [written(at)] * 6})
            outcome = f"outcome/{new_id()}"
            yield change("piece", piece, {"at": written(at), "full": True, outcome: "good"})
        yield change("session", session, {"ended": written(at)})


def bodies(book_id: str, count: int, after: int = 2**52) -> list[bytes]:
    """Requests of a hundred changes each; `after` far ahead, so that nothing is pulled."""
    device = new_id()
    day = bench_day(device)
    head = {"device": device, "device_now": written(), "logbook": book_id, "after": after, "offers": []}
    return [json.dumps({**head, "changes": [next(day) for _ in range(BATCH)]}).encode() for _ in range(count)]


def timed(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def bare(stored: Path, copy: Path) -> float:
    """The rows that the logbook wrote, into the same tables by sqlite3 alone, a hundred changes a commit."""
    source = sqlite3.connect(stored)
    schema = [sql for (sql,) in source.execute("SELECT sql FROM sqlite_master WHERE sql IS NOT NULL")]
    changes = source.execute("SELECT * FROM changes ORDER BY seq").fetchall()
    records = {(row[1], row[2]): row for row in source.execute("SELECT * FROM records")}
    pieces = {row[1]: row for row in source.execute("SELECT * FROM pieces")}
    source.close()
    target = sqlite3.connect(copy, isolation_level=None)
    for order in ("journal_mode=WAL", "synchronous=FULL", "cache_size=-16384"):
        target.execute(f"PRAGMA {order}")
    for sql in schema:
        target.execute(sql)
    batches = []
    for start in range(0, len(changes), BATCH):
        some = changes[start : start + BATCH]
        touched = {(row["kind"], row["record"]) for row in (json.loads(c[2]) for c in some)}
        batches.append(
            (some, [records[at] for at in touched], [pieces[id] for kind, id in touched if kind == "piece"])
        )

    def put(table: str, rows: list[Any]) -> None:
        if rows:
            marks = ",".join("?" * len(rows[0]))
            target.executemany(f"INSERT OR REPLACE INTO {table} VALUES ({marks})", rows)

    def work() -> None:
        for some, written_records, written_pieces in batches:
            target.execute("BEGIN IMMEDIATE")
            put("changes", some)
            put("records", written_records)
            put("pieces", written_pieces)
            target.execute("COMMIT")

    spent = timed(work)
    target.close()
    return spent


def one_client(folder: Path, count: int) -> tuple[int, float]:
    book = Logbook.open(folder, clock)
    requests = bodies(book.id, count)
    spent = timed(lambda: [answer(book, read(body)) for body in requests])
    stored = book.end()["seq"]
    assert stored == count * BATCH, stored
    book.close()
    return stored, spent


def serve(folder: Path) -> tuple[subprocess.Popen[str], int]:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "easelside", "serve", "--data", str(folder), "--port", str(port)]
    environment = os.environ | {"PYTHONPATH": str(ROOT / "server")}
    server = subprocess.Popen(
        command, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, text=True
    )
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            ask(port, "GET", "/api/health")
            return server, port
        except OSError:
            time.sleep(0.02)
    server.kill()
    raise SystemExit("the server did not start")


class Line:
    """A connection that stays open. Plain, because the client shares the machine: it should cost little."""

    def __init__(self, port: int) -> None:
        self._socket = socket.create_connection(("127.0.0.1", port), timeout=60)
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._heard = self._socket.makefile("rb")
        self._host = f"127.0.0.1:{port}"

    def __enter__(self) -> "Line":
        return self

    def __exit__(self, *_: object) -> None:
        self._heard.close()
        self._socket.close()

    def ask(self, how: str, where: str, body: bytes = b"") -> Json:
        head = (
            f"{how} {where} HTTP/1.1\r\nHost: {self._host}\r\n"
            f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
        )
        self._socket.sendall(head.encode() + body)
        status, length = self._heard.readline(), -1
        while line := self._heard.readline().strip():
            name, _, value = line.partition(b":")
            if name.lower() == b"content-length":
                length = int(value)
        text = self._heard.read(length)
        assert status.split()[1:2] == [b"200"], (status, text[:300])
        told: Json = msgspec.json.decode(text)
        return told


def ask(port: int, how: str, where: str) -> Json:
    with Line(port) as line:
        return line.ask(how, where)


def over_http(folder: Path, clients: int, count: int) -> tuple[int, float]:
    """Changes, and seconds for `clients` connections that send `count` requests each, all acknowledged."""
    server, port = serve(folder)
    try:
        logbook = ask(port, "GET", "/api/health")["logbook"]
        loads = [bodies(logbook, count) for _ in range(clients)]
        acknowledged: list[int] = []

        def client(load: list[bytes]) -> None:
            with Line(port) as line:
                answers = (line.ask("POST", "/api/exchange", body) for body in load)
                acknowledged.append(sum(len(told["accepted"]) for told in answers))

        threads = [threading.Thread(target=client, args=(load,)) for load in loads]

        def work() -> None:
            for thread in threads:
                thread.start()
            for thread in threads:
                thread.join()

        spent = timed(work)
        assert sum(acknowledged) == clients * count * BATCH, acknowledged
        return sum(acknowledged), spent
    finally:
        server.terminate()
        server.wait(30)


def fill(folder: Path, rows: int) -> float:
    """As many rows as that, spread over the ten years up to now; answers seconds."""
    years = timedelta(days=3653)
    then = FakeClock(clock.now() - years)
    book = Logbook.open(folder, then, durable=False)

    def work() -> None:
        device = new_id()
        day = bench_day(device, then)
        for _ in range(0, rows, 1000):
            book.receive(device, written(then), [next(day) for _ in range(1000)])  # type: ignore[misc]
            then.forward(seconds=years.total_seconds() * 1000 / rows)

    spent = timed(work)
    assert book.end()["seq"] >= rows
    book.close()
    return spent


def one_change_ms(folder: Path, tries: int = 400) -> float:
    """The median of one exchange with one change, durable, on a logbook as large as it is."""
    book = Logbook.open(folder, clock)
    device = new_id()
    day = bench_day(device)
    spent = []
    for _ in range(tries):
        head = {"device": device, "device_now": written(), "logbook": book.id, "after": 2**52}
        body = json.dumps({**head, "changes": [next(day)]}).encode()
        spent.append(timed(lambda body=body: answer(book, read(body))))  # type: ignore[misc]
    book.close()
    return statistics.median(spent) * 1000


def start(folder: Path) -> tuple[float, int]:
    """Seconds from the start of the process to the first answer, and its resident memory in kB."""
    began = time.perf_counter()
    server, _ = serve(folder)
    try:
        spent = time.perf_counter() - began
        status = Path(f"/proc/{server.pid}/status")
        memory = 0
        if status.exists():
            memory = next(int(line.split()[1]) for line in status.read_text().splitlines() if "VmRSS" in line)
        return spent, memory
    finally:
        server.terminate()
        server.wait(30)


class Rounds:
    """One way to write, and the bare inserts of the rows that it wrote, in turn, some rounds of both."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.spent: list[float] = []
        self.alone: list[float] = []

    def run(self, folder: Path, write: Callable[[Path], tuple[int, float]]) -> None:
        stored, spent = write(folder)
        self.spent.append(spent / stored)
        self.alone.append(bare(folder / DATABASE, folder / "bare.db") / stored)

    def tell(self) -> None:
        """The best of the rounds: the one that the machine's other work disturbed least."""
        here, there = min(self.spent), min(self.alone)
        print(
            f"{self.name:30} {1 / here:8,.0f} changes a second, bare inserts {1 / there:8,.0f}: "
            f"{here / there:.2f}x",
            flush=True,
        )


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--rows", type=int, default=1_000_000)
    options.add_argument("--batches", type=int, default=200)
    options.add_argument("--rounds", type=int, default=5)
    options.add_argument("--no-http", action="store_true")
    asked_for = options.parse_args()
    with tempfile.TemporaryDirectory(prefix="easelside-benchmark-") as place:
        folder = Path(place)
        count = asked_for.batches
        ways: list[tuple[Rounds, Callable[[Path], tuple[int, float]]]] = [
            (Rounds("one client, without HTTP"), lambda folder: one_client(folder, count))
        ]
        if not asked_for.no_http:
            ways += [
                (Rounds("one client over HTTP"), lambda folder: over_http(folder, 1, count)),
                (Rounds("8 clients at once over HTTP"), lambda folder: over_http(folder, 8, count // 8 + 1)),
            ]
        for round in range(asked_for.rounds):  # in turn: whatever else runs here meets them all alike
            for number, (rounds, write) in enumerate(ways):
                rounds.run(folder / f"way{number}-{round}", write)
        for rounds, _ in ways:
            rounds.tell()
        fill(folder / "small", 1000)
        filled = fill(folder / "large", asked_for.rows)
        size = (folder / "large" / DATABASE).stat().st_size / 1e6
        print(f"filled to {asked_for.rows:,} rows               {filled:10.0f} s, {size:,.0f} MB on disk")
        small, large = (one_change_ms(folder / name) for name in ("small", "large"))
        small, large = (
            min(small, one_change_ms(folder / "small")),
            min(large, one_change_ms(folder / "large")),
        )
        print(f"one change at 1,000 rows             {small:10.2f} ms")
        print(f"one change at {asked_for.rows:,} rows         {large:10.2f} ms, {large / small:.2f}x")
        opened = timed(lambda: Logbook.open(folder / "large", clock).close())
        print(f"logbook opened at {asked_for.rows:,} rows      {opened:10.2f} s")
        if not asked_for.no_http:
            spent, memory = start(folder / "large")
            print(f"server start to first answer         {spent:10.2f} s, {memory / 1024:,.0f} MB resident")
        book = Logbook.open(folder / "large", clock)
        print(f"derived tables rebuilt               {timed(book.rebuild):10.1f} s")
        print(f"check of everything                  {timed(lambda: book.check().content):10.1f} s")
        book.close()
        peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
        print(f"this benchmark's own peak            {peak:10,.0f} MB")


if __name__ == "__main__":
    main()
