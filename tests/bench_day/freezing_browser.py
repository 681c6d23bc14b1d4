"""Chromium that freezes covered pages, as a phone's does: on a pipe, for Playwright keeps pages awake."""

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import threading
from pathlib import Path
from typing import Any

FREEZES_AFTER_MS = 15_000
FLAGS = [
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    f"--enable-features=stop-in-background:DelayForBackgroundTabFreezingMills/{FREEZES_AFTER_MS}",
    "--remote-debugging-pipe",
]


class FreezingBrowser:
    """One page, and another that can be put in front of it."""

    def __init__(self, profile: Path, before_all: str = "") -> None:
        chromium = shutil.which("chromium")
        assert chromium, "the browser tests need Chromium on the PATH"
        to_read, to_write = os.pipe()
        from_read, from_write = os.pipe()

        # it reads its commands from 3 and answers on 4
        begin = "import os, sys; here = [os.dup(int(one)) for one in sys.argv[1:3]]; "
        begin += "[(os.dup2(one, fd), os.set_inheritable(fd, True)) for fd, one in enumerate(here, 3)]; "
        begin += "os.execvp(sys.argv[3], sys.argv[3:])"
        words = [sys.executable, "-c", begin, str(to_read), str(from_write), chromium, *FLAGS]
        self.process = subprocess.Popen(
            [*words, f"--user-data-dir={profile}", "about:blank"],
            pass_fds=(to_read, from_write),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        os.close(to_read)
        os.close(from_write)
        self._to, self._from = os.fdopen(to_write, "wb", 0), os.fdopen(from_read, "rb", 0)
        self._asked, self._answers = 0, dict[int, dict[str, Any]]()
        self._news = threading.Condition()
        threading.Thread(target=self._listen, daemon=True).start()
        self.target = self.send("Target.createTarget", url="about:blank")["targetId"]
        attached = self.send("Target.attachToTarget", targetId=self.target, flatten=True)
        self.session = attached["sessionId"]
        self.send("Page.enable", self.session)
        self.send("Page.addScriptToEvaluateOnNewDocument", self.session, source=before_all)

    def send(self, method: str, session: str | None = None, **params: object) -> dict[str, Any]:
        self._asked += 1
        mine = self._asked
        command = {"id": mine, "method": method, "params": params}
        if session is not None:
            command["sessionId"] = session
        self._to.write(json.dumps(command).encode() + b"\0")
        with self._news:
            assert self._news.wait_for(lambda: mine in self._answers, 20), f"no answer to {method}"
            answer = self._answers.pop(mine)
        assert "error" not in answer, f"{method}: {answer.get('error')}"
        result: dict[str, Any] = answer["result"]
        return result

    def ask(self, script: str) -> Any:
        """The value of a script in the page, run as if a person had touched the screen."""
        answer = self.send(
            "Runtime.evaluate",
            self.session,
            expression=script,
            awaitPromise=True,
            returnByValue=True,
            userGesture=True,
        )
        assert "exceptionDetails" not in answer, answer
        return answer["result"].get("value")

    def open(self, url: str) -> None:
        self.send("Page.navigate", self.session, url=url)

    def cover(self) -> None:
        """Another page comes in front."""
        other = self.send("Target.createTarget", url="about:blank")["targetId"]
        self.send("Target.activateTarget", targetId=other)

    def uncover(self) -> None:
        self.send("Target.activateTarget", targetId=self.target)

    def kill(self) -> None:
        with contextlib.suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait(5)
        self._to.close()

    def _listen(self) -> None:
        held = b""
        while some := self._from.read(65536):
            *whole, held = (held + some).split(b"\0")
            with self._news:
                for each in whole:
                    message = json.loads(each)
                    if "id" in message:
                        self._answers[message["id"]] = message
                self._news.notify_all()
        self._from.close()
