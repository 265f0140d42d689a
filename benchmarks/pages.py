"""How long a page takes on a record of 512 coupons, what it weighs, how fast a slider answers.

Run with ``python -m benchmarks.pages``; it writes ``docs/validation/pages.md``. A real server over
loopback HTTP, one page after the other, each many times; the first paint and the sliders in
Chromium. Goals: a page in 100 ms and a slider in 50 ms at the 95th percentile, first paint in 1 s,
at most 400 kB a page with all it loads, fetched for the first time.
"""

import statistics
import tempfile
import time
import urllib.parse
import urllib.request
from pathlib import Path
from typing import NamedTuple

from playwright.sync_api import Browser, sync_playwright

from benchmarks.busy_shop import COUPONS, JOBS, JOINTS, fill
from buttonhole.desk.view import JointView
from buttonhole.record.store.event_store import open_store
from buttonhole.web.set_up_form import typed_set_up
from tests.browser.conftest import CHROMIUM, SWITCHES, RunningServer

PAGE = Path(__file__).parent.parent / "docs/validation/pages.md"
TIMES = 40


class Row(NamedTuple):
    """One page: times [s], first paint [s], weight [bytes]."""

    name: str
    middle: float
    late: float  # the 95th percentile
    paint: float
    weight: float


def addresses(joint: JointView) -> dict[str, str]:
    """Name the pages a person meets on the way of a joint, by address."""
    at = f"/joints/{joint.id}"
    coupon = f"{at}/coupons/{joint.coupons[-1].id}"
    return {
        "home": "/",
        "job": f"/jobs/{joint.job_id}",
        "safety gates": f"/jobs/{joint.job_id}/safe",
        "joint": at,
        "sheets": f"{at}/sheets",
        "procedure": f"{at}/procedure",
        "method": f"{at}/method",
        "set-up": f"{at}/set-up",
        "weld a coupon": f"{at}/coupon",
        "how to tear it": f"{coupon}/tear",
        "verdict": coupon,
        "release": f"{at}/release",
        "steels": "/steels",
        "rules": "/rules",
        "record": "/record",
    }


def fetch(url: str) -> float:
    """Fetch once: time [s]. A page that is refused ends the benchmark."""
    before = time.perf_counter()
    with urllib.request.urlopen(url, timeout=60) as answer:  # noqa: S310 - our own server
        answer.read()
    return time.perf_counter() - before


def percentile(times: list[float]) -> float:
    """Return the 95th percentile [s]."""
    return statistics.quantiles(times, n=20)[-1]


def first_paint(browser: Browser, url: str) -> tuple[float, float]:
    """Open a page in a browser that has never been here: first paint [s], weight [bytes]."""
    context = browser.new_context(viewport={"width": 800, "height": 1280})
    page, weights = context.new_page(), []
    page.on("requestfinished", lambda one: weights.append(sum(_sizes(one.sizes()))))
    page.goto(url, wait_until="networkidle")
    found = page.evaluate(
        "performance.getEntriesByName('first-contentful-paint').map(e => e.startTime)[0]"
    )
    context.close()
    return float(found) / 1e3, float(sum(weights))


def _sizes(sizes: dict[str, int]) -> tuple[int, int]:
    return sizes["responseBodySize"], sizes["responseHeadersSize"]


def quick_answers(server: str, joint: JointView) -> list[float]:
    """Turn the current knob step by step, as a finger does: times of the answers [s]."""
    assert joint.set_up is not None  # noqa: S101 - accepted before
    typed = typed_set_up(joint.set_up.set_up)
    times = []
    for step in range(TIMES):
        body = urllib.parse.urlencode(typed | {"welding_current": f"{8.5 + 0.05 * step:.2f} kA"})
        url = f"{server}/joints/{joint.id}/set-up/quick"
        asked = urllib.request.Request(url, body.encode(), headers={"Origin": server})  # noqa: S310
        before = time.perf_counter()
        with urllib.request.urlopen(asked, timeout=60) as answer:  # noqa: S310 - our own server
            answer.read()
        times.append(time.perf_counter() - before)
    return times


def measured(server: RunningServer, joint: JointView) -> list[Row]:
    """Fetch every page many times, and once by a browser that has never been here."""
    rows = []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        for name, path in addresses(joint).items():
            url = server.address + path
            fetch(url)
            times = [fetch(url) for _ in range(TIMES)]
            paint, weight = first_paint(browser, url)
            rows.append(Row(name, statistics.median(times), percentile(times), paint, weight))
            print(f"{name:16} {rows[-1].late * 1e3:6.1f} ms {paint:5.2f} s {weight / 1e3:6.1f} kB")
        browser.close()
    return rows


def written(rows: list[Row], quick: list[float], coupons: int) -> str:
    """Return the page of the documentation."""
    lines = [
        "# How fast the screens are",
        "",
        "Made by `python -m benchmarks.pages`; the machine's other work is in the times.",
        "",
        f"A record of {coupons} torn coupons on one gun ({JOBS} jobs of {JOINTS} joints). A real",
        f"server over loopback HTTP; each page fetched {TIMES} times. First paint and weight: all",
        "that Chromium loads on its first visit. Goals: 95th percentile 100 ms a page and 50 ms an",
        "answer while a knob is turned, first paint 1 s, 400 kB.",
        "",
        "| page | median ms | 95 % ms | first paint s | weight kB |",
        "|---|---|---|---|---|",
        *(
            f"| {one.name} | {one.middle * 1e3:.0f} | {one.late * 1e3:.0f} | {one.paint:.2f} "
            f"| {one.weight / 1e3:.0f} |"
            for one in rows
        ),
        f"| quick answer | {statistics.median(quick) * 1e3:.0f} | {percentile(quick) * 1e3:.0f} "
        "| | |",
        "",
    ]
    return "\n".join(lines)


def main() -> None:
    """Measure and write the page."""
    with tempfile.TemporaryDirectory() as folder:
        store = Path(folder) / "record.db"
        with open_store(store) as record:
            joints = fill(record, lambda n: print(f"\r{n} coupons", end="", flush=True))
        print()
        server = RunningServer(store)
        rows = measured(server, joints[-1])
        quick = quick_answers(server.address, joints[-1])
        server.stop()
    PAGE.write_text(written(rows, quick, JOBS * JOINTS * COUPONS), "utf-8")
    print(PAGE.read_text("utf-8"))


if __name__ == "__main__":
    main()
