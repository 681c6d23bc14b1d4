"""Under which addresses does this machine stand in the workshop's network now?"""

import socket
from contextlib import closing

import ifaddr

from easelside.trust.rules import is_private

# Networks of containers and virtual machines on this machine alone. From memory, not complete.
_INNER = ("docker", "br-", "veth", "virbr", "vmnet", "vboxnet", "lo")
_ELSEWHERE = ("10.255.255.255", 9)


def host_name() -> str:
    return socket.gethostname()


def private_addresses() -> list[str]:
    """Private IPv4 addresses, the one that the machine's own traffic leaves by first."""
    found = {
        str(at.ip)
        for adapter in ifaddr.get_adapters()
        if not adapter.name.lower().startswith(_INNER)
        for at in adapter.ips
        if at.is_IPv4 and is_private(str(at.ip)) and not str(at.ip).startswith("127.")
    }
    first = _leaves_by()
    return sorted(found, key=lambda at: (at != first, at))


def _leaves_by() -> str | None:
    # Connecting a UDP socket asks the routing table and sends nothing.
    with closing(socket.socket(socket.AF_INET, socket.SOCK_DGRAM)) as asking:
        try:
            asking.connect(_ELSEWHERE)
            return str(asking.getsockname()[0])
        except OSError:
            return None
