"""How does an error leave the server? As a problem detail (RFC 9457); its status is decided only here."""

import json
import logging
from http import HTTPStatus
from typing import cast

import marshmallow as ma
from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException

from easelside import errors
from easelside.web.words import SENTENCES

log = logging.getLogger("easelside.web")

PROBLEM_JSON = "application/problem+json"
MOST_ERRORS = 20  # a body with a million wrong items is not answered with a million sentences
MOST_TEXT = 300

STATUS: dict[type[errors.EaselsideError], int] = {
    errors.Malformed: 400,
    errors.NotPaired: 403,
    errors.Withdrawn: 403,
    errors.MakersOnly: 403,
    errors.CodeNotTaken: 403,
    errors.SwitchElsewhere: 403,
    errors.PortTaken: 409,
    errors.AuthorityUnusable: 409,
    errors.CertificateUnusable: 409,
    errors.UnknownRecord: 404,
    errors.UnknownDevice: 404,
    errors.EndNotKnown: 409,
    errors.PushIsOff: 409,
    errors.NoPushService: 422,
    errors.TooLarge: 413,
    errors.GuessedTooSoon: 429,
    errors.NoLineFree: 503,
    errors.DiskFull: 507,
    errors.ReadOnly: 503,
    errors.StorageFailed: 503,
    errors.StorageBusy: 503,
    errors.DamagedLogbook: 503,
}

# HTTPStatus.phrase differs between Python versions (413, 422), so the titles stand here.
TITLES = {
    400: "Bad Request",
    403: "Forbidden",
    404: "Not Found",
    405: "Method Not Allowed",
    408: "Request Timeout",
    409: "Conflict",
    412: "Precondition Failed",
    413: "Content Too Large",
    414: "URI Too Long",
    415: "Unsupported Media Type",
    421: "Misdirected Request",
    422: "Unprocessable Content",
    428: "Precondition Required",
    429: "Too Many Requests",
    500: "Internal Server Error",
    503: "Service Unavailable",
    507: "Insufficient Storage",
}


class Problem(ma.Schema):
    """An error, as RFC 9457 writes it; `code` and `what_to_do` are ours."""

    type = ma.fields.String(required=True, metadata={"description": "about:blank: the status says it"})
    title = ma.fields.String(required=True)
    status = ma.fields.Integer(required=True)
    detail = ma.fields.String(required=True, metadata={"description": "What happened, in one sentence"})
    instance = ma.fields.String(metadata={"description": "The path asked for"})
    code = ma.fields.String(required=True, metadata={"description": "A name for it that stays"})
    what_to_do = ma.fields.String(required=True)
    errors = ma.fields.Dict(metadata={"description": "Part of the request: what is wrong with it"})


def status_of(error: errors.EaselsideError) -> int:
    """The status of the nearest class in the table; 500 for what no request can bring about."""
    return next((STATUS[kind] for kind in type(error).__mro__ if kind in STATUS), 500)


def problem(
    status: int, code: str, what_happened: str, what_to_do: str, found: dict[str, list[str]] | None = None
) -> Response:
    body: dict[str, object] = {
        "type": "about:blank",
        "title": TITLES.get(status) or HTTPStatus(status).phrase,
        "status": status,
        "detail": what_happened,
        "instance": request.path[:MOST_TEXT],
        "code": code,
        "what_to_do": what_to_do,
    }
    if found:
        body["errors"] = found
    return Response(json.dumps(body), status=status, content_type=PROBLEM_JSON)


def place() -> str:
    """The path asked for, as it may stand in a log: no private address."""
    rule = request.url_rule
    return rule.rule if rule is not None and "token" in (request.view_args or {}) else request.path


def answer_own(error: errors.EaselsideError) -> Response:
    status = status_of(error)
    if status == 500:
        log.error("%s at %r", error.code, place(), exc_info=error)
    answer = problem(status, error.code, error.what_happened, error.what_to_do)
    if isinstance(error, errors.StorageBusy):
        answer.headers["Retry-After"] = "3"
    if isinstance(error, errors.GuessedTooSoon):
        answer.headers["Retry-After"] = str(error.facts["wait_s"])
    return answer


def answer_http(error: HTTPException) -> Response:
    """A refusal of Flask, webargs or flask-smorest, with its headers (Allow, Retry-After) kept."""
    status = error.code or 500
    if error.response is not None or 300 <= status < 400:
        return cast(Response, Response.force_type(error.get_response(), request.environ))
    code, what_happened, what_to_do = SENTENCES.get(
        status, ("refused", f"{TITLES.get(status) or HTTPStatus(status).phrase}.", "Look at /api/docs.")
    )
    said = getattr(error, "data", None) or {}
    found = cut_short(said.get("errors") or said.get("messages"))
    if found:
        where, why = next(iter(found.items()))
        what_happened = f"{what_happened.removesuffix('.')}: {where}: {why[0]}"
    answer = problem(status, code, what_happened, what_to_do, found)
    for name, value in error.get_headers():
        if name.lower() not in ("content-type", "content-length"):
            answer.headers.add(name, value)
    return answer


def answer_unforeseen(error: Exception) -> Response:
    log.error("Unforeseen at %r", place(), exc_info=error)
    return problem(500, *SENTENCES[500])


def cut_short(messages: object) -> dict[str, list[str]]:
    """The first errors of a nested report, flat: {"json.soak_s": ["Not a valid number."]}."""
    found: dict[str, list[str]] = {}
    waiting: list[tuple[str, object]] = [("", messages)]
    while waiting and len(found) < MOST_ERRORS:
        path, part = waiting.pop()
        if isinstance(part, dict):
            some = list(zip(range(MOST_ERRORS), part.items(), strict=False))
            waiting += [(f"{path}.{str(k)[:60]}".lstrip("."), v) for _, (k, v) in reversed(some)]
        elif isinstance(part, (list, tuple)):
            found[path or "request"] = [str(why)[:MOST_TEXT] for why in part[:3]]
        elif part:
            found[path or "request"] = [str(part)[:MOST_TEXT]]
    return found


def register_problems(app: Flask) -> None:
    app.config["PROPAGATE_EXCEPTIONS"] = False
    app.register_error_handler(errors.EaselsideError, answer_own)
    app.register_error_handler(HTTPException, answer_http)
    app.register_error_handler(Exception, answer_unforeseen)
