"""A photo goes in by the file input, its ends are moved, figures come out: in a real browser."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from benchmarks.photo_scene import usual_photo
from tests.browser import walk

pytestmark = pytest.mark.browser
SHEETS = (("0.8", "DC04", "bare"), ("0.8", "DC04", "bare"))


def to_the_photo(page: Page, file: Path) -> None:
    """From a new job to the page that shows the loupe."""
    photo = usual_photo(11)
    file.write_bytes(photo.jpeg)
    walk.open_job(page)
    walk.describe_joint(page, SHEETS)
    walk.cite_procedure(page)
    walk.set_own(page)
    walk.weld_coupon(page, welds="3", tip="fresh")
    page.get_by_role("link", name="Tear it").click()
    page.get_by_role("button", name="No", exact=True).click()
    page.get_by_role("button", name=re.compile("^Peel")).click()
    page.get_by_role("button", name=re.compile("^Full button")).click()
    page.get_by_role("link", name="Measure it in a photo").click()
    page.get_by_label("Photo", exact=True).set_input_files(file)
    page.get_by_role("radio", name=re.compile("^The torn hole")).check()
    page.get_by_label("Edge above the card").fill(f"{photo.height:.2f}")
    page.get_by_role("button", name="Find the weld").click()


@pytest.mark.parametrize("script", [True, False])
def test_a_photo_is_measured(window: Callable[..., Page], tmp_path: Path, script: bool) -> None:
    page = window(java_script_enabled=script)
    to_the_photo(page, tmp_path / "photo.jpg")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Do the four ends lie")
    expect(page.get_by_text("Proposed, not measured")).to_be_visible()
    page.get_by_role("button", name="End 2", exact=True).click()
    page.get_by_role("button", name="right").click()
    expect(page.get_by_text("Proposed, not measured")).to_have_count(0)
    before = page.url
    loupe = page.get_by_role("button", name=re.compile("^Loupe"))
    box = loupe.bounding_box()
    assert box is not None
    end = page.locator(".end").nth(2)
    x, y = (float(end.get_attribute(f"data-{one}") or 0) / 720 for one in "xy")
    page.get_by_role("button", name="End 3", exact=True).click()
    loupe.click(position={"x": x * box["width"], "y": y * box["height"] + 2})
    expect(page.get_by_role("button", name="End 4", exact=True)).to_have_attribute(
        "aria-current", "true"
    )
    assert page.url != before
    page.get_by_role("button", name="Draw onto the edge").click()
    page.get_by_role("checkbox", name=re.compile("^I looked")).check()
    page.get_by_role("button", name="Take these figures").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("What did you measure with?")


def test_an_end_can_be_dragged(window: Callable[..., Page], tmp_path: Path) -> None:
    page = window()
    to_the_photo(page, tmp_path / "photo.jpg")
    box = page.get_by_role("button", name=re.compile("^Loupe")).bounding_box()
    assert box is not None
    end = page.locator(".end").nth(1)
    at = [float(end.get_attribute(f"data-{one}") or 0) * box["width"] / 720 for one in "xy"]
    page.mouse.move(box["x"] + at[0], box["y"] + at[1])
    page.mouse.down()
    page.mouse.move(box["x"] + at[0] + 12, box["y"] + at[1] + 5, steps=4)
    page.mouse.up()
    expect(page.get_by_text("Proposed, not measured")).to_have_count(0)
    moved = page.locator(".end").nth(1)
    found = float(moved.get_attribute("data-x") or 0) * box["width"] / 720
    assert found == pytest.approx(at[0] + 12, abs=12)
