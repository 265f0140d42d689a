"""Kill -9 at any moment: what was acknowledged is there, and the chain is whole."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

from buttonhole.record import verify
from buttonhole.record.store import open_store

CHILD = Path(__file__).parent / "child.py"


def start(path: Path, name: str, count: int = 1_000_000) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [
            sys.executable,
            "-X",
            "pycache_prefix=",
            str(CHILD),
            str(path),
            name,
            "joint/1",
            str(count),
        ],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )


def kill(child: subprocess.Popen[str]) -> list[str]:
    child.send_signal(signal.SIGKILL)
    said, _ = child.communicate(timeout=30)
    # The last line may be cut in the middle: only whole lines were acknowledged.
    return [line for line in said.split("\n")[:-1] if line]


def run_rounds(path: Path, rounds: int, chance: np.random.Generator) -> int:
    acknowledged: set[str] = set()
    for turn in range(rounds):
        child = start(path, f"round{turn}")
        if turn % 5:
            assert child.stdout is not None
            acknowledged.add(child.stdout.readline().strip())
        # Every fifth child dies while it starts, opens and migrates; the others while they write.
        time.sleep(chance.uniform(0.0, 0.25 if turn % 5 else 0.5))
        acknowledged.update(kill(child))
        with open_store(path) as store:
            kept = [event.id for event in store.events("joint/1")]
            report = verify(store)
        assert report.whole, report.words
        assert acknowledged <= set(kept)
        assert len(kept) == len(set(kept))
        pairs = {name.removesuffix("-b") for name in kept if name.endswith("-b")}
        due = {
            name for name in kept if not name.endswith("-b") and int(name.split("-")[1]) % 3 == 0
        }
        assert pairs == due, "two events of one append must both be there or neither"
    return len(acknowledged)


def test_thirty_kills_lose_nothing_that_was_acknowledged(tmp_path):
    # Any moment of death must do, so each run takes others; pytest shows the seed on failure.
    seed = int.from_bytes(os.urandom(3), "big")
    acknowledged = run_rounds(tmp_path / "record.db", 30, np.random.default_rng(seed))
    assert acknowledged > 100, f"seed {seed}: the children hardly wrote"


@pytest.mark.hours
@pytest.mark.timeout(12 * 3600)
def test_a_thousand_kills_lose_nothing_that_was_acknowledged(tmp_path):
    assert run_rounds(tmp_path / "record.db", 1000, np.random.default_rng(7)) > 1000


def test_three_programs_write_at_once_and_one_is_killed(tmp_path):
    path = tmp_path / "record.db"
    victim = start(path, "victim")
    others = [start(path, name, 60) for name in ("one", "two")]
    time.sleep(0.7)
    acknowledged = kill(victim)
    for child in others:
        said, _ = child.communicate(timeout=60)
        assert child.returncode == 0
        acknowledged += said.split()
    with open_store(path) as store:
        kept = {event.id for event in store.events()}
        report = verify(store)
    assert report.whole, report.words
    assert set(acknowledged) <= kept
    assert {f"one-{n}" for n in range(60)} <= kept
    assert {f"two-{n}" for n in range(60)} <= kept
