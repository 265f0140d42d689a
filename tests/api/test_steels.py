"""The steel book on screens and for other programs."""

import re

import pytest
from starlette.testclient import TestClient


def test_the_api_gives_what_the_command_line_gives(client: TestClient) -> None:
    found = client.get("/api/steels/found", params={"text": "CR4-GI50/50-U"}).json()
    assert found["steel"]["designation"] == "VDA 239-100 CR4"
    assert found["coating"]["coating"] == "GI"
    listed = client.get("/api/steels", params={"standard": "JIS G 3135"}).json()["steels"]
    assert len(listed) == 13
    curves = client.get("/api/steels/curves", params={"text": "DC04"}).json()["curves"]
    assert set(curves) == {"conductivity", "heat_capacity", "resistivity", "flow_stress"}
    bounded = client.get("/api/steels/unknown", params={"magnet": "not"}).json()
    assert bounded["steel"] == "unknown"
    assert bounded["families"] == ["stainless"]


@pytest.mark.parametrize(
    ("path", "params"),
    [
        ("found", {"text": "CR4"}),
        ("found", {"text": "x" * 201}),
        ("found", {}),
        ("curves", {"text": "HCT600X+Z100"}),
        ("unknown", {"thickness": "0.7"}),
        ("unknown", {"hardness_HV": "hard"}),
        ("unknown", {"hardness_HV": "nan"}),
        ("unknown", {"spark": "blue"}),
    ],
)
def test_what_is_wrong_is_answered_with_422(
    client: TestClient, path: str, params: dict[str, str]
) -> None:
    answer = client.get(f"/api/steels/{path}", params=params)
    assert answer.status_code == 422
    assert answer.json()["error"]["message"]


def test_the_page_shows_a_steel_with_its_curves_and_its_status(client: TestClient) -> None:
    page = client.get("/steels", params={"text": "HCT600X+Z100MB"})
    assert page.status_code == 200
    assert page.text.count('class="drawing band-picture"') == 8  # four, in two letter sizes
    assert "Unverified" in page.text
    assert "hot-dip zinc" in page.text
    assert "vehicle maker&#39;s word" in page.text or "vehicle maker's word" in page.text


def test_a_name_of_two_steels_is_asked_back_with_both(client: TestClient) -> None:
    page = client.get("/steels", params={"text": "CR4"})
    assert page.status_code == 422
    links = re.findall(r'href="/steels\?text=([^"]+)"', page.text)
    assert links == ["VDA%20239-100%20CR4", "SAE%20J2329%20Grade%204"]
    assert 'value="CR4"' in page.text  # what was typed stays
    for link in links:
        assert client.get(f"/steels?text={link}").status_code == 200


def test_every_steel_of_the_list_has_its_page(client: TestClient) -> None:
    page = client.get("/steels", params={"family": "TRIP"}).text
    links = re.findall(r'<th scope="row"><a href="(/steels\?text=[^"]+)"', page)
    assert len(links) >= 5
    for link in links:
        assert client.get(link).status_code == 200, link
    assert client.get("/steels", params={"family": "plastic"}).status_code == 200


def test_an_unknown_sheet_is_bounded_on_screen(client: TestClient) -> None:
    empty = client.get("/steels/unknown")
    assert empty.status_code == 200
    assert "None is picked" not in empty.text
    asked = {"thickness": "0,7", "magnet": "sticks", "hardness": "110", "tester": "uci"}
    page = client.get("/steels/unknown", params=asked)
    assert page.status_code == 200
    assert "None is picked" in page.text
    assert "spectrometer" in page.text
    wrong = client.get("/steels/unknown", params={"thickness": "9", "magnet": "sticks"})
    assert wrong.status_code == 422
    assert "0.2 to 6.5 mm" in wrong.text


@pytest.mark.parametrize("text", ["<script>", "' OR 1=1", "é" * 150])
def test_what_was_typed_is_shown_escaped(client: TestClient, text: str) -> None:
    page = client.get("/steels", params={"text": text})
    assert page.status_code == 422
    assert "<script>" not in page.text.split("<main", 1)[1]
