"""Who vouches for the workshop's server? An authority of its own, which can vouch for nothing else.

P-256 throughout: no browser takes Ed25519 certificates. The authority is name-constrained to private names
and addresses, critically, so that a lost key opens no public site to anybody. What a phone trusts is `der`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from ipaddress import ip_address

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from easelside.errors import AuthorityUnusable
from easelside.trust.model import AUTHORITY_LASTS, BACKDATED, DOMAINS, NETWORKS, Names, Paper
from easelside.trust.rules import in_groups, paper_span, plain_domain


@dataclass(frozen=True)
class Authority:
    """The key and certificate that the phones trust; `fingerprint` is SHA-256 over `der`, 64 hex digits."""

    key: ec.EllipticCurvePrivateKey
    certificate: x509.Certificate

    @property
    def der(self) -> bytes:
        return self.certificate.public_bytes(Encoding.DER)

    @property
    def fingerprint(self) -> str:
        return self.certificate.fingerprint(SHA256()).hex()

    @property
    def name(self) -> str:
        """As a phone's list of trusted papers shows it."""
        (found,) = self.certificate.subject.get_attributes_for_oid(NameOID.COMMON_NAME)
        return str(found.value)

    @property
    def ends(self) -> datetime:
        return self.certificate.not_valid_after_utc

    @property
    def domains(self) -> tuple[str, ...]:
        """The DNS names, with all below them, that it may sign for."""
        limits = self.certificate.extensions.get_extension_for_class(x509.NameConstraints).value
        return tuple(at.value for at in limits.permitted_subtrees or () if isinstance(at, x509.DNSName))

    def pem(self) -> bytes:
        """Key and certificate, to be read by their owner only."""
        return _key_pem(self.key) + self.certificate.public_bytes(Encoding.PEM)


def make_authority(now: datetime, host_name: str) -> Authority:
    key = ec.generate_private_key(ec.SECP256R1())
    # iOS lists no root without a common name. The key's own digits part two workshops in a phone's list.
    own = x509.SubjectKeyIdentifier.from_public_key(key.public_key())
    words = f"Easelside workshop {in_groups(own.digest.hex(), 1)}"
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])
    plain = plain_domain(host_name)
    domains = [*DOMAINS, plain] if plain else DOMAINS
    permitted = [*(x509.DNSName(at) for at in domains), *(x509.IPAddress(at) for at in NETWORKS)]
    begins = now - BACKDATED
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(begins + AUTHORITY_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(key_cert_sign=True, crl_sign=True), critical=True)
        .add_extension(own, critical=False)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.NameConstraints(permitted, None), critical=True)
        .sign(key, SHA256())
    )
    return Authority(key, certificate)


def read_authority(pem: bytes, where: object) -> Authority:
    """Raises AuthorityUnusable where the file is not one whole authority. `where` is for its words."""
    try:
        key = load_pem_private_key(pem, None)
        certificate = x509.load_pem_x509_certificate(pem)
        if not isinstance(key, ec.EllipticCurvePrivateKey):
            raise AuthorityUnusable(file=where, detail="its key is of another kind")
        if certificate.public_key() != key.public_key():
            raise AuthorityUnusable(file=where, detail="its key and its certificate do not belong together")
        found = Authority(key, certificate)
        _ = found.domains
    except (ValueError, TypeError, x509.ExtensionNotFound) as wrong:
        raise AuthorityUnusable(file=where, detail="it is torn or was changed") from wrong
    return found


def make_paper(authority: Authority, names: Names, now: datetime) -> bytes:
    """PEM of a fresh key and the certificate for it, for these names."""
    key = ec.generate_private_key(ec.SECP256R1())
    begins, ends = paper_span(now, authority.ends)
    issuer = authority.certificate.extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value
    first = min(names.hosts, key=lambda name: (not name.endswith(".local"), name))
    certificate = (
        x509.CertificateBuilder()
        .subject_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, first)]))
        .issuer_name(authority.certificate.subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(ends)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(digital_signature=True), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectAlternativeName(_alternatives(names)), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.AuthorityKeyIdentifier.from_issuer_subject_key_identifier(issuer), critical=False)
        .sign(authority.key, SHA256())
    )
    return _key_pem(key) + certificate.public_bytes(Encoding.PEM)


def read_paper(pem: bytes, authority: Authority | None = None) -> Paper:
    """What a certificate says. Its `authority` is the one handed in where that one signed it, else empty.

    Raises ValueError where it cannot be read.
    """
    certificate = x509.load_pem_x509_certificate(pem)
    signer = ""
    if authority is not None:
        try:
            certificate.verify_directly_issued_by(authority.certificate)
            signer = authority.fingerprint
        except Exception:  # InvalidSignature, ValueError or TypeError: not signed by this one
            signer = ""
    try:
        names = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
        hosts = names.get_values_for_type(x509.DNSName)
        addresses = [str(at) for at in names.get_values_for_type(x509.IPAddress)]
    except x509.ExtensionNotFound:
        hosts, addresses = [], []
    return Paper(
        certificate.serial_number,
        signer,
        Names(frozenset(name.lower() for name in hosts), frozenset(addresses)),
        certificate.not_valid_before_utc,
        certificate.not_valid_after_utc,
    )


def _alternatives(names: Names) -> Iterable[x509.GeneralName]:
    return [
        *(x509.DNSName(name) for name in sorted(names.hosts)),
        *(x509.IPAddress(ip_address(at)) for at in sorted(names.addresses)),
    ]


def _key_pem(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


def _usage(
    *, digital_signature: bool = False, key_cert_sign: bool = False, crl_sign: bool = False
) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=digital_signature,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=key_cert_sign,
        crl_sign=crl_sign,
        encipher_only=False,
        decipher_only=False,
    )
