"""A button that is tapped twice, or a browser that tries again, writes one entry."""

import re
from concurrent.futures import ThreadPoolExecutor

from starlette.testclient import TestClient

from tests.api import steps


def once(client: TestClient, page: str) -> str:
    found = re.search(r'name="once" value="([^"]+)"', client.get(page).text)
    assert found, page
    return found[1]


def twice(client: TestClient, path: str, data: dict[str, str]) -> list[str]:
    """Send the same form two times; gives where each answer leads."""
    answers = [client.post(path, data=data, follow_redirects=False) for _ in range(2)]
    assert [one.status_code for one in answers] == [303, 303], [one.text for one in answers]
    return [one.headers["location"] for one in answers]


NEW_JOB = {"title": "HL-1", "vehicle": "Kestrel H5", "person": "Tomas Veld"}


def test_two_taps_open_one_job(client: TestClient) -> None:
    first, second = twice(client, "/jobs/new", {**NEW_JOB, "once": once(client, "/jobs/new")})
    assert first == second
    assert client.get("/").text.count('href="/jobs/0') == 1


def test_two_taps_at_the_same_moment_open_one_job(client: TestClient) -> None:
    data = {**NEW_JOB, "once": once(client, "/jobs/new")}

    def tap(_number: int) -> str:
        answer = client.post("/jobs/new", data=data, follow_redirects=False)
        return str(answer.headers["location"])

    with ThreadPoolExecutor(6) as fingers:
        places = set(fingers.map(tap, range(6)))
    assert len(places) == 1
    assert client.get("/").text.count('href="/jobs/0') == 1


def test_the_same_answers_from_another_page_are_another_job(client: TestClient) -> None:
    for _ in range(2):
        steps.open_job(client, once=once(client, "/jobs/new"))
    assert client.get("/").text.count('href="/jobs/0') == 2


def test_an_answer_changed_after_going_back_is_saved(client: TestClient) -> None:
    page = once(client, "/jobs/new")
    steps.open_job(client, once=page)
    steps.open_job(client, once=page, title="HL-2")
    assert "HL-2" in client.get("/").text


def test_every_step_may_be_tapped_twice(client: TestClient) -> None:
    job = steps.open_job(client)
    page = f"{job}/joints/new"
    first, second = twice(client, page, {**steps.SHEETS, "once": once(client, page)})
    assert first == second
    assert client.get(job).text.count('href="/joints/') == 1
    joint = first
    twice(client, f"{job}/safe", {"gate": "extraction", "once": once(client, f"{job}/safe")})
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    seen = steps.seen(client, joint)
    data = {"seen": seen, "outlet": "W3", "lead": "L25", "welds_since_dress": "0"}
    data["once"] = once(client, f"{joint}/coupon")
    first, second = twice(client, f"{joint}/coupon", data)
    assert first == second
    assert client.get(joint).text.count("welds since dressing") == 1
    coupon = first.removesuffix("/compare")
    steps.tear_coupon(client, joint, coupon, *steps.GOOD)
    steps.make_sure(client, joint)
    data = {"seen": steps.seen(client, joint), "hours": "4", "max_welds": "40"}
    data["once"] = once(client, f"{joint}/release")
    assert twice(client, f"{joint}/release", data) == [f"{joint}/release"] * 2
    assert "Record" in client.get("/record").text


def test_a_paper_may_be_printed_twice_from_one_page(client: TestClient) -> None:
    joint = steps.describe_joint(client, steps.open_job(client))
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    coupon = steps.weld_coupon(client, joint)
    steps.tear_coupon(client, joint, coupon, *steps.GOOD)
    steps.release(client, joint)
    page = client.get(f"{joint}/release").text
    form = page.split('card.pdf">')[1].split("</form>")[0]
    assert 'name="once"' not in form
    papers = [client.post(f"{joint}/card.pdf").content for _ in range(2)]
    assert papers[0][:5] == b"%PDF-"
    assert papers[0] == papers[1]
