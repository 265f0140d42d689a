"""The tables of the record. The migrations make them; this is how the code names them."""

from sqlalchemy import Column, ForeignKey, Index, Integer, MetaData, Table, Text

metadata = MetaData()

EVENT = Table(
    "event",
    metadata,
    Column("place", Integer, primary_key=True, autoincrement=False),
    Column("id", Text, nullable=False, unique=True),
    Column("type", Text, nullable=False),
    Column("at", Text, nullable=False),
    Column("actor", Text, nullable=False),
    Column("payload", Text, nullable=False),
    # Unique, so that a chain cannot fork even when two programs write at once.
    Column("prev_hash", Text, nullable=False, unique=True),
    Column("hash", Text, nullable=False, unique=True),
)
"""The truth: rows are only ever added."""

EVENT_SUBJECT = Table(
    "event_subject",
    metadata,
    Column("subject", Text, primary_key=True),
    Column("place", Integer, ForeignKey("event.place"), primary_key=True),
    Index("event_subject_place", "place"),
)
"""Which events concern what: read out of the payloads, can be built again at any time."""
