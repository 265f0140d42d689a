"""A plug in the browser: described, set, turned by sliders, looked at from outside."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk

pytestmark = pytest.mark.browser


def test_a_plug_is_set_and_looked_at(window: Callable[..., Page]) -> None:
    page = window()
    walk.open_job(page)
    walk.describe_plug(page)
    walk.cite_procedure(page, "What is set on the machine?")
    page.get_by_role("link", name="Look at the set-up").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Use this set-up?", timeout=60_000)
    expect(page.get_by_text("metal from the wire").first).to_be_visible()
    page.get_by_role("link", name="Try settings").first.click()
    expect(page.locator("#at-gap")).to_have_text("0 mm")
    page.locator("#gap").press("ArrowRight")
    expect(page.locator("#at-gap")).to_have_text("0.1 mm", timeout=30_000)
    page.get_by_role("button", name="Gap: more").click()
    expect(page.locator("#at-gap")).to_have_text("0.2 mm", timeout=30_000)
    page.get_by_role("link", name="Back").click()
    page.get_by_label("Machine").fill("Feeder C")
    page.get_by_role("button", name="Use this set-up").click()
    page.get_by_role("link", name="From the outside to the inside").click()
    page.get_by_label("Zinc ring on the back").fill("8,1")
    page.get_by_label("The back looks like").select_option("bump")
    page.get_by_role("button", name="Say what is inside").click()
    question = page.get_by_role("heading", level=1)
    expect(question).to_have_text("What is fused inside?", timeout=120_000)
    expect(page.get_by_text("Look at this next")).to_be_visible()
    page.get_by_role("button", name="Keep this look").click()
    expect(page.get_by_role("heading", name="Looks at welded plugs")).to_be_visible()


def test_a_slider_needs_no_script(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    walk.open_job(page)
    walk.describe_plug(page)
    joint = page.url
    page.goto(f"{joint}/arc/try")
    page.get_by_role("button", name="Arc time: less").click()
    expect(page.locator("#at-arc_time")).to_have_text("1.8 s")
    assert page.locator("#at-arc_time").bounding_box() is not None
    for name in ("Arc time: less", "Gap: more"):
        box = page.get_by_role("button", name=name).bounding_box()
        assert box is not None
        assert min(box["width"], box["height"]) >= 20 / 25.4 * 96 - 1, name
