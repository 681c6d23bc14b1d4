"""Is this row what was written, and does it follow the one before?

A row's hash is SHA-256 over the hash before it and the digest of the row's own text. Two steps, so that a
person's words can be blanked later: the digest of what stood there stays, and with it the chain.
"""

import hashlib

START = b""


def digest(text: str | bytes) -> bytes:
    return hashlib.sha256(text.encode() if isinstance(text, str) else text).digest()


def link(before: bytes, text_digest: bytes) -> bytes:
    return hashlib.sha256(before + text_digest).digest()
