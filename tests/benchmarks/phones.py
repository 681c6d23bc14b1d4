"""Thirty phones at one bench: how long does a tap's exchange take, and how soon do the others see it?

    python tests/benchmarks/phones.py                 all figures, a minute or two
    python tests/benchmarks/phones.py --phones 12 --rounds 20

The server is `easelside serve --phones` as it is, durable, in a process of its own; each phone has a TLS
connection and a cookie of its own. Phones and server share this machine's processors, so what the phones
themselves cost is in the figures. Everything is printed as measured.
"""

import argparse
import contextlib
import json
import os
import random
import socket
import ssl
import statistics
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
sys.path[:0] = [str(ROOT / "server"), str(ROOT)]

from easelside.clock import SystemClock  # noqa: E402
from easelside.logbook.ids import IdMaker  # noqa: E402
from easelside.units import write_instant  # noqa: E402
from tests.faults_catalogue.running import Server, free_port  # noqa: E402

HOST = "127.0.0.1"
SPREAD_S = 0.25  # how long a browser that hears of a change waits at most before it asks
clock = SystemClock()
ids = IdMaker(os.urandom)


def new_id() -> str:
    return ids.make(int(clock.now().timestamp() * 1000))


class PhonesServer(Server):
    def __init__(self, folder: Path) -> None:
        self.phones_port = free_port()
        super().__init__(folder, more=[
            "--phones", "--phones-host", HOST, "--phones-port", str(self.phones_port),
            "--trust-port", str(free_port()),
        ])  # fmt: skip
        self.wait_until_it_answers()
        way = self.ask("GET", "/api/way_in")[1]
        self.name = way["address"].removeprefix("https://").partition(":")[0]

    def trusting(self) -> ssl.SSLContext:
        context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
        context.load_verify_locations(self.folder / "authority.pem")
        return context

    def resident_mb(self) -> float:
        status = Path(f"/proc/{self.process.pid}/status").read_text()
        (line,) = [line for line in status.splitlines() if line.startswith("VmRSS")]
        return int(line.split()[1]) / 1024

    def processor_s(self) -> float:
        parts = Path(f"/proc/{self.process.pid}/stat").read_text().rpartition(")")[2].split()
        return (int(parts[11]) + int(parts[12])) / os.sysconf("SC_CLK_TCK")


class Phone:
    """As little of a client as there can be: what it costs itself is in the figures."""

    def __init__(self, server: PhonesServer, context: ssl.SSLContext) -> None:
        self.id = new_id()
        self.cookie = ""
        self._server = server
        plain = socket.create_connection((HOST, server.phones_port), 30)
        self.line = context.wrap_socket(plain, server_hostname=server.name)
        self.heard = self.line.makefile("rb")
        code = server.ask("POST", "/api/phones/codes", {"role": "hand"})[1]["figures"]
        head, _ = self.ask("POST", "/api/pair", {"code": code, "device": self.id})
        self.cookie = head["set-cookie"].partition(";")[0]
        self.logbook: str | None = None
        self.end: Any = None
        self.after = 0
        self.session, self.number = new_id(), 0
        self.exchange([])
        while self.exchange([])["more"]:
            pass

    def ask(self, how: str, where: str, body: Any = None) -> tuple[dict[str, str], bytes]:
        data = b"" if body is None else json.dumps(body).encode()
        head = f"{how} {where} HTTP/1.1\r\nHost: {self._server.name}\r\nCookie: {self.cookie}\r\n"
        kind = f"Content-Type: application/json\r\nContent-Length: {len(data)}\r\n" if data else ""
        self.line.sendall(f"{head}{kind}\r\n".encode() + data)
        headers = self.read_head()
        return headers, self.heard.read(int(headers["content-length"]))

    def read_head(self) -> dict[str, str]:
        status = self.heard.readline()
        headers = {}
        while (line := self.heard.readline()) not in (b"\r\n", b""):
            name, _, value = line.decode().partition(":")
            headers[name.lower()] = value.strip()
        assert status[9:10] == b"2", (status, headers)
        return headers

    def exchange(self, changes: list[Any]) -> Any:
        now = write_instant(clock.now())
        body = {"device": self.id, "device_now": now, "logbook": self.logbook, "end": self.end,
                "after": self.after, "changes": changes, "offers": [], "limit": 500}  # fmt: skip
        said = json.loads(self.ask("POST", "/api/exchange", body)[1])
        assert len(said["accepted"]) == len(changes), said
        self.logbook, self.end, self.after = said["logbook"], said["end"], said["cursor"]
        return said

    def tap(self) -> str:
        """One piece is good."""
        self.number += 1
        id, now = new_id(), write_instant(clock.now())
        set = {"session": self.session, "number": self.number, "at": now, f"outcome/{id}": "good"}
        change = {"id": id, "v": 1, "kind": "piece", "record": new_id(), "device": self.id, "made": now,
                  "set": set, "saw": dict.fromkeys(set), "back": False}  # fmt: skip
        self.exchange([change])
        return id

    def close(self) -> None:
        self.line.close()


