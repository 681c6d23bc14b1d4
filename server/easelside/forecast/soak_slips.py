"""What is foreseen of the soak?"""

from collections.abc import Iterator

from easelside.forecast.past import Past
from easelside.forecast.slip import Slip


def slips(past: Past) -> Iterator[Slip]:
    yield from ()
