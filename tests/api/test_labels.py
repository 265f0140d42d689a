"""From the coupon plan over a printed label to its coupon, as forms that are sent."""

import re

from starlette.testclient import TestClient

from tests.api import steps


def planned(client: TestClient) -> tuple[str, str, list[str]]:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    assert "4 coupons" in client.get(f"{joint}/plan").text
    data = {"occasion": "new", "spares": "1", "pitch": "30"}
    answer = client.post(f"{joint}/plan", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    there = str(answer.headers["location"])
    codes = re.findall(r'href="/l/([A-Z0-9]{6})"', client.get(there).text)
    assert len(codes) == 4
    return joint, there, codes


def test_a_scanned_label_opens_welding_then_tearing_then_the_verdict(client: TestClient) -> None:
    joint, there, codes = planned(client)
    scan = client.get(f"/l/{codes[0].lower()}", follow_redirects=False)
    assert scan.headers["location"] == f"{joint}/coupon?label={codes[0]}"
    assert f'value="{codes[0]}"' in client.get(scan.headers["location"]).text
    coupon = steps.weld_coupon(client, joint, label=codes[0])
    scan = client.get(f"/l?label={codes[0][:3]}%20{codes[0][3:]}", follow_redirects=False)
    assert scan.headers["location"] == f"{coupon}/tear"
    steps.tear_coupon(client, joint, coupon, "5.6")
    assert client.get(f"/l/{codes[0]}", follow_redirects=False).headers["location"] == coupon
    assert "on coupon 1" in client.get(there).text


def test_a_label_is_used_once(client: TestClient) -> None:
    joint, _there, codes = planned(client)
    steps.weld_coupon(client, joint, label=codes[0])
    data = {"seen": steps.seen(client, joint), "outlet": "W3", "welds_since_dress": "0"}
    again = client.post(f"{joint}/coupon", data={**data, "label": codes[0]})
    assert again.status_code == 422
    assert "on another coupon already" in again.text
    assert client.get(joint).text.count("welds since dressing") == 1


def test_slips_are_said_and_strangers_are_not_there(client: TestClient) -> None:
    _joint, _there, codes = planned(client)
    wrong = codes[0][:-1] + ("A" if codes[0][-1] != "A" else "C")
    answer = client.get(f"/l/{wrong}")
    assert answer.status_code == 422
    assert "one sign is wrong" in answer.text
    assert client.get("/l/AAAAAA").status_code == 404
    assert client.get("/l").status_code == 200


def test_labels_are_printed_with_the_address_of_this_server(client: TestClient) -> None:
    _joint, there, _codes = planned(client)
    sheet = client.post(f"{there}/labels.pdf").content
    roll = client.post(f"{there}/labels.pdf", data={"roll": "yes"}).content
    assert sheet[:5] == roll[:5] == b"%PDF-"
    assert sheet != roll


def test_a_plan_that_cannot_be_is_said(client: TestClient) -> None:
    joint, _there, _codes = planned(client)
    page = client.get(f"{joint}/plan?occasion=new&spares=1&pitch=900")
    assert "5 to 200 mm" in page.text
