"""Where does the server listen? On this machine always, for phones and a trusted proxy where wanted.

The way in for phones is opened and shut while the server runs. While it is open, its certificate and the name
that is announced follow the machine's addresses.
"""

import logging
import signal
import threading
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from types import FrameType
from typing import Any

from flask import Flask

from easelside.clock import Clock
from easelside.errors import CertificateUnusable, EaselsideError, NotLoopback
from easelside.settings import EVERYWHERE, LOOPBACK, Settings, own_folder
from easelside.trust.addresses import host_name, private_addresses
from easelside.trust.announcing import Announcer
from easelside.trust.keeping import Keeper
from easelside.trust.model import Facts
from easelside.trust.rules import is_near
from easelside.web.doors import OWN, PHONES, PROXY
from easelside.web.opening import prepare, shut, through, to_trust, url
from easelside.web.papers import OwnPapers, Papers, WorkshopPapers
from easelside.web.patience import MOST_OPEN, Admits, ForPlainHttp, PatientServer
from easelside.web.serving import AT_CLOSING, LONGEST_BODY, THREADS
from easelside.web.tls import LazyTls
from easelside.web.trusting import trust_app

log = logging.getLogger("easelside.web")

LOOK_EVERY_S = 20.0
TRUST_THREADS = 6
SWITCH = "phones_on"  # an empty file in the data folder: how the switch on the screen was left


