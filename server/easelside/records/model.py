"""What is a record as a table needs it, and what follows from the records that no record says itself?"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from easelside.units import Fields


@dataclass(frozen=True)
class Entry:
    """A record's plain values."""

    id: str
    fields: Fields


@dataclass(frozen=True)
class Stood:
    """What came out of a stage, in pieces."""

    good: int
    second: int
    lost: int


@dataclass(frozen=True)
class Derived:
    """What counting adds: by piece its outcome and edge, by tally its edges, by batch what each stage gave.

    An edge is written `3/1`: the blade's label and its life, from one grinding to the next.
    """

    outcome: Mapping[str, str] = field(default_factory=dict)
    piece_edge: Mapping[str, str] = field(default_factory=dict)
    tally_edges: Mapping[str, Sequence[str]] = field(default_factory=dict)
    stands: Mapping[str, Mapping[str, Stood]] = field(default_factory=dict)


Entries = Mapping[str, Sequence[Entry]]
