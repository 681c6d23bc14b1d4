"""What is each part of the interface built on? flask-smorest with problem details and our JSON."""

from collections.abc import Callable
from typing import Any, TypeVar, cast

import marshmallow as ma
from flask import Request, Response
from flask_smorest import Api as SmorestApi
from flask_smorest import Blueprint as SmorestBlueprint
from webargs.flaskparser import FlaskParser
from werkzeug.exceptions import HTTPException

from easelside.web.body import read_json
from easelside.web.problem import PROBLEM_JSON, Problem, answer_http

View = TypeVar("View", bound=Callable[..., Any])
Schema = ma.Schema | type[ma.Schema]

IF_MATCH = {
    "name": "If-Match",
    "in": "header",
    "description": "The ETag that was read: nothing is stored where the record was changed since",
    "schema": {"type": "string"},
}


class Parser(FlaskParser):
    DEFAULT_UNKNOWN_BY_LOCATION: dict[str, str | None] = {  # noqa: RUF012  # webargs declares it so
        **FlaskParser.DEFAULT_UNKNOWN_BY_LOCATION,
        "query": ma.RAISE,
    }

    def _raw_load_json(self, req: Request) -> Any:
        return read_json(req.get_data(cache=True))


class Blueprint(SmorestBlueprint):  # type: ignore[misc]  # the package carries no types
    ARGUMENTS_PARSER = Parser()
    PAGINATION_HEADER_NAME = None

    def at(self, rule: str, method: str = "GET") -> Callable[[View], View]:
        """One function for one method of one address."""
        return cast(Callable[[View], View], self.route(rule, methods=[method]))

    def answers_nothing(self, view: View) -> View:
        return cast(View, self.response(204)(view))

    def answers_text(self, media_type: str) -> Callable[[View], View]:
        return cast(Callable[[View], View], self.response(200, {"type": "string"}, content_type=media_type))

    def takes(self, schema: Schema, location: str = "json") -> Callable[[View], View]:
        return cast(Callable[[View], View], self.arguments(schema, location=location))

    def takes_if_match(self, view: View) -> View:
        return cast(View, self.doc(parameters=[IF_MATCH])(view))

    def answers(self, status: int, schema: Schema) -> Callable[[View], View]:
        return cast(Callable[[View], View], self.response(status, schema))

    def refuses(self, *statuses: int) -> Callable[[View], View]:
        """Documents the refusals of an operation as problem details."""

        def document(view: View) -> View:
            for status in statuses:
                view = cast(View, self.alt_response(status, schema=Problem, content_type=PROBLEM_JSON)(view))
            return view

        return document


class Api(SmorestApi):  # type: ignore[misc]
    ERROR_SCHEMA = Problem

    def _register_responses(self) -> None:
        """Documents the default errors as problem details."""
        self.DEFAULT_RESPONSE_CONTENT_TYPE = PROBLEM_JSON
        try:
            super()._register_responses()
        finally:
            del self.DEFAULT_RESPONSE_CONTENT_TYPE  # the class's own shows again

    def handle_http_exception(self, error: HTTPException) -> Response:
        return answer_http(error)
