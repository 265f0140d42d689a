"""How long a person waits for a first answer: whole processes, from nothing, with a warm cache.

Run with ``python -m benchmarks.start_up`` (or ``./go bench``). Each line is one command started
several times; the least of the times is the one least disturbed by what else the machine did. An
interpreter that does nothing stands first, as what can't be had for less.
"""

import statistics
import subprocess
import sys
import time
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PROGRAM = Path(sys.executable).with_name("buttonhole")
RUNS = 5


def seconds(command: list[str]) -> list[float]:
    """Return how long each run of the command took [s]; a failing one ends the benchmark."""
    taken = []
    for _ in range(RUNS):
        before = time.perf_counter()
        subprocess.run(command, cwd=ROOT, check=True, capture_output=True)
        taken.append(time.perf_counter() - before)
    return taken


def main() -> None:
    """Time the commands and print one line for each."""
    rows: dict[str, list[str]] = {
        "an interpreter that does nothing": [sys.executable, "-c", "pass"],
        "import buttonhole.units": [sys.executable, "-c", "import buttonhole.units"],
        "buttonhole --help": [str(PROGRAM), "--help"],
    }
    for weld_file in sorted((ROOT / "examples").glob("*.toml")):
        if "process" not in tomllib.loads(weld_file.read_text("utf-8")):
            continue  # describes a machine or a joint, not a weld
        name = weld_file.relative_to(ROOT).as_posix()
        rows[f"buttonhole predict {name}"] = [str(PROGRAM), "predict", name, "--json"]
    print(f"{'least':>8} {'median':>8}  seconds over {RUNS} runs")
    for name, command in rows.items():
        taken = seconds(command)
        print(f"{min(taken):8.2f} {statistics.median(taken):8.2f}  {name}")


if __name__ == "__main__":
    main()
