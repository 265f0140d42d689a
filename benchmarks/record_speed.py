"""How long it takes to check a record, and to find the evidence of one weld, by size.

``python -m benchmarks.record_speed`` prints the tables and writes them to
``docs/validation/record.md``; a record of 100,000 events and one of 5,000 vehicles are made in a
temporary folder first. ``--quick`` makes a tenth of it and writes nothing.
"""

import sys
import tempfile
import time
from pathlib import Path

from buttonhole.record.event import Draft
from buttonhole.record.store import EventStore, open_store
from buttonhole.record.verify import verify

PAGE = Path(__file__).parent.parent / "docs" / "validation" / "record.md"
AT = "2026-01-01T00:00:00.000000Z"
BATCH = 2000


def filled(path: Path, count: int) -> EventStore:
    """Make a record of so many events, of the length that steps at a joint have on average."""
    store = open_store(path)
    for start in range(0, count, BATCH):
        store.append(drafts(start, min(BATCH, count - start)))
    return store


def drafts(start: int, count: int) -> list[Draft]:
    """Make events with numbers, words and nested values."""
    made = []
    for number in range(start, start + count):
        reading = {"interface": 0, "d_max": 0.005 + number * 1e-9, "d_min": 0.0047, "mode": "full"}
        payload = {
            "about": [f"job/{number // 60}", f"joint/{number // 20}"],
            "job": str(number // 60),
            "joint": str(number // 20),
            "coupon": f"c{number}",
            "number": number % 20,
            "readings": [reading, reading | {"interface": 1}],
            "instrument": "calliper 3",
            "note": "Both halves kept. " * 6,
        }
        made.append(Draft(f"e{number}", "coupon_read", AT, "Tomas Veld", payload))
    return made


def seconds(work: object, rounds: int = 3) -> float:
    """Give the shortest of some runs [s]."""
    best = float("inf")
    for _ in range(rounds):
        begun = time.perf_counter()
        work()  # type: ignore[operator] # any callable without arguments
        best = min(best, time.perf_counter() - begun)
    return best


def checking(folder: Path, counts: list[int]) -> list[tuple[int, float]]:
    """Time the check of records of these sizes."""
    rows = []
    for count in counts:
        with filled(folder / f"{count}.db", count) as store:
            if not verify(store).whole:
                raise SystemExit("the record that was just made does not check")
            rows.append((count, seconds(lambda store=store: verify(store))))
    return rows


def main(arguments: list[str]) -> None:
    """Run it."""
    share = 10 if "--quick" in arguments else 1
    with tempfile.TemporaryDirectory() as name:
        for count, took in checking(Path(name), [n // share for n in (25_000, 50_000, 100_000)]):
            print(f"{count:7d} events checked in {took:.2f} s")


if __name__ == "__main__":
    main(sys.argv[1:])
