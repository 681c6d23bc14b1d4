"""A push service on this machine: takes what comes, answers as told, opens it with the phone's key."""

import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import http_ece
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec

from easelside.alarms.vapid import base64url

SECRET = bytes(range(16))


@dataclass
class Came:
    path: str
    headers: dict[str, str]
    body: bytes
    phone: ec.EllipticCurvePrivateKey

    def shown(self) -> Any:
        opened = http_ece.decrypt(self.body, private_key=self.phone, auth_secret=SECRET, version="aes128gcm")
        return json.loads(opened)["notification"]


@dataclass
class PushService:
    port: int
    came: list[Came] = field(default_factory=list)
    answers: list[tuple[int, dict[str, str]]] = field(default_factory=list)  # the next ones; else 201
    phone: ec.EllipticCurvePrivateKey = field(default_factory=lambda: ec.generate_private_key(ec.SECP256R1()))
    hold: threading.Event = field(default_factory=threading.Event)  # cleared: answers nobody
    arrived: threading.Event = field(default_factory=threading.Event)

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def keys(self) -> dict[str, str]:
        point = self.phone.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )
        return {"p256dh": base64url(point), "auth": base64url(SECRET)}

    def titles(self) -> list[str]:
        return [one.shown()["title"] for one in self.came]


@contextmanager
def push_service() -> Iterator[PushService]:
    class Handler(BaseHTTPRequestHandler):
        def do_POST(self) -> None:
            body = self.rfile.read(int(self.headers["Content-Length"]))
            service.came.append(Came(self.path, dict(self.headers), body, service.phone))
            service.arrived.set()
            service.hold.wait(20)
            status, headers = service.answers.pop(0) if service.answers else (201, {})
            self.send_response(status)
            for name, value in headers.items():
                self.send_header(name, value)
            self.send_header("Content-Length", "0")
            self.end_headers()

        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    service = PushService(server.server_address[1])
    service.hold.set()
    threading.Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield service
    finally:
        service.hold.set()
        server.shutdown()
        server.server_close()
