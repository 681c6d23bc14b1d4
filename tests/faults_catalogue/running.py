"""The real server as a process of its own, to be killed."""

import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
        return port


class Server:
    """`easelside serve` on a folder; leaves nothing running behind it."""

    def __init__(self, folder: Path, *before: str, more: Sequence[str] = ()) -> None:
        self.folder = folder
        self.port = free_port()
        self.log = folder.parent / f"{folder.name}.log"
        command = [*before, sys.executable, "-m", "easelside", "serve"]
        command += ["--data", str(folder), "--port", str(self.port), *more]
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                command,
                env=os.environ | {"PYTHONPATH": str(ROOT / "server")},
                stdout=log,
                stderr=log,
                start_new_session=True,
            )

    def __enter__(self) -> "Server":
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.kill()

    def kill(self) -> None:
        """kill -9, without a word."""
        try:
            os.killpg(self.process.pid, signal.SIGKILL)
        except ProcessLookupError:
            pass
        self.process.wait(10)

    def wait_until_it_answers(self, seconds: float = 30) -> Any:
        until = time.monotonic() + seconds
        while time.monotonic() < until:
            if self.process.poll() is not None:
                raise AssertionError(f"the server ended: {self.log.read_text()[-2000:]}")
            try:
                return self.ask("GET", "/api/health")[1]
            except (OSError, http.client.HTTPException):
                time.sleep(0.01)
        raise AssertionError(f"no answer in {seconds} s: {self.log.read_text()[-2000:]}")

    def ask(self, how: str, where: str, body: Any = None) -> tuple[int, Any]:
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        try:
            text = None if body is None else json.dumps(body).encode()
            line.request(how, where, text, {"Content-Type": "application/json"})
            heard = line.getresponse()
            return heard.status, json.loads(heard.read())
        finally:
            line.close()
