"""kill -9 while the server writes: what was acknowledged is there, once; the logbook is whole."""

import http.client
import os
import random
import threading
import time
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from easelside.clock import SystemClock
from easelside.logbook.book import Logbook
from easelside.logbook.ids import IdMaker
from tests.faults_catalogue.running import Server

ids = IdMaker(os.urandom)


def new_id() -> str:
    return ids.make(int(time.time() * 1000))


def written() -> str:
    return datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


class Writer(threading.Thread):
    """A phone that sends its outbox as fast as it can and forgets only what was acknowledged."""

    def __init__(self, server: Server, logbook: str, outbox: list[dict[str, Any]]) -> None:
        super().__init__()
        self.server, self.logbook, self.outbox = server, logbook, outbox
        self.device = new_id()
        self.acknowledged: list[str] = []

    def run(self) -> None:
        try:
            while True:
                self.send()
        except (OSError, http.client.HTTPException, ValueError):
            return  # the server is gone; what is left stays in the outbox

    def send(self) -> None:
        while len(self.outbox) < 5:
            change = {"id": new_id(), "v": 1, "kind": "note", "record": new_id(), "device": self.device}
            change |= {
                "made": written(),
                "set": {"text": "words " * 20},
                "saw": {"text": None},
                "back": False,
            }
            self.outbox.append(change)
        body = {"device": self.device, "device_now": written(), "logbook": self.logbook}
        body |= {"after": 2**52, "changes": self.outbox[:5]}
        status, told = self.server.ask("POST", "/api/exchange", body)
        assert status == 200, told
        done = [one["id"] for one in told["accepted"]]
        self.acknowledged += done
        self.outbox[:] = [change for change in self.outbox if change["id"] not in done]


@pytest.mark.parametrize("seed", [1, 2])
def test_nothing_acknowledged_is_missing_after_25_kills(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    folder = tmp_path / "workshop"
    acknowledged: list[str] = []
    outboxes: list[list[dict[str, Any]]] = [[], []]
    for _ in range(25):
        with Server(folder) as server:
            logbook = server.wait_until_it_answers()["logbook"]
            writers = [Writer(server, logbook, outbox) for outbox in outboxes]
            for writer in writers:
                writer.start()
            time.sleep(chance.uniform(0, 0.3))
            server.kill()
            for writer in writers:
                writer.join()
                acknowledged += writer.acknowledged
    assert len(acknowledged) > 100
    book = Logbook.open(folder, SystemClock())
    try:
        stored = [row["id"] for row in book.changes_after(0, 1_000_000)]
        assert len(stored) == len(set(stored))
        missing = set(acknowledged) - set(stored)
        assert not missing
        assert book.check().problems == []
    finally:
        book.close()
