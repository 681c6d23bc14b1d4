"""What is foreseen of the screw?"""

from collections.abc import Iterator

from easelside.forecast.past import Past
from easelside.forecast.slip import Slip


def slips(past: Past) -> Iterator[Slip]:
    yield from ()
