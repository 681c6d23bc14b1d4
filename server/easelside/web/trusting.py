"""How does a phone learn to trust the workshop? A page that walks it there, and does nothing else.

It is served in the clear at a port of its own, because the phone does not trust the workshop yet, and once
more behind HTTPS, where the last steps can be looked at. Everything here is public: names, a certificate, a
fingerprint to compare.
"""

import json
from collections.abc import Callable
from pathlib import Path

from flask import Blueprint, Flask, Response, redirect, request
from werkzeug.exceptions import NotFound
from werkzeug.wrappers import Response as AnyResponse

from easelside.trust.model import Facts
from easelside.trust.rules import in_groups, is_of_a_house
from easelside.trust.words import SHORT_GROUPS
from easelside.web.client import CLIENT, Asset
from easelside.web.guard import host_name

PAGE = Path(__file__).parent / "trust_page"
FONTS = ("andika-latin-400-normal", "andika-latin-700-normal")
CERTIFICATE_TYPE = "application/x-x509-ca-cert"  # as any other type a phone shows it as text
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; "
    "connect-src 'self'{others}; worker-src 'self'; manifest-src 'self'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "X-Frame-Options": "DENY",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}


def places(facts: Facts) -> list[str]:
    """Every address that this phone might use, the best first; no closing slash."""
    return [f"https://{host}:{facts.port}" for host in (facts.name, *facts.addresses)]


def policy(facts: Facts | None) -> str:
    others = " " + " ".join(places(facts)) if facts is not None else ""
    return POLICY.format(others=others)


def trust_pages(facts: Callable[[], Facts | None]) -> Blueprint:
    """/trust and what belongs to it, /ca.crt, /probe."""
    pages = Blueprint("trust", __name__)
    own = {name: Asset(PAGE / name, forever=False) for name in ("page.css", "page.js", "words.js")}
    index = Asset(PAGE / "index.html", forever=False)

    def known() -> Facts:
        found = facts()
        if found is None or found.certificate is None:
            raise NotFound
        return found

    @pages.get("/trust")
    def page() -> Response:
        found = known()
        answer = index.answer()
        answer.headers["Content-Security-Policy"] = policy(found)
        return answer

    @pages.get("/trust/<name>")
    def part(name: str) -> Response:
        if name in own:
            return own[name].answer()
        if name.removesuffix(".woff2") in FONTS:
            for font in (CLIENT / "assets").glob(f"{name.removesuffix('.woff2')}*.woff2"):
                return Asset(font, forever=False).answer()
        raise NotFound

    @pages.get("/trust/facts.json")
    def told() -> Response:
        found = known()
        fingerprint = found.fingerprint or ""
        body = {
            "authority": found.authority,
            "fingerprint": fingerprint,
            "short": in_groups(fingerprint, SHORT_GROUPS),
            "whole": in_groups(fingerprint),
            "places": places(found),
            "trust_port": found.trust_port,
        }
        return Response(json.dumps(body), content_type="application/json")

    @pages.get("/ca.crt")
    def certificate() -> Response:
        answer = Response(known().certificate, content_type=CERTIFICATE_TYPE)
        answer.headers["Content-Disposition"] = 'attachment; filename="workshop-ca.crt"'
        if "iPhone" in request.user_agent.string or "iPad" in request.user_agent.string:
            del answer.headers["Content-Disposition"]  # Safari then offers the profile instead of a download
        return answer

    @pages.get("/probe")
    def probe() -> Response:
        """Which workshop is it that answers here? A public site could know it again by this."""
        found = facts()
        body = {"workshop": found.fingerprint if found else None}
        answer = Response(json.dumps(body), content_type="application/json")
        answer.headers["Cache-Control"] = "no-store"
        answer.headers["Vary"] = "Origin"
        origin = request.headers.get("Origin", "")
        host = host_name(origin.partition("://")[2])
        if host is not None and is_of_a_house(host):
            answer.headers["Access-Control-Allow-Origin"] = origin
            answer.headers["Cross-Origin-Resource-Policy"] = "cross-origin"
        return answer

    return pages


def trust_app(facts: Callable[[], Facts | None]) -> Flask:
    """All that is served in the clear. Whatever else is asked for leads to the page."""
    app = Flask("easelside_trust", static_folder=None)
    app.register_blueprint(trust_pages(facts))

    @app.get("/")
    def start() -> AnyResponse:
        return redirect("/trust", 307)

    @app.get("/<path:other>")
    def elsewhere(other: str) -> AnyResponse:
        return redirect("/trust", 307)

    @app.after_request
    def name_policies(response: Response) -> Response:
        for name, value in HEADERS.items():
            response.headers.setdefault(name, value)
        response.headers.setdefault("Content-Security-Policy", policy(None))
        return response

    return app
