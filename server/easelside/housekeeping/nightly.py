"""What does the server do by itself? A backup a day, a look every hour at due care, forecasts fitted anew."""

import logging
from collections.abc import Callable
from datetime import timedelta
from functools import wraps

from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.triggers.cron import CronTrigger
from apscheduler.triggers.interval import IntervalTrigger

from easelside.clock import Clock
from easelside.errors import EaselsideError
from easelside.forecast.current import Current
from easelside.forecast.refit import Refit
from easelside.forecast.sweep import sweep
from easelside.housekeeping.loaded import Loaded
from easelside.logbook.backups import kept
from easelside.logbook.book import SERVER, Logbook

log = logging.getLogger("easelside.housekeeping")

BACKUP_HOUR = 3  # in the workshop's night
SWEEP_EVERY = timedelta(hours=1)
REFIT_EVERY = timedelta(seconds=30)  # and only where something was written since
SOON_S = 5  # the first answer to a phone comes before any of it
LATE_S = 20 * 3600  # a laptop that slept through the night makes its backup in the morning


def daily_backup(logbook: Logbook, clock: Clock) -> None:
    """Today's backup, unless there is one already."""
    name = f"workshop-{clock.now().date().isoformat()}.db"
    if name not in [made.name for made in kept(logbook.folder)]:
        log.info("Backup made: %s", logbook.backup())


def care_sweep(logbook: Logbook, current: Current, clock: Clock) -> None:
    for task in sweep(logbook, current, clock.now()):
        log.info("Care is due: %s (%s)", task.what or "other", task.id)


def refit_slips(refit: Refit, logbook: Logbook, clock: Clock, loaded: Loaded) -> None:
    if refit(clock.now()):
        logbook.told(SERVER)
    loaded.keep()


def told(job: Callable[..., None]) -> Callable[..., None]:
    """A job whose failure is one line that says what to do; the next run tries again."""

    @wraps(job)
    def run(*args: object) -> None:
        try:
            job(*args)
        except EaselsideError as problem:
            log.error("%s", problem)

    return run


def start(logbook: Logbook, current: Current, clock: Clock) -> BackgroundScheduler:
    """Begins the jobs; missed runs are made up once, however many they were. `shutdown()` ends them."""
    scheduler = BackgroundScheduler(
        timezone=current.zone(),
        job_defaults={"coalesce": True, "max_instances": 1, "misfire_grace_time": LATE_S},
    )
    soon = clock.now() + timedelta(seconds=SOON_S)
    scheduler.add_job(
        told(daily_backup), CronTrigger(hour=BACKUP_HOUR), args=(logbook, clock), next_run_time=soon
    )
    scheduler.add_job(
        told(care_sweep),
        IntervalTrigger(seconds=int(SWEEP_EVERY.total_seconds())),
        args=(logbook, current, clock),
        next_run_time=soon,
    )
    scheduler.add_job(
        told(refit_slips),
        IntervalTrigger(seconds=int(REFIT_EVERY.total_seconds())),
        args=(Refit(logbook), logbook, clock, Loaded()),
        next_run_time=soon,
    )
    scheduler.start()
    return scheduler
