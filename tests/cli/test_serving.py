"""A port that is taken is refused before anything is told or written."""

import socket
import subprocess
import sys
from pathlib import Path

import pytest


@pytest.mark.parametrize("verb", ["serve", "demo"])
def test_a_taken_port(tmp_path: Path, verb: str) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        words = [verb, "--port", port, "--record", str(tmp_path / "record.db")]
        done = subprocess.run(
            [sys.executable, "-m", "buttonhole", *words],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert f"--port: is {port}; another program listens there already" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_host_that_is_not_here(tmp_path: Path) -> None:
    words = ["serve", "--host", "192.0.2.1", "--record", str(tmp_path / "record.db")]
    done = subprocess.run(
        [sys.executable, "-m", "buttonhole", *words],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "--host" in done.stderr
    assert list(tmp_path.iterdir()) == []
