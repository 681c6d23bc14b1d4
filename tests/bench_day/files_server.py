"""A server of plain files for the tests of the shell: it can lack a file, and stop."""

import threading
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

TYPES = {
    ".html": "text/html",
    ".js": "text/javascript",
    ".css": "text/css",
    ".svg": "image/svg+xml",
    ".webmanifest": "application/manifest+json",
    ".woff2": "font/woff2",
    ".png": "image/png",
}


class Serving(ThreadingHTTPServer):
    daemon_threads = True

    def handle_error(self, *_where: object) -> None:
        """A browser that is killed in the middle of an answer is what these tests do."""


class Files:
    """Serves `folder`, which may be exchanged for another while it runs; `lacks` are answered 500."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.lacks: set[str] = set()
        self.asked: list[str] = []
        self._serving: Serving | None = None
        self._port = 0
        self.start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self._port}"

    def start(self) -> None:
        files = self

        class Answer(BaseHTTPRequestHandler):
            def do_GET(self) -> None:
                path = self.path.split("?")[0]
                files.asked.append(path)
                name = files.folder / ("index.html" if path == "/" else path.lstrip("/"))
                if path in files.lacks:
                    self.say(500, b"broken", "text/html")
                elif path.startswith("/api/") or not name.is_file():
                    self.say(404, b"nothing here", "text/plain")
                else:
                    self.say(200, name.read_bytes(), TYPES.get(name.suffix, "application/octet-stream"))

            def do_POST(self) -> None:
                files.asked.append(self.path)
                self.rfile.read(int(self.headers.get("content-length", 0)))
                self.say(502, b"<html>no server behind this proxy</html>", "text/html")

            def say(self, status: int, body: bytes, kind: str) -> None:
                self.send_response(status)
                self.send_header("content-type", kind)
                self.send_header("content-length", str(len(body)))
                self.send_header("cache-control", "no-cache")
                self.end_headers()
                self.wfile.write(body)

            def log_message(self, *_words: object) -> None:
                pass

        self._serving = Serving(("127.0.0.1", self._port), Answer)
        self._port = self._serving.server_address[1]
        threading.Thread(target=self._serving.serve_forever, args=(0.05,), daemon=True).start()

    def stop(self) -> None:
        if self._serving:
            self._serving.shutdown()
            self._serving.server_close()
            self._serving = None
