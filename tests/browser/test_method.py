"""The way of joining in a browser: told, shown why and why not, asked, answered."""

import json
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk
from tests.browser.conftest import RunningServer
from tests.browser.test_access import AXE, RUN

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [1280, 390])
def test_from_the_sheets_to_the_makers_answer(window: Callable[..., Page], width: int) -> None:
    page = window(viewport={"width": width, "height": 844})
    walk.open_job(page)
    walk.describe_joint(page)
    joint = page.url
    page.get_by_role("link", name="How may it be joined?").click()
    expect(page.get_by_role("heading", name="Tell first")).to_be_visible()
    page.get_by_role("link", name="Tell what is around it").last.click()
    page.get_by_label("Access").select_option("one_side")
    page.get_by_label("Adhesive", exact=True).select_option("none")
    page.get_by_label("Where on the body").select_option("structure")
    page.get_by_label("Restraint module").check()
    page.get_by_role("button", name="Show how it may be joined").click()

    # The stack, the outcome in words, and each standing by colour, shape and word.
    expect(page.get_by_role("heading", level=1)).to_have_text("How may it be joined?")
    expect(page.get_by_text("Ask the vehicle maker: nobody else can say.")).to_be_visible()
    expect(page.locator("figure.stack svg").first).to_be_attached()
    expect(page.get_by_role("heading", name="Before any heat")).to_be_visible()
    braze = page.get_by_role("region", name="Arc brazing (MIG)")
    expect(braze.locator(".badge svg")).to_be_visible()
    expect(braze).to_contain_text("Ask the maker")
    expect(braze).to_contain_text("releases nothing by itself")
    page.locator("summary", has_text="Plug weld").click()
    expect(page.get_by_text("never on 1500 MPa").first).to_be_visible()
    page.get_by_text("Brazing", exact=True).click()
    expect(page.get_by_role("region", name="brazing", exact=True)).to_contain_text("preferred")
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")

    page.get_by_role("link", name="Ask the maker: draft the letter").click()
    page.get_by_label("Machines and people at hand").fill("Feeder C with bronze wire")
    with page.expect_download() as download:
        page.get_by_role("button", name="Draft the letter (PDF)").click()
    assert download.value.path().read_bytes().startswith(b"%PDF-")

    page.get_by_role("link", name="File the answer").click()
    page.get_by_label("Method it speaks of").select_option("braze")
    page.get_by_label("What it says of it").select_option("permits")
    page.get_by_label("Its words about this joint").fill("MIG braze in slots of 20 by 6 mm.")
    page.get_by_label("Letter or document, and page").fill("Letter of 2026-01-02")
    page.get_by_label("Revision or date printed").fill("none printed")
    page.get_by_role("button", name="File this answer").click()
    expect(braze).to_contain_text("Allowed by the maker")
    expect(braze).to_contain_text("Letter of 2026-01-02")
    page.get_by_role("radio", name="arc brazing (MIG)").check()
    page.get_by_role("button", name="Take this way").click()
    expect(page).to_have_url(joint)
    expect(page.get_by_role("heading", level=1)).to_have_text("The maker names another way here")


@pytest.mark.parametrize("theme", ["sun", "dark"])
@pytest.mark.parametrize("width", [1280, 390])
def test_axe_finds_nothing_on_its_pages(
    window: Callable[..., Page], server: RunningServer, theme: str, width: int
) -> None:
    page = window(viewport={"width": width, "height": 844}, reduced_motion="reduce")
    page.context.add_cookies([{"name": "theme", "value": theme, "url": server.address}])
    walk.open_job(page)
    walk.describe_joint(page)
    joint = page.url
    page.goto(f"{joint}/circumstances")
    page.get_by_label("Access").select_option("two_sides")
    page.get_by_label("Adhesive", exact=True).select_option("none")
    page.get_by_label("Restraint module").check()
    page.get_by_role("button", name="Show how it may be joined").click()
    here = [f"{joint}/{name}" for name in ("method", "circumstances", "letter", "answer")]
    found = {}
    for address in (*here, "/rules", "/rules/arc-over-980"):
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        page.evaluate(AXE.read_text(encoding="utf-8"))
        if violations := page.evaluate(RUN):
            found[address] = violations
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address
    assert found == {}, json.dumps(found, indent=1)
