"""Random schedules of phones and a server that meet every accident there is; run by the seed.

python -m tests.server.schedules --schedules 20000
"""

import argparse
import json
import random
import shutil
import sys
import tempfile
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

from easelside.clock import FakeClock
from easelside.exchange.routes import answer
from easelside.exchange.schemas import read
from easelside.logbook.backups import kept, restore
from easelside.logbook.book import Logbook
from easelside.logbook.folder import DATABASE
from easelside.logbook.ids import time_ordered_id
from tests.server.model_phone import Json, Phone, exchange_until_through

RECORDS = [("soak", time_ordered_id(n, b"r" * 10)) for n in (1, 2)] + [
    ("piece", time_ordered_id(3, b"r" * 10))
]
NAMES = ("pieces", "water", "removed")
OFFS = [timedelta(0), timedelta(minutes=4), timedelta(hours=1), timedelta(days=3653), timedelta(days=-20000)]
SERVER_OFFS = [timedelta(0), timedelta(0), timedelta(days=-7), timedelta(hours=2)]


class Schedule:
    def __init__(self, seed: int, folder: Path) -> None:
        self.chance = random.Random(seed)
        self.at = datetime(2026, 11, 25, 8, tzinfo=UTC)
        self.clock = FakeClock(self.at)
        self.server_off = timedelta(0)
        self.folder = folder / "workshop"
        self.book = Logbook.open(self.folder, self.clock, durable=False)
        self.phones = [Phone(time_ordered_id(n, b"d" * 10)) for n in range(3)]
        self.offs = [self.chance.choice(OFFS[:2]) for _ in range(3)]
        self.old: list[tuple[Phone, timedelta]] = []
        self.late: list[bytes] = []
        self.made: dict[str, Json] = {}
        self.days = 0
        self.said: list[str] = []

    # time

    def written(self, off: timedelta = timedelta(0)) -> str:
        return (self.at + off).isoformat(timespec="milliseconds").replace("+00:00", "Z")

    def pass_time(self) -> None:
        self.at += timedelta(milliseconds=self.chance.choice([0, 1, 500, 60_000, 900_000, 86_400_000]))
        self.clock.set(self.at + self.server_off)

    def new_id(self) -> str:
        ms = int(self.at.timestamp() * 1000)
        return time_ordered_id(ms, self.chance.randbytes(10))

    # what happens

    def send(self, request: Json) -> Json:
        told: Json = json.loads(answer(self.book, read(json.dumps(request).encode())))
        return told

    def pick(self) -> tuple[int, Phone]:
        n = self.chance.randrange(len(self.phones))
        return n, self.phones[n]

    def edit(self) -> None:
        n, phone = self.pick()
        made = self.written(self.offs[n])
        own = [c for c in phone.outbox + [one["change"] for one in phone.kept] if c["device"] == phone.device]
        if own and self.chance.random() < 0.3:
            change = phone.take_back(self.new_id(), self.chance.choice(own[-3:]), made)
        else:
            names = self.chance.sample(NAMES, self.chance.choice([1, 1, 2]))
            set = {
                name: self.chance.choice([True, False]) if name == "removed" else len(self.made)
                for name in names
            }
            change = phone.edit(self.new_id(), self.chance.choice(RECORDS), set, made)
        self.made[change["id"]] = change

    def exchange(self) -> None:
        """Whole, or cut before it arrives or before the answer does, or delivered later."""
        n, phone = self.pick()
        request = phone.request(self.written(self.offs[n]), self.chance.choice([1, 2, 5]))
        fate = self.chance.random()
        if fate < 0.1:
            return
        if fate < 0.2:
            self.late.append(json.dumps(request).encode())
            return
        told = self.send(request)
        if fate < 0.35:
            return
        phone.hear(request, told)
        if fate < 0.5:
            self.late.append(json.dumps(request).encode())

    def deliver_late(self) -> None:
        if self.late:
            answer(self.book, read(self.late.pop(self.chance.randrange(len(self.late)))))

    def turn_a_clock(self) -> None:
        if self.chance.random() < 0.3:
            self.server_off = self.chance.choice(SERVER_OFFS)
            self.clock.set(self.at + self.server_off)
        else:
            self.offs[self.pick()[0]] = self.chance.choice(OFFS)

    def restart(self) -> None:
        self.book.close()
        self.book = Logbook.open(self.folder, self.clock, durable=False)

    def backup(self) -> None:
        self.days += 1
        right = self.clock.now()
        self.clock.set(datetime(2026, 1, 1, tzinfo=UTC) + timedelta(days=self.days))  # a name of its own
        self.book.backup(keep=3)
        self.clock.set(right)

    def put_back(self) -> None:
        copies = kept(self.folder)
        if not copies:
            return
        copy = self.chance.choice(copies)
        self.book.close()
        if self.chance.random() < 0.5:
            aside = restore(self.folder, copy, self.clock)
            if aside is not None:
                shutil.rmtree(aside)
        else:
            for left in self.folder.glob(f"{DATABASE}*"):
                left.unlink()
            shutil.copyfile(copy, self.folder / DATABASE)
        self.book = Logbook.open(self.folder, self.clock, durable=False)

    def remember_a_phone(self) -> None:
        n, phone = self.pick()
        self.old.append((phone.twin(), self.offs[n]))

    def clone(self) -> None:
        """An old or a present state of a phone lives on beside it, under the same device id."""
        if len(self.phones) >= 5:
            return
        n, phone = self.pick()
        twin, off = (
            self.chance.choice(self.old) if self.old and self.chance.random() < 0.5 else (phone, self.offs[n])
        )
        self.phones.append(twin.twin())
        self.offs.append(off)

    def run(self, steps: int) -> None:
        acts = {
            self.edit: 10, self.exchange: 12, self.pass_time: 6, self.deliver_late: 2, self.turn_a_clock: 1,
            self.restart: 0.5, self.backup: 0.8, self.put_back: 0.6,
            self.remember_a_phone: 0.5, self.clone: 0.3,
        }  # fmt: skip
        for act in self.chance.choices(list(acts), list(acts.values()), k=steps):
            self.said.append(act.__name__)
            self.at += timedelta(
                milliseconds=self.chance.randrange(2, 40)
            )  # two taps are never at one instant
            self.clock.set(self.at + self.server_off)
            act()

    # how it ends

    def settle(self) -> None:
        """The clocks are put right and everybody exchanges until nobody learns anything new."""
        self.server_off = timedelta(0)
        self.at += timedelta(days=1)
        self.clock.set(self.at)
        while True:
            before = self.book.end(), self.book.id
            for phone in self.phones:
                exchange_until_through(phone, self.send, self.written)
            if (self.book.end(), self.book.id) == before:
                return

    def check(self, *, deep: bool) -> None:
        stored = {at: record["fields"] if (record := self.book.record(*at)) else {} for at in RECORDS}
        for phone in self.phones:
            for at in RECORDS:
                assert phone.shown(at) == stored[at], (phone.device, at, phone.shown(at), stored[at])
        rows = self.book.changes_after(0, 100_000)
        ids = [row["id"] for row in rows if "held" not in row]
        assert len(ids) == len(set(ids))
        lost = self.made.keys() - set(ids)
        assert not lost, f"lost: {lost}"
        for at, fields in stored.items():
            standing = {(name, field["change"]) for name, field in fields.items()}
            taken_back = {
                (name, field["saw"]) for name, field in fields.items() if field["back"] and field["saw"]
            }
            for change in self.made.values():
                if (change["kind"], change["record"]) == at:
                    beaten = standing & set(change["saw"].items())
                    assert not beaten, f"{change['id']} was beaten by what it replaced: {beaten}"
                    undone = set() if change["back"] else taken_back & set(change["saw"].items())
                    assert not undone, f"{change['id']} came after {undone} and was undone by its take-back"
        if deep:
            report = self.book.check()
            assert report.content, report.problems


