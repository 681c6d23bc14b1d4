"""What the authority may vouch for, by the verdict of a verifier that is not ours: OpenSSL."""

import ssl
import subprocess
from datetime import timedelta
from ipaddress import ip_network
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID

from easelside.clock import SystemClock
from easelside.errors import AuthorityUnusable
from easelside.trust.authority import Authority, make_authority, make_paper, read_authority, read_paper
from easelside.trust.model import Names

NOW = SystemClock().now().replace(microsecond=0)
GOOD = Names(frozenset({"bench-7f3a.local", "localhost"}), frozenset({"127.0.0.1", "192.168.1.20"}))


@pytest.fixture(scope="module")
def authority() -> Authority:
    return make_authority(NOW, "workshop-pc")


def verdict(authority: Authority, names: Names, folder: Path, *more: str) -> str:
    """OpenSSL's words: OK, or why not."""
    (folder / "ca.pem").write_bytes(x509_pem(authority))
    (folder / "leaf.pem").write_bytes(make_paper(authority, names, NOW))
    said = subprocess.run(
        [
            "openssl",
            "verify",
            "-purpose",
            "sslserver",
            "-x509_strict",
            "-CAfile",
            "ca.pem",
            *more,
            "leaf.pem",
        ],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=20,
        check=False,
    )
    return "OK" if said.returncode == 0 else said.stderr + said.stdout


def x509_pem(authority: Authority) -> bytes:
    return ssl.DER_cert_to_PEM_cert(authority.der).encode()


@pytest.mark.parametrize(
    "asked",
    [
        ("-verify_hostname", "bench-7f3a.local"),
        ("-verify_hostname", "localhost"),
        ("-verify_ip", "192.168.1.20"),
    ],
)
def test_the_workshops_own_names_and_addresses_are_good(
    authority: Authority, tmp_path: Path, asked: tuple[str, str]
) -> None:
    assert verdict(authority, GOOD, tmp_path, *asked) == "OK"


def test_the_plain_name_of_the_machine_is_good(authority: Authority, tmp_path: Path) -> None:
    names = Names(frozenset({"workshop-pc"}), frozenset())
    assert verdict(authority, names, tmp_path, "-verify_hostname", "workshop-pc") == "OK"


@pytest.mark.parametrize(
    "names",
    [
        Names(frozenset({"example.com"}), frozenset()),
        Names(frozenset({"localhost.example.com"}), frozenset()),
        Names(frozenset({"another-pc"}), frozenset()),
        Names(frozenset({"bench-7f3a.local"}), frozenset({"8.8.8.8"})),
        Names(frozenset({"bench-7f3a.local"}), frozenset({"2001:4860:4860::8888"})),
        Names(frozenset({"bench-7f3a.local", "example.com"}), frozenset({"127.0.0.1"})),
    ],
    ids=lambda names: " ".join(sorted(names.hosts | names.addresses)),
)
def test_a_public_name_or_address_is_refused_with_all_that_stands_beside_it(
    authority: Authority, tmp_path: Path, names: Names
) -> None:
    assert "permitted subtree violation" in verdict(authority, names, tmp_path)


def test_the_same_public_name_is_taken_from_an_authority_without_limits(tmp_path: Path) -> None:
    """The control: it is the limit that refuses, not something else about the paper."""
    limited = make_authority(NOW, "")
    builder = (
        x509.CertificateBuilder()
        .subject_name(limited.certificate.subject)
        .issuer_name(limited.certificate.subject)
        .public_key(limited.key.public_key())
        .serial_number(7)
        .not_valid_before(limited.certificate.not_valid_before_utc)
        .not_valid_after(limited.ends)
    )
    for extension in limited.certificate.extensions:
        if not isinstance(extension.value, x509.NameConstraints):
            builder = builder.add_extension(extension.value, extension.critical)
    algorithm = limited.certificate.signature_hash_algorithm
    assert isinstance(limited.key, ec.EllipticCurvePrivateKey)
    free = Authority(limited.key, builder.sign(limited.key, algorithm))  # type: ignore[arg-type]
    assert verdict(free, Names(frozenset({"example.com"}), frozenset()), tmp_path) == "OK"


def test_a_paper_for_another_name_is_refused(authority: Authority, tmp_path: Path) -> None:
    assert "hostname mismatch" in verdict(authority, GOOD, tmp_path, "-verify_hostname", "other.local")


def test_the_authority_is_as_phones_want_it(authority: Authority) -> None:
    """P-256, ten years, a common name; constraints critical, for names and for both kinds of addresses."""
    certificate, found = authority.certificate, authority.certificate.extensions
    assert isinstance(authority.key.curve, ec.SECP256R1)
    assert timedelta(days=3650) <= authority.ends - certificate.not_valid_before_utc <= timedelta(days=3653)
    assert authority.name.startswith("Easelside workshop ")
    basic = found.get_extension_for_class(x509.BasicConstraints)
    assert (basic.critical, basic.value.ca, basic.value.path_length) == (True, True, 0)
    limits = found.get_extension_for_class(x509.NameConstraints)
    permitted = limits.value.permitted_subtrees or []
    assert limits.critical
    assert {at.value for at in permitted if isinstance(at, x509.DNSName)} == {
        "local",
        "localhost",
        "home.arpa",
        "internal",
        "workshop-pc",
    }
    versions = {at.value.version for at in permitted if isinstance(at, x509.IPAddress)}
    assert versions == {4, 6}
    assert ip_network("192.168.0.0/16") in [at.value for at in permitted if isinstance(at, x509.IPAddress)]


def test_the_paper_is_as_phones_want_it(authority: Authority) -> None:
    """397 days, dated back a day, for servers only, addresses as addresses."""
    pem = make_paper(authority, GOOD, NOW)
    certificate = x509.load_pem_x509_certificate(pem)
    assert certificate.not_valid_after_utc - certificate.not_valid_before_utc == timedelta(days=397)
    usage = certificate.extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(usage) == [ExtendedKeyUsageOID.SERVER_AUTH]
    read = read_paper(pem, authority)
    assert read.names == GOOD
    assert read.authority == authority.fingerprint
    assert read_paper(pem, make_authority(NOW, "")).authority == ""


def test_an_authority_read_back_is_the_same(authority: Authority) -> None:
    again = read_authority(authority.pem(), "here")
    assert (again.fingerprint, again.domains) == (authority.fingerprint, authority.domains)


def test_an_authority_in_pieces_says_so(authority: Authority) -> None:
    other = make_authority(NOW, "")
    mixed = other.pem().split(b"-----BEGIN CERTIFICATE")[0] + x509_pem(authority)
    for torn in (b"", authority.pem()[:300], mixed):
        with pytest.raises(AuthorityUnusable):
            read_authority(torn, "here")
