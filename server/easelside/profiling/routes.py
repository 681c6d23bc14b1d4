"""Sessions and pieces over REST: read; a session's checklist: written too."""

from typing import Any
from uuid import UUID

from flask import Response
from flask.views import MethodView

from easelside.logbook.model import Record, values
from easelside.profiling.model import read_piece
from easelside.profiling.rules import outcome_of
from easelside.profiling.schemas import ChecksSchema, PieceQuery, PieceSchema, SessionSchema
from easelside.web.blueprint import Blueprint
from easelside.web.house import house
from easelside.web.records import (
    Resource,
    Shaped,
    answer,
    find,
    one_view,
    page_schema,
    publish,
    shown,
    standing_schema,
    write,
)

LISTS = {"check/": "set_up", "wind/": "wind_down"}


def session_shape(record: Record) -> Shaped:
    """`check/edge` of the record is `set_up.edge` here, `wind/oiled` is `wind_down.oiled`."""
    return gathered(values(record["fields"]), LISTS)


def checks_shape(record: Record) -> Shaped:
    shaped = session_shape(record)
    return {name: shaped.get(name, {}) for name in LISTS.values()}


def piece_shape(record: Record) -> Shaped:
    fields = values(record["fields"])
    when = {name: field["when"] for name, field in record["fields"].items()}
    piece = read_piece(record["id"], fields, when)
    said = {n: v for n, v in fields.items() if not n.startswith("outcome/")}
    shaped = gathered(set_aside(said, "outcome", "outcomes"), {"turns/": "turns"})
    shaped["outcomes"] = [{"change": change, "outcome": outcome} for change, outcome in piece.outcomes]
    if piece.outcomes:
        shaped["outcome"] = outcome_of(piece)
    return shaped


def gathered(fields: Shaped, prefixes: dict[str, str]) -> Shaped:
    """Fields named prefix/what as one object each."""
    found: Shaped = {}
    for name, value in set_aside(fields, *prefixes.values()).items():
        start, slash, rest = name.partition("/")
        under = prefixes.get(start + slash)
        if under is None:
            found[name] = value
        else:
            found.setdefault(under, {})[rest] = value
    return found


def set_aside(fields: Shaped, *names: str) -> Shaped:
    """A field that bears a name of ours is shown as an unknown one, with a star behind its name."""
    return {f"{name}*" if name in names else name: value for name, value in fields.items()}


def spread(said: dict[str, dict[str, Any]]) -> Shaped:
    return {f"{p}{what}": value for p, name in LISTS.items() for what, value in said.get(name, {}).items()}


SESSION = Resource("session", "Session", SessionSchema, shape=session_shape)
CHECKS = Resource("session", "SessionChecks", ChecksSchema, shape=checks_shape)
PIECE = Resource("piece", "Piece", PieceSchema, shape=piece_shape)


def blueprint() -> Blueprint:
    profiling = Blueprint("profiling", __name__, url_prefix="/api", description="Sessions and their pieces")
    publish(profiling, SESSION)
    publish_pieces(profiling)
    publish_checks(profiling)
    return profiling


def publish_pieces(profiling: Blueprint) -> None:
    """Ids of pieces carry no time, so their list goes by when they were first told of."""
    out = standing_schema(PIECE)

    @profiling.route("/pieces")
    class Pieces(MethodView):
        @profiling.takes(PieceQuery, "query")
        @profiling.answers(200, page_schema(PIECE, out))
        def get(self, query: dict[str, Any]) -> Shaped:
            """Pieces in the order in which they came in, by session, batch, machine, outcome"""
            logbook, limit = house().logbook, query.pop("limit")
            rows = logbook.pieces(query.pop("after"), limit, removed=False, **query)
            found = (logbook.record("piece", row["id"]) for row in rows)
            return {
                "items": [shown(PIECE, piece) for piece in found if piece is not None],
                "next": str(rows[-1]["key"]) if len(rows) == limit else None,
            }

    profiling.route("/pieces/<uuid:id>", endpoint="pieces-one")(one_view(profiling, PIECE, out))


def publish_checks(profiling: Blueprint) -> None:
    out = standing_schema(CHECKS)

    @profiling.route("/sessions/<uuid:id>/checks")
    class SessionChecks(MethodView):
        @profiling.answers(200, out)
        @profiling.refuses(404)
        def get(self, id: UUID) -> Response:
            """A session's checklist"""
            return answer(CHECKS, find(CHECKS, id), out)

        @profiling.takes(ChecksSchema)
        @profiling.answers(200, out)
        @profiling.refuses(404, 412)
        @profiling.takes_if_match
        def patch(self, said: dict[str, Any], id: UUID) -> Response:
            """Some lines of a session's checklist; null takes a line back"""
            find(CHECKS, id)
            return answer(CHECKS, write(CHECKS, str(id), spread(said)), out)
