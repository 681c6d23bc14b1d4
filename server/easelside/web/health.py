"""Is everything well? Asked by the client, by a person, and by whatever looks after the machine."""

from importlib.metadata import PackageNotFoundError, version
from typing import Any

import marshmallow as ma
from flask.views import MethodView

from easelside.web.blueprint import Blueprint
from easelside.web.fields import Closed, Instant, YesNo
from easelside.web.house import house


def own_version() -> str:
    try:
        return version("easelside")
    except PackageNotFoundError:
        return "not installed"


class WrongSchema(Closed):
    code = ma.fields.String(required=True)
    what_happened = ma.fields.String(required=True)
    what_to_do = ma.fields.String(required=True)


class HealthSchema(Closed):
    logbook = ma.fields.String(required=True, metadata={"description": "The logbook's id"})
    seq = ma.fields.Integer(required=True, metadata={"description": "The last row of the logbook"})
    now = Instant(required=True, metadata={"description": "The server's clock"})
    version = ma.fields.String(required=True)
    writable = YesNo(required=True)
    wrong = ma.fields.List(
        ma.fields.Nested(WrongSchema), required=True, metadata={"description": "Empty where all is well"}
    )


def blueprint() -> Blueprint:
    server = Blueprint("server", __name__, url_prefix="/api", description="The server itself")

    @server.route("/health")
    class Health(MethodView):
        @server.answers(200, HealthSchema)
        def get(self) -> dict[str, Any]:
            """The logbook's id, its last row, the clock, the version, and what is wrong if anything is"""
            return {**house().logbook.health(), "version": own_version()}

    return server
