"""What does the server hand the phones, so that they can say without a network what will be?"""

from dataclasses import dataclass, field

from easelside.logbook.model import Value


@dataclass(frozen=True)
class Slip:
    """Parameters of one fitted model, for one subject (a lot, a blade, a machine, or "all").

    `observations`: how many records it rests on. `body` is JSON: small, without NaN.
    """

    kind: str
    subject: str
    observations: int
    body: dict[str, Value] = field(default_factory=dict)
