"""The command line: open the workshop, look after it, take the records away."""

import errno
import logging
import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import click

from easelside.clock import SystemClock
from easelside.errors import EaselsideError, FileRefused
from easelside.logbook.book import Logbook
from easelside.logbook.folder import written_whole
from easelside.running import run, shown_as_it_goes
from easelside.settings import (
    EVERYWHERE,
    LOOPBACK,
    PHONES_PORT,
    PORT,
    PROXY_PORT,
    TRUST_PORT,
    Settings,
    own_folder,
)
from easelside.units import zone_of

EXPORTS = ("csv", "json")


class Folder(click.Path):
    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        if "://" in str(value):  # a folder of that name would come to be, and the database stay empty
            self.fail(f"{value} is the address of a database; name a folder.", param, ctx)
        return super().convert(value, param, ctx)


data_option = click.option(
    "--data",
    type=Folder(path_type=Path, file_okay=False),
    default=own_folder,
    show_default="your own data folder",
    help="The folder that holds the workshop's records.",
)


_file = click.Path(path_type=Path, dir_okay=False)


class Commands(click.Group):
    """Says what happened and what to do, where a command fails for a reason that we know."""

    def invoke(self, ctx: click.Context) -> Any:
        try:
            try:
                return super().invoke(ctx)
            except OSError as refusal:
                if refusal.filename is None:  # no file's: a pipe's, a network's
                    raise
                raise FileRefused(file=refusal.filename, detail=refusal.strerror) from refusal
        except EaselsideError as problem:
            raise click.ClickException(f"{problem.what_happened}\n{problem.what_to_do}") from problem


@click.group(cls=Commands)
def main() -> None:
    """Easelside: a bench companion for people who make double reeds."""


PORTS = click.IntRange(0, 65535)


def _known_zone(_context: click.Context, _option: click.Parameter, name: str) -> str:
    if zone_of(name).key == name:
        return name
    raise click.BadParameter(f"{name} is no time zone. Give one by its IANA name, such as Europe/Berlin.")


@main.command()
@data_option
@click.option("--host", default=LOOPBACK[0], show_default=True, help="This machine's own name for itself.")
@click.option(
    "--port", type=PORTS, default=PORT, show_default=True, help="For this machine; 0 takes any free one."
)
@click.option("--phones/--no-phones", default=None, help="Let phones of the network come and pair.")
@click.option(
    "--phones-host", default=EVERYWHERE, show_default=True, help="The one address that phones may use."
)
@click.option(
    "--phones-port", type=PORTS, default=PHONES_PORT, show_default=True, help="For paired phones, by https."
)
@click.option(
    "--trust-port",
    type=PORTS,
    default=TRUST_PORT,
    show_default=True,
    help="For the page by which a phone learns trust.",
)
@click.option("--certificate", type=_file, help="Your own certificate, with its chain, in PEM.")
@click.option("--key", type=_file, help="The key that belongs to --certificate.")
@click.option("--behind-proxy", metavar="NAME", help="A proxy of yours speaks https under this name.")
@click.option(
    "--proxy-port",
    type=PORTS,
    default=PROXY_PORT,
    show_default=True,
    help="Where that proxy finds us on this machine.",
)
@click.option("--bell", multiple=True, metavar="WORD", help="A command to ring with: once a word of it.")
def serve(**given: Any) -> None:
    """Open your workshop in the browser of this machine, and to phones if you like.

    Keeps your records in the data folder, makes a backup a day, and stops with Ctrl-C.
    Without --phones the switch in Phones decides; it is off at first.
    A bell is rung when a soak is ready, for five minutes or until somebody silences it on any device:
    `--bell aplay --bell bell.wav`.

    \b
    Example:
      easelside serve --phones
    """
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(message)s")
    logging.getLogger("apscheduler").setLevel(logging.WARNING)  # it tells of every job, every hour
    run(Settings(**given), "The workshop is open at {address}  (Ctrl-C closes it)")


@main.command()
@click.option("--port", type=PORTS, default=0, help="Any free one, where it is not said.")
@click.option(
    "--time-zone",
    default="Europe/Berlin",
    show_default=True,
    callback=_known_zone,
    help="The invented workshop's.",
)
def demo(port: int, time_zone: str) -> None:
    """Open an invented workshop with a year of records, to try things out.

    It lies in a folder of its own that is thrown away at the end: your own records are never touched.
    The port is another one each time, so that the browser does not mix it with your workshop either.

    \b
    Example:
      easelside demo
    """
    with tempfile.TemporaryDirectory(prefix="easelside-demo-", ignore_cleanup_errors=True) as folder:
        settings = Settings(Path(folder), LOOPBACK[0], port)
        run(settings, "The demo workshop is open at {address}  (Ctrl-C throws it away)", time_zone)


