"""``buttonhole run``: caps that get warmer from weld to weld."""

import json
import subprocess
import sys


def asked(*words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "buttonhole", "run", "examples/two_sheets.toml", *words],
        capture_output=True, text=True, check=False,
    )  # fmt: skip


def test_caps_start_warmer_than_cold_and_settle() -> None:
    answer = json.loads(asked("--welds", "12", "--every", "2 s", "--json").stdout)
    starts = [one["cap_start_degC"][0] for one in answer["welds"]]
    assert len(starts) == 12
    assert starts[0] < starts[1] < starts[-1] + 1.0
    assert answer["settled_after_welds"] is not None


def test_people_get_a_table_and_a_caution() -> None:
    done = asked("--welds", "14")
    assert done.returncode == 0
    assert " ..." in done.stdout
    assert "burn" in done.stdout


def test_an_interval_shorter_than_a_weld_is_refused() -> None:
    done = asked("--every", "0.1 s")
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert "interval" in done.stderr
