"""Asking for help costs nothing: the heavy parts are imported only by the verbs that use them."""

import json
import subprocess
import sys

import pytest

HEAVY = (
    "numpy",
    "numba",
    "scipy",
    "sqlalchemy",
    "fastapi",
    "typst",
    "pint",
    "rich.console",
    "cv2",
    "PIL",
)
LOOK = """
import json, sys, time
started = time.perf_counter()
import buttonhole.cli.verbs
taken = time.perf_counter() - started
print(json.dumps([taken, sorted(sys.modules)]))
"""


def test_the_command_line_imports_nothing_heavy() -> None:
    times = []
    for _ in range(3):  # the machine may be busy: the best of three counts
        done = subprocess.run(
            [sys.executable, "-c", LOOK], capture_output=True, text=True, check=True, timeout=60
        )
        taken, modules = json.loads(done.stdout)
        times.append(taken)
        assert [one for one in HEAVY if one in modules] == []
    assert min(times) < 0.4


@pytest.mark.parametrize("words", [[], ["joint"], ["coupon", "read", "--help"]])
def test_help_is_told_on_standard_output(words: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "buttonhole", *words],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 0
    assert done.stdout.startswith("Usage: buttonhole")
    assert done.stderr == ""
