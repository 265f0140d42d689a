"""Before a coupon is torn it is compared with the joint; gauges are kept and offered."""

import pytest
from starlette.testclient import TestClient

from tests.api import steps


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
    row = text[text.index('<th scope="row">Lead</th>') :]
    row = row[: row.index("</tr>")]
    assert "badge no" in row
    assert "<svg" in row
    assert "not the joint" in row


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
