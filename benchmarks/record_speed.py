"""How long it takes to check a record, and to find the evidence of one weld, by size.

``python -m benchmarks.record_speed`` prints the tables and writes them to
``docs/validation/record.md``; a record of 100,000 events and one of 5,000 vehicles are made in a
temporary folder first. ``--quick`` makes a tenth of it and writes nothing.
"""

import json
import re
import sys
import tempfile
import time
from datetime import UTC, datetime
from pathlib import Path

from buttonhole.desk.desk import Desk
from buttonhole.desk.find_evidence import FindEvidence, find_evidence
from buttonhole.desk.load_demo import load_demo
from buttonhole.record.canonical import canonical
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
    """Give the shortest of some runs [s], of this process's own time."""
    best = float("inf")
    for _ in range(rounds):
        begun = time.process_time()
        work()  # type: ignore[operator] # any callable without arguments
        best = min(best, time.process_time() - begun)
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


UUID = re.compile(r"[0-9a-f]{8}(?=-[0-9a-f]{4}-7[0-9a-f]{3}-)")


def fleet(path: Path, model: Path, count: int) -> EventStore:
    """Make a record of so many vehicles: the demonstration again and again, each its own."""
    with open_store(model) as shop:
        told = [one for one in shop.events() if "job" in one.payload]
        vin = next(one.payload["vin"] for one in told if one.payload.get("vin"))
    texts = [canonical({"id": one.id, "payload": one.payload}) for one in told]
    store = open_store(path)
    drafts_: list[Draft] = []
    for number in range(count):
        for one, text in zip(told, texts, strict=True):
            own = UUID.sub(f"{number:08x}", text).replace(vin, vin_of(number))
            values = json.loads(own)
            drafts_.append(Draft(values["id"], one.type, one.at, one.actor, values["payload"]))
        if len(drafts_) >= BATCH or number == count - 1:
            store.append(drafts_)
            drafts_ = []
    return store


def vin_of(number: int) -> str:
    """Give each vehicle its number; no maker's code begins with a nought."""
    return f"0BHDEM01{number:09d}"


def finding(folder: Path, counts: list[int]) -> list[tuple[int, int, float]]:
    """Time the way from a VIN to the evidence, in records of so many vehicles."""
    model = folder / "model.db"
    with open_store(model) as shop:
        load_demo(shop, datetime(2026, 3, 2, 12, tzinfo=UTC), zone=UTC)
    rows = []
    for count in counts:
        with fleet(folder / f"fleet-{count}.db", model, count) as store:
            desk = Desk(store, lambda: datetime(2026, 3, 2, 12, tzinfo=UTC), "An inspector")

            def look(desk: Desk = desk, store: EventStore = store, count: int = count) -> None:
                found = find_evidence(desk, store, FindEvidence(vin_of(count // 2)))
                if not found.joints or found.altered:
                    raise SystemExit("the evidence was not found")

            rows.append((count, store.head()[0], seconds(look, 7)))
    return rows


def main(arguments: list[str]) -> None:
    """Run it."""
    share = 10 if "--quick" in arguments else 1
    with tempfile.TemporaryDirectory() as name:
        checked = checking(Path(name), [n // share for n in (25_000, 50_000, 100_000)])
        for count, took in checked:
            print(f"{count:7d} events checked in {took:.2f} s", flush=True)
        found = finding(Path(name), [n // share for n in (1_250, 2_500, 5_000)])
        for count, events, took in found:
            print(f"{count:5d} vehicles, {events:7d} events: {took * 1e3:.0f} ms", flush=True)
    if share == 1:
        PAGE.write_text(page(checked, found), encoding="utf-8")


def page(checked: list[tuple[int, float]], found: list[tuple[int, int, float]]) -> str:
    """Write what was measured."""
    rows = "\n".join(
        f"| {count:,} | {took:.2f} | {took / count * 1e6:.1f} |" for count, took in checked
    )
    ways = "\n".join(
        f"| {count:,} | {events:,} | {took * 1e3:.0f} |" for count, events, took in found
    )
    return f"""# How quick the record is

Made by `python -m benchmarks.record_speed`; the shortest of several runs, in processor time of one
core, so that other work on the machine does not count. Goals: 100,000 events checked in 2 s, and
from a VIN to the evidence of its welds in a record of 5,000 vehicles in 200 ms.

| events | checked in s | µs for each |
|---|---|---|
{rows}

A check reads every event, its hash, its place, the index, and builds the Merkle tree over all.

| vehicles | events | VIN to evidence in ms |
|---|---|---|
{ways}

Each vehicle is the demonstration: its entries, predictions and proposals in full length. The way
from the VIN goes by an index and does not depend on how many other vehicles there are.
"""


if __name__ == "__main__":
    main(sys.argv[1:])
