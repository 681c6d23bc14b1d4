"""Is this still the logbook that the phones knew? If not, it gets a new id and they offer what they hold."""

import logging
import threading

import sqlalchemy as sa

from easelside.errors import EndNotKnown
from easelside.logbook.door import understood
from easelside.logbook.ids import IdMaker
from easelside.logbook.reader import Reader
from easelside.logbook.tables import meta

log = logging.getLogger("easelside.logbook")

ANEW_EVERY_S = 3600.0


class Anew(Reader):
    _writer: threading.Lock
    _ids: IdMaker
    _begun_anew_s: float | None = None  # by the clock that only goes forward

    def begin_anew(self) -> str:
        """A new id: every phone then offers what it holds (after a restore)."""
        with self._writer:
            return self._take_new_id()

    def was_put_back(self, device: str, named: str) -> None:
        """`device` knows an end that is not here: the folder was put back by hand. Begins anew.

        `named`: the logbook's id that the device knows; where another phone came first, nothing is left to
        do. A folder is put back while no server runs, so once after each start is enough; a device that is
        let in may say what it likes, so it is once an hour. Raises EndNotKnown before the hour is over.
        """
        with self._writer:
            if named != self.id:
                return
            at = self._clock.monotonic_s()
            if self._begun_anew_s is not None and at - self._begun_anew_s < ANEW_EVERY_S:
                raise EndNotKnown
            self._take_new_id()
            self._begun_anew_s = at
        log.warning("Device %s knows more than this logbook holds: every phone is asked for its own.", device)

    def new_id(self) -> str:
        """A time-ordered id for a record that the server makes."""
        return self._ids.make(int(self._clock.now().timestamp() * 1000))

    def _take_new_id(self) -> str:
        with understood(), self._engine.begin() as connection:
            fresh = self.new_id()
            connection.execute(sa.update(meta).where(meta.c.name == "logbook").values(value=fresh))
        self.id = fresh
        return fresh
