"""The tests of the store run on a file, and on a database server where one can be started."""

import os
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

USER = "postgres"


def _programs() -> tuple[str, str] | None:
    folders = [str(one) for one in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]
    path = os.pathsep.join([*folders, os.environ.get("PATH", "")])
    found = shutil.which("initdb", path=path), shutil.which("pg_ctl", path=path)
    return (found[0], found[1]) if found[0] and found[1] else None


def _run(*words: str) -> None:
    # The server refuses to run as root.
    lead = ["setpriv", f"--reuid={USER}", f"--regid={USER}", "--clear-groups"]
    as_user = lead if os.geteuid() == 0 else []
    done = subprocess.run(
        [*as_user, *words],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        timeout=120,
        check=False,
        cwd="/",
    )
    if done.returncode:
        raise RuntimeError(done.stdout.decode(errors="replace")[-400:])


@pytest.fixture(scope="session")
def server():
    """Start a database server of our own, in a folder of its own, reached by a socket there."""
    pytest.importorskip("psycopg", reason="the extra `server` is not installed")
    programs = _programs()
    if programs is None:
        pytest.skip("no database server is installed here (Debian: apt-get install postgresql)")
    initdb, control = programs
    with tempfile.TemporaryDirectory(prefix="pg-") as name:
        folder = Path(name)
        if os.geteuid() == 0:
            try:
                shutil.chown(folder, USER, USER)
            except LookupError:
                pytest.skip(f"root cannot run a server, and there is no user {USER} to run it")
        data = folder / "data"
        _run(initdb, "-D", str(data), "-A", "trust", "-U", "keeper", "-E", "UTF8", "--no-locale")
        options = f"-c listen_addresses='' -c unix_socket_directories={folder}"
        log = str(folder / "log")
        try:
            _run(control, "-D", str(data), "-w", "-l", log, "-o", options, "start")
            yield folder
        finally:
            _run(control, "-D", str(data), "-m", "immediate", "stop")


@pytest.fixture
def database(server):
    """Make an empty database and give its address."""
    import psycopg

    name = f"record_{os.urandom(4).hex()}"
    with psycopg.connect(
        host=str(server), user="keeper", dbname="postgres", autocommit=True
    ) as raw:
        raw.execute(f'CREATE DATABASE "{name}"')
    return f"postgresql://keeper@/{name}?host={server}"


@pytest.fixture(params=["file", "server"])
def place(request, tmp_path):
    """Where a record is: a file, then an address."""
    if request.param == "file":
        return tmp_path / "shop" / "record.db"
    return request.getfixturevalue("database")
