"""The inspector's pages: a VIN, one weld, a link that ends; nothing can be written there."""

from datetime import UTC, datetime, timedelta

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from buttonhole.desk import Desk
from buttonhole.desk.guest_link import end_guest_link, make_guest_link
from buttonhole.desk.open_job import OpenJob, open_job

VIN = "0BHDEM01000000017"


@pytest.fixture
def desk(app: FastAPI) -> Desk:
    desk = Desk(app.state.shop.store, lambda: datetime.now(UTC), "Ines Velloquar")
    open_job(desk, OpenJob("Left sill", "Orvanel H5", vin=VIN))
    open_job(desk, OpenJob("Rear rail", "Orrin Van", vin="0BHDEM01000000025"))
    return desk


def test_a_vin_leads_to_the_evidence(client: TestClient, desk: Desk) -> None:
    assert "Which vehicle?" in client.get("/evidence").text
    shown = client.get("/evidence", params={"vin": VIN.lower()}).text
    assert VIN in shown
    assert "Left sill" in shown
    assert "Rear rail" not in shown
    missing = client.get("/evidence", params={"vin": "0BHDEM01000000033"})
    assert "There is no vehicle" in missing.text
    none = client.get("/evidence", params={"vin": VIN, "weld": "17"})
    assert "weld 17" in none.text
    assert client.get("/evidence", params={"vin": "<b>x" * 30, "weld": "²"}).status_code == 200


def test_a_guest_sees_one_vehicle_and_every_look_is_written_down(
    client: TestClient, desk: Desk
) -> None:
    link = make_guest_link(desk, VIN, "An inspector", 2)
    before = desk.store.head()[0]
    shown = client.get(f"/guest/{link.secret}", params={"vin": "0BHDEM01000000025"}).text
    assert "Left sill" in shown
    assert "Rear rail" not in shown
    looked = desk.store.events("record/guests")[-1]
    assert (looked.type, looked.payload["vin"]) == ("guest_looked", VIN)
    assert looked.payload["person"] == "An inspector"
    assert desk.store.head()[0] == before + 1
    assert all(link.secret not in one.payload for one in desk.store.links())  # type: ignore[attr-defined] # an EventStore
    assert client.post(f"/guest/{link.secret}").status_code in (404, 405)
    assert client.get("/guest/" + "0" * 48).status_code == 404
    end_guest_link(desk, link.secret)
    assert client.get(f"/guest/{link.secret}").status_code == 404


def test_a_link_ends_by_itself_and_a_clock_set_back_does_not_open_it(
    client: TestClient, desk: Desk
) -> None:
    earlier = Desk(desk.store, lambda: datetime.now(UTC) - timedelta(hours=3), "Ines Velloquar")
    link = make_guest_link(earlier, VIN, "An inspector", 2)
    before = desk.store.head()
    assert client.get(f"/guest/{link.secret}").status_code == 404
    assert desk.store.head() == before
