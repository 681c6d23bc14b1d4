"""Which slips follow from the records as they are now? Fitted anew when the logbook has grown.

The makers of slips load numpy and scipy, so they are imported when the first fit is wanted.
"""

import logging
from collections.abc import Callable, Iterator
from datetime import datetime
from importlib import import_module
from time import perf_counter

from easelside.forecast.slip import Slip
from easelside.logbook import asking
from easelside.logbook.book import Logbook

log = logging.getLogger("easelside.forecast")

MAKERS = ("soak", "pace", "watch", "edge", "grinding", "screw", "care", "yield")


def slips_of(past: object) -> Iterator[Slip]:
    """Every slip of a `Past`, a maker after the other."""
    for name in MAKERS:
        make: Callable[[object], Iterator[Slip]] = import_module(f"easelside.forecast.{name}_slips").slips
        yield from make(past)


class Refit:
    def __init__(self, logbook: Logbook) -> None:
        self._logbook = logbook
        self._as_of = -1
        self._day = ""

    def __call__(self, now: datetime) -> int:
        """Fits anew where the logbook has grown or a new day began; how many slips changed."""
        from easelside.forecast.past import Past

        if self._logbook.end()["seq"] == self._as_of and now.date().isoformat() == self._day:
            return 0
        began = perf_counter()
        with self._logbook.view() as view:
            seq = asking.end(view)["seq"]
            past = Past.read(view, now)
        changed = self._logbook.keep_slips(
            seq,
            [(slip.kind, slip.subject, slip.observations, slip.body) for slip in slips_of(past)],
        )
        self._as_of, self._day = seq, now.date().isoformat()
        if changed:
            log.info("%d forecasts changed, in %.1f s", changed, perf_counter() - began)
        return changed