@contextmanager
def looked_at(data: Path) -> Iterator[Logbook]:
    """The logbook for reading, beside a server that may be running."""
    logbook = Logbook.open(data, SystemClock(), look_only=True)
    try:
        yield logbook
    finally:
        logbook.close()


@main.command()
@data_option
@click.option("--rebuild", is_flag=True, help="Make the tables that follow from the changes again first.")
def check(data: Path, rebuild: bool) -> None:
    """Read everything in a data folder and say whether it is what was written.

    Names what is wrong and what to do about it. Ends with 1 where something is wrong.

    \b
    Example:
      easelside check
    """
    if rebuild:
        owned = Logbook.open(data, SystemClock())
        click.echo("Making the tables again from the changes ...")
        try:
            owned.rebuild()
        finally:
            owned.close()
    with looked_at(data) as logbook:
        with shown_as_it_goes(f"Reading {logbook.end()['seq']:,} changes") as progress:
            report = logbook.check(progress)
    for problem in report.problems:
        click.echo(f"{problem.where}: {problem.what}\n  {problem.what_to_do}", err=True)
    if not report.content:
        raise click.exceptions.Exit(1)
    click.echo(f"All well: {report.rows:,} changes, {report.records:,} records.")


@main.command()
@data_option
@click.option("--into", type=click.Path(path_type=Path, file_okay=False), help="Another folder for the copy.")
def backup(data: Path, into: Path | None) -> None:
    """Copy the whole workshop now, and read the copy back to be sure of it.

    Works while the server runs, which makes one a day by itself.

    \b
    Example:
      easelside backup --into /media/stick
    """
    with looked_at(data) as logbook:
        with shown_as_it_goes(f"Copying {logbook.end()['seq']:,} changes and reading them back") as progress:
            made = logbook.backup(into, progress=progress)
    click.echo(f"Backup made: {made}")


@main.command()
@click.argument("backup_file", metavar="BACKUP", type=_file)
@data_option
@click.option("--yes", is_flag=True, help="Do not ask.")
def restore(backup_file: Path, data: Path, yes: bool) -> None:
    """Put a backup in the place of the workshop.

    BACKUP is a file, or the name of one in the data folder's backups. It is read through first.
    The workshop as it is now is set aside, not deleted. What your phones hold beyond the backup comes
    back from them by itself.

    \b
    Example:
      easelside restore workshop-2026-11-24.db
    """
    from easelside.logbook.backups import restore as put_back

    if not yes:
        click.confirm(f"Put {backup_file.name} in the place of the workshop in {data}?", abort=True)
    with shown_as_it_goes("Reading the backup through") as progress:
        aside = put_back(data, backup_file, SystemClock(), progress)
    click.echo(f"Restored: {data}")
    if aside is not None:
        click.echo(f"The workshop as it was is in {aside}")


@main.command()
@click.argument("into", type=click.Path(path_type=Path))
@data_option
@click.option("--as", "form", type=click.Choice(EXPORTS), default="csv", show_default=True)
def export(into: Path, data: Path, form: str) -> None:
    """Take your records away: tables for a spreadsheet, or all of it for another Easelside.

    csv writes one table of each kind into the folder INTO; json writes the whole logbook into the file INTO.

    \b
    Example:
      easelside export my-tables
    """
    with looked_at(data) as logbook:
        if form == "json":
            if into.exists():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(into))
            with written_whole(into) as out:
                logbook.export_json(out)
            click.echo(f"Written: {into}  (state {logbook.state_hash()})")
        else:
            from easelside.forecast.csv_files import write_csv

            click.echo("Counting ...")
            write_csv(logbook, into, lambda name: click.echo(f"Written: {into / name}"))


@main.command("import")
@click.argument("source", metavar="FILE", type=click.Path(path_type=Path, dir_okay=False, exists=True))
@data_option
def take_in(source: Path, data: Path) -> None:
    """Take an export (json) into an empty workshop.

    \b
    Example:
      easelside import workshop.json --data new-folder
    """
    logbook = Logbook.open(data, SystemClock())
    try:
        click.echo("Reading the export ...")
        with source.open("rb") as file:
            state = logbook.import_json(file)
    finally:
        logbook.close()
    click.echo(f"Taken in: {data}  (state {state})")


if __name__ == "__main__":
    main()
