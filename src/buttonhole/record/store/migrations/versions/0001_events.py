"""The events, only ever added to, and the index of what they concern."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the two tables and the triggers that refuse any change of an event."""
    op.create_table(
        "event",
        sa.Column("place", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("id", sa.Text, nullable=False, unique=True),
        sa.Column("type", sa.Text, nullable=False),
        sa.Column("at", sa.Text, nullable=False),
        sa.Column("actor", sa.Text, nullable=False),
        sa.Column("payload", sa.Text, nullable=False),
        sa.Column("prev_hash", sa.Text, nullable=False, unique=True),
        sa.Column("hash", sa.Text, nullable=False, unique=True),
    )
    op.create_table(
        "event_subject",
        sa.Column("subject", sa.Text, primary_key=True),
        sa.Column("place", sa.Integer, sa.ForeignKey("event.place"), primary_key=True),
    )
    op.create_index("event_subject_place", "event_subject", ["place"])
    if op.get_bind().dialect.name == "postgresql":
        _guard_on_server()
    else:
        _guard_in_file()


def _guard_in_file() -> None:
    for change in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER event_no_{change.lower()} BEFORE {change} ON event BEGIN "
            "SELECT RAISE(ABORT, 'events are never changed or deleted; append a correction'); "
            "END"
        )
    # Without this, INSERT OR REPLACE would delete a row and no trigger would see it.
    op.execute(
        "CREATE TRIGGER event_next_place BEFORE INSERT ON event "
        "WHEN NEW.place <> (SELECT coalesce(max(place), 0) + 1 FROM event) BEGIN "
        "SELECT RAISE(ABORT, 'an event goes to the end of the record'); "
        "END"
    )
    op.execute(
        "CREATE TRIGGER event_joins_chain BEFORE INSERT ON event "
        "WHEN NEW.place > 1 AND NEW.prev_hash <> "
        "(SELECT hash FROM event WHERE place = NEW.place - 1) BEGIN "
        "SELECT RAISE(ABORT, 'an event must follow the last one'); "
        "END"
    )
    op.execute(
        "CREATE TRIGGER event_not_twice BEFORE INSERT ON event "
        "WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id OR hash = NEW.hash "
        "OR prev_hash = NEW.prev_hash) BEGIN "
        "SELECT RAISE(ABORT, 'this event is in the record already'); "
        "END"
    )


def _guard_on_server() -> None:
    # The same refusals in the words of the server.
    op.execute(
        "CREATE FUNCTION event_refuse() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        "RAISE EXCEPTION 'events are never changed or deleted; append a correction' "
        "USING ERRCODE = '23514'; END $$"
    )
    op.execute(
        "CREATE TRIGGER event_no_change BEFORE UPDATE OR DELETE ON event "
        "FOR EACH ROW EXECUTE FUNCTION event_refuse()"
    )
    op.execute(
        "CREATE TRIGGER event_no_truncate BEFORE TRUNCATE ON event "
        "FOR EACH STATEMENT EXECUTE FUNCTION event_refuse()"
    )
    op.execute(
        "CREATE FUNCTION event_joins() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN "
        "IF NEW.place <> (SELECT coalesce(max(place), 0) + 1 FROM event) THEN "
        "RAISE EXCEPTION 'an event goes to the end of the record' USING ERRCODE = '23514'; "
        "END IF; "
        "IF NEW.place > 1 AND NEW.prev_hash <> "
        "(SELECT hash FROM event WHERE place = NEW.place - 1) THEN "
        "RAISE EXCEPTION 'an event must follow the last one' USING ERRCODE = '23514'; "
        "END IF; RETURN NEW; END $$"
    )
    op.execute(
        "CREATE TRIGGER event_joins_chain BEFORE INSERT ON event "
        "FOR EACH ROW EXECUTE FUNCTION event_joins()"
    )


def downgrade() -> None:
    """There is no way back: it would delete events."""
    raise RuntimeError("the record is never taken apart")
