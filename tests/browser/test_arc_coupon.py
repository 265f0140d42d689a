"""Coupons of a plug and of a seam in the browser, from weld to verdict, without a script."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk

pytestmark = pytest.mark.browser
MOST_TAPS = 20  # besides numbers, from weld to verdict
TOUCH = 20 / 25.4 * 96 - 1  # 20 mm where a screen has 96 points to the inch


class Taps:
    """Taps one by one, counted."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def question(self, words: str) -> None:
        expect(self.page.get_by_role("heading", level=1)).to_contain_text(words)

    def button(self, name: str) -> None:
        self.page.get_by_role("button", name=re.compile(f"^{name}")).click()
        self.count += 1

    def link(self, name: str) -> None:
        self.page.get_by_role("link", name=name, exact=True).click()
        self.count += 1


def to_the_coupon(page: Page, describe: Callable[[Page], None]) -> None:
    walk.open_job(page)
    describe(page)
    walk.cite_procedure(page, "What is set on the machine?")
    page.get_by_role("link", name="Look at the set-up").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Use this set-up?", timeout=200_000)
    page.get_by_label("Machine").fill("Feeder C")
    page.get_by_label("Outlet at the vehicle").fill("W3")
    page.get_by_label("Extension lead there").fill("L25")
    page.get_by_role("button", name="Use this set-up").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Weld a coupon", timeout=60_000)
    page.get_by_role("link", name="Weld a coupon").click()


def weld(taps: Taps) -> None:
    page = taps.page
    taps.question("Weld coupon 1")
    page.get_by_label("Outlet", exact=True).fill("W3")
    page.get_by_label("Extension lead").fill("L25")
    taps.button("It is welded")
    taps.question("The coupon is as the joint")
    taps.link("Tear it")


def test_a_plug_coupon_from_weld_to_verdict(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    to_the_coupon(page, walk.describe_plug)
    taps = Taps(page)
    weld(taps)
    taps.question("What does the back look like?")
    for box in [one.bounding_box() for one in page.locator("button.press").all()]:
        assert box is not None
        assert min(box["width"], box["height"]) >= TOUCH
    taps.button("Clear")
    taps.question("What do you see on the weld?")
    taps.button("Nothing else")
    taps.question("How large is it outside?")
    page.get_by_label("Head, largest").fill("10,6")
    page.get_by_label("Head, across it").fill("10.2")
    taps.button("Next")
    taps.question("How do you tear it?")
    taps.button("Peel")
    taps.question("How did it let go?")
    expect(page.locator("svg.parted-picture")).to_have_count(11)
    taps.button("Hole pulled")
    taps.question("How large is it?")
    page.get_by_label("Largest diameter").fill("6.6")
    page.get_by_label("Across it, at 90°").fill("6,2")
    taps.button("Next")
    taps.question("What did you measure with?")
    taps.button("Calliper Clean")
    taps.question("Is this what you saw and measured?")
    page.go_back()
    taps.question("What did you measure with?")
    page.go_forward()
    taps.button("Judge it")
    taps.question("Accepted")
    assert taps.count <= MOST_TAPS
    assert taps.count == 10
    expect(page.locator("svg.margin-picture")).to_have_count(1)
    expect(page.locator("svg.parted-picture.hole_pulled:visible")).to_be_visible()
    expect(page.locator("svg.back-look.clear")).to_be_visible()
    is_decided_on(page)


def is_decided_on(page: Page) -> None:
    """The model is worked out beside the pages, then the rule says what to weld next."""
    page.goto(f"{page.url.partition('/coupons')[0]}/release")
    heading = page.get_by_role("heading", name="The next coupon")
    expect(heading).to_be_visible(timeout=200_000)
    for name in ("Wire feed", "Voltage", "Arc time"):
        expect(page.locator("dl.readouts dt", has_text=name).first).to_be_visible()
    expect(page.get_by_text("1 of at least 3 coupons")).to_be_visible()
    expect(page.get_by_text("burnt through")).to_have_count(1)


def test_a_seam_coupon_from_weld_to_verdict(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    to_the_coupon(page, walk.describe_seam)
    taps = Taps(page)
    weld(taps)
    taps.button("Faint")
    page.get_by_role("checkbox", name=re.compile("^Undercut")).check()
    taps.count += 1
    taps.button("Nothing else")
    taps.question("How deep is it?")
    page.get_by_label("Undercut").fill("0.05")
    taps.button("Next")
    taps.button("Peel")
    taps.button("Sheet torn beside")
    page.get_by_label("Length torn or bent").fill("40")
    page.get_by_label("Smaller leg").fill("1,8")
    taps.button("Next")
    taps.button("Calliper Clean")
    taps.button("Judge it")
    taps.question("Accepted, with a note")
    assert taps.count <= MOST_TAPS
    expect(page.get_by_text("Undercut 0.05 mm, permitted 0.10 mm")).to_be_visible()


def test_the_back_can_not_be_left_out(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    to_the_coupon(page, walk.describe_plug)
    weld(Taps(page))
    tear = page.url.partition("?")[0]
    page.goto(f"{tear}?seen=yes&outside=&head_max=&test-0=peel&mode-0=hole_pulled")
    expect(page.get_by_role("heading", level=1)).to_have_text("What does the back look like?")
