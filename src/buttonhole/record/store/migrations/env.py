"""Run the migrations on the connection that `migrate` hands over, inside its transaction."""

from alembic import context

from buttonhole.record.store.tables import metadata

context.configure(
    connection=context.config.attributes["connection"],
    target_metadata=metadata,
    # SQLite can roll back CREATE TABLE; so a half-made record never stays behind.
    transactional_ddl=True,
)
context.run_migrations()