def run_one(seed: int, *, steps: int = 60, deep: bool = False) -> None:
    place = "/dev/shm" if Path("/dev/shm").is_dir() else None
    with tempfile.TemporaryDirectory(prefix="easelside-", dir=place) as folder:
        schedule = Schedule(seed, Path(folder))
        try:
            schedule.run(steps)
            schedule.settle()
            schedule.check(deep=deep)
        except BaseException as problem:
            problem.add_note(f"seed {seed}: {' '.join(schedule.said)}")
            raise
        finally:
            schedule.book.close()


def main(given: list[str]) -> int:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--schedules", type=int, default=1000)
    options.add_argument("--seed", type=int, default=0, help="the first seed; the others follow it")
    options.add_argument("--steps", type=int, default=60)
    asked = options.parse_args(given)
    began = time.monotonic()
    for n in range(asked.schedules):
        try:
            run_one(asked.seed + n, steps=asked.steps, deep=n % 100 == 0)
        except Exception:
            print(f"\nseed {asked.seed + n} failed")
            raise
        if sys.stdout.isatty() or n % 1000 == 999:
            print(f"\r{n + 1} of {asked.schedules} schedules", end="", flush=True)
    print(
        f"\n{asked.schedules} schedules from seed {asked.seed}: all equal, nothing lost, "
        f"{time.monotonic() - began:.0f} s"
    )
    return 0


if __name__ == "__main__":
    sys.path.insert(0, "server")
    raise SystemExit(main(sys.argv[1:]))
