"""How is the server put together? The only place where rooms meet."""

from threading import Lock

from flask import Flask

from easelside.alarms import routes as alarms
from easelside.alarms.bell import Bell
from easelside.alarms.model import Asker
from easelside.alarms.watch import NAME as ALARMS
from easelside.alarms.watch import Alarms
from easelside.batches import routes as batches
from easelside.blades import routes as blades
from easelside.care import routes as care
from easelside.clock import Clock, SystemClock
from easelside.exchange import routes as exchange
from easelside.forecast import calling
from easelside.forecast.current import Current
from easelside.logbook.book import Logbook
from easelside.pairing import routes as pairing
from easelside.pairing.bench import AtTheBench
from easelside.pairing.desk import Desk
from easelside.pairing.store import Store
from easelside.pairing.streams import Lines
from easelside.profiling import routes as profiling
from easelside.records import routes as records
from easelside.set_up import routes as set_up
from easelside.settings import Settings, own_folder
from easelside.shelf.at_hand import Shelf
from easelside.soak import routes as soak
from easelside.trust import routes as trust
from easelside.web import health
from easelside.web.blueprint import Api
from easelside.web.client import serve_client
from easelside.web.docs import serve_docs
from easelside.web.doors import NAME as WAY_IN
from easelside.web.doors import OwnOnly, WayIn
from easelside.web.guard import guard
from easelside.web.house import NAME, House
from easelside.web.problem import register_problems
from easelside.web.serving import AT_CLOSING, FOR_EXCHANGES, THREADS
from easelside.web.trusting import trust_pages

ABOUT = (
    "The records of one workshop. Most of them travel by the exchange, as changes; these are the same ones "
    "one by one. Times are RFC 3339 in UTC, days are calendar days in the workshop's time zone, lengths are "
    "millimetres, durations seconds."
)


def create_app(
    settings: Settings,
    clock: Clock | None = None,
    logbook: Logbook | None = None,
    current: Current | None = None,
    way: WayIn | None = None,
) -> Flask:
    """The whole server as a WSGI application. Opens the logbook where none is handed in."""
    clock = clock or SystemClock()
    logbook = logbook or Logbook.open(settings.data, clock)
    current = current or Current(logbook)

    app = Flask("easelside", static_folder=None)
    app.url_map.strict_slashes = False
    app.config.update(
        API_TITLE="Easelside",
        API_VERSION="1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api",
        API_SPEC_OPTIONS={"info": {"description": ABOUT}},
    )
    app.json.sort_keys = False  # type: ignore[attr-defined]  # of the default provider
    shelf = Shelf(logbook, clock)
    app.extensions[NAME] = House(logbook, shelf, clock, Lock())
    app.extensions[WAY_IN] = way = way or OwnOnly(settings.hosts)
    guard(app, way)

    desk, lines = Desk(Store(logbook.folder), clock), Lines(THREADS - FOR_EXCHANGES)
    bench = AtTheBench(logbook, clock)

    def told(by: str) -> None:
        bench.turn_stale()
        lines.tell(by)

    logbook.told = told
    app.extensions[AT_CLOSING] = lines.close
    app.register_blueprint(
        pairing.blueprint(
            desk,
            lines,
            bench,
            lambda: device_names(logbook),
            lambda: way.address,
        )
    )
    app.extensions[ALARMS] = calls = Alarms(
        logbook,
        clock,
        lambda now: calling.facts(shelf, current, now),
        Bell(settings.bell),
        logbook.folder or own_folder(),
        loopback_push=settings.loopback_push,
    )

    def drop_strangers() -> None:
        calls.postman.keep_only(desk.let_in_ids())

    desk.withdrew = drop_strangers
    drop_strangers()  # a backup may have brought back who was withdrawn since

    api = Api(app)
    register_problems(app)
    for blueprint in (
        health.blueprint(),
        soak.blueprint(lambda: calling.workshop(shelf)),
        set_up.blueprint(),
        profiling.blueprint(),
        batches.blueprint(current.stands),
        blades.blueprint(lambda blade: current.blade(blade, clock.now())),
        care.blueprint(lambda task: current.due(task, clock.now())),
        alarms.blueprint(
            calls, lambda path: pairing.linked(lambda: way.address, path), asker, desk.let_in_ids
        ),
    ):
        api.register_blueprint(blueprint)
    app.register_blueprint(exchange.blueprint(logbook, clock))
    app.register_blueprint(records.blueprint(logbook))
    app.register_blueprint(trust.blueprint(way))
    app.register_blueprint(trust_pages(way.facts))
    serve_docs(app)
    serve_client(app)
    return app


def asker() -> Asker:
    guest = pairing.who_asks()
    return Asker(guest.device.id if guest.device else None, guest.role == "maker")


def device_names(logbook: Logbook) -> dict[str, str]:
    """What each device calls itself in the records, where it does."""
    found = ((one["id"], one["fields"].get("name")) for one in logbook.records("device", limit=1000))
    return {id: field["value"] for id, field in found if field and isinstance(field["value"], str)}
