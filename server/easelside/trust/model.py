"""What is an authority, and what is the paper that it gives the server for a while?"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from ipaddress import IPv4Network, IPv6Network, ip_network

AUTHORITY_LASTS = timedelta(days=3652)
PAPER_LASTS = timedelta(days=397)  # iPhones refuse more than 825 (Apple 103769)
RENEW_BEFORE = timedelta(days=30)
BACKDATED = timedelta(days=1)  # a small server without a clock battery starts in the past

# All that the authority may ever sign for. A kind of name that is left out would be unrestricted, so both
# are listed (RFC 5280, 4.2.1.10). RFC 6762: local; 6761: localhost; 8375: home.arpa; internal: ICANN, 2024.
DOMAINS = ("local", "localhost", "home.arpa", "internal")
# RFC 1918, RFC 3927, RFC 1122, RFC 4193, RFC 4291.
NETWORKS: tuple[IPv4Network | IPv6Network, ...] = tuple(
    ip_network(written)
    for written in (
        "10.0.0.0/8",
        "172.16.0.0/12",
        "192.168.0.0/16",
        "169.254.0.0/16",
        "127.0.0.0/8",
        "fc00::/7",
        "fe80::/10",
        "::1/128",
    )
)
LOCAL_ADDRESSES = ("127.0.0.1", "::1")


@dataclass(frozen=True)
class Names:
    """Host names in lower case, addresses as `ipaddress` writes them."""

    hosts: frozenset[str]
    addresses: frozenset[str]


@dataclass(frozen=True)
class Paper:
    """The server's certificate, as far as it is decided on. `authority`: hex SHA-256 of its signer."""

    serial: int
    authority: str
    names: Names
    begins: datetime
    ends: datetime


@dataclass(frozen=True)
class Facts:
    """What a phone has to know to come in. `address` is what it opens in the end: https, port, closing slash.

    What belongs to the workshop's authority is None where the maker shows a certificate of their own; then
    there is nothing to fetch, and no page that walks through it at `trust_port` either.
    """

    name: str
    port: int
    addresses: list[str]
    trust_port: int | None
    authority: str | None
    fingerprint: str | None
    certificate: bytes | None
    ends: datetime | None
