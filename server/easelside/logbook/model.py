"""What does a change look like, and what does a field know about itself?

Instants are RFC 3339 text in UTC with exactly three digits of a second, so that text order is time order.
The shapes are plain dictionaries, the very ones that travel and that are stored.
"""

from typing import Any, NotRequired, TypedDict

Value = Any  # null, true, false, number, text, list or object, kept word for word


class Change(TypedDict):
    """What somebody did: these fields of this record became this. Never altered."""

    id: str
    v: int
    kind: str
    record: str
    device: str
    made: str
    set: dict[str, Value]
    saw: dict[str, str | None]
    back: bool
    given: NotRequired["Given"]


class Given(TypedDict):
    """What a logbook that was lost since had answered to this change: it keeps both."""

    when: str
    lost: list[str]


class Field(TypedDict):
    """One field of a record with its winner. `when` decides between edits that did not see each other."""

    value: Value
    change: str
    seq: int
    when: str
    back: bool
    saw: str | None


Fields = dict[str, Field]


class Offer(TypedDict):
    """A field that a phone holds from a logbook which was put back to an older state."""

    kind: str
    record: str
    field: str
    value: Value
    change: str
    when: str
    back: bool
    saw: str | None


class Row(TypedDict):
    """A change as the logbook keeps it. `held`: it came as an offer, for one field of its change.

    `again`: held, but known before: it stands again over what it had replaced, which came only now.
    """

    seq: int
    when: str
    won: list[str]
    id: str
    v: int
    kind: str
    record: str
    device: str
    made: str
    set: dict[str, Value]
    saw: dict[str, str | None]
    back: bool
    held: NotRequired[bool]
    again: NotRequired[bool]


def key_of(row: Row) -> str:
    """What a row is filed under: its change; if held, the change and the field, and its number if again."""
    if "held" not in row:
        return row["id"]
    key = f"{row['id']}/{next(iter(row['set']), '')}"
    return f"{row['seq']}/{key}" if "again" in row else key


class Accepted(TypedDict):
    """The answer to one change. `lost` names the winner of each field not won (null: none known)."""

    id: str
    seq: int
    when: str
    won: list[str]
    lost: dict[str, Field | None]


class Offered(TypedDict):
    """The answer to one offered field: does it stand, and what does? `seq`: null for one passed over."""

    kind: str
    record: str
    field: str
    change: str
    seq: int | None
    won: bool
    winner: Field | None


class End(TypedDict):
    """The last row: its number and its chained hash (hexadecimal; of an empty logbook: 0 and "")."""

    seq: int
    hash: str


class Record(TypedDict):
    kind: str
    id: str
    fields: Fields
    seq: int
    when: str


def values(fields: Fields) -> dict[str, Value]:
    """The plain values that stand, without those that say nothing."""
    return {name: field["value"] for name, field in fields.items() if field["value"] is not None}


def is_removed(fields: Fields) -> bool:
    return "removed" in fields and fields["removed"]["value"] is True


def fold(fields: Fields, row: Row) -> Fields:
    """The fields after one more row: every row's `won` fields stand until a later row wins them."""
    after = dict(fields)
    for name in row["won"]:
        after[name] = Field(
            value=row["set"][name],
            change=row["id"],
            seq=row["seq"],
            when=row["when"],
            back=row["back"],
            saw=row["saw"].get(name),
        )
    return after


class Answer(TypedDict):
    """What became of the changes and offers of one exchange."""

    accepted: list[Accepted]
    offered: list[Offered]
    end: End
    now: str
