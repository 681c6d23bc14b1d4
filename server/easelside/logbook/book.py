"""The logbook of one workshop: the only truth about what happened, and the one door to it.

One process, any number of threads. Writers wait for each other; readers never wait. An answer leaves only
after the commit that it tells about.
"""

import os
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from typing import IO

import sqlalchemy as sa

from easelside.clock import Clock
from easelside.errors import (
    DamagedLogbook,
    DiskFull,
    EaselsideError,
    NoWorkshop,
    ReadOnly,
    StorageFailed,
)
from easelside.logbook import asking, backups, checking, erasing, export, tables
from easelside.logbook.anew import Anew
from easelside.logbook.beside import Beside
from easelside.logbook.checking import Progress
from easelside.logbook.door import at, open_engine, open_to_look, understood
from easelside.logbook.folder import DATABASE, Owner, refuse_copied_about
from easelside.logbook.health import Health, what_is_wrong
from easelside.logbook.ids import IdMaker
from easelside.logbook.model import Accepted, Answer, Change, Offer, Value
from easelside.logbook.page import OpenPage
from easelside.logbook.rebuilding import rebuild
from easelside.logbook.rules import Clocks, clocks_at, server_clock_doubt
from easelside.logbook.taking import take, take_offers
from easelside.logbook.together import Letter, Together
from easelside.units import write_instant

TAIL = 1000  # rows whose hashes are looked at when the logbook is opened
SERVER = "server"


