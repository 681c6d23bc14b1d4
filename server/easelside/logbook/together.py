"""Which requests are stored by one commit? Those that arrived while the one before was being written.

A commit waits for the disk. Where several phones send at once, each wait serves all that had come by then:
each request is still judged by itself, in turn, and nobody is answered before the commit.
"""

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from easelside.logbook.model import Answer, Change, Offer
from easelside.logbook.rules import Clocks

MOST_TOGETHER = 16


@dataclass(eq=False)
class Letter:
    """One request with something to store. `answer` or `problem` is set once its fate is known."""

    device: str
    now: str
    clocks: Clocks
    changes: Sequence[Change]
    offers: Sequence[Offer]
    answer: Answer | None = None
    problem: Exception | None = None
    called: threading.Semaphore = field(default_factory=lambda: threading.Semaphore(0))

    @property
    def is_open(self) -> bool:
        return self.answer is None and self.problem is None


class Together:
    """`store` gets letters and answers them in order within one commit, or raises and stores none of them."""

    def __init__(self, store: Callable[[list[Letter]], list[Answer]]) -> None:
        self._store = store
        self._lock = threading.Lock()
        self._waiting: list[Letter] = []
        self._is_busy = False

    def hand_in(self, letter: Letter) -> Answer:
        """Waits until the letter is stored; raises what kept it from being stored."""
        with self._lock:
            self._waiting.append(letter)
            is_first, self._is_busy = not self._is_busy, True
        if not is_first:
            letter.called.acquire()  # once: it is stored, or the next to be
        if letter.is_open:
            self._store_with(letter)
        if letter.problem is not None:
            raise letter.problem
        assert letter.answer is not None
        return letter.answer

    def waiting(self) -> int:
        """How many wait for the commit after this one."""
        with self._lock:
            return len(self._waiting)

    def _store_with(self, letter: Letter) -> None:
        """This letter and others that wait. Each is called by itself: who wakes all, wakes most in vain."""
        with self._lock:
            others = [one for one in self._waiting if one is not letter][: MOST_TOGETHER - 1]
            taken = [letter, *others]
            self._waiting = [one for one in self._waiting if one not in taken]
        try:
            self._settle(taken)
        finally:
            with self._lock:
                following = self._waiting[:1]
                self._is_busy = bool(following)
            for one in [*following, *others]:
                one.called.release()

    def _settle(self, letters: list[Letter]) -> None:
        try:
            answers = self._store(letters)
        except Exception as problem:
            if len(letters) == 1:
                letters[0].problem = problem
                return
            for letter in letters:  # what is wrong with one keeps no other from being stored
                self._settle([letter])
            return
        for letter, answer in zip(letters, answers, strict=True):
            letter.answer = answer
