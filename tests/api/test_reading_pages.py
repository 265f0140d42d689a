"""Before a coupon is torn it is compared with the joint; gauges are kept and offered."""

import pytest
from starlette.testclient import TestClient

from tests.api import steps
from tests.api.test_arc_coupon_pages import fields, row


@pytest.fixture
def joint(client: TestClient) -> str:
    found = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, found)
    steps.accept_own_set_up(client, found)
    return found


def test_a_coupon_like_the_joint_may_be_torn(client: TestClient, joint: str) -> None:
    text = client.get(steps.weld_coupon(client, joint) + "/compare").text
    assert "Weld a new coupon" not in text
    assert ">Tear it</a>" in text
    assert "At the vehicle" in text


def test_a_coupon_at_another_lead_asks_for_a_new_one_before_it_is_torn(
    client: TestClient, joint: str
) -> None:
    text = client.get(steps.weld_coupon(client, joint, lead="none") + "/compare").text
    assert "This coupon is not the joint" in text
    assert 'class="go" href="' + joint + '/coupon">Weld a new coupon</a>' in text
    assert "Tear it all the same" in text
    lead = row(text, "Lead")
    assert "badge no" in lead
    assert "<svg" in lead
    assert "not the joint" in lead


def test_a_coupon_of_other_sheets_or_settings_is_compared_by_them(
    client: TestClient, joint: str
) -> None:
    said = {"welds_since_dress": "0", "outlet": "W3", "lead": "L25"}
    typed = fields(client.get(f"{joint}/coupon").text) | said
    coupon = steps.weld_coupon(client, joint, **typed)
    page = client.get(f"{coupon}/compare").text
    for item in ("Sheet 1", "Welding current", "Electrode caps"):
        assert "badge yes" in row(page, item), item
    assert "badge no" not in page
    typed = fields(client.get(f"{joint}/coupon").text) | said
    typed |= {"thickness-2": "1.5", "weld_time": "300", "arm_pair": "long"}
    typed |= {"force_shown": "3.2"}
    page = client.get(steps.weld_coupon(client, joint, **typed) + "/compare").text
    for item in ("Sheet 2", "Welding current", "Force shown"):
        assert "badge no" in row(page, item), item
    assert "1.50 mm" in row(page, "Sheet 2")
    for item in ("Sheet 1", "Electrode caps"):
        assert "badge yes" in row(page, item), item
    assert "badge wait" in row(page, "Arm pair")  # said of the coupon only


def test_a_coupon_of_impossible_settings_is_not_saved(client: TestClient, joint: str) -> None:
    typed = fields(client.get(f"{joint}/coupon").text)
    typed |= {"hold_time": "long", "welds_since_dress": "0"}
    answer = client.post(f"{joint}/coupon", data=typed)
    assert answer.status_code == 422
    assert 'id="hold_time-fault"' in answer.text


def test_a_kept_gauge_is_offered_and_makes_the_guard_band(client: TestClient, joint: str) -> None:
    data = {"name": "K2", "kind": "calliper", "repeat": "0.03", "reader": "0,04",
            "study": "10 buttons, 3 people, 2 each"}  # fmt: skip
    answer = client.post("/gauges", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    assert "± 0.06 mm" in client.get("/gauges").text
    coupon = steps.weld_coupon(client, joint)
    answers = "splash=no"
    for index in (0, 1):
        answers += f"&test-{index}=peel&mode-{index}=full_button&max-{index}=5.9&min-{index}=5.9"
    asked = client.get(f"{coupon}/tear?{answers}").text
    assert "What did you measure with?" in asked
    assert 'value="own K2"' in asked
    checked = client.get(f"{coupon}/tear?{answers}&gauge=own+K2").text
    assert "own study: 10 buttons" in checked
    assert "± 0.10 mm" in checked
    steps.tear_coupon(client, joint, coupon, *steps.GOOD)
    usual = client.get(coupon).text
    assert "± 0.36 mm" in usual


def test_a_gauge_without_a_spread_is_not_kept(client: TestClient) -> None:
    steps.open_job(client)
    answer = client.post("/gauges", data={"name": "K2", "kind": "calliper", "study": "x"})
    assert answer.status_code == 422
    assert "Give the spread of one person." in answer.text
