"""Pictures of every screen at the three sizes, in both lights.

``python -m tests.browser.screens``. They go into ``build/screens``, for people to look at; nothing
is compared.
"""

import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.browser import walk
from tests.browser.conftest import CHROMIUM, SWITCHES, RunningServer

SIZES = {"1280x800": (1280, 800), "800x1280": (800, 1280), "390x844": (390, 844)}
ANSWERS = "splash=no&test-0=peel&mode-0=full_button"


def walked(page: Page) -> dict[str, str]:
    """Do the whole job once; gives the address of every screen by its name."""
    found = {"home-empty": "/", "job-new": "/jobs/new", "person": "/person", "nowhere": "/nowhere"}
    walk.open_job(page)
    job = page.url
    found |= {"joint-new": f"{job}/joints/new", "gates": f"{job}/safe"}
    walk.describe_joint(page)
    joint = page.url
    walk.cite_procedure(page)
    walk.find_set_up(page)
    found["set-up-proposed"] = page.url
    walk.accept_set_up(page)
    walk.weld_coupon(page, welds="45", tip="worn")
    found["coupon-compare"] = page.url
    first = page.url.replace("/compare", "/tear")
    walk.tear_coupon(page, [("4.4", "4.2"), ("4.4", "4.2")])
    found["verdict-small"] = page.url
    page.get_by_role("link", name="Dress the tip").click()
    found["tip"] = page.url
    page.get_by_role("button", name="The tip is dressed").click()
    walk.weld_coupon(page, welds="0", tip="fresh")
    walk.tear_coupon(page, [("5.8", "5.4"), ("5.7", "5.5")])
    found["verdict-accepted"] = page.url
    page.get_by_role("link", name="See whether it is enough").click()
    found["release-unsure"] = page.url
    walk.set_longer(page)
    walk.until_sure(page)
    page.get_by_role("button", name="Release it", exact=True).click()
    return found | addresses(job, joint, first) | arcs(page, job)


def addresses(job: str, joint: str, first: str) -> dict[str, str]:
    """The screens that can be asked for by their address, once all is done."""
    return {
        "home": "/",
        "job": job,
        "joint": joint,
        "sheets": f"{joint}/sheets",
        "procedure": f"{joint}/procedure",
        "deviation": f"{joint}/deviation",
        "method": f"{joint}/method",
        "circumstances": f"{joint}/circumstances",
        "letter": f"{joint}/letter",
        "answer": f"{joint}/answer",
        "rules": "/rules",
        "pieces": "/pieces",
        "machine": f"{joint}/machine",
        "set-up": f"{joint}/set-up",
        "set-up-own": f"{joint}/set-up/own",
        "set-up-try": f"{joint}/set-up/try",
        "coupon": f"{joint}/coupon",
        "tear-1-splash": first,
        "tear-2-test": f"{first}?splash=no",
        "tear-3-mode": f"{first}?splash=no&test-0=peel",
        "tear-4-diameters": f"{first}?{ANSWERS}",
        "tear-5-fault": f"{first}?{ANSWERS}&max-0=4.2&min-0=4.4",
        "tear-6-twist": f"{first}?splash=no&test-0=torsion&mode-0=interfacial",
        "gauges": "/gauges",
        "released": f"{joint}/release",
        "record": "/record",
        "intake": f"{job}/intake",
        "map": f"{job}/map",
        "fire": f"{job}/fire",
        "plan": f"{joint}/plan",
        "weld": f"{joint}/weld",
        "weld-check": f"{joint}/check",
        "weld-close": f"{joint}/close",
        "label": "/l",
        "training": "/training",
        "training-new": "/training/new",
        "cue-tip": "/cues/tip",
        "cue-force": "/cues/force",
    }


def arcs(page: Page, job: str) -> dict[str, str]:
    """Describe a plug beside it; gives the address of every screen of an arc joint."""
    page.goto(job)
    walk.describe_plug(page)
    plug = page.url
    walk.cite_procedure(page, "What is set on the machine?")
    for cue in ("stick-out", "aim"):  # worked out once, then they are there at once
        page.goto(f"/cues/{cue}")
        expect(page.get_by_role("heading", name="What differs")).to_be_visible(timeout=200_000)
    page.goto(f"{plug}/arc/what-if")
    changes = page.get_by_role("heading", name="What if one thing is done otherwise?")
    expect(changes).to_be_visible(timeout=200_000)
    return {
        **{f"arc-new-{kind}": f"{job}/joints/new/{kind}" for kind in ("plug", "seam", "braze")},
        "arc-joint": plug,
        "arc-sheets": f"{plug}/sheets",
        "arc-set-up": f"{plug}/arc",
        "arc-own": f"{plug}/arc/own",
        "arc-try": f"{plug}/arc/try?gap=0.5",
        "arc-what-if": f"{plug}/arc/what-if",
        "arc-inside": f"{plug}/arc/inside",
        "arc-inside-answer": f"{plug}/arc/inside?zinc_ring=8.1&back_mark=bump",
        **arc_coupon(page, plug),
        "cues": "/cues",
        "cue-stick-out": "/cues/stick-out",
        "cue-aim": "/cues/aim",
        "cue-pores": "/cues/pores",
    }