class Listening:
    """All doors of one server. Raises NotLoopback where the machine's own door would not be that."""

    def __init__(self, settings: Settings, clock: Clock) -> None:
        if settings.host not in LOOPBACK:
            raise NotLoopback(host=settings.host)
        if (settings.certificate is None) != (settings.key is None):
            given = settings.certificate or settings.key
            raise CertificateUnusable(file=given, detail="its other half is missing")
        self._settings, self._clock = settings, clock
        self._folder = settings.data if isinstance(settings.data, Path) else own_folder()
        self._own_hosts = frozenset(name.strip("[]").lower() for name in settings.hosts)
        self._app: Flask | None = None
        self._switching = threading.Lock()
        self._papers: Papers | None = None
        self._phones: PatientServer | None = None
        self._trust: PatientServer | None = None
        self._tls: LazyTls | None = None
        self._announcer = Announcer()
        self._closing = threading.Event()
        self._wake = threading.Event()

    # -- what the rest may know (doors.WayIn)

    @property
    def on(self) -> bool:
        return self._phones is not None or self._settings.behind_proxy is not None

    @property
    def address(self) -> str | None:
        if self._settings.behind_proxy is not None:
            return f"https://{self._settings.behind_proxy}/"
        facts = self.facts()
        return None if facts is None else url("https", facts.name, facts.port)

    def hosts(self, door: str) -> Collection[str]:
        if door == OWN:
            return self._own_hosts
        if door == PROXY and self._settings.behind_proxy is not None:
            return (self._settings.behind_proxy.partition(":")[0].lower(),)
        papers = self._papers
        return papers.hosts() if door == PHONES and papers is not None else ()

    def facts(self) -> Facts | None:
        """What a phone has to know to come in; None while the phones' door is shut."""
        papers, phones, trust = self._papers, self._phones, self._trust
        if papers is None or phones is None:
            return None
        authority = papers.authority
        return Facts(
            name=papers.name,
            port=phones.bind_addr[1],
            addresses=self._reached_at(),
            trust_port=trust.bind_addr[1] if trust is not None else None,
            authority=None if authority is None else authority.name,
            fingerprint=None if authority is None else authority.fingerprint,
            certificate=None if authority is None else authority.der,
            ends=None if authority is None else authority.ends,
        )

    # -- the switch

    def wants_phones(self) -> bool:
        """As the command said, else as the switch was left."""
        said = self._settings.phones
        return (self._folder / SWITCH).exists() if said is None else said

    def switch(self, on: bool) -> None:
        """Opens or shuts the phones' door and keeps that for the next start.

        Raises PortTaken, AuthorityUnusable, CertificateUnusable.
        """
        if on:
            self.open_phones()
            (self._folder / SWITCH).touch()
        else:
            (self._folder / SWITCH).unlink(missing_ok=True)
            self.shut_phones()

    def open_phones(self) -> None:
        with self._switching:
            if self._phones is not None or self._app is None:
                return
            settings = self._settings
            papers = self._open_papers()
            papers.look()
            tls = LazyTls(papers.file, papers.key)
            app = through(self._app, PHONES)
            trust, admits = None, None
            if papers.authority is not None:
                # it vouches for private addresses only, so nobody else has anything to ask here
                admits = is_near
                trust = self._server(
                    (settings.phones_host, settings.trust_port),
                    trust_app(self.facts),
                    TRUST_THREADS,
                    100,
                    admits=admits,
                )
                prepare(trust)
            try:
                phones = self._server(
                    (settings.phones_host, settings.phones_port),
                    app,
                    THREADS,
                    for_plain_http=partial(to_trust, None if trust is None else trust.bind_addr[1]),
                    admits=admits,
                )
                phones.ssl_adapter = tls
                prepare(phones)
            except BaseException:
                if trust is not None:
                    trust.stop()
                raise
            self._papers, self._tls, self._phones, self._trust = papers, tls, phones, trust
            for name, server in (("phones", phones), ("trust", trust)):
                if server is not None:
                    threading.Thread(target=server.serve, name=name, daemon=True).start()
        self._wake.set()  # announcing takes two seconds, and nobody waits for that

    def shut_phones(self) -> None:
        with self._switching:
            phones, trust = self._phones, self._trust
            self._phones = self._trust = self._tls = self._papers = None
            self._announcer.stop()
            if phones is not None and self._app is not None:
                self._app.extensions.get(AT_CLOSING, lambda: None)()
            for server in (phones, trust):
                if server is not None:
                    shut(server)

    def look(self) -> None:
        """Once in a while: does the certificate still serve, are the addresses still the same?"""
        with self._switching:
            if self._papers is None or self._tls is None:
                return
            if self._papers.look():
                self._tls.show(self._papers.file, self._papers.key)
            self._announce()

    # -- from start to end

    def serve(self, app: Flask, opened: Callable[[], None]) -> None:
        """Serves until SIGTERM or Ctrl-C; `opened` is called once all doors are open. Main thread only.

        Raises PortTaken, AuthorityUnusable, CertificateUnusable.
        """
        with self.running(app) as own:

            def stop(_signal: int, _frame: FrameType | None) -> None:
                app.extensions.get(AT_CLOSING, lambda: None)()
                threading.Thread(target=own.stop, name="stopping").start()

            for number in (signal.SIGTERM, signal.SIGINT):
                signal.signal(number, stop)
            opened()
            own.serve()

    @contextmanager
    def running(self, app: Flask) -> Iterator[PatientServer]:
        """All doors prepared, the others served by threads; the machine's own is the caller's to serve."""
        settings = self._settings
        self._app = app
        own = self._server((settings.host, settings.port), through(app, OWN), THREADS, 200)
        proxy: PatientServer | None = None
        prepare(own)
        self.own_address = url("http", settings.host, own.bind_addr[1])
        looking = threading.Thread(target=self._look_often, name="looking", daemon=True)
        try:
            if settings.behind_proxy is not None:
                proxy = self._server((LOOPBACK[0], settings.proxy_port), through(app, PROXY), THREADS, 200)
                prepare(proxy)
                threading.Thread(target=proxy.serve, name="proxy", daemon=True).start()
            if self.wants_phones():
                self._open_as_left()
            looking.start()
            yield own
        finally:
            self._closing.set()
            self._wake.set()
            app.extensions.get(AT_CLOSING, lambda: None)()
            self.shut_phones()
            for server in (proxy, own):
                if server is not None:
                    server.stop()

    def _open_as_left(self) -> None:
        """What the command asked for has to work; what a switch was left at keeps nobody from the bench."""
        try:
            self.open_phones()
        except EaselsideError as problem:
            if self._settings.phones:
                raise
            log.error("Phones cannot come in: %s", problem)

    def _look_often(self) -> None:
        while True:
            self._wake.wait(LOOK_EVERY_S)
            self._wake.clear()
            if self._closing.is_set():
                return
            try:
                self.look()
            except Exception:
                log.exception("The certificate could not be looked after; tried again shortly.")

    def _server(
        self,
        at: tuple[str, int],
        app: Any,
        threads: int,
        most_open: int = MOST_OPEN,
        for_plain_http: ForPlainHttp | None = None,
        admits: Admits | None = None,
    ) -> PatientServer:
        return PatientServer(
            at,
            app,
            threads=threads,
            elapsed=self._clock.monotonic_s,
            longest_body=LONGEST_BODY,
            most_open=most_open,
            for_plain_http=for_plain_http,
            admits=admits,
        )

    def _open_papers(self) -> Papers:
        settings = self._settings
        if settings.certificate is not None and settings.key is not None:
            return OwnPapers(settings.certificate, settings.key)
        return WorkshopPapers(Keeper(self._folder, self._clock, host_name, self._reached_at))

    def _reached_at(self) -> list[str]:
        host = self._settings.phones_host
        return private_addresses() if host == EVERYWHERE else [host]

    def _announce(self) -> None:
        if self._papers is not None and self._phones is not None and self._papers.authority is not None:
            self._announcer.say(self._papers.name, self._phones.bind_addr[1], self._reached_at())
