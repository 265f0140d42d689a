"""Every screen of the demonstration is checked by axe: sizes, lights, languages.

Four of the twelve ways together hold each size, light and language; the rest are slow.
"""

import itertools
import json
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from buttonhole.desk import Desk
from buttonhole.desk.demo.arcs import BUTT, PLUGS
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.load_demo import load_demo
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.record.store import open_store
from tests.browser.conftest import RunningServer
from tests.desk import arc_steps as steps
from tests.desk.test_arc_coupon import GOOD

pytestmark = pytest.mark.browser
AXE = Path(__file__).parents[2] / "node_modules" / "axe-core" / "axe.min.js"
RUN = """async () => (await axe.run(document, {
    resultTypes: ['violations'],
    rules: {'color-contrast-enhanced': {enabled: true}, 'target-size': {enabled: true}},
})).violations.map(one => [one.id, one.nodes.map(node => node.html.slice(0, 160))])"""


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[RunningServer, list[str]]]:
    path = tmp_path_factory.mktemp("demo") / "record.db"
    with open_store(path) as store:
        job = load_demo(store, datetime.now(UTC))
    joint = next(one for one in job.joints if one.coupons)
    here, torn = f"/joints/{joint.id}", f"/joints/{joint.id}/coupons/{joint.coupons[0].id}"
    pages = ["/", "/jobs/new", "/person", "/nowhere", "/record", f"/jobs/{job.id}"]
    pages += [f"/jobs/{job.id}/safe", f"/jobs/{job.id}/joints/new", here, torn]
    pages += ["/steels?family=TRIP", "/steels?text=HCT600X%2BZ100MB", "/steels?text=CR4"]
    pages += ["/steels/unknown?thickness=0.7&magnet=sticks&hardness=110"]
    steps = ("sheets", "procedure", "deviation", "machine", "set-up", "set-up/own", "set-up/try")
    pages += [f"{here}/{page}" for page in (*steps, "coupon", "tip", "release")]
    pages += [f"{torn}/tear", f"{torn}/tear?splash=no", f"{torn}/tear?splash=no&test-0=peel"]
    answers = "splash=no&test-0=peel&mode-0=full_button"
    pages += [f"{torn}/tear?{answers}", f"{torn}/tear?{answers}&max-0=4.2&min-0=4.4"]
    pages += [f"{torn}/compare", f"{torn}/tear?splash=no&test-0=torsion&mode-0=interfacial"]
    pages += ["/gauges", f"{torn}/tear?{answers}&max-0=4.6&min-0=4.4&test-1=macro&max-1=5&min-1=5"]
    server = RunningServer(path)
    yield server, pages
    server.stop()


USUAL = {("sun", 1280, "en"), ("dark", 800, "de"), ("sun", 390, "de"), ("dark", 390, "en")}
WAYS = [
    pytest.param(*way, marks=() if way in USUAL else pytest.mark.slow)
    for way in itertools.product(("sun", "dark"), (1280, 800, 390), ("en", "de"))
]


@pytest.mark.parametrize(("theme", "width", "language"), WAYS)
def test_axe_finds_nothing(
    browser: Browser,
    demo: tuple[RunningServer, list[str]],
    theme: str,
    width: int,
    language: str,
) -> None:
    server, pages = demo
    context = browser.new_context(
        base_url=server.address, viewport={"width": width, "height": 844}, reduced_motion="reduce"
    )
    chosen = {"theme": theme, "language": language}
    context.add_cookies(
        [{"name": key, "value": value, "url": server.address} for key, value in chosen.items()]
    )
    found = violations_of(context.new_page(), pages)
    context.close()
    assert found == {}, json.dumps(found, indent=1)


def violations_of(page: Page, pages: list[str]) -> dict[str, object]:
    """What axe finds on each page that is not clean; no page may be wider than the screen."""
    found = {}
    for address in pages:
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        page.evaluate(AXE.read_text(encoding="utf-8"))
        violations = page.evaluate(RUN)
        if violations:
            found[address] = violations
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address
    return found


def test_demo_screens_say_that_they_are(
    browser: Browser, demo: tuple[RunningServer, list[str]]
) -> None:
    server, pages = demo
    context = browser.new_context(base_url=server.address)
    page = context.new_page()
    for address in pages:
        if address.startswith(("/joints/", "/jobs/")) and address != "/jobs/new":
            page.goto(address)
            assert page.locator(".demo-line").is_visible(), address
    context.close()


def coupon_pages(desk: Desk, kind: str) -> list[str]:
    """The pages of two coupons of an arc weld: one like the joint, one at another outlet."""
    joint = steps.welded(desk, steps.accepted(desk, steps.KINDS[kind]))
    command = JudgeCoupon(joint.id, joint.seen, joint.coupons[0].id, readings=(GOOD[kind],))
    joint = steps.welded(desk, judge_coupon(desk, command), outlet="W1")
    here = f"/joints/{joint.id}"
    judged, torn = (f"{here}/coupons/{one.id}" for one in joint.coupons)
    first = f"{torn}/tear?back=clear&seen=yes&head_max=&seen-undercut=yes&size-undercut=0.05"
    last = "d_max-0=6&d_min-0=5&tested_length-0=40&leg-0=1.8&gauge=calliper"
    mode = {"plug": "hole_pulled", "lap": "sheet_torn", "braze": "sheet_torn"}[kind]
    tear = [f"{torn}/tear", f"{torn}/tear?back=clear", f"{torn}/tear?back=clear&seen=yes"]
    tear += [first, f"{first}&test-0=peel", f"{first}&test-0=peel&mode-0={mode}"]
    tear += [f"{first}&test-0=macro", f"{first}&test-0=peel&mode-0={mode}&{last}"]
    return [here, f"{here}/coupon", f"{torn}/compare", judged, *tear]


@pytest.fixture(scope="module")
def arcs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[RunningServer, list[str]]]:
    path = tmp_path_factory.mktemp("arcs") / "record.db"
    with open_store(path) as store:
        desk = Desk(store, lambda: datetime.now(UTC), "Tomas Veld")
        job = open_job(desk, OpenJob("Left sill", "Kestrel H5"))
        plug, butt = (
            describe_arc_joint(desk, DescribeArcJoint(job.id, name, keys))
            for name, keys in (("J2", PLUGS), ("J3", BUTT))
        )
        pages = [one for kind in ("plug", "lap", "braze") for one in coupon_pages(desk, kind)]
    new = [f"/jobs/{job.id}/joints/new/{kind}" for kind in ("plug", "seam", "aluminium")]
    here = f"/joints/{plug.id}"
    pages += [*new, f"/joints/{butt.id}", f"/joints/{butt.id}/arc/own", "/cues", "/cues/pores"]
    pages += [here, f"{here}/sheets", f"{here}/arc", f"{here}/arc/own", f"{here}/arc/try"]
    pages += [f"{here}/arc/inside", f"{here}/arc/inside?zinc_ring=7", f"{here}/arc/inside?tint=x"]
    server = RunningServer(path)
    yield server, pages
    server.stop()


@pytest.mark.parametrize(("theme", "width"), [("sun", 390), ("dark", 1280)])
def test_axe_finds_nothing_at_arc_joints(
    browser: Browser, arcs: tuple[RunningServer, list[str]], theme: str, width: int
) -> None:
    server, pages = arcs
    context = browser.new_context(base_url=server.address, viewport={"width": width, "height": 844})
    context.set_default_timeout(60_000)
    context.add_cookies([{"name": "theme", "value": theme, "url": server.address}])
    found = violations_of(context.new_page(), pages)
    context.close()
    assert found == {}, json.dumps(found, indent=1)
