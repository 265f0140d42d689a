"""Where the answer goes: a reader that leaves early, no output at all, a full disk."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

RULES = [sys.executable, "-m", "buttonhole", "rules"]


def test_a_reader_that_has_seen_enough_is_no_fault() -> None:
    reading, writing = os.pipe()
    os.close(reading)  # every write fails from the start
    try:
        done = subprocess.run(
            RULES, stdout=writing, stderr=subprocess.PIPE, timeout=60, check=False
        )
    finally:
        os.close(writing)
    assert done.returncode == 0
    assert done.stderr == b""


def test_a_closed_output_is_said_in_one_line() -> None:
    done = subprocess.run(
        ["sh", "-c", f"{sys.executable} -m buttonhole rules >&-"],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert done.returncode == 2
    assert done.stderr == "standard output is closed; give the answer somewhere to go\n"


@pytest.mark.skipif(not Path("/dev/full").is_char_device(), reason="no device that is full")
def test_a_full_disk_is_said_in_one_line() -> None:
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            RULES, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False
        )
    assert done.returncode == 2
    assert done.stderr == "output: no space left on device; make room for it\n"