class Listener(Phone):
    """A phone that holds the open line and fetches what it hears of; `seen` holds each change and when."""

    def __init__(self, server: PhonesServer, context: ssl.SSLContext, hears: Phone) -> None:
        super().__init__(server, context)
        self.hears = hears
        hears.cookie = self.cookie
        self.seen: dict[str, float] = {}
        self._thread = threading.Thread(target=self._listen, daemon=True)

    def listen(self) -> None:
        head = f"GET /api/events?device={self.id} HTTP/1.1\r\nHost: {self._server.name}\r\n"
        self.hears.line.sendall(f"{head}Cookie: {self.cookie}\r\n\r\n".encode())
        self.hears.read_head()
        self._thread.start()

    def close(self) -> None:
        self.hears.line.shutdown(socket.SHUT_RDWR)
        self._thread.join(10)
        super().close()

    def _listen(self) -> None:
        chance = random.Random(self.id)
        with contextlib.suppress(OSError, ValueError):
            while line := self.hears.heard.readline():
                if line == b"event: changed\n":
                    time.sleep(chance.random() * SPREAD_S)
                    for change in self.exchange([])["changes"]:
                        self.seen.setdefault(change["id"], time.perf_counter())


def at_once(phones: list[Phone], rounds: int, pause_s: float, spread_s: float) -> list[float]:
    """Seconds of each exchange. All tap in the same instant, or at random within `spread_s`."""
    took: list[float] = []
    lock, gate = threading.Lock(), threading.Barrier(len(phones))

    def go_on(phone: Phone) -> None:
        chance, own = random.Random(phone.id), []
        for _ in range(rounds):
            gate.wait()
            time.sleep(chance.random() * spread_s)
            began = time.perf_counter()
            phone.tap()
            own.append(time.perf_counter() - began)
            time.sleep(pause_s)
        with lock:
            took.extend(own)

    threads = [threading.Thread(target=go_on, args=(phone,)) for phone in phones]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    return took


def seen_after(phones: list[Phone], listener: Listener, taps: int) -> list[float]:
    """Seconds from a tap until another phone holds the change, while the others tap on."""
    done = threading.Event()

    def go_on(phone: Phone) -> None:
        chance = random.Random(phone.id)
        while not done.wait(1 + chance.random()):
            phone.tap()

    others = [threading.Thread(target=go_on, args=(phone,)) for phone in phones[1:]]
    for one in others:
        one.start()
    found = []
    for _ in range(taps):
        began = time.perf_counter()
        id = phones[0].tap()
        while id not in listener.seen and time.perf_counter() - began < 10:
            time.sleep(0.005)
        found.append(listener.seen.get(id, began + 10) - began)
        time.sleep(0.2)
    done.set()
    for one in others:
        one.join()
    return found


def ms(values: list[float]) -> str:
    parts = statistics.quantiles(values, n=20)
    return (
        f"median {statistics.median(values) * 1000:6.1f} ms   p95 {parts[18] * 1000:6.1f} ms   "
        f"longest {max(values) * 1000:6.1f} ms   ({len(values)})"
    )


@contextlib.contextmanager
def workshop() -> Iterator[PhonesServer]:
    with tempfile.TemporaryDirectory() as folder, PhonesServer(Path(folder) / "workshop") as server:
        yield server


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    options.add_argument("--phones", type=int, default=30)
    options.add_argument("--rounds", type=int, default=30)
    options.add_argument("--times", type=int, default=3)
    said = options.parse_args()
    with workshop() as server:
        print(f"{os.cpu_count()} processors, load average {os.getloadavg()[0]:.1f} before")
        print(f"resident after the start             {server.resident_mb():6.1f} MB")
        context = server.trusting()
        began = time.perf_counter()
        phones = [Phone(server, context) for _ in range(said.phones)]
        each = (time.perf_counter() - began) / said.phones
        print(f"TLS, pairing, first exchanges        {each * 1000:6.1f} ms a phone")
        for time_no in range(1, said.times + 1):
            used, began = server.processor_s(), time.perf_counter()
            took = at_once(phones, said.rounds, 0.2, 0)
            each = (server.processor_s() - used) / len(took)
            print(f"{time_no}. {said.phones} in the same instant   {ms(took)}")
            print(f"   of which the server's processor   {each * 1000:6.2f} ms an exchange")
            took = at_once(phones, said.rounds, 0, 1)
            print(f"{time_no}. {said.phones} within each second   {ms(took)}")
            print(f"   load average {os.getloadavg()[0]:.1f}, {time.perf_counter() - began:.0f} s")
        listener = Listener(server, context, Phone(server, context))
        listener.listen()
        seen = seen_after(phones, listener, 40)
        print(f"seen on another phone, others tapping {ms(seen)}")
        print(f"resident after it                    {server.resident_mb():6.1f} MB")
        for phone in (listener, *phones):
            phone.close()


if __name__ == "__main__":
    main()
