"""How does one message get to one phone's push service? For that phone's eyes alone, to known services only.

RFC 8030 (delivery), RFC 8188 and 8291 (encryption), RFC 8292 (who sends). Needs the internet, here and there.
"""

import hashlib
import http.client
import ssl
from dataclasses import dataclass
from datetime import datetime, timedelta
from email.utils import parsedate_to_datetime
from typing import Literal
from urllib.parse import urlsplit

import http_ece
from cryptography.hazmat.primitives.asymmetric import ec

from easelside.alarms.vapid import Vapid, base64url, from_base64url
from easelside.errors import NoPushService, TooLarge
from easelside.units import read_instant

LONGEST_BODY = 4096  # RFC 8030, section 7.2: what every push service must take
LONGEST_ENDPOINT = 2048
TIMEOUT_S = 5.0
FIRST_WAIT = timedelta(seconds=10)
LONGEST_WAIT = timedelta(minutes=10)

# The services that browsers subscribe to, from memory; a "." takes every name below it.
KNOWN = (
    "fcm.googleapis.com",
    "jmt17.google.com",
    ".push.services.mozilla.com",
    ".push.apple.com",
    ".notify.windows.com",
)


@dataclass(frozen=True)
class Outcome:
    """`taken`, `gone` (no such subscription any more), `later` (try again after `wait`), `lost` (do not)."""

    what: Literal["taken", "gone", "later", "lost"]
    why: str = ""
    wait: timedelta | None = None


def check_endpoint(endpoint: str, *, loopback: bool = False) -> None:
    """Raises NoPushService for whatever is not a known service's own https address.

    `loopback` lets the tests' service on this machine through, by plain http.
    """
    try:
        at = urlsplit(endpoint)
        host, port = at.hostname or "", at.port
    except ValueError:
        raise NoPushService(host="an address that cannot be read") from None
    plain = endpoint.isascii() and endpoint.isprintable() and not set(endpoint) & set(' \\"<>^`{|}#@')
    known = any(host.endswith(one) if one.startswith(".") else host == one for one in KNOWN)
    if not plain or len(endpoint) > LONGEST_ENDPOINT or not at.path.strip("/"):
        raise NoPushService(host=host or "no host")
    if loopback and at.scheme == "http" and host == "127.0.0.1" and port:
        return
    if at.scheme != "https" or port not in (None, 443) or not known:
        raise NoPushService(host=host or "no host")


def check_keys(p256dh: str, auth: str) -> None:
    """Raises ValueError unless they are a point on P-256 and 16 bytes of secret (RFC 8291, section 2)."""
    if len(from_base64url(auth)) != 16:
        raise ValueError("the secret is not 16 bytes long")
    point = from_base64url(p256dh)
    if len(point) != 65:
        raise ValueError("the key is no uncompressed point")
    ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), point)


def encrypted(
    text: bytes,
    p256dh: str,
    auth: str,
    salt: bytes | None = None,
    sender: ec.EllipticCurvePrivateKey | None = None,
) -> bytes:
    """One aes128gcm body (RFC 8291). Salt and the sender's key are new each time, unless a test says them.

    Raises TooLarge above what every push service takes.
    """
    body: bytes = http_ece.encrypt(
        text,
        salt=salt,
        private_key=sender or ec.generate_private_key(ec.SECP256R1()),
        dh=from_base64url(p256dh),
        auth_secret=from_base64url(auth),
        version="aes128gcm",
    )
    if len(body) > LONGEST_BODY:
        raise TooLarge(limit=f"{LONGEST_BODY} bytes")
    return body


def topic(key: str) -> str:
    """A newer one of the same message takes the place of one that still waits (RFC 8030, section 5.4)."""
    return base64url(hashlib.sha256(key.encode()).digest()[:24])


def send(
    endpoint: str,
    body: bytes,
    vapid: Vapid,
    contact: str | None,
    *,
    key: str,
    ttl_s: int,
    urgent: bool,
    now: datetime,
    loopback: bool = False,
) -> Outcome:
    """Hands one message over. Never follows a redirect, so it reaches no host but the one looked at."""
    check_endpoint(endpoint, loopback=loopback)
    at = urlsplit(endpoint)
    host = at.hostname or ""
    connection: http.client.HTTPConnection
    if at.scheme == "https":
        context = ssl.create_default_context()
        connection = http.client.HTTPSConnection(host, timeout=TIMEOUT_S, context=context)
    else:
        connection = http.client.HTTPConnection(host, at.port, timeout=TIMEOUT_S)
    headers = {
        "Content-Encoding": "aes128gcm",
        "Content-Type": "application/octet-stream",
        "TTL": str(max(0, ttl_s)),
        "Urgency": "high" if urgent else "normal",
        "Topic": topic(key),
        "Authorization": vapid.authorization(f"{at.scheme}://{at.netloc}", now, contact),
    }
    try:
        try:
            connection.connect()
        except OSError as refusal:
            return Outcome("later", f"the push service is not reached ({refusal})")
        try:
            connection.request("POST", f"{at.path}?{at.query}" if at.query else at.path, body, headers)
            answer = connection.getresponse()
        except (OSError, http.client.HTTPException):
            # it may have come through: once is better than twice
            return Outcome("lost", "the push service did not answer")
        return understood(answer.status, answer.headers.get("Retry-After"), now)
    finally:
        connection.close()


def understood(status: int, retry_after: str | None, now: datetime) -> Outcome:
    if status in (200, 201, 202, 204):
        return Outcome("taken")
    if status in (404, 410):
        return Outcome("gone", f"the push service says {status}")
    if status == 429 or status >= 500:
        return Outcome("later", f"the push service says {status}", _wait(retry_after, now))
    return Outcome("lost", f"the push service says {status}")


def _wait(retry_after: str | None, now: datetime) -> timedelta | None:
    """RFC 9110, section 10.2.3: seconds, or a date."""
    if retry_after is None:
        return None
    if retry_after.isascii() and retry_after.isdigit() and len(retry_after) < 8:
        return timedelta(seconds=int(retry_after))
    try:
        at = read_instant(parsedate_to_datetime(retry_after).isoformat())
    except ValueError:
        return None
    return None if at is None else max(at - now, timedelta(0))


def next_wait(tries: int, asked: timedelta | None) -> timedelta:
    """Twice as long each time, and never sooner than the service asked for."""
    own: timedelta = min(FIRST_WAIT * (1 << min(tries - 1, 10)), LONGEST_WAIT)
    return max(own, asked or timedelta(0))
