"""Coupons of an arc weld as forms that are sent: welded, compared, read, judged."""

import re
import time

import pytest
from starlette.testclient import TestClient

from tests.api import steps
from tests.api.test_arc_pages import describe

READ = {
    "back": "clear",
    "seen": "yes",
    "head_max": "",
    "test-0": "peel",
    "mode-0": "hole_pulled",
    "d_max-0": "6.6",
    "d_min-0": "6,2",
    "gauge": "calliper",
}


@pytest.fixture
def joint(client: TestClient) -> str:
    found = describe(client, steps.open_job(client))
    steps.cite_procedure(client, found)
    data = {"seen": steps.seen(client, found), "machine": "Feeder C", "outlet": "W3",
            "lead": "L25", "wire_batch": "spool 12", "welder": "Tomas Veld"}  # fmt: skip
    answer = client.post(f"{found}/arc", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return found


def fields(page: str) -> dict[str, str]:
    """What stands in the fields of a form, as a browser would send it."""
    found = dict(
        re.findall(r'<input type="(?:text|hidden)"[^>]* name="([^"]+)" value="([^"]*)"', page)
    )
    for name, body in re.findall(r'(?s)<select id="([^"]+)".*?>(.*?)</select>', page):
        chosen = re.search(r'value="([^"]*)" selected', body)
        found[name] = chosen[1] if chosen else ""
    return found


def weld(client: TestClient, joint: str, **more: str) -> str:
    data = {**fields(client.get(f"{joint}/coupon").text), "outlet": "W3", "lead": "L25", **more}
    answer = client.post(f"{joint}/coupon", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"]).removesuffix("/compare")


def read(client: TestClient, joint: str, coupon: str, **more: str) -> str:
    data = {"seen_joint": steps.seen(client, joint), **READ, **more}
    answer = client.post(f"{coupon}/tear", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return client.get(coupon).text


def worked_out(client: TestClient, address: str) -> str:
    """A page whose model may have to be fitted first: waited for as a person would."""
    for _ in range(600):
        answer = client.get(address)
        if "/search/" not in str(answer.url):
            return answer.text
        time.sleep(0.2)
    pytest.fail("the model was not worked out in two minutes")


def row(page: str, item: str) -> str:
    found = page[page.index(f'<th scope="row">{item}</th>') :]
    return found[: found.index("</tr>")]


def test_a_coupon_like_the_joint_is_accepted_and_leads_on(client: TestClient, joint: str) -> None:
    coupon = weld(client, joint)
    page = client.get(f"{coupon}/compare").text
    assert "The coupon is as the joint" in page
    assert "spool 12" in row(page, "Wire spool")
    page = read(client, joint, coupon)
    assert "Accepted" in page
    assert "Torn diameter" in page
    assert f'href="{joint}/release"' in page
    page = client.get(joint).text
    assert f'class="go" href="{joint}/release"' in page
    assert f'href="{coupon}"' in page


def test_what_is_not_as_on_the_vehicle_is_named_before_it_is_torn(
    client: TestClient, joint: str
) -> None:
    coupon = weld(
        client,
        joint,
        **{"hole_diameter-1": "6", "gap": "0.4", "wire_batch": "spool 13", "voltage_shown": "17.4"},
    )
    page = client.get(f"{coupon}/compare").text
    assert "This coupon is not the joint" in page
    assert "Weld a new coupon" in page
    assert "not the joint" in row(page, "Hole in sheet 1")
    assert "6.0 mm" in row(page, "Hole in sheet 1")
    assert "look" in row(page, "Gap")
    assert "spool 13" in row(page, "Wire spool")
    assert "same" in row(page, "Voltage shown")
    page = read(client, joint, coupon)
    assert "Not the joint" in page


def test_settings_that_make_no_weld_are_marked_and_nothing_is_saved(
    client: TestClient, joint: str
) -> None:
    data = {**fields(client.get(f"{joint}/coupon").text), "arc_time": "-3", "outlet": "W3"}
    answer = client.post(f"{joint}/coupon", data=data)
    assert answer.status_code == 422
    assert 'id="arc_time-fault"' in answer.text
    assert "Weld coupon 1" in client.get(f"{joint}/coupon").text


def test_no_reading_is_saved_without_the_look_at_the_back(client: TestClient, joint: str) -> None:
    coupon = weld(client, joint)
    data = {"seen_joint": steps.seen(client, joint), **READ}
    del data["back"]
    answer = client.post(f"{coupon}/tear", data=data, follow_redirects=False)
    assert answer.status_code != 303
    assert "What does the back look like?" in answer.text
    assert client.get(coupon, follow_redirects=False).status_code == 303  # still to be torn


def test_a_drip_on_the_back_refuses_a_good_hole(client: TestClient, joint: str) -> None:
    page = read(client, joint, weld(client, joint), back="drip")
    assert "Not accepted" in page
    assert "burn-through is not permitted" in page
    assert 'class="drawing back-look drip"' in page
    assert f'class="go" href="{joint}/arc"' in page


def test_a_coupon_page_before_a_set_up_leads_to_the_set_up(client: TestClient) -> None:
    found = describe(client, steps.open_job(client))
    answer = client.get(f"{found}/coupon", follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == f"{found}/arc"


def test_accepted_coupons_release_the_set_up_without_a_number_of_welds(
    client: TestClient, joint: str
) -> None:
    for number in range(1, 9):
        read(client, joint, weld(client, joint))
        page = worked_out(client, f"{joint}/release")
        assert "dress the tip" not in page
        if "Not yet. This stands against it" not in page:
            break
        assert f'href="{joint}/coupon"' in page, number
    else:
        pytest.fail("eight good coupons did not release a plug")
    data = {"seen": steps.seen(client, joint), "hours": "4", "max_welds": ""}
    answer = client.post(f"{joint}/release", data=data, follow_redirects=False)
    assert answer.status_code == 303, re.sub(r"<[^>]+>", " ", answer.text)[:3000]
    page = client.get(f"{joint}/release").text
    assert "Holds until" in page
    assert "Tips dressed" not in page
    assert "Weld on the vehicle" in client.get(joint).text
