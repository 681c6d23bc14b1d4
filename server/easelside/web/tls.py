"""How does the server speak TLS, so that a phone that falls asleep in the middle holds up nobody else?

The handshake is not done where connections are accepted, but later, by the worker that reads the request;
and a worker is only taken once the phone has said something (see patience).
"""

import socket
import ssl
from pathlib import Path
from typing import Any

from cheroot.makefile import MakeFile
from cheroot.ssl import Adapter

from easelside.errors import CertificateUnusable

HANDSHAKE = 0x16  # RFC 8446, 5.1: the first byte that a TLS client sends


class QuietSocket(ssl.SSLSocket):
    """A TLS socket that stays one to its end."""

    def shutdown(self, how: int) -> None:
        # ssl's own forgets its keys here, and a thread that is still writing would go on in the clear.
        socket.socket.shutdown(self, how)

    def first_byte(self) -> int | None:
        """What the client began with, not taken out; None where it has left."""
        seen = socket.socket.recv(self, 1, socket.MSG_PEEK)
        return seen[0] if seen else None

    def say_plainly(self, words: bytes) -> None:
        """An answer to who speaks no TLS. What was asked is read away, or the answer is cut off."""
        socket.socket.recv(self, 64 * 1024)
        socket.socket.send(self, words)


def context_of(certificate: Path, key: Path | None = None) -> ssl.SSLContext:
    """Raises CertificateUnusable where the files are not a certificate and its key."""
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    context.sslsocket_class = QuietSocket
    context.set_alpn_protocols(["http/1.1"])
    try:
        context.load_cert_chain(certificate, key)
    except ssl.SSLError as wrong:
        mismatch = "MISMATCH" in (wrong.reason or "")
        detail = "its key is another one's" if mismatch else "it is no PEM file of a pair"
        raise CertificateUnusable(file=certificate, detail=detail) from wrong
    except OSError as refusal:
        file = refusal.filename or certificate
        raise CertificateUnusable(file=file, detail=refusal.strerror or "it cannot be read") from refusal
    return context


class LazyTls(Adapter):  # type: ignore[misc]  # cheroot has no types
    """Wraps a connection without a word to its client. `show` puts another certificate up for all to come.

    A new context, not a certificate loaded into the live one: that would for a moment hold a certificate and
    the key of another. Open connections go on with what they began with.
    """

    def __init__(self, certificate: Path, key: Path | None = None) -> None:
        super().__init__(str(certificate), str(key or certificate))
        self.context = context_of(certificate, key)

    def show(self, certificate: Path, key: Path | None = None) -> None:
        self.context = context_of(certificate, key)

    def wrap(self, sock: socket.socket) -> tuple[ssl.SSLSocket, dict[str, str]]:
        wrapped = self.context.wrap_socket(sock, server_side=True, do_handshake_on_connect=False)
        return wrapped, self.get_environ()

    def bind(self, sock: socket.socket) -> socket.socket:
        return sock

    def get_environ(self) -> dict[str, str]:
        return {"wsgi.url_scheme": "https", "HTTPS": "on"}

    def makefile(self, sock: socket.socket, mode: str = "r", bufsize: int = -1) -> Any:
        return MakeFile(sock, mode, bufsize)
