"""How are the records of one kind shown and written over REST? Once, for every room."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Any
from uuid import UUID

import marshmallow as ma
from flask import Response, jsonify, request
from flask.views import MethodView
from marshmallow import validate
from werkzeug.exceptions import PreconditionFailed

from easelside.errors import UnknownRecord
from easelside.logbook.model import Record, Value, is_removed, values
from easelside.web import fields
from easelside.web.blueprint import Blueprint
from easelside.web.house import House, house

LONGEST_PAGE = 100

Shaped = dict[str, Value]


class PageQuery(fields.Closed):
    after = ma.fields.String(
        validate=validate.Regexp(r"^[0-9a-f-]{36}$"),
        metadata={"description": "`next` of the page before; newest records come first"},
    )
    limit = ma.fields.Integer(load_default=50, validate=validate.Range(1, LONGEST_PAGE))
    in_play = ma.fields.Boolean(
        load_default=False,
        truthy={"true"},
        falsy={"false"},
        metadata={"description": "Only what somebody at the bench wants at hand today, all at once"},
    )


class Standing(fields.Closed):
    """What every record has besides its own fields."""

    id = fields.Uuid(required=True)
    seq = ma.fields.Integer(required=True, metadata={"description": "The last row of the logbook about it"})
    changed = fields.Instant(required=True)
    removed = fields.YesNo()
    more = ma.fields.Dict(
        keys=ma.fields.String(),
        metadata={"description": "Fields that this version does not know or understand, word for word"},
    )


class NothingDerived(fields.Closed):
    pass


class MayBeRemoved(fields.Closed):
    removed = fields.YesNo(metadata={"description": "true hides the record; only false shows it again"})


def as_they_are(record: Record) -> Shaped:
    return values(record["fields"])


def nothing_more(record: Record) -> Shaped:
    return {}


def nothing_first(now: datetime, said: Shaped) -> Shaped:
    return {}


@dataclass(frozen=True)
class Resource:
    """A kind of record as REST shows it.

    `shape` turns a record into the names of `schema`; `derive` adds what follows from it, in the names of
    `derived`; `first` fills what a new one does not say.
    """

    kind: str
    name: str
    schema: type[ma.Schema]
    derived: type[ma.Schema] = NothingDerived
    shape: Callable[[Record], Shaped] = as_they_are
    derive: Callable[[Record], Shaped] = nothing_more
    first: Callable[[datetime, Shaped], Shaped] = nothing_first

    @property
    def path(self) -> str:
        """care_task: care-tasks, batch: batches, tally: tallies, care_done: care-done."""
        word = self.kind.replace("_", "-")
        if word.endswith("done"):
            return word
        return word[:-1] + "ies" if word.endswith("y") else word + ("es" if word.endswith("ch") else "s")


def shown(resource: Resource, record: Record) -> Shaped:
    """The record for an answer: what its schema does not take stands under `more`."""
    known: Mapping[str, ma.fields.Field[Any]] = _schema_of(resource.schema).fields
    found: Shaped = {"id": record["id"], "seq": record["seq"], "changed": record["when"]}
    more: Shaped = {}
    for name, value in resource.shape(record).items():
        if name == "removed":
            found[name] = value is True
        elif name in known and _is_taken(known[name], value):
            found[name] = value
        else:
            more[name] = value
    if more:
        found["more"] = more
    return found | resource.derive(record)


def _is_taken(field: ma.fields.Field[Any], value: Value) -> bool:
    try:
        field.deserialize(value)
    except ma.ValidationError:
        return False
    return True


@cache
def _schema_of(schema: type[ma.Schema]) -> ma.Schema:
    return schema()


def find(resource: Resource, id: UUID) -> Record:
    record = house().logbook.record(resource.kind, str(id))
    if record is None:
        raise UnknownRecord(kind=resource.kind.replace("_", " "), id=id)
    return record


def page(resource: Resource, after: str | None, limit: int) -> Shaped:
    """The newest records behind a cursor, removed ones left out."""
    items: list[Shaped] = []
    while True:
        some = house().logbook.records(resource.kind, after, limit, newest_first=True)
        for record in some:
            after = record["id"]
            if not is_removed(record["fields"]):
                items.append(shown(resource, record))
                if len(items) == limit:
                    return {"items": items, "next": after}
        if len(some) < limit:
            return {"items": items, "next": None}


def at_hand(resource: Resource) -> list[Shaped]:
    """What is in play, from the shelf, the newest first."""
    return [shown(resource, record) for record in reversed(house().shelf.records(resource.kind))]


def answer(resource: Resource, record: Record, schema: ma.Schema, status: int = 200) -> Response:
    reply = jsonify(schema.dump(shown(resource, record)))
    reply.status_code = status
    reply.set_etag(str(record["seq"]))
    if status == 200 and request.method == "GET":
        reply.make_conditional(request)
    return reply


def write(resource: Resource, id: str, changed: Mapping[str, Value]) -> Record:
    """The fields of a record as one change; with If-Match only onto what was read."""
    at: House = house()
    with at.one_at_a_time:
        before = at.logbook.record(resource.kind, id)
        if request.if_match and not (before and request.if_match.contains(str(before["seq"]))):
            raise PreconditionFailed
        if changed or before is None:
            at.logbook.write(resource.kind, id, changed)
        written = at.logbook.record(resource.kind, id)
    assert written is not None
    return written


def standing_schema(resource: Resource) -> ma.Schema:
    """What an answer about one record holds."""
    made: ma.Schema = type(resource.name, (resource.derived, resource.schema, Standing), {})()
    return made


def page_schema(resource: Resource, one: ma.Schema) -> type[ma.Schema]:
    """Some records, and the cursor of the next page; null behind the last."""
    items = {
        "items": ma.fields.List(ma.fields.Nested(one), required=True),
        "next": ma.fields.String(required=True, allow_none=True),
    }
    return type(f"{resource.name}Page", (fields.Closed,), items)


def publish(blueprint: Blueprint, resource: Resource, *, writable: bool = False) -> None:
    """The routes of one kind: a list, each record, and where it is writable a new one and changes of one."""
    name = resource.name
    out = standing_schema(resource)

    class List(MethodView):
        @blueprint.takes(PageQuery, "query")
        @blueprint.answers(200, page_schema(resource, out))
        def get(self, query: dict[str, Any]) -> Shaped:
            if query["in_play"]:
                return {"items": at_hand(resource), "next": None}
            return page(resource, query.get("after"), query["limit"])

    one = one_view(blueprint, resource, out)
    List.get.__doc__ = f"{name}: the newest first"
    if writable:
        _make_writable(blueprint, resource, List, one, out)
    blueprint.route(f"/{resource.path}", endpoint=resource.path)(List)
    blueprint.route(f"/{resource.path}/<uuid:id>", endpoint=f"{resource.path}-one")(one)


def one_view(blueprint: Blueprint, resource: Resource, out: ma.Schema) -> type[MethodView]:
    class One(MethodView):
        @blueprint.answers(200, out)
        @blueprint.refuses(404)
        def get(self, id: UUID) -> Response:
            return answer(resource, find(resource, id), out)

    One.get.__doc__ = f"{resource.name}: one record, with its ETag"
    return One


def _make_writable(
    blueprint: Blueprint,
    resource: Resource,
    many: type[MethodView],
    one: type[MethodView],
    out: ma.Schema,
) -> None:
    new = type(f"New{resource.name}", (resource.schema,), {})
    change = type(f"{resource.name}Change", (resource.schema, MayBeRemoved), {})

    @blueprint.takes(new)
    @blueprint.answers(201, out)
    def post(self: MethodView, said: dict[str, Any]) -> Response:
        at = house()
        record = write(resource, at.logbook.new_id(), resource.first(at.clock.now(), said) | said)
        reply = answer(resource, record, out, 201)
        reply.headers["Location"] = f"{request.path.rstrip('/')}/{record['id']}"
        return reply

    @blueprint.takes(change)
    @blueprint.answers(200, out)
    @blueprint.refuses(404, 412)
    @blueprint.takes_if_match
    def patch(self: MethodView, said: dict[str, Any], id: UUID) -> Response:
        find(resource, id)
        return answer(resource, write(resource, str(id), said), out)

    post.__doc__ = f"{resource.name}: a new one, made on the server"
    patch.__doc__ = (
        f"{resource.name}: some fields changed; null says nothing\n\n"
        "With the header If-Match only where nobody changed it since."
    )
    many.post, one.patch = post, patch  # type: ignore[attr-defined]
    many.methods, one.methods = {"GET", "POST"}, {"GET", "PATCH"}
