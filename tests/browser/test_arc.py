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


@pytest.mark.parametrize("width", [1280, 390])
def test_a_seam_is_read_from_outside_to_inside(window: Callable[..., Page], width: int) -> None:
    page = window(viewport={"width": width, "height": 844})
    walk.open_job(page)
    walk.describe_seam(page)
    joint = page.url
    page.goto(f"{joint}/arc/inside")
    expect(page.get_by_role("heading", level=1)).to_have_text("What do you see on the seam?")
    page.get_by_role("button", name="Say what is inside").click()
    expect(page.get_by_text("Give at least one mark.").first).to_be_visible()
    page.get_by_label("Leg on the lower sheet").fill("3")
    page.get_by_role("button", name="Say what is inside").click()
    question = page.get_by_role("heading", level=1)
    expect(question).to_have_text("What is fused inside?", timeout=200_000)
    expect(page.get_by_role("region", name="What is fused")).to_contain_text("Lower")
    expect(page.get_by_text("Look at this next")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    page.get_by_role("button", name="Keep this look").click()
    expect(page.get_by_role("heading", name="Looks at welded seams")).to_be_visible()
    expect(page.get_by_role("region", name="Looks")).to_contain_text("leg 3 mm")


def test_a_plug_of_aluminium_is_described_and_may_be_proposed(window: Callable[..., Page]) -> None:
    page = window()
    walk.open_job(page)
    page.get_by_role("link", name="Add a joint").click()
    page.get_by_role("link", name="Plug weld").click()
    page.get_by_role("link", name="Of aluminium").click()
    expect(page.locator("#wire")).to_have_value("S Al 4043")
    page.get_by_label("Joint", exact=True).fill("J9 rail patch, plugs")
    for number in (1, 2):
        page.locator(f"#thickness-{number}").fill("1.5")
        page.locator(f"#metal-{number}").select_option("EN AW-6082")
    page.get_by_role("button", name="Save this joint").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("What does the vehicle maker say?")
    page.goto(f"{page.url}/arc", timeout=100_000)
    expect(page.get_by_text("EN AW-6082").first).to_be_attached()
    page.get_by_role("button", name="Propose feed, voltage and time").click()
    expect(page.get_by_text("Why these values")).to_be_visible(timeout=200_000)
