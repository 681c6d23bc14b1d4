"""How does a workshop open, stay open until it is told to stop, and shut again?"""

import gc
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress

import click

from easelside.clock import SystemClock
from easelside.errors import EaselsideError
from easelside.logbook.book import Logbook
from easelside.settings import Settings
from easelside.trust.words import told_at_start


def run(settings: Settings, words: str, demo_zone: str | None = None) -> None:
    """Serve until stopped, with the housekeeping; a demo is filled first."""
    from easelside.alarms.watch import NAME as ALARMS
    from easelside.alarms.watch import Alarms
    from easelside.app import create_app
    from easelside.forecast.current import Current
    from easelside.housekeeping import nightly
    from easelside.web.house import house_of
    from easelside.web.listening import Listening

    def fill_shelf() -> None:
        with suppress(EaselsideError):  # whoever asks the shelf is told
            house_of(app).shelf.catch_up()

    clock = SystemClock()
    listening = Listening(settings, clock)

    def opened() -> None:
        gc.freeze()  # what stands now stays: going through it again and again is an eighth of a busy server
        click.echo(words.format(address=listening.own_address))
        for line in told_at_start(listening.address if listening.on else None, listening.facts()):
            click.echo(line)
        filling.start()

    logbook = Logbook.open(settings.data, clock, durable=demo_zone is None)
    try:
        if demo_zone is not None:
            fill(logbook, demo_zone)
        current = Current(logbook)
        app = create_app(settings, clock, logbook, current, listening)
        housekeeping = nightly.start(logbook, current, clock)
        alarms: Alarms = app.extensions[ALARMS]
        alarms.start()
        filling = threading.Thread(target=fill_shelf, name="shelf")
        try:
            listening.serve(app, opened)
        finally:
            alarms.stop()
            housekeeping.shutdown(wait=True)
            if filling.ident is not None:
                filling.join()
    finally:
        logbook.close()


def fill(logbook: Logbook, time_zone: str) -> None:
    """The invented year, up to this moment."""
    from seed_demo import load

    with shown_as_it_goes("Making the invented workshop") as progress:
        load.load(logbook, SystemClock().now(), time_zone, progress)


@contextmanager
def shown_as_it_goes(label: str) -> Iterator[Callable[[int, int], None]]:
    """A bar that `progress(done, of)` moves on."""
    with click.progressbar(length=100, label=label) as bar:
        shown = 0

        def progress(done: int, of: int) -> None:
            nonlocal shown
            percent = 100 * done // max(of, 1)
            bar.update(percent - shown)
            shown = percent

        yield progress
