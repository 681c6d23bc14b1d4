"""What does whoever starts the server read about the way in for phones?"""

from easelside.trust.model import Facts
from easelside.trust.rules import in_groups

SHORT_GROUPS = 4


def told_at_start(address: str | None, facts: Facts | None) -> list[str]:
    """Lines for the terminal; none while phones cannot come in."""
    if address is None:
        return []
    lines = [f"Phones come in at {address}"]
    if facts is not None and facts.fingerprint and facts.trust_port:
        for host in (*facts.addresses, facts.name):
            lines.append(f"  a new phone begins at http://{host}:{facts.trust_port}/trust")
        lines.append(f"  and both must show the same: {in_groups(facts.fingerprint, SHORT_GROUPS)}")
    return lines
