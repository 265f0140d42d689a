"""What single screens must say."""

import re

from starlette.testclient import TestClient

from tests.api import steps


def test_a_coupon_keeps_its_number_when_one_before_it_was_taken_back(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    steps.weld_coupon(client, joint)
    page = client.get(joint).text
    row = next(part for part in page.split("<tr>") if "Coupon 1 welded" in part)
    entry = re.search(r'href="(/joints/[^"]+/entries/[^"]+)"', row)
    assert entry
    data = {"seen": steps.seen(client, joint), "reason": "Wrong sheets were welded."}
    assert client.post(entry[1], data=data, follow_redirects=False).status_code == 303
    assert "Weld coupon 2" in client.get(f"{joint}/coupon").text
    coupon = steps.weld_coupon(client, joint)
    assert "Coupon 2" in client.get(f"{coupon}/tear").text


def test_nothing_offers_to_take_back_a_paper_that_is_out(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    coupon = steps.weld_coupon(client, joint)
    steps.tear_coupon(client, joint, coupon, "5.6")
    steps.release(client, joint)
    assert client.post(f"{joint}/card.pdf").status_code == 200
    rows = client.get(joint).text.split("<tr>")
    printed = next(part for part in rows if "Bay card printed" in part)
    released = next(part for part in rows if "Set-up released" in part)
    assert "Take back" not in printed
    assert "Take back" in released


def test_a_page_that_forbids_the_weld_is_said_at_the_joint(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    data = {
        "seen": steps.seen(client, joint),
        "reference": "Body repair manual, page 14",
        "revision": "B",
        "read_on": "2024-05-06",
        "says": "Bond and rivet only.",
        "forbids": "yes",
    }
    assert client.post(f"{joint}/procedure", data=data, follow_redirects=False).status_code == 303
    assert "The maker forbids a spot weld here" in client.get(joint).text


def test_a_verdict_shows_what_counting_alone_proves_without_a_tap(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    coupon = steps.weld_coupon(client, joint)
    steps.tear_coupon(client, joint, coupon, "5.6")
    page = re.sub(r"(?s)<details.*?</details>", "", client.get(coupon).text)
    assert "1 of 1 coupon passed. Counting alone, this shows that at least 5 %" in page
    assert "Sheet 1 to 2: The set-up may go to release" in page
    assert "not for judging welds after a crash" in page
