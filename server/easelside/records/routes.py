"""What was written in one record before? Asked for when somebody looks; a phone holds its own last bit."""

import uuid
from typing import Any, Protocol

import flask
import msgspec

MOST_ROWS = 200


class HasHistory(Protocol):
    """A logbook, as far as its past is asked for."""

    def history(self, kind: str, record: str) -> list[Any]: ...


def blueprint(book: HasHistory) -> flask.Blueprint:
    """GET /api/past/KIND/ID: the changes of one record as {"changes": [...]}, oldest first, the last 200."""
    routes = flask.Blueprint("records", __name__, url_prefix="/api/past")

    @routes.get("/<kind>/<record>")
    def past(kind: str, record: str) -> flask.Response:
        try:
            id = str(uuid.UUID(record))
        except ValueError:
            flask.abort(404)
        changes = book.history(kind, id)[-MOST_ROWS:]
        return flask.Response(msgspec.json.encode({"changes": changes}), content_type="application/json")

    return routes
