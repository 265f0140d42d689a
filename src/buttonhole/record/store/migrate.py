"""Bring the tables of a record to the form this program knows."""

from pathlib import Path

from sqlalchemy import Connection, Engine, inspect, text

from buttonhole.record.store.trouble import StoreTrouble

NEWEST = "0002"
"""The last migration in `migrations/versions`; a test holds the two together."""


def bring_up_to_date(engine: Engine, path: Path | str) -> None:
    """
    Run the migrations a record still lacks, all or none.

    Parameters
    ----------
    engine : Engine
        The database.
    path : Path or str
        The file or server, for messages.

    Raises
    ------
    StoreTrouble
        When a newer program wrote the record.
    """
    with engine.connect() as connection, connection.begin():
        if _version(connection) == NEWEST:
            return
    with engine.connect().execution_options(write=True) as connection, connection.begin():
        # Another program may have done it while this one waited for the lock.
        if _version(connection) != NEWEST:
            _upgrade(connection, path)


def check_version(engine: Engine, path: Path | str) -> None:
    """
    Refuse a record this program cannot read as it is.

    Parameters
    ----------
    engine : Engine
        The database.
    path : Path or str
        The file or server, for messages.

    Raises
    ------
    StoreTrouble
        When the record is of another version.
    """
    with engine.connect() as connection, connection.begin():
        found = _version(connection)
    if found != NEWEST:
        raise StoreTrouble(
            "version",
            f"{path}: The record has form {found or 'none'}, this program reads {NEWEST}. If it is "
            "of an earlier program, open it once to write, by `record upgrade` say.",
        )


def _version(connection: Connection) -> str | None:
    if not inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def _upgrade(connection: Connection, path: Path | str) -> None:
    # Imported here: it is needed once in the life of a record, and it is slow to import.
    from alembic import command
    from alembic.config import Config
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", str(Path(__file__).parent / "migrations"))
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, "head")
    except CommandError as fault:
        raise StoreTrouble(
            "version",
            f"{path}: A newer program wrote this record. Use that one; nothing was changed.",
        ) from fault
