"""Who asks, from which page, and how much do they send? Looked at before anything else is."""

from urllib.parse import urlsplit

from flask import Flask, Response, request
from werkzeug.exceptions import Forbidden, HTTPException, RequestEntityTooLarge, UnsupportedMediaType

from easelside.web.body import MOST_BYTES, refuse_deep
from easelside.web.doors import OWN, WayIn, door_of

CHANGING = {"POST", "PUT", "PATCH", "DELETE"}
WITH_BODY = {"POST", "PUT", "PATCH"}
READ_AWAY = 4 * MOST_BYTES

CLIENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
    "media-src 'self' data: blob:; connect-src 'self'; manifest-src 'self'; worker-src 'self'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": CLIENT_POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Frame-Options": "DENY",
}


class Misdirected(HTTPException):
    code = 421
    description = "Another host's name was asked for."


def host_name(host: str) -> str | None:
    """The name without its port, lower case; None where it is no host."""
    try:
        return urlsplit(f"//{host}").hostname
    except ValueError:
        return None


def guard(app: Flask, way: WayIn) -> None:
    """Refuses foreign hosts (DNS rebinding), other sites' pages (forged requests), bodies other than JSON."""
    app.config["MAX_CONTENT_LENGTH"] = MOST_BYTES

    @app.before_request
    def refuse() -> None:
        host = request.headers.get("Host", "")
        if host_name(host) not in way.hosts(door_of(request.environ)):
            raise Misdirected
        if request.method in CHANGING or _is_read_by_a_page():
            _refuse_other_pages(host, "http" if door_of(request.environ) == OWN else "https")
        if request.method in WITH_BODY and request.path.startswith("/api"):
            _refuse_other_bodies()

    @app.after_request
    def name_policies(response: Response) -> Response:
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        if request.path.startswith("/api"):
            response.headers.setdefault("Cache-Control", "no-store")
        return response


def _is_read_by_a_page() -> bool:
    """A page's own asking, also by a frame in it; not a person's following a link to us."""
    is_followed = request.headers.get("Sec-Fetch-Mode") == "navigate"
    is_framed = request.headers.get("Sec-Fetch-Dest", "document") != "document"
    return request.path.startswith("/api") and (not is_followed or is_framed)


def _refuse_other_pages(host: str, scheme: str) -> None:
    """Browsers name the page that a changing request comes from; other programs send no such header.

    A page in the clear is not the phones' door's: anybody on the network can show one under its name.
    """
    origin = request.headers.get("Origin")
    if origin is not None and origin.lower() != f"{scheme}://{host}".lower():
        raise Forbidden
    if request.headers.get("Sec-Fetch-Site", "same-origin") not in ("same-origin", "none"):
        raise Forbidden


def _refuse_other_bodies() -> None:
    """No form can send JSON's media type, nor can a page of another site without being asked first."""
    if request.content_length is not None and request.content_length > MOST_BYTES:
        _read_away(request.content_length)
        raise RequestEntityTooLarge
    if request.url_rule is None:
        return  # a 404 or 405 to come
    charset = request.mimetype_params.get("charset", "utf-8").lower()
    if not request.is_json or charset not in ("utf-8", "utf8") or request.headers.get("Content-Encoding"):
        raise UnsupportedMediaType
    if request.blueprint != "exchange":  # its own reader, the quick one, stops at depth by itself
        refuse_deep(request.get_data(cache=True))


def _read_away(length: int) -> None:
    """Takes in a body that is somewhat too large: who is cut off while sending never reads the answer."""
    left = length if length <= READ_AWAY else 0
    while left > 0 and (some := request.environ["wsgi.input"].read(min(left, 64 * 1024))):
        left -= len(some)
