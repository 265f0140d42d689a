"""Every step is a plain form: with scripts off the job goes on all the same."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk

pytestmark = pytest.mark.browser


def test_without_scripts_a_joint_comes_to_its_verdict(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    walk.open_job(page)
    page.get_by_role("link", name="Add a joint").click()
    page.get_by_label("Joint", exact=True).fill("J1 sill flange")
    walk.fill_sheets(page, walk.SILL)
    page.get_by_role("button", name="Draw it").click()
    expect(page.locator("svg.stack-picture:visible")).to_contain_text("22MnB5")
    page.get_by_role("button", name="Save this joint").click()
    walk.cite_procedure(page)
    walk.set_own(page)
    walk.weld_coupon(page, welds="45", tip="worn")
    walk.tear_coupon(page, [("4.4", "4.2"), ("4.4", "4.2")])
    expect(page.get_by_role("heading", level=1)).to_have_text("Too small")


def test_the_back_button_is_safe_among_the_questions(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    walk.open_job(page)
    walk.describe_joint(page, (("0.8", "DC04", "bare"), ("0.8", "DC04", "bare")))
    walk.cite_procedure(page)
    walk.set_own(page)
    walk.weld_coupon(page, welds="3", tip="fresh")
    page.get_by_role("link", name="Tear it").click()
    page.get_by_role("button", name="No", exact=True).click()
    asked = page.url
    page.get_by_role("button", name="Peel").click()
    expect(page).not_to_have_url(asked)  # going back while a page still comes is another test
    page.wait_for_load_state()
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("How do you tear it?")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_contain_text("splash")
    assert walk.tear_coupon(page, [("5.2", "5.0")]) <= 20
    verdict = page.url
    expect(page.get_by_role("heading", level=1)).to_have_text("Accepted")
    page.go_back()
    page.goto(verdict)
    expect(page.get_by_role("heading", level=1)).to_have_text("Accepted")


def test_a_search_can_be_stopped_and_leaves_nothing(window: Callable[..., Page]) -> None:
    page = window(java_script_enabled=False)
    walk.open_job(page)
    walk.describe_joint(page)
    walk.cite_procedure(page)
    walk.start_search(page)
    page.get_by_role("button", name="Stop it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Which gun welds it?")
    page.get_by_text("What happened at this joint").click()
    expect(page.get_by_text("Set-up proposed")).to_have_count(0)
