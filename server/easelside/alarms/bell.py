"""How does the bench ring? By a command of the maker's own, run as it was given, over and over until told.

Never by a shell: each word is one word, whatever stands in it.
"""

import logging
import shutil
import subprocess
import threading

from easelside.alarms import words

log = logging.getLogger("easelside.alarms")

PAUSE_S = 1.0  # from the end of one ring to the next
PATIENCE_S = 2.0  # for a command that was asked to stop
LONGEST_TRIAL_S = 10.0


class Bell:
    """`ring(True)` begins, `ring(False)` ends; neither waits. `works`: how the last ring went, if ever."""

    def __init__(self, command: tuple[str, ...]) -> None:
        self.command = command
        self.works: bool | None = None
        self._wanted = threading.Event()
        self._trial = threading.Event()
        self._silence = threading.Event()
        self._ended = threading.Event()
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None

    @property
    def there(self) -> bool:
        return bool(self.command)

    @property
    def is_ringing(self) -> bool:
        return self._wanted.is_set()

    def ring(self, on: bool) -> None:
        if not self.command or self._ended.is_set() or on == self._wanted.is_set():
            return
        if on:
            self._silence.clear()
            self._wanted.set()
            self._begin()
        else:
            self._wanted.clear()
            self._silence.set()

    def try_once(self) -> None:
        """One ring, to hear whether it works."""
        if self.command and not self._ended.is_set() and not self.is_ringing:
            self._silence.clear()
            self._trial.set()
            self._begin()

    def close(self) -> None:
        self._ended.set()
        self._wanted.clear()
        self._silence.set()
        thread = self._thread
        if thread is not None:
            thread.join(2 * PATIENCE_S)

    def _begin(self) -> None:
        with self._lock:
            if self._thread is None or not self._thread.is_alive():
                self._thread = threading.Thread(target=self._run, name="bell", daemon=True)
                self._thread.start()

    def _run(self) -> None:
        while True:
            if self._wanted.is_set():
                self._once(None)
                self._silence.wait(PAUSE_S)
            elif self._trial.is_set():
                self._trial.clear()
                self._once(LONGEST_TRIAL_S)
            else:
                with self._lock:
                    if not self._wanted.is_set() and not self._trial.is_set():
                        self._thread = None
                        return

    def _once(self, longest_s: float | None) -> None:
        program = shutil.which(self.command[0])
        try:
            if program is None:
                raise FileNotFoundError(f"there is no {self.command[0]}")
            child = subprocess.Popen(
                [program, *self.command[1:]],
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError as refusal:
            self._went(False, str(refusal))
            return
        left_s = longest_s
        while child.poll() is None and not self._silence.wait(0.05):
            if left_s is not None:
                left_s -= 0.05
                if left_s <= 0:
                    break
        if child.poll() is None:
            child.terminate()
            try:
                child.wait(PATIENCE_S)
            except subprocess.TimeoutExpired:
                child.kill()
                child.wait()
            self._went(True, "")
        else:
            self._went(child.returncode == 0, f"it ended with {child.returncode}")

    def _went(self, well: bool, why: str) -> None:
        if not well and self.works is not False:
            log.error("%s", words.NOT_RUNG.format(why=why))
        self.works = well
