"""The tables of the record. The migrations make them; this is how the code names them."""

from sqlalchemy import (
    Column,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
)

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
    Index("event_type", "type"),
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

FILE = Table(
    "file",
    metadata,
    Column("sha256", Text, primary_key=True),
    Column("media", Text, nullable=False),
    Column("content", LargeBinary, nullable=False),
)
"""Photos and papers that events name by their hash: rows are only ever added."""

HELD = Table(
    "held",
    metadata,
    Column("token", Text, primary_key=True),
    Column("salt", Text, nullable=False),
    Column("value", Text, nullable=False),
    Index("held_value", "value"),
)
"""Names of people beside the events: a row may go, and no hash changes."""

KEY_BOX = Table(
    "key_box",
    metadata,
    Column("person", Text, primary_key=True),
    Column("public", Text, nullable=False),
    Column("box", Text, nullable=False),
    Column("failures", Integer, nullable=False),
    Column("shut_until", Text, nullable=False),
)
"""Private keys under a PIN, and how often a wrong one was tried in a row."""
