"""The connection to the database, and the settings that make an acknowledged event stay."""

import sqlite3
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection
from sqlalchemy.pool import ConnectionPoolEntry, QueuePool

from buttonhole.record.store.trouble import StoreTrouble

WAIT_MS = 15_000
"""How long a writer waits for another one before it gives up [ms]."""

SERVER = "postgresql://"
"""How the address of a record on a database server begins."""

ONE_WRITER = 0x627574746F6E  # any number that no other program locks by


def is_server(where: str | Path) -> bool:
    """Say whether a record is named by the address of a server, not by a file."""
    return isinstance(where, str) and where.startswith(SERVER)


def connect(where: str | Path, *, read_only: bool) -> Engine:
    """
    Make the engine for a record.

    Parameters
    ----------
    where : str or Path
        The file, or the address of a database on a server.
    read_only : bool
        Open without the right to write, for inspection.

    Returns
    -------
    Engine
        Transactions begin as readers; with `execution_options(write=True)` as the one writer.

    Raises
    ------
    StoreTrouble
        When the part that speaks to a server is not installed.
    """
    if isinstance(where, str) and is_server(where):
        return _server(where, read_only=read_only)
    return _file(Path(where), read_only=read_only)


def _file(path: Path, *, read_only: bool) -> Engine:
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
            # A name that is withheld must not stay behind in a freed page.
            cursor.execute("PRAGMA secure_delete = ON")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        # Taking the write lock first: what is read in the transaction is then what is built on.
        writes = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _server(address: str, *, read_only: bool) -> Engine:
    try:
        engine = create_engine(
            "postgresql+psycopg://" + address.removeprefix(SERVER),
            pool_size=8,
            pool_pre_ping=True,
            connect_args={"connect_timeout": WAIT_MS // 1000},
        )
    except ModuleNotFoundError as fault:
        raise StoreTrouble(
            "not installed",
            "A record on a server needs the extra `server`: install buttonhole[server].",
        ) from fault

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if connection.get_execution_options().get("write", False) and not read_only:
            connection.exec_driver_sql(f"SET LOCAL lock_timeout = {WAIT_MS}")
            # One writer at a time, as in a file: the next one reads the head this one writes.
            connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({ONE_WRITER})")
        else:
            connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")

    return engine
