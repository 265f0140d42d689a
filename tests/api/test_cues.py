"""The trainer's board: spots at once, side by side, and on paper."""

import pytest
from starlette.testclient import TestClient

from buttonhole.desk.spot_cues import SPOT_CUES


@pytest.mark.parametrize("cue", SPOT_CUES, ids=lambda one: one.key)
def test_every_spot_cue_is_shown_at_once(client: TestClient, cue) -> None:
    page = client.get(f"/cues/{cue.key}", follow_redirects=False)
    assert page.status_code == 200
    assert cue.explained.words in page.text
    assert page.text.count("section-picture") == (4 if cue.cases else 0)  # two sizes of letters


def test_another_case_is_chosen_by_its_address_and_printed(client: TestClient) -> None:
    page = client.get("/cues/force?at=3").text
    assert "Otherwise: 4.0 kN" in page
    paper = client.get("/cues/force/sheet.pdf?at=3")
    assert paper.content[:5] == b"%PDF-"


def test_what_is_not_computed_is_not_printed(client: TestClient) -> None:
    assert client.get("/cues/squeeze-and-hold/sheet.pdf").status_code == 404
    assert client.get("/cues/nothing").status_code == 404
