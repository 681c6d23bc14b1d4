"""Where is the interface described? On a page that loads with no network, beside /api/openapi.json."""

from pathlib import Path

from flask import Flask, Response
from werkzeug.exceptions import NotFound

from easelside.web.client import CLIENT, Asset

PAGE = Path(__file__).parent / "docs_page"
# Swagger UI writes style attributes; its script needs nothing inline.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
    "font-src 'self' data:; connect-src 'self'; base-uri 'none'; frame-ancestors 'none'"
)


def serve_docs(app: Flask, client: Path = CLIENT) -> None:
    own = [PAGE / "index.html", PAGE / "start.js"]
    built = [client / "docs" / "swagger-ui-bundle.js", client / "docs" / "swagger-ui.css"]
    assets = {path.name: Asset(path, forever=False) for path in [*own, *built]}

    @app.get("/api/docs", defaults={"name": "index.html"})
    @app.get("/api/docs/<name>")
    def docs_file(name: str) -> Response:
        asset = assets.get(name)
        if asset is None or not asset.path.is_file():
            raise NotFound
        answer = asset.answer()
        answer.headers["Content-Security-Policy"] = POLICY
        return answer
