"""The way of joining on the pages and through the API."""

import re

import pytest
from starlette.testclient import TestClient

from tests.api import steps

TWO = [{"steel": "DC04", "thickness": "1 mm", "coating": "GI"}] * 2
AROUND = {"access": "two_sides", "adhesive": "none", "flange_width": "18", "near-airbag": "yes"}
ANSWER = {
    "whose": "answer",
    "method": "braze",
    "says": "permits",
    "text": "MIG braze in slots is permitted.",
    "reference": "Letter of 2026-01-02",
    "revision": "none printed",
    "read_on": "2026-01-02",
}


@pytest.fixture
def joint(client: TestClient) -> str:
    return steps.describe_joint(client, steps.open_job(client), old_spots="14")


def send(client: TestClient, joint: str, page: str, **data: str):
    data = {"seen": steps.seen(client, joint), **data}
    return client.post(f"{joint}/{page}", data=data, follow_redirects=False)


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", text))


def test_nothing_is_allowed_before_it_is_told(client: TestClient, joint: str) -> None:
    text = plain(client.get(f"{joint}/method").text)
    assert "Can the gun" in text
    assert "Which way do you take?" not in text


def test_the_decision_shows_reasons_why_not_and_what_differs(
    client: TestClient, joint: str
) -> None:
    assert send(client, joint, "circumstances", **AROUND).status_code == 303
    text = plain(client.get(f"{joint}/method").text)
    for words in (
        "Allowed, not the maker",
        "it releases nothing by itself",
        "Before any heat",
        "300 mm",
        "never on 1500 MPa",
        "Published rules that differ",
        "More than 1.3 times",
        "The same number at the same places",
    ):
        assert words in text, words


def test_a_way_is_taken_or_refused_with_the_reason(client: TestClient, joint: str) -> None:
    send(client, joint, "circumstances", **AROUND)
    refused = send(client, joint, "method", method="plug")
    assert refused.status_code == 422
    assert "never on 1500 MPa" in refused.text
    assert send(client, joint, "method", method="spot").status_code == 303
    assert "Chosen: spot weld" in client.get(f"{joint}/method").text


def test_the_letter_is_drafted_and_the_answer_decides(client: TestClient, joint: str) -> None:
    send(client, joint, "circumstances", **AROUND)
    assert "the letter" in client.get(f"{joint}/letter").text.lower()
    letter = client.post(f"{joint}/letter.pdf", data={"means": "Gun A"})
    assert letter.headers["content-type"] == "application/pdf"
    assert client.post(f"{joint}/letter.pdf", data={"means": "Gun A"}).content == letter.content
    assert send(client, joint, "answer", **ANSWER).status_code == 303
    assert "Allowed by the maker" in client.get(f"{joint}/method").text
    assert "Letter of 2026-01-02" in client.get(f"{joint}").text


@pytest.mark.parametrize(
    ("page", "data", "fault"),
    [
        ("circumstances", {"access": "roof"}, "Choose one of the answers"),
        ("circumstances", {"flange_width": "wide"}, "number"),
        ("circumstances", {"original_count": "-1"}, "whole number"),
        ("answer", {**ANSWER, "method": ""}, "Choose the method"),
        ("answer", {**ANSWER, "read_on": "soon"}, "year-month-day"),
        ("answer", {**ANSWER, "read_on": "2099-01-01"}, "still to come"),
        ("method", {"method": "glue"}, "none of"),
        ("letter.pdf", {"needed_by": "soon"}, "year-month-day"),
    ],
)
def test_what_is_wrong_is_marked_and_nothing_is_lost(
    client: TestClient, joint: str, page: str, data: dict[str, str], fault: str
) -> None:
    answer = send(client, joint, page, **data)
    assert answer.status_code == 422
    assert fault in plain(answer.text)


def test_rules_are_listed_and_shown_with_their_versions(client: TestClient) -> None:
    listed = client.get("/rules").text
    assert "arc-over-980" in listed
    assert "from memory, not verified" in listed
    assert "Version 1" in client.get("/rules/arc-over-980").text
    assert client.get("/rules/none-such").status_code == 404


def test_the_api_decides_as_the_command_line_does(client: TestClient) -> None:
    body = {"sheet": TWO, "circumstances": {"access": "one_side", "adhesive": "none"}}
    found = client.post("/api/method", json=body).json()
    assert (found["outcome"], found["allowed"]) == ("allowed", ["plug"])
    assert found["releases_by_itself"] is False
    assert all(one["mark"] for one in found["methods"])
    wrong = client.post("/api/method", json={**body, "circumstances": {"acces": "one_side"}})
    assert wrong.status_code == 422
    assert "did you mean access" in wrong.json()["error"]["message"]
    rules = client.get("/api/rules").json()["rules"]
    assert {"key", "version", "source", "rank", "superseded_by", "status"} <= set(rules[0])
