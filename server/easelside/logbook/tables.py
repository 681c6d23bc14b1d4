"""Which tables does a workshop's database have?

Only `changes` is the truth; every other table follows from it and can be dropped and rebuilt (losing
`devices` forgets how far off the phones' clocks were, losing `meta` gives a new id; both are harmless).
"""

import sqlalchemy as sa

metadata = sa.MetaData()

changes = sa.Table(
    "changes",
    metadata,
    sa.Column("seq", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("id", sa.Text, nullable=False, unique=True),  # of a held row: `model.key_of`
    sa.Column("row", sa.Text, nullable=False),  # the whole row as JSON: what travels, and what is hashed
    sa.Column("hash", sa.LargeBinary, nullable=False),
    sa.Column("held_for", sa.Text),  # of a held row: its change
    sa.Column("erased", sa.LargeBinary),  # digest of what stood here before somebody's words were blanked
    sa.Column("blank", sa.LargeBinary),  # digest of what stands here since
    sa.Index("changes_held_for", "held_for", sqlite_where=sa.text("held_for IS NOT NULL")),
)

records = sa.Table(
    "records",
    metadata,
    sa.Column("key", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("kind", sa.Text, nullable=False),
    sa.Column("id", sa.Text, nullable=False),
    sa.Column("fields", sa.Text, nullable=False),  # JSON: {field: {value, change, seq, when, back, saw}}
    sa.Column("seq", sa.Integer, nullable=False),  # the last row that changed it
    sa.Column("when", sa.Text, nullable=False),
    sa.UniqueConstraint("kind", "id"),
)

# What replaced a change that is not here yet, by record. A logbook from before it was kept has none of it.
awaited = sa.Table(
    "awaited",
    metadata,
    sa.Column("kind", sa.Text, primary_key=True),
    sa.Column("id", sa.Text, primary_key=True),
    sa.Column("fields", sa.Text, nullable=False),  # JSON: {field: {change: field as in `records`}}
)

pieces = sa.Table(
    "pieces",
    metadata,
    sa.Column("key", sa.Integer, primary_key=True, autoincrement=False),  # as in `records`
    sa.Column("id", sa.Text, nullable=False),
    sa.Column("session", sa.Text),
    sa.Column("number", sa.Integer),
    sa.Column("batch", sa.Text),
    sa.Column("machine", sa.Text),
    sa.Column("outcome", sa.Text),  # the latest outcome that stands
    sa.Column("outcomes", sa.Integer, nullable=False),  # how many stand: two are asked about
    sa.Column("at", sa.Text),
    sa.Column("minutes", sa.Float),
    sa.Column("turns", sa.Integer, nullable=False),
    sa.Column("whole", sa.Boolean, nullable=False),  # fully counted: no pause, no correction, tapped live
    sa.Column("removed", sa.Boolean, nullable=False),
)

slips = sa.Table(
    "slips",
    metadata,
    sa.Column("kind", sa.Text, primary_key=True),
    sa.Column("subject", sa.Text, primary_key=True),
    sa.Column("as_of_seq", sa.Integer, nullable=False),
    sa.Column("observations", sa.Integer, nullable=False),
    sa.Column("body", sa.Text, nullable=False),
    sa.Column("rev", sa.Integer, nullable=False),  # grows with every slip that is replaced
)

devices = sa.Table(
    "devices",
    metadata,
    sa.Column("device", sa.Text, primary_key=True),
    sa.Column("last_exchange", sa.Text, nullable=False),  # by the server's clock
    sa.Column("off_ms", sa.Integer, nullable=False),  # phone minus server, as it was then
)

# What was told to people who may be away from the page. None of it travels to the phones or into an export.
messages = sa.Table(
    "messages",
    metadata,
    sa.Column("key", sa.Text, primary_key=True),
    sa.Column("said", sa.Text, nullable=False),
)

subscriptions = sa.Table(
    "subscriptions",
    metadata,
    sa.Column("id", sa.Text, primary_key=True),
    sa.Column("device", sa.Text, nullable=False),
    sa.Column("endpoint", sa.Text, nullable=False),
    sa.Column("p256dh", sa.Text, nullable=False),
    sa.Column("auth", sa.Text, nullable=False),
    sa.Column("origin", sa.Text, nullable=False),
    sa.Column("since", sa.Text, nullable=False),
    sa.Column("went_well", sa.Text),  # when the push service last took a message
    sa.Column("went_wrong", sa.Text),  # why it last did not, in its own words
)

deliveries = sa.Table(
    "deliveries",
    metadata,
    sa.Column("key", sa.Text, primary_key=True),
    sa.Column("subscription", sa.Text, primary_key=True),
    sa.Column("body", sa.Text, nullable=False),
    sa.Column("urgent", sa.Boolean, nullable=False),
    sa.Column("until", sa.Text, nullable=False),
    sa.Column("next_try", sa.Text, nullable=False),
    sa.Column("tries", sa.Integer, nullable=False),
    sa.Column("begun", sa.Boolean, nullable=False),
)

# How often each calendar event was changed, and when last: the events themselves follow from the records.
events = sa.Table(
    "events",
    metadata,
    sa.Column("uid", sa.Text, primary_key=True),
    sa.Column("digest", sa.Text, nullable=False),
    sa.Column("sequence", sa.Integer, nullable=False),
    sa.Column("changed", sa.Text, nullable=False),
)

meta = sa.Table(
    "meta",
    metadata,
    sa.Column("name", sa.Text, primary_key=True),
    sa.Column("value", sa.Text, nullable=False),
)

# One row, written by every commit: who wants to number changes waits for it, so that no reader's cursor ever
# passes a row that commits late. `folded` is the seq that the derived tables have reached.
head = sa.Table(
    "head",
    metadata,
    sa.Column("one", sa.Integer, primary_key=True, autoincrement=False),
    sa.Column("seq", sa.Integer, nullable=False),
    sa.Column("hash", sa.LargeBinary, nullable=False),
    sa.Column("folded", sa.Integer, nullable=False),
    sa.Column("next_key", sa.Integer, nullable=False),
)

DERIVED = (records, pieces, awaited)


def drop_outgrown(engine: sa.Engine) -> None:
    """Slips of a logbook from before they had revisions go; they are fitted again."""
    found = sa.inspect(engine)
    if found.has_table("slips") and "rev" not in {column["name"] for column in found.get_columns("slips")}:
        slips.drop(engine)
