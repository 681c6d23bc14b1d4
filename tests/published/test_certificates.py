"""Certificates against what others have published that they take, the source beside each."""

from datetime import UTC, datetime, timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, ExtensionOID, NameOID

from easelside.trust.authority import make_authority, make_paper
from easelside.trust.model import Names

NOW = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
AUTHORITY = make_authority(NOW, "workshop-pc")
PAPER = x509.load_pem_x509_certificate(
    make_paper(AUTHORITY, Names(frozenset({"bench-7f3a.local"}), frozenset({"192.168.1.20"})), NOW)
)


def test_the_paper_is_valid_for_no_more_than_825_days() -> None:
    """support.apple.com/103769: TLS server certificates, roots of one's own included."""
    assert PAPER.not_valid_after_utc - PAPER.not_valid_before_utc <= timedelta(days=825)


def test_the_paper_names_its_servers_in_the_alternative_names_and_is_for_servers() -> None:
    """support.apple.com/103769: a subject alternative name and the extended key usage id-kp-serverAuth."""
    assert PAPER.extensions.get_extension_for_oid(ExtensionOID.SUBJECT_ALTERNATIVE_NAME)
    usage = PAPER.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert ExtendedKeyUsageOID.SERVER_AUTH in usage


def test_name_constraints_are_critical_and_stand_in_an_authority_only() -> None:
    """RFC 5280, 4.2.1.10: MUST be used only in a CA certificate; conforming CAs MUST mark it as critical."""
    assert AUTHORITY.certificate.extensions.get_extension_for_class(x509.NameConstraints).critical
    with pytest.raises(x509.ExtensionNotFound):
        PAPER.extensions.get_extension_for_class(x509.NameConstraints)


def test_an_authoritys_uses_are_critical_and_leave_no_further_authority() -> None:
    """RFC 5280, 4.2.1.3 and 4.2.1.9: keyCertSign with cA; pathLenConstraint 0 for no authority below."""
    found = AUTHORITY.certificate.extensions
    usage = found.get_extension_for_class(x509.KeyUsage)
    basic = found.get_extension_for_class(x509.BasicConstraints)
    assert usage.critical and usage.value.key_cert_sign and usage.value.crl_sign
    assert not usage.value.digital_signature
    assert basic.critical and basic.value.ca and basic.value.path_length == 0


def test_every_serial_number_is_positive_and_of_at_most_20_octets() -> None:
    """RFC 5280, 4.1.2.2."""
    for certificate in (AUTHORITY.certificate, PAPER):
        assert 0 < certificate.serial_number < 2 ** (8 * 20 - 1)


def test_the_keys_are_of_a_curve_that_browsers_take() -> None:
    """CA/Browser Forum, Baseline Requirements 6.1.5: P-256, P-384, P-521; browsers take no Ed25519."""
    for certificate in (AUTHORITY.certificate, PAPER):
        key = certificate.public_key()
        assert isinstance(key, ec.EllipticCurvePublicKey)
        assert isinstance(key.curve, ec.SECP256R1)


def test_the_authority_has_a_common_name() -> None:
    """github.com/FiloSottile/mkcert, issue 233: a root without one is not in the iPhone's list of trust."""
    assert AUTHORITY.certificate.subject.get_attributes_for_oid(NameOID.COMMON_NAME)
