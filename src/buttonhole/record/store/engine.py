"""The connection to the database, and the settings that make an acknowledged event stay."""

import sqlite3
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool

WAIT_MS = 15_000
"""How long a writer waits for another one before it gives up [ms]."""


def connect(path: Path, *, read_only: bool) -> Engine:
    """
    Make the engine for a record in a file.

    Parameters
    ----------
    path : Path
        The file.
    read_only : bool
        Open without the right to write, for inspection.

    Returns
    -------
    Engine
        Transactions begin as readers; with `execution_options(write=True)` as the one writer.
    """
    mode = "ro" if read_only else "rwc"
    address = f"{path.absolute().as_uri()}?mode={mode}"

    def open_file() -> sqlite3.Connection:
        # Transactions are begun below, by name, so the driver must not begin any by itself.
        return sqlite3.connect(address, uri=True, isolation_level=None, check_same_thread=False)

    engine = create_engine("sqlite://", creator=open_file, pool_size=8, poolclass=QueuePool)

    @event.listens_for(engine, "connect")
    def _settings(raw: DBAPIConnection, _entry: ConnectionPoolEntry) -> None:
        cursor = raw.cursor()
        cursor.execute(f"PRAGMA busy_timeout = {WAIT_MS}")
        cursor.execute("PRAGMA foreign_keys = ON")
        cursor.execute("PRAGMA trusted_schema = OFF")
        if not read_only:
            cursor.execute("PRAGMA journal_mode = WAL")
            # FULL: a commit returns when the disk has it, not when the system has promised.
            cursor.execute("PRAGMA synchronous = FULL")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        # Taking the write lock first: what is read in the transaction is then what is built on.
        writes = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine
