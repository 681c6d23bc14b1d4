"""A real server in a process of its own, started, stopped and killed by the tests."""

import json
import os
import runpy
import shutil
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
STARTS_WITHIN_S = 20


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def build_client(target: Path, page: Path | None = None) -> Path:
    """The client as Vite builds it, or a page of the tests in the client's place, with the client's parts.

    Types are not checked here: that is a step of its own.
    """
    hook = runpy.run_path(str(ROOT / "server/hatch_build.py"))
    webclient = ROOT / "webclient"
    node = hook["install_packages"](webclient)
    words = [node, "node_modules/vite/bin/vite.js", "build", *([str(page)] if page else [])]
    words += ["--config", str(webclient / "vite.config.ts"), "--logLevel=warn"]
    words += ["--outDir", str(target), "--emptyOutDir"]
    subprocess.run(words, cwd=webclient, check=True, timeout=120, stdin=subprocess.DEVNULL)
    return target


def copy_with_client(folder: Path, page: Path | None = None) -> Path:
    """The package as it is now, with a fresh client (or `page` in its place).

    The tests run this copy, so that an edit in the middle of a run mixes nothing.
    """
    shutil.copytree(
        ROOT / "server/easelside",
        folder / "easelside",
        ignore=lambda at, _names: {"__pycache__"} | ({"client"} if at.endswith("web") else set()),
    )
    build_client(folder / "easelside/web/client", page)
    return folder


class Server:
    """`url` stays the same over stops and starts."""

    def __init__(self, package: Path, data: Path, *more: str) -> None:
        """`more`: what else stands behind `easelside serve`."""
        self.package, self.data, self.more = package, data, more
        self.port = free_port()
        self.url = f"http://127.0.0.1:{self.port}"
        self.log = data.with_name(data.name + ".log")
        self.process: subprocess.Popen[bytes] | None = None
        self.words = [sys.executable, "-m", "easelside", "serve"]

    def start(self) -> None:
        words = [*self.words, "--data", str(self.data), "--host", "127.0.0.1", "--port", str(self.port)]
        words += self.more
        paths = os.pathsep.join([str(self.package), str(ROOT)])
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                words,
                env={**os.environ, "PYTHONPATH": paths, "PYTHONSAFEPATH": "1"},
                stdin=subprocess.DEVNULL,
                stdout=log,
                stderr=log,
                start_new_session=True,
            )
        until = time.monotonic() + STARTS_WITHIN_S
        while time.monotonic() < until:
            if self.process.poll() is not None:
                break
            try:
                self.get("/api/health")
                return
            except (urllib.error.URLError, ConnectionError, TimeoutError):
                time.sleep(0.05)
        self.kill()
        raise AssertionError(f"the server did not start:\n{self.log.read_text()[-3000:]}")

    def stop(self) -> None:
        """As a person or the machine stops it."""
        if self.process and self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(8)
            except subprocess.TimeoutExpired:
                self.kill()
                raise AssertionError("the server did not stop on SIGTERM within 8 s") from None

    def kill(self) -> None:
        """As a power cut does."""
        if self.process and self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait(5)

    def ask(self, path: str, body: object = None) -> tuple[int, Any]:
        """Status and JSON of one request; a POST where there is a body."""
        data = None if body is None else json.dumps(body).encode()
        kinds = {"content-type": "application/json", "accept": "application/json"}
        request = urllib.request.Request(self.url + path, data=data, headers=kinds)
        try:
            with urllib.request.urlopen(request, timeout=10) as answer:
                return answer.status, json.loads(answer.read())
        except urllib.error.HTTPError as problem:
            text = problem.read()
            try:
                return problem.code, json.loads(text)
            except ValueError:
                return problem.code, text.decode(errors="replace")

    def get(self, path: str) -> Any:
        return self.ask(path)[1]

    def records(self, kind: str) -> dict[str, dict[str, Any]]:
        """Every record of a kind as a new phone gets it: id to the plain values that stand."""
        folded: dict[str, dict[str, Any]] = {}
        for row in self.rows():
            if row["kind"] == kind:
                record = folded.setdefault(row["record"], {})
                record.update({name: row["set"][name] for name in row["won"]})
        return {id_: record for id_, record in folded.items() if not record.get("removed")}

    def rows(self) -> list[dict[str, Any]]:
        """Every row of the logbook in its order, fetched as a device fetches them."""
        asked: dict[str, Any] = {"device": "00000000-0000-7000-8000-00000000dead", "device_now": now_text()}
        asked |= {"logbook": None, "end": None, "after": 0, "offers": [], "changes": [], "limit": 500}
        status, first = self.ask("/api/exchange", asked)
        assert status == 200, first
        asked |= {"logbook": first["logbook"]}
        rows: list[dict[str, Any]] = []
        while True:
            status, answer = self.ask("/api/exchange", {**asked, "device_now": now_text()})
            assert status == 200, answer
            rows += answer["changes"]
            asked |= {"after": answer["cursor"], "end": answer["end"]}
            if not answer["more"]:
                return rows


def now_text() -> str:
    seconds = time.time()
    return time.strftime("%Y-%m-%dT%H:%M:%S", time.gmtime(seconds)) + f".{int(seconds * 1000) % 1000:03d}Z"
