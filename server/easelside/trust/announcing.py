"""How does a phone find the workshop by its name? It is called out on the network (RFC 6762, 6763)."""

import logging
from collections.abc import Sequence
from contextlib import suppress

from zeroconf import Error, IPVersion, ServiceInfo, Zeroconf

log = logging.getLogger("easelside.trust")

KIND = "_https._tcp.local."


class Announcer:
    """Calls out one name with its addresses; a network that refuses is tried again at the next `say`."""

    def __init__(self) -> None:
        self._said: tuple[str, int, tuple[str, ...]] | None = None
        self._voice: Zeroconf | None = None
        self._grumbled = False

    def say(self, name: str, port: int, addresses: Sequence[str]) -> bool:
        """`name` ends with `.local`. Does nothing where that is what is being said; True while it is said."""
        wanted = (name, port, tuple(addresses))
        if wanted == self._said:
            return True
        self.stop()
        if not addresses:
            return False
        try:
            # One socket an address: sockets of addresses that are gone would stay silent.
            self._voice = Zeroconf(interfaces=list(addresses), ip_version=IPVersion.V4Only)
            service = ServiceInfo(
                KIND,
                f"Easelside {name.removesuffix('.local')}.{KIND}",
                port=port,
                server=f"{name}.",
                parsed_addresses=list(addresses),
            )
            self._voice.register_service(service, allow_name_change=True)
        except (OSError, Error) as refusal:
            if not self._grumbled:
                log.warning("The name %s cannot be announced (%s); addresses work.", name, refusal)
            self._grumbled = True
            self.stop()
            return False
        self._said = wanted
        return True

    def stop(self) -> None:
        """Takes the name back, where it was said."""
        voice, self._voice, self._said = self._voice, None, None
        if voice is not None:
            with suppress(OSError, Error):
                voice.close()
