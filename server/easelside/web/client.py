"""Which files does a browser get? Those of the built client, from memory, compressed."""

import gzip
import hashlib
import mimetypes
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from flask import Flask, Response, request
from werkzeug.exceptions import NotFound

from easelside.web.problem import problem

CLIENT = Path(__file__).parent / "client"
FOREVER = "public, max-age=31536000, immutable"
ASK_FIRST = "no-cache"
COMPRESSED = {".js", ".css", ".html", ".svg", ".webmanifest", ".json", ".map", ".txt"}
TYPES = {
    ".js": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".html": "text/html; charset=utf-8",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
}


@dataclass(frozen=True)
class Asset:
    path: Path
    forever: bool  # its name holds a hash of what is in it

    @cached_property
    def plain(self) -> bytes:
        return self.path.read_bytes()

    @cached_property
    def zipped(self) -> bytes | None:
        if self.path.suffix not in COMPRESSED:
            return None
        zipped = gzip.compress(self.plain, 9, mtime=0)
        return zipped if len(zipped) < len(self.plain) else None

    @property
    def kind(self) -> str:
        known = TYPES.get(self.path.suffix) or mimetypes.guess_type(self.path.name)[0]
        return known or "application/octet-stream"

    @cached_property
    def tag(self) -> str:
        return hashlib.sha256(self.plain).hexdigest()[:32]

    def answer(self) -> Response:
        use_zipped = self.zipped is not None and request.accept_encodings["gzip"] > 0
        body = self.zipped if use_zipped and self.zipped is not None else self.plain
        answer = Response(body, content_type=self.kind)
        answer.headers["Cache-Control"] = FOREVER if self.forever else ASK_FIRST
        if use_zipped:
            answer.headers["Content-Encoding"] = "gzip"
        if self.zipped is not None:
            answer.headers["Vary"] = "Accept-Encoding"
        answer.set_etag(self.tag + ("-gzip" if use_zipped else ""))
        answer.make_conditional(request)
        return answer


def assets_of(folder: Path) -> dict[str, Asset]:
    """Every file by its address; no path is ever put together from what somebody asks for."""
    return {
        path.relative_to(folder).as_posix(): Asset(path, path.relative_to(folder).parts[0] == "assets")
        for path in folder.rglob("*")
        if path.is_file() and not path.name.startswith(".")
    }


def serve_client(app: Flask, folder: Path = CLIENT) -> None:
    found = assets_of(folder) if folder.is_dir() else {}
    assets = {name: asset for name, asset in found.items() if not name.startswith("docs/")}

    @app.get("/")
    def client_start() -> Response:
        if "index.html" not in assets:
            return problem(
                503,
                "client_not_built",
                "The screens of Easelside are not built in this folder.",
                "Install it with pip, which builds them, or run Vite's build in webclient/.",
            )
        return assets["index.html"].answer()

    @app.get("/<path:name>")
    def client_file(name: str) -> Response:
        asset = assets.get(name)
        if asset is None:
            raise NotFound
        return asset.answer()
