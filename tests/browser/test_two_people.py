"""Two people save the same joint: the second is told, sees both, and loses nothing."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser import walk

pytestmark = pytest.mark.browser


def test_the_second_is_shown_both_versions_and_may_save_on_top(
    window: Callable[..., Page],
) -> None:
    first, second = window(), window()
    walk.open_job(first, "Tomas Veld")
    walk.describe_joint(first)
    joint = first.url

    second.goto(joint)
    second.get_by_role("link", name="Change the sheets").click()
    first.get_by_role("link", name="Change the sheets").click()
    sheet_1 = ("Sheet 1", "Thickness")
    for page, thickness in ((first, "0.75"), (second, "0.8")):
        group = page.get_by_role("group", name=sheet_1[0])
        group.get_by_label(sheet_1[1]).fill(thickness)
    first.get_by_role("button", name="Save this joint").click()
    expect(first.get_by_role("heading", level=1)).to_contain_text("What does the vehicle maker")

    second.get_by_label("Your name").fill("Priya Marr")
    with second.expect_response(lambda answer: answer.url.endswith("/sheets")) as answer:
        second.get_by_role("button", name="Save this joint").click()
    assert answer.value.status == 409
    saved = second.get_by_role("region", name="In the record now")
    mine = second.get_by_role("region", name="Yours, not saved yet")
    expect(saved).to_contain_text("Tomas Veld")
    expect(saved.get_by_role("row", name="Sheet 1 thickness")).to_contain_text("0.75 mm")
    expect(mine.get_by_role("row", name="Sheet 1 thickness")).to_contain_text("0.8 mm")

    second.get_by_role("button", name="Save mine on top").click()
    expect(second).to_have_url(joint)
    second.get_by_text("What happened at this joint").click()
    history = second.locator("details", has_text="What happened at this joint")
    expect(history.get_by_role("row").filter(has_text="0.75 mm")).to_contain_text("Tomas Veld")
    expect(history.get_by_role("row").filter(has_text="0.80 mm")).to_contain_text("Priya Marr")


def test_what_is_saved_can_be_kept(window: Callable[..., Page]) -> None:
    first, second = window(), window()
    walk.open_job(first)
    walk.describe_joint(first)
    second.goto(first.url)
    second.get_by_role("link", name="Change the sheets").click()
    walk.cite_procedure(first)
    second.get_by_label("Old spots").fill("15")
    second.get_by_label("Your name").fill("Priya Marr")
    second.get_by_role("button", name="Save this joint").click()
    expect(second.get_by_role("region", name="In the record now")).to_contain_text("procedure")
    second.get_by_role("link", name="Keep what is saved").click()
    expect(second.get_by_role("heading", level=1)).to_have_text("Which gun welds it?")
