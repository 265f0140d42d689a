"""The whole job in German: no page says anything in English that is not somebody's own."""

import re
from collections.abc import Iterator

import pytest
from starlette.testclient import TestClient

from buttonhole.language import Display, Speech, speech
from tests.api import steps

GERMAN = {"Accept-Language": "de"}
# What people typed in these tests, names that are the same everywhere, and the record's own words.
OWN = re.compile(
    r"J1 sill flange|HL-1|Kestrel|Tomas Veld|Gun A|Body repair manual|Spot weld, 1\.3|B, 2024|Pat"
    r"|[A-Z0-9]{2,}|\{|aria-|^[a-z]+$|^[a-z]+-\d+$|^[a-z]+_[a-z_]+$|√"
    r"|two \w+|CEN\.|Verband|doi|\d{4}"
)


@pytest.fixture
def voice() -> Iterator[Speech]:
    """The German voice, noting what it could not say."""
    found = speech(Display("de"))
    found.missed = set()
    yield found
    found.missed = None


def test_no_page_of_a_job_falls_back_to_english(client: TestClient, voice: Speech) -> None:
    job = steps.open_job(client)
    joint = steps.describe_joint(client, job)
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    coupon = steps.weld_coupon(client, joint)
    torn = f"{coupon}/tear?splash=no&test-0=peel"
    pages = ["/", "/jobs/new", job, f"{job}/safe", f"{job}/joints/new", joint, torn, "/record"]
    pages += [f"{joint}/{one}" for one in ("sheets", "method", "set-up", "set-up/own", "coupon")]
    pages += [f"{joint}/{one}" for one in ("procedure", "deviation", "circumstances", "release")]
    pages += ["/rules", "/cues", "/display", "/steels?text=HCT600X", "/nowhere", "/person"]
    assert voice.missed == set()
    for address in pages:
        page = client.get(address, headers=GERMAN)
        assert '<html lang="de"' in page.text, address
    left = sorted(one for one in voice.missed or () if not OWN.search(one))
    assert left == [], "\n".join(left)


def test_what_was_typed_wrong_is_said_in_german(client: TestClient) -> None:
    job = steps.open_job(client)
    data = {**steps.SHEETS, "thickness-1": "thin", "thickness-2": ""}
    page = client.post(f"{job}/joints/new", data=data, headers=GERMAN)
    assert page.status_code == 422
    assert "Dicke von Blech 2 angeben." in page.text
    assert "Noch nicht gespeichert." in page.text
    assert 'value="thin"' in page.text


def test_inches_typed_are_metres_in_the_record(client: TestClient) -> None:
    client.post("/display", data={"set": "inch"})
    job = steps.open_job(client)
    page = client.get(f"{job}/joints/new").text
    sent = re.search(r'name="shown-thickness-1" value="([^"]+)"', page)
    assert sent
    data = {**steps.SHEETS, "thickness-1": "0.03", "shown-thickness-1": sent[1]}
    joint = client.post(f"{job}/joints/new", data=data, follow_redirects=False)
    address = joint.headers["location"]
    assert 'value="0.03"' in client.get(f"{address}/sheets").text
    client.post("/display", data={"set": "si"})
    assert 'value="0.762"' in client.get(f"{address}/sheets").text


def test_the_record_stays_english_whoever_writes_it(client: TestClient) -> None:
    job = steps.open_job(client)
    joint = steps.describe_joint(client, job)
    assert "Joint J1 sill flange described" in client.get(joint).text
    german = client.get(joint, headers=GERMAN).text
    assert "Verbindung J1 sill flange beschrieben" in german
