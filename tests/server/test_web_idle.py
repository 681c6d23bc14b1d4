"""Which thread takes the next request, and is any request lost?"""

import threading
import time
from collections.abc import Callable

from easelside.web.idle import LastIdleFirst


def until(holds: Callable[[], bool]) -> None:
    last = time.monotonic() + 5
    while not holds():
        assert time.monotonic() < last
        time.sleep(0.001)


class Taker:
    """A thread that takes one thing after another, until it is given None."""

    def __init__(self, queue: LastIdleFirst) -> None:
        self.took: list[object] = []
        self._queue = queue
        self.thread = threading.Thread(target=self._take, daemon=True)
        self.thread.start()

    def _take(self) -> None:
        while (one := self._queue.get()) is not None:
            self.took.append(one)


def test_what_comes_goes_to_the_thread_that_fell_idle_last_again_and_again() -> None:
    queue = LastIdleFirst()
    first = Taker(queue)
    until(lambda: len(queue._idle) == 1)
    last = Taker(queue)
    until(lambda: len(queue._idle) == 2)
    for one in range(20):
        queue.put(one)
        until(lambda: len(queue._idle) == 2)
    assert (first.took, last.took) == ([], list(range(20)))
    for taker in (first, last):
        queue.put(None)
        taker.thread.join(1)


def test_what_comes_while_all_are_busy_waits_in_its_order() -> None:
    queue = LastIdleFirst()
    for one in range(5):
        queue.put(one)
    assert queue.qsize() == 5
    assert [queue.get() for _ in range(5)] == list(range(5))
    assert queue.qsize() == 0


def test_whoever_gives_and_takes_at_once_each_thing_is_taken_once() -> None:
    queue = LastIdleFirst()
    takers = [Taker(queue) for _ in range(6)]

    def give(start: int) -> None:
        for one in range(start, start + 2000):
            queue.put(one)

    givers = [threading.Thread(target=give, args=(start,)) for start in (0, 10_000, 20_000)]
    for giver in givers:
        giver.start()
    for giver in givers:
        giver.join()
    for _ in takers:
        queue.put(None)
    for taker in takers:
        taker.thread.join(5)
    taken = sorted(one for taker in takers for one in taker.took)  # type: ignore[type-var]
    assert taken == [*range(2000), *range(10_000, 12_000), *range(20_000, 22_000)]