class Logbook(Anew, Beside):
    """`open` it, `receive` and `write` changes, ask for `records`, `pieces`, `changes_after`; `close` it."""

    def __init__(
        self, engine: sa.Engine, clock: Clock, folder: Path | None, owner: Owner | None, look_only: bool
    ) -> None:
        super().__init__(engine, clock)
        self._owner = owner
        self._writer = threading.Lock()
        self._together = Together(self._store)
        self._refused: EaselsideError | None = None  # why the last write was
        self._exchanges: dict[str, tuple[str, timedelta]] = {}
        self._ids = IdMaker(os.urandom)
        self._safe: int | None = None
        self.folder = folder
        self.look_only = look_only

    # -- opening and closing

    @classmethod
    def open(
        cls, where: Path | str | sa.URL, clock: Clock, *, durable: bool = True, look_only: bool = False
    ) -> "Logbook":
        """The logbook in a data folder, or at a database URL (also as text with "://").

        `look_only` needs no ownership: for `check`, `backup` and `export` beside a running server.
        Raises FolderInUse, FolderCopiedAbout, NoWorkshop (`look_only`), DamagedLogbook.
        """
        folder = owner = None
        if isinstance(where, sa.URL) or (isinstance(where, str) and "://" in where):
            engine = open_engine(where, durable=durable, look_only=look_only)
        else:
            folder = Path(where)
            database = folder / DATABASE
            refuse_copied_about(folder)
            backups.refuse_lost(folder)
            if look_only and not database.exists():
                raise NoWorkshop(folder=folder)
            if look_only:
                engine = open_to_look(database)
            else:
                owner = Owner(folder)
                backups.clear_away(folder)
                engine = open_engine(at(database), durable=durable)
        book = cls(engine, clock, folder, owner, look_only)
        try:
            book._begin()
        except BaseException as refusal:
            book.close()
            if isinstance(refusal, DamagedLogbook):
                raise backups.damaged(refusal.facts["detail"], folder) from refusal
            raise
        return book

    def _begin(self) -> None:
        with understood():
            if not self.look_only:
                tables.drop_outgrown(self._engine)
                tables.metadata.create_all(self._engine)
                with self._engine.begin() as connection:
                    self._found(connection)
            elif not sa.inspect(self._engine).has_table(tables.meta.name):
                raise NoWorkshop(folder=self.folder)
            with self.view() as connection:
                self.id = asking.meta(connection, "logbook") or ""
                self._exchanges = asking.exchanges(connection)
                self.slips_rev = asking.slips_rev(connection)
            self._read_back()

    def _found(self, connection: sa.Connection) -> None:
        """A new logbook gets its id; one whose derived tables stayed behind or are gone gets them again."""
        if asking.meta(connection, "logbook") is None:
            connection.execute(sa.insert(tables.meta), {"name": "logbook", "value": self.new_id()})
        last = connection.execute(sa.select(sa.func.max(tables.changes.c.seq))).scalar() or 0
        folded = connection.execute(sa.select(tables.head.c.folded)).scalar()
        if folded != last or not asking.tables_are_filled(connection, last):
            rebuild(connection)

    def close(self) -> None:
        self._engine.dispose()
        if self._owner is not None:
            self._owner.leave()

    def __enter__(self) -> "Logbook":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    # -- writing

    def receive(
        self, device: str, device_now: str, changes: Sequence[Change], offers: Sequence[Offer] = ()
    ) -> Answer:
        """Changes of one exchange, oldest first; durable when this returns.

        They must be well formed (`exchange.schemas` sees to that). Raises DiskFull, ReadOnly, StorageFailed,
        StorageBusy; then nothing of it was stored.
        """
        now = write_instant(self._clock.now())
        last = self._exchanges.get(device)
        clocks = clocks_at(device_now, now, last[0] if last else None)
        if changes or offers:
            answer = self._together.hand_in(Letter(device, now, clocks, changes, offers))
            self._remember(answer["end"])
        else:
            answer = Answer(accepted=[], offered=[], end=self.end(), now=now)
        self._exchanges[device] = now, clocks.off
        return answer

    def _store(self, letters: Sequence[Letter]) -> list[Answer]:
        """Each by itself, in turn; one commit for all."""
        answers = []
        with self._writing() as connection:
            for letter in letters:
                page = OpenPage(connection)
                offered = take_offers(page, letter.offers, letter.device, letter.now) if letter.offers else []
                accepted, end = take(page, letter.changes, letter.clocks), page.write()
                asking.note_exchange(connection, letter.device, letter.now, letter.clocks.off)
                answers.append(Answer(accepted=accepted, offered=offered, end=end, now=letter.now))
        return answers

    def write(
        self,
        kind: str,
        record: str,
        set: Mapping[str, Value],
        device: str = SERVER,
        saw: Mapping[str, str | None] | None = None,
        back: bool = False,
    ) -> Accepted:
        """One change made on the server itself; it saw what stands there now unless told otherwise."""
        at = self._clock.now()
        now = write_instant(at)
        with self._writing() as connection:
            page = OpenPage(connection)
            page.load({kind: [record]})
            fields = page.fields(kind, record)
            if saw is None:
                saw = {name: fields[name]["change"] if name in fields else None for name in set}
            change = Change(
                id=self._ids.make(int(at.timestamp() * 1000)),
                v=1,
                kind=kind,
                record=record,
                device=device,
                made=now,
                set=dict(set),
                saw=dict(saw),
                back=back,
            )
            (accepted,) = take(page, [change], Clocks(now, now, timedelta(0), None))
            page.write()
        self.told(device)
        return accepted

    @contextmanager
    def _writing(self) -> Iterator[sa.Connection]:
        with self._writer:
            self._clear_doubt()
            try:
                with understood(), self._engine.begin() as connection:
                    yield connection
            except DamagedLogbook as damage:
                self._wrong = damage
                raise
            except (StorageFailed, DiskFull, ReadOnly) as refusal:
                self._refused = refusal
                raise
            self._refused = None

    def _clear_doubt(self) -> None:
        """After a failed sync nothing is acknowledged until the database was opened again and read back."""
        if not isinstance(self._refused, StorageFailed):
            return
        self._engine.dispose()
        with understood():
            with self._engine.connect() as connection:
                raw = connection.connection.driver_connection
                if self._engine.dialect.name == "sqlite" and raw is not None:
                    asking.sync_all(raw)
            self._read_back()

    def _read_back(self) -> None:
        """The last rows must be what was written; who only looks is let in all the same."""
        try:
            with self.view() as connection:
                problem = checking.tail_problem(connection, TAIL)
                if problem:
                    raise DamagedLogbook(detail=problem)
        except DamagedLogbook:
            if not self.look_only:
                raise

    # -- how it stands

    def safe(self) -> int:
        """The last row common to all kept backups: phones keep what is above it."""
        if self._safe is None:
            with self.view() as connection:
                self._safe = backups.safe_seq(connection, self.folder)
        return self._safe

    def health(self) -> Health:
        """What is wrong, if anything; never raises."""
        seq, unreadable = -1, None
        try:
            seq = self.end()["seq"]
        except Exception as problem:
            unreadable = problem
        writable = self._refused is None and not self.look_only
        wrong = what_is_wrong(unreadable, [self._refused, self._wrong], self.clock_doubt())
        return Health(logbook=self.id, seq=seq, now=self.now(), writable=writable, wrong=wrong)

    def clock_doubt(self) -> timedelta | None:
        """By how much the phones of the last thirty days, agreeing with each other, are off this clock."""
        since = write_instant(self._clock.now() - timedelta(days=30))
        return server_clock_doubt([off for at, off in self._exchanges.values() if at >= since])

    # -- looking after it

    def check(self, progress: Progress = checking.untold) -> checking.Report:
        return checking.check(self._engine, backups.way_back(self.folder), progress=progress)

    def rebuild(self) -> None:
        """The derived tables again, from the changes."""
        with self._writer, understood(), self._engine.begin() as connection:
            rebuild(connection)

    def backup(self, into: Path | None = None, keep: int = backups.KEEP, **shown: Progress) -> Path:
        """Today's backup, read back, in the data folder or elsewhere; the oldest beyond `keep` go.

        `progress=` is told how far it is.
        """
        made = backups.backup(self._engine, self.folder, self._clock.now(), into, keep, **shown)
        self._safe = None
        return made

    def erase(self, kind: str, record: str, fields: Sequence[str]) -> erasing.Erased:
        """Blank a person's words in a record and every change of it; phones are told by a change to null."""
        self.write(kind, record, dict.fromkeys(fields, None))
        with self._writer, understood(), self._engine.begin() as connection:
            blanked = erasing.blank(connection, kind, record, set(fields))
        return erasing.Erased(rows=blanked, backups=[p.name for p in backups.kept(self.folder)])

    def import_json(self, source: IO[bytes]) -> str:
        """An export into this empty workshop; answers the state's hash, which is the export's own.

        Raises NotEmpty, ExportUnusable; then nothing was taken in.
        """
        with self._writer, understood(), self._engine.begin() as connection:
            return export.import_json(connection, source, self.folder)