def arc_coupon(page: Page, plug: str) -> dict[str, str]:
    """Weld, read and judge a coupon of the plug; gives the address of every screen of it."""
    page.goto(f"{plug}/arc")
    page.get_by_label("Machine").fill("Feeder C")
    page.get_by_label("Outlet at the vehicle").fill("W3")
    page.get_by_role("button", name="Use this set-up").click()
    page.get_by_role("link", name="Weld a coupon").click()
    page.get_by_label("Outlet", exact=True).fill("W3")
    page.get_by_role("button", name="It is welded").click()
    compare = page.url
    tear = compare.replace("/compare", "/tear")
    looked = f"{tear}?back=clear&seen=yes&head_max="
    full = f"{looked}&test-0=peel&mode-0=hole_pulled&d_max-0=6.6&d_min-0=6.2&gauge=calliper"
    page.goto(full)
    page.get_by_role("button", name="Judge it").click()
    return {
        "arc-coupon": f"{plug}/coupon",
        "arc-compare": compare,
        "arc-tear-1-back": tear,
        "arc-tear-2-seen": f"{tear}?back=clear",
        "arc-tear-3-deep": f"{tear}?back=clear&seen=yes&seen-undercut=yes",
        "arc-tear-4-outside": f"{tear}?back=clear&seen=yes",
        "arc-tear-5-test": looked,
        "arc-tear-6-mode": f"{looked}&test-0=peel",
        "arc-tear-7-measured": f"{looked}&test-0=torsion&mode-0=parted_rough",
        "arc-tear-8-check": full,
        "arc-verdict": page.url,
    }


def conflict(page: Page, joint: str, size: tuple[int, int], file: Path) -> None:
    """Two people save the same joint; the second one's screen."""
    page.goto(f"{joint}/sheets")
    other = page.context.new_page()
    other.goto(f"{joint}/sheets")
    other.get_by_label("Old spots").fill("15")
    other.get_by_role("button", name="Save this joint").click()
    other.close()
    page.get_by_label("Old spots").fill("16")
    page.get_by_role("button", name="Save this joint").click()
    take(page, file)


def take(page: Page, file: Path) -> None:
    """Take a picture of the whole page and say when it is wider than the screen."""
    page.screenshot(path=file, full_page=True)
    over = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    if over > 0:
        sys.stdout.write(f"{file.name}: {over} px wider than the screen\n")


def main(folder: Path) -> None:
    """Walk once, then visit every screen at every size in both lights."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as store, sync_playwright() as playwright:
        server = RunningServer(Path(store) / "record.db")
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=SWITCHES)
        context = browser.new_context(
            base_url=server.address, viewport={"width": 1280, "height": 800}
        )
        found = walked(context.new_page())
        for name, size in SIZES.items():
            for theme in ("sun", "dark"):
                _visit(browser, server, found, (name, size), theme, folder)
        browser.close()
        server.stop()


def _visit(
    browser: Browser,
    server: RunningServer,
    found: dict[str, str],
    sized: tuple[str, tuple[int, int]],
    theme: str,
    folder: Path,
) -> None:
    name, (width, height) = sized
    touch = width < 1000
    context = browser.new_context(
        base_url=server.address,
        viewport={"width": width, "height": height},
        has_touch=touch,
        is_mobile=touch,
    )
    cookies = [
        {"name": key, "value": value, "url": server.address}
        for key, value in (("theme", theme), ("person", "Tomas%20Veld"))
    ]
    context.add_cookies(cookies)  # type: ignore[arg-type] # plain dictionaries will do
    page = context.new_page()
    for screen, address in found.items():
        page.goto(address)
        take(page, folder / f"{screen}-{name}-{theme}.png")
    conflict(page, found["joint"], sized[1], folder / f"conflict-{name}-{theme}.png")
    context.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]) if len(sys.argv) > 1 else Path("build/screens"))
