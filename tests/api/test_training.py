"""The trainer's day as forms that are sent."""

import re
from urllib.parse import quote

from starlette.testclient import TestClient

NAMES = [f"Trainee {letter}" for letter in "ABCDEFGH"]


def opened(client: TestClient, **more: str) -> str:
    data = {
        "title": "Course 7",
        "trainees": ", ".join(NAMES),
        **{f"weld-{one}": "yes" for one in ("spot", "plug", "lap", "butt")},
        "at-PA": "yes",
        "at-PF": "yes",
        "each": "1",
        "thinner": "0.8",
        "hole": "8",
        "pieces": "2",
        "person": "Joan Ferrisund",
        **more,
    }
    answer = client.post("/training/new", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def filled(page: str) -> dict[str, str]:
    """Fill every line of an entry page as a helper would."""
    data = {}
    for key in re.findall(r'name="((?:first|second)-[A-Z0-9]{6})"', page):
        data[key] = "6,2" if key.startswith("first") else "0"
    for line in re.findall(r"(?s)<li>.*?</li>", page):
        if "Smallest diameter" in line:
            key = re.search(r'name="(second-[A-Z0-9]{6})"', line)
            assert key
            data[key[1]] = "5.8"
    return data


def test_the_whole_class_is_typed_in_eight_forms_and_led_on(client: TestClient) -> None:
    session = opened(client)
    assert client.post(f"{session}/labels.pdf").content[:5] == b"%PDF-"
    there = f"{session}/entry"
    for name in NAMES:
        page = client.get(there).text
        assert f"<h1>{name}</h1>" in page
        assert page.count('inputmode="decimal"') == 16
        data = {**filled(page), "trainee": name, "sheet": "0", "label": ""}
        answer = client.post(f"{session}/entry", data=data, follow_redirects=False)
        assert answer.status_code == 303, answer.text
        there = answer.headers["location"]
    assert there == session
    page = client.get(session).text
    assert "64 of 64 pieces are typed" in page
    assert client.get(f"{session}/card.pdf?trainee={quote(NAMES[0])}").content[:5] == b"%PDF-"


def test_a_scanned_label_opens_its_one_line_and_leads_to_the_next_scan(client: TestClient) -> None:
    session = opened(client)
    page = client.get(f"{session}/entry").text
    code = re.findall(r'name="first-([A-Z0-9]{6})"', page)[3]
    scan = client.get(f"/l/{code}", follow_redirects=False)
    assert scan.headers["location"] == f"{session}/{code}"
    page = client.get(scan.headers["location"]).text
    assert page.count('inputmode="decimal"') == 2
    data = {f"first-{code}": "6.1", f"second-{code}": "5.9", f"fault-{code}": "7", "label": code}
    answer = client.post(f"{session}/entry", data=data, follow_redirects=False)
    assert answer.headers["location"] == session
    page = client.get(session).text
    assert "1 of 64 pieces are typed" in page
    assert "cold, tall" in page


def test_a_wrong_figure_stands_again_with_the_others_and_nothing_is_kept(
    client: TestClient,
) -> None:
    session = opened(client)
    page = client.get(f"{session}/entry").text
    data = filled(page)
    wrong = next(iter(data))
    answer = client.post(f"{session}/entry", data={**data, wrong: "wide", "trainee": NAMES[0]})
    assert answer.status_code == 422
    assert 'value="wide"' in answer.text
    assert "0 of 64 pieces" in client.get(session).text


def test_a_form_sent_twice_is_written_once(client: TestClient) -> None:
    session = opened(client)
    page = client.get(f"{session}/entry").text
    once = re.search(r'name="once" value="([^"]+)"', page)
    assert once
    data = {**filled(page), "trainee": NAMES[0], "once": once[1]}
    for _ in range(2):
        answer = client.post(f"{session}/entry", data=data, follow_redirects=False)
        assert answer.status_code == 303
    assert "8 of 64 pieces" in client.get(session).text


def test_many_pieces_come_sixteen_at_a_time(client: TestClient) -> None:
    session = opened(client, each="3")  # 24 each
    page = client.get(f"{session}/entry").text
    assert page.count('inputmode="decimal"') == 32
    data = {**filled(page), "trainee": NAMES[0], "sheet": "0", "label": ""}
    answer = client.post(f"{session}/entry", data=data, follow_redirects=False)
    assert answer.headers["location"].endswith("&sheet=1")
    assert client.get(answer.headers["location"]).text.count('inputmode="decimal"') == 16


def test_a_session_without_anybody_is_told(client: TestClient) -> None:
    page = client.post("/training/new", data={"title": "X", "person": "Joan"})
    assert page.status_code == 422
    assert client.get("/training/nothing").status_code == 404
