"""Cards and sheets come as files, and what was released ends as it says."""

import io
import tomllib

import pytest
from pypdf import PdfReader
from starlette.testclient import TestClient

from tests.api import steps


@pytest.fixture
def joint(client: TestClient) -> str:
    found = steps.describe_joint(client, steps.open_job(client), old_spots="14")
    steps.cite_procedure(client, found)
    steps.accept_own_set_up(client, found)
    return found


@pytest.fixture
def coupon(client: TestClient, joint: str) -> str:
    found = steps.weld_coupon(client, joint)
    steps.tear_coupon(client, joint, found, *steps.GOOD)
    return found


def test_a_judged_coupon_has_its_sheet(client: TestClient, coupon: str) -> None:
    sheet = client.post(f"{coupon}/sheet.pdf")
    assert sheet.status_code == 200
    assert sheet.headers["content-type"] == "application/pdf"
    assert sheet.headers["content-disposition"] == 'attachment; filename="coupon-1.pdf"'
    assert sheet.content.startswith(b"%PDF-")
    assert client.post(f"{coupon}/sheet.pdf").content == sheet.content


def test_a_release_has_its_card_until_it_ends(client: TestClient, joint: str, coupon: str) -> None:
    steps.release(client, joint)
    card = client.post(f"{joint}/card.pdf")
    assert card.status_code == 200
    assert 'filename="card-J1-sill-flange.pdf"' in card.headers["content-disposition"]
    assert card.content.startswith(b"%PDF-")
    end = {"seen": steps.seen(client, joint), "condition": "anomaly"}
    assert client.post(f"{joint}/release/end", data=end).status_code == 200
    assert client.post(f"{joint}/card.pdf").status_code == 422
    again = client.post(f"{joint}/release/end", data={**end, "seen": steps.seen(client, joint)})
    assert again.status_code == 409


def test_dressing_the_tip_ends_the_release(client: TestClient, joint: str, coupon: str) -> None:
    steps.release(client, joint)
    client.post(f"{joint}/tip", data={"seen": steps.seen(client, joint), "face_after": "6"})
    text = client.get(f"{joint}/release").text
    assert "The last release has ended" in text
    assert "dressed" in text


def test_the_weld_file_of_a_joint_predicts_the_same(client: TestClient, joint: str) -> None:
    answer = client.get(f"{joint}/weld.toml")
    assert answer.status_code == 200
    weld = tomllib.loads(answer.text)
    assert [sheet["steel"] for sheet in weld["sheet"]] == ["DC04", "HCT600X", "22MnB5"]
    predicted = client.post("/api/predict", json=weld)
    assert predicted.status_code == 200
    shown = client.get(f"{joint}/set-up").text
    for one in predicted.json()["interfaces"]:
        assert f"{one['button_diameter_mm']:.2f} mm" in shown


def test_another_lead_at_the_coupon_makes_it_no_proof(client: TestClient, joint: str) -> None:
    coupon = steps.weld_coupon(client, joint, lead="none")
    steps.tear_coupon(client, joint, coupon, *steps.GOOD)
    text = client.get(coupon).text
    assert "This coupon is not the joint" in text
    assert "Dress the tip" not in text
    assert (
        client.post(
            f"{joint}/release",
            data={"seen": steps.seen(client, joint), "hours": "4", "max_welds": "40"},
        ).status_code
        == 422
    )


def test_the_sheet_says_what_counting_alone_proves_in_full(client: TestClient, coupon: str) -> None:
    pages = PdfReader(io.BytesIO(client.post(f"{coupon}/sheet.pdf").content)).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    text = text.replace("\u200b", "")  # where a word may be broken
    assert "how far the diameters lie over the limit." in text
    assert "1-2 accepted, with a note; 2-3 accepted" in text
    assert "others as on the vehicle" in text
    assert "not for judging welds after a crash" in text


def test_the_page_of_a_set_up_says_the_zones_and_the_heat_at_a_point(
    client: TestClient, joint: str
) -> None:
    page = client.get(f"{joint}/set-up").text
    for words in ("Over Ac1", "Softened out to", "Joined only", "Thermal cycle", "corona"):
        assert words in page, words
    asked = client.get(f"{joint}/set-up?cycle_radius=2,5&cycle_depth=0.4").text
    assert "2.5 mm out, 0.4 mm deep" in asked
    wrong = client.get(f"{joint}/set-up?cycle_radius=2.5&cycle_depth=40").text
    assert "2.5 mm out" not in wrong
    assert "the thickness of all sheets" in wrong
    assert 'value="40"' in wrong
