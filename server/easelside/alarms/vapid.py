"""Who is it that sends? The workshop's own key for push, and the word signed with it (RFC 8292)."""

import base64
import json
import logging
from datetime import datetime, timedelta
from pathlib import Path

from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature

from easelside.logbook.folder import PUSH_KEY, write_private

log = logging.getLogger("easelside.alarms")

GOOD_FOR = timedelta(hours=12)  # RFC 8292, section 2: at most 24 hours


def base64url(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()


def from_base64url(written: str) -> bytes:
    """Raises ValueError; takes padding or none."""
    plain = written.rstrip("=")
    return base64.b64decode(plain + "=" * (-len(plain) % 4), altchars=b"-_", validate=True)


class Vapid:
    def __init__(self, key: ec.EllipticCurvePrivateKey) -> None:
        self._key = key

    @classmethod
    def open(cls, folder: Path) -> "Vapid":
        """The key in the data folder, readable by its owner only; made where there is none."""
        file = folder / PUSH_KEY
        if file.exists():
            key = serialization.load_pem_private_key(file.read_bytes(), None)
            assert isinstance(key, ec.EllipticCurvePrivateKey)
            return cls(key)
        key = ec.generate_private_key(ec.SECP256R1())
        folder.mkdir(parents=True, exist_ok=True)
        write_private(
            file,
            key.private_bytes(
                serialization.Encoding.PEM,
                serialization.PrivateFormat.PKCS8,
                serialization.NoEncryption(),
            ),
        )
        return cls(key)

    @property
    def public(self) -> str:
        """The applicationServerKey that a browser subscribes with: uncompressed point, base64url."""
        point = self._key.public_key().public_bytes(
            serialization.Encoding.X962, serialization.PublicFormat.UncompressedPoint
        )
        return base64url(point)

    def authorization(self, audience: str, now: datetime, contact: str | None) -> str:
        """The header Authorization for one push service; `audience` is its origin."""
        claims = {"aud": audience, "exp": int((now + GOOD_FOR).timestamp())}
        head = base64url(b'{"typ":"JWT","alg":"ES256"}')
        body = base64url(json.dumps(claims | ({"sub": contact} if contact else {})).encode())
        r, s = decode_dss_signature(self._key.sign(f"{head}.{body}".encode(), ec.ECDSA(hashes.SHA256())))
        signed = base64url(r.to_bytes(32, "big") + s.to_bytes(32, "big"))
        return f"vapid t={head}.{body}.{signed}, k={self.public}"
