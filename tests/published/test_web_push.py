"""Push against RFC 8291 (encryption) and RFC 8292 (who sends): values from memory, a wrong one would fail."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import http_ece
import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from py_vapid import Vapid02

from easelside.alarms.push import LONGEST_BODY, encrypted
from easelside.alarms.vapid import Vapid, base64url, from_base64url
from easelside.errors import TooLarge

# RFC 8291, section 5 and appendix A
PLAIN = "V2hlbiBJIGdyb3cgdXAsIEkgd2FudCB0byBiZSBhIHdhdGVybWVsb24"
SENDER = "yfWPiYE-n46HLnH0KqZOF1fJJU3MYrct3AELtAQ-oRw"
RECEIVER = "q1dXpw3UpT5VOmu_cf_v6ih07Aems3njxI-JWgLcM94"
RECEIVER_PUBLIC = "BCVxsr7N_eNgVRqvHtD0zTZsEc6-VV-JvLexhqUzORcxaOzi6-AYWXvTBHm4bjyPjs7Vd8pZGH6SRpkNtoIAiw4"
SECRET = "BTBZMqHH6r4Tts7J_aSIgg"
SALT = "DGv6ra1nlYgDCS1FRnbzlw"
BODY = (
    "DGv6ra1nlYgDCS1FRnbzlwAAEABBBP4z9KsN6nGRTbVYI_c7VJSPQTBtkgcy27ml"
    "mlMoZIIgDll6e3vCYLocInmYWAmS6TlzAC8wEqKK6PBru3jl7A_yl95bQpu6cVPT"
    "pK4Mqgkf1CXztLVBSt2Ks3oZwbuwXPXLWyouBWLVWGNWQexSgSxsj_Qulcy4a-fN"
)

# RFC 8292, section 2.4
EXAMPLE = (
    "vapid t=eyJ0eXAiOiJKV1QiLCJhbGciOiJFUzI1NiJ9.eyJhdWQiOiJodHRwczovL3B1c2guZXhhbXBsZS5uZXQiLCJleHAiOjE"
    "0NTM1MjM3NjgsInN1YiI6Im1haWx0bzpwdXNoQGV4YW1wbGUuY29tIn0.i3CYb7t4xfxCDquptFOepC9GAu_HLGkMlMuCGSK2rpi"
    "UfnK9ojFwDXb1JrErtmysazNjjvW2L9OkSSHzvoD1oA, k=BA1Hxzyi1RUM1b5wjxsn7nGxAszw2u61m164i3MrAIxHF6YK5h4SD"
    "Yic-dRuU_RCPCfA5aq9ojSwk5Y2EmClBPs"
)
NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)


def private(written: str) -> ec.EllipticCurvePrivateKey:
    return ec.derive_private_key(int.from_bytes(from_base64url(written), "big"), ec.SECP256R1())


def claims_of(header: str) -> dict[str, object]:
    """The claims of a vapid header, where its signature holds; written from RFC 8292 and RFC 7515 alone."""
    scheme, rest = header.split(" ", 1)
    said = dict(part.strip().split("=", 1) for part in rest.split(","))
    head, body, signature = said["t"].split(".")
    both = from_base64url(signature)
    key = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), from_base64url(said["k"]))
    r, s = int.from_bytes(both[:32], "big"), int.from_bytes(both[32:], "big")
    key.verify(encode_dss_signature(r, s), f"{head}.{body}".encode(), ec.ECDSA(hashes.SHA256()))
    assert scheme == "vapid" and len(both) == 64
    assert json.loads(from_base64url(head)) == {"typ": "JWT", "alg": "ES256"}
    found: dict[str, object] = json.loads(from_base64url(body))
    return found


def test_the_body_is_byte_for_byte_that_of_rfc_8291() -> None:
    plain = from_base64url(PLAIN)
    assert plain == b"When I grow up, I want to be a watermelon"
    body = encrypted(plain, RECEIVER_PUBLIC, SECRET, from_base64url(SALT), private(SENDER))
    assert base64url(body) == BODY


def test_the_receivers_key_opens_what_is_sent_with_a_salt_and_key_of_chance() -> None:
    one, other = (encrypted("Größe ✓".encode(), RECEIVER_PUBLIC, SECRET) for _ in range(2))
    assert one[:16] != other[:16] and one[21:86] != other[21:86]  # salt, sender's key
    for body in (one, other):
        opened = http_ece.decrypt(
            body, private_key=private(RECEIVER), auth_secret=from_base64url(SECRET), version="aes128gcm"
        )
        assert opened.decode() == "Größe ✓"


def test_what_is_longer_than_a_push_service_must_take_is_refused_here() -> None:
    # RFC 8291, section 4 (from memory): 4096 less header of 86, padding of 1 and tag of 16 leave 3993
    assert len(encrypted(b"x" * 3993, RECEIVER_PUBLIC, SECRET)) == LONGEST_BODY
    with pytest.raises(TooLarge):
        encrypted(b"x" * 3994, RECEIVER_PUBLIC, SECRET)


def test_our_check_of_a_signature_takes_the_rfcs_own_and_refuses_it_changed() -> None:
    assert claims_of(EXAMPLE) == {
        "aud": "https://push.example.net",
        "exp": 1453523768,
        "sub": "mailto:push@example.com",
    }
    with pytest.raises(InvalidSignature):
        claims_of(EXAMPLE.replace("MjM3NjgsInN1", "MjM3NjksInN1"))


def test_what_we_sign_holds_by_our_check_and_by_another_program_s(tmp_path: Path) -> None:
    header = Vapid.open(tmp_path).authorization("https://push.example.net", NOW, "mailto:bench@example.org")
    claims = claims_of(header)
    assert (claims["aud"], claims["sub"]) == ("https://push.example.net", "mailto:bench@example.org")
    assert claims["exp"] == (NOW + timedelta(hours=12)).timestamp()  # at most 24 h: RFC 8292, section 2
    assert Vapid02.verify(header.replace(", ", ","))


def test_the_workshops_key_stays_the_same_and_is_its_owners_alone(tmp_path: Path) -> None:
    first, second = Vapid.open(tmp_path), Vapid.open(tmp_path)
    assert first.public == second.public
    assert len(from_base64url(first.public)) == 65
    (file,) = tmp_path.iterdir()
    assert file.stat().st_mode & 0o777 == 0o600
