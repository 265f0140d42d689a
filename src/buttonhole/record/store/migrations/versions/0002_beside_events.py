"""What stands beside the events: files, names that may be withheld, keys under a PIN."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the three tables, and an index by which events of one type are found."""
    op.create_index("event_type", "event", ["type"])
    op.create_table(
        "file",
        sa.Column("sha256", sa.Text, primary_key=True),
        sa.Column("media", sa.Text, nullable=False),
        sa.Column("content", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "held",
        sa.Column("token", sa.Text, primary_key=True),
        sa.Column("salt", sa.Text, nullable=False),
        sa.Column("value", sa.Text, nullable=False),
    )
    op.create_index("held_value", "held", ["value"])
    op.create_table(
        "key_box",
        sa.Column("person", sa.Text, primary_key=True),
        sa.Column("public", sa.Text, nullable=False),
        sa.Column("box", sa.Text, nullable=False),
        sa.Column("failures", sa.Integer, nullable=False),
        sa.Column("shut_until", sa.Text, nullable=False),
    )
    if op.get_bind().dialect.name == "postgresql":
        op.execute(
            "CREATE TRIGGER file_no_change BEFORE UPDATE OR DELETE ON file "
            "FOR EACH ROW EXECUTE FUNCTION event_refuse()"
        )
        return
    for change in ("UPDATE", "DELETE"):
        op.execute(
            f"CREATE TRIGGER file_no_{change.lower()} BEFORE {change} ON file BEGIN "
            "SELECT RAISE(ABORT, 'a file of the record is never changed or deleted'); END"
        )


def downgrade() -> None:
    """There is no way back: events may name what would be deleted."""
    raise RuntimeError("the record is never taken apart")
