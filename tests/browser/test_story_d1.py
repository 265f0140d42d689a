"""The first demo story by browser alone: from a new job to a verified record."""

from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk
from tests.browser.conftest import RunningServer

pytestmark = pytest.mark.browser


def test_a_sill_flange_from_new_job_to_verified_record(
    window: Callable[..., Page],
    server: RunningServer,
    start: Callable[[], RunningServer],
    tmp_path: Path,
) -> None:
    page = window()
    walk.open_job(page)
    walk.describe_joint(page)
    limits = page.get_by_role("row")
    expect(limits.filter(has_text="Sheet 1 to 2")).to_contain_text("3.35 mm")
    expect(limits.filter(has_text="Sheet 1 to 2")).to_contain_text("4.18 mm")
    expect(limits.filter(has_text="Sheet 2 to 3")).to_contain_text("4.38 mm")
    expect(limits.filter(has_text="Sheet 2 to 3")).to_contain_text("5.48 mm")

    walk.cite_procedure(page)
    expect(page.get_by_text("New spots the maker asks for: 19")).to_be_visible()
    walk.find_set_up(page)
    # drawn twice, lettered for a desk and for a telephone; one of them is shown
    expect(page.locator("svg.window-picture:visible")).to_have_count(1)
    expect(page.locator("svg.section-picture:visible")).to_have_count(1)
    walk.accept_set_up(page)

    walk.weld_coupon(page, welds="45", tip="worn, mushroomed")
    walk.tear_coupon(page, [("4.4", "4.2"), ("4.4", "4.2")])
    expect(page.get_by_role("heading", level=1)).to_have_text("Too small")
    expect(page.locator("svg.margin-picture")).to_have_count(2)

    page.get_by_role("link", name="Dress the tip").click()
    page.get_by_label("Face after").fill("6")
    page.get_by_role("button", name="The tip is dressed").click()
    walk.weld_coupon(page, welds="0", tip="fresh")
    assert 1 + walk.tear_coupon(page, [("5.8", "5.4"), ("5.7", "5.5")]) == 11  # with "It is welded"
    expect(page.get_by_role("heading", level=1)).to_contain_text("Accepted")

    page.get_by_role("link", name="See whether it is enough").click()
    expect(page.locator("svg.hundred-picture:visible")).to_have_count(1)
    walk.set_longer(page)
    assert walk.until_sure(page) >= 2
    expect(page.get_by_role("heading", level=1)).to_have_text("It may be released")
    page.get_by_label("Holds for").fill("4")
    page.get_by_label("or until").fill("40")
    page.get_by_role("button", name="Release it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Released")
    expect(page.get_by_text("Holds until")).to_be_visible()
    expect(page.get_by_text("40 welds", exact=True)).to_be_visible()
    with page.expect_download() as download:
        page.get_by_role("button", name="Card for the gun").click()
    card = tmp_path / "card.pdf"
    download.value.save_as(card)
    assert card.read_bytes().startswith(b"%PDF-")
    released_at = page.url

    page.get_by_role("link", name="Check the record").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("The record is whole")

    server.stop()
    again = start()
    page.goto(released_at.replace(server.address, again.address))
    expect(page.get_by_role("heading", level=1)).to_have_text("Released")
