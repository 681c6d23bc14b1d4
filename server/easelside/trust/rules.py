"""Under which names may phones find the workshop, and when does its paper have to be made new?"""

import re
from collections.abc import Iterable
from datetime import datetime
from ipaddress import IPv4Network, ip_address

from easelside.trust.model import (
    BACKDATED,
    DOMAINS,
    LOCAL_ADDRESSES,
    NETWORKS,
    PAPER_LASTS,
    RENEW_BEFORE,
    Names,
    Paper,
)

BENCH = "bench"
SHARED = IPv4Network("100.64.0.0/10")
_LABEL = re.compile(r"[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")


def is_private(address: str) -> bool:
    """Whether an address lies where the authority may sign for it; False for what is no address."""
    try:
        at = ip_address(address)
    except ValueError:
        return False
    return any(at.version == network.version and at in network for network in NETWORKS)


def local_name(fingerprint: str) -> str:
    """The name that is announced: no two workshops in one house share it, as mDNS would let them."""
    return f"{BENCH}-{fingerprint[:4].lower()}.local"


def label(host_name: str) -> str | None:
    """The machine's own name as a DNS label, without its domain; None where it cannot be one."""
    first = host_name.strip().lower().partition(".")[0]
    return first if _LABEL.fullmatch(first) and first != "localhost" else None


def plain_domain(host_name: str) -> str | None:
    """The machine's plain name where the authority may sign for it.

    A name constraint covers all that ends with it, and a plain word may be a public ending ("dev", "berlin").
    No public ending holds a digit or a hyphen, other than those that begin with xn--.
    """
    name = label(host_name)
    if name is None or name.startswith("xn--"):
        return None
    return name if any(letter.isdigit() or letter == "-" for letter in name) else None


def may_sign_for(name: str, domains: Iterable[str]) -> bool:
    return any(name == domain or name.endswith(f".{domain}") for domain in domains)


def is_near(peer: str) -> bool:
    """Whether whoever asks stands in a private network, as far as its address tells.

    100.64.0.0/10 (RFC 6598): what overlay networks give their members.
    """
    plain = peer.partition("%")[0].removeprefix("::ffff:")
    return is_private(plain) or (plain.count(".") == 3 and _in(plain, SHARED))


def _in(address: str, network: IPv4Network) -> bool:
    try:
        return ip_address(address) in network
    except ValueError:
        return False


def is_of_a_house(name: str) -> bool:
    """A host that no public site can have: a private address, a private name, a name of one word."""
    is_word = not set(name) & set(".:")
    return is_private(name) or is_word or may_sign_for(name, DOMAINS)


def names_of(
    fingerprint: str, host_name: str, addresses: Iterable[str], domains: Iterable[str] = DOMAINS
) -> Names:
    """All names under which the workshop is asked for: only such as the authority's `domains` allow."""
    own = label(host_name)
    hosts = {local_name(fingerprint), "localhost"}
    hosts |= {f"{own}.local", own} if own else set()
    allowed = tuple(domains)
    return Names(
        frozenset(name for name in hosts if may_sign_for(name, allowed)),
        frozenset({*LOCAL_ADDRESSES, *(str(ip_address(at)) for at in addresses if is_private(at))}),
    )


def why_new_paper(
    paper: Paper | None, wanted: Names, authority: str, authority_ends: datetime, now: datetime
) -> str | None:
    """In a few words, why the server's paper must be made new; None while the present one serves."""
    if paper is None:
        return "there is none yet"
    if paper.authority != authority:
        return "it is another authority's"
    if now < paper.begins:
        return "it is not valid yet by this clock"
    if now >= paper.ends - RENEW_BEFORE and paper.ends < authority_ends:
        return "it ends within 30 days"
    if paper.names != wanted:
        return "the names or addresses have changed"
    return None


def paper_span(now: datetime, authority_ends: datetime) -> tuple[datetime, datetime]:
    """From when to when a paper made now is valid."""
    begins = now - BACKDATED
    return begins, min(begins + PAPER_LASTS, authority_ends)


def in_groups(fingerprint: str, groups: int | None = None) -> str:
    """`3F9A 77C2 E041 B85D`: four hex digits a group, as two people read them to each other."""
    parts = [fingerprint[at : at + 4].upper() for at in range(0, len(fingerprint), 4)]
    return " ".join(parts[:groups])
