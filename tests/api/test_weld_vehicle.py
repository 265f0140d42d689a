"""The pages of welding on the vehicle, as forms that are sent."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from fastapi import FastAPI
from starlette.testclient import TestClient

from buttonhole.desk import Desk
from buttonhole.web.app import create_app
from buttonhole.web.settings import WebSettings
from buttonhole.web.shop import Shop
from tests.api import steps
from tests.api.conftest import HOME


@pytest.fixture
def joint(client: TestClient) -> str:
    joint = steps.describe_joint(client, steps.open_job(client), old_spots="2")
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    steps.tear_coupon(client, joint, steps.weld_coupon(client, joint), "5.6")
    steps.release(client, joint)
    return joint


@pytest.fixture
def later(monkeypatch: pytest.MonkeyPatch) -> list[timedelta]:
    """Let the server's clock run ahead by what stands in the list."""
    ahead = [timedelta()]
    made = Shop.desk

    def desk(shop: Shop, actor: str, sent: str = "") -> Desk:
        real = made(shop, actor, sent)
        return Desk(real.store, lambda: datetime.now(UTC) + ahead[-1], actor, sent=sent)

    monkeypatch.setattr(Shop, "desk", desk)
    return ahead


def tap(client: TestClient, joint: str, number: int, **more: str) -> str:
    data = {"number": str(number), **more}
    answer = client.post(f"{joint}/weld", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    return str(answer.headers["location"])


def said(page: str) -> str:
    """The words of a page, in one line."""
    return " ".join(re.sub(r"<[^>]+>", " ", page).split())


def test_three_taps_make_three_welds_and_start_the_fire_watch(
    client: TestClient, joint: str, later: list[timedelta]
) -> None:
    page = client.get(f"{joint}/weld").text
    assert "Weld 1 of 3" in page  # 1.3 times 2, rounded up
    assert "40 welds" in said(page)
    assert tap(client, joint, 1) == f"{joint}/weld"
    assert "Weld 2 of 3" in client.get(f"{joint}/weld").text
    assert "39 welds" in said(client.get(f"{joint}/weld").text)
    tap(client, joint, 3)
    fire = tap(client, joint, 2)
    assert "All 3 welds are made" in client.get(f"{joint}/weld").text
    assert "60 min" in said(client.get(fire).text)
    assert client.post(fire, data={"found": "nothing"}).status_code == 422
    later.append(timedelta(minutes=61))
    page = client.get(fire).text
    assert "Look once more" in page
    assert client.post(fire, data={"found": "nothing"}, follow_redirects=False).status_code == 303
    assert "Fire watch done" in client.get(fire).text
    data = {"seen": steps.seen(client, joint), "wedged": "1; 3", "looked": "yes"}
    answer = client.post(f"{joint}/check", data=data, follow_redirects=False)
    assert answer.headers["location"] == f"{joint}/close"
    data = {"seen": steps.seen(client, joint), "protection": "Cavity wax, batch 17"}
    answer = client.post(f"{joint}/close", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    assert "Closed" in client.get(answer.headers["location"]).text


def test_a_tick_of_the_same_weld_asks_whether_it_was_another(
    client: TestClient, joint: str
) -> None:
    tap(client, joint, 1)
    again = client.post(f"{joint}/weld", data={"number": "1"})
    assert again.status_code == 409
    assert "Mine was another: it is weld 2" in again.text
    assert client.get(f"{joint}/weld").text.count('/weld/1"') == 1


def test_a_doubled_tap_makes_one_weld(client: TestClient, joint: str) -> None:
    once = re.findall(r'name="once" value="([^"]+)"', client.get(f"{joint}/weld").text)[0]
    assert tap(client, joint, 1, once=once) == tap(client, joint, 1, once=once)
    assert "Weld 2 of 3" in client.get(f"{joint}/weld").text


def test_a_tap_from_a_page_that_slept_past_the_end_is_kept_and_no_other_is_offered(
    client: TestClient, joint: str, later: list[timedelta]
) -> None:
    later.append(timedelta(hours=5))
    assert tap(client, joint, 1) == f"{joint}/weld"
    page = client.get(f"{joint}/weld").text
    assert "Stop: no release holds" in page
    assert "Weld 2 is made" not in page
    assert "Made while no release held: 1" in page
    assert "the time is over" in page
    state = re.search(r'hx-get="([^"]+)"', page)
    assert state
    assert client.get(state[1].replace("&amp;", "&")).status_code == 200
    assert "Made while no release held: 1" not in client.get(f"{joint}/close").text  # others first
    tap(client, joint, 2, note="The tablet slept.")
    assert "The tablet slept." in client.get(f"{joint}/weld/2").text


def test_the_page_is_led_anew_when_the_release_ends_meanwhile(
    client: TestClient, joint: str, later: list[timedelta]
) -> None:
    found = re.search(r'hx-get="([^"]+)"', client.get(f"{joint}/weld").text)
    assert found
    ask = found[1].replace("&amp;", "&")
    assert "HX-Redirect" not in client.get(ask).headers
    later.append(timedelta(hours=5))
    assert client.get(ask).headers["HX-Redirect"] == f"{joint}/weld"


def test_undo_is_one_tap_and_keeps_its_trace(client: TestClient, joint: str) -> None:
    tap(client, joint, 1)
    page = client.get(f"{joint}/weld").text
    reason = re.search(r'name="reason" value="([^"]+)"', page)
    assert reason
    answer = client.post(f"{joint}/weld/1/undo", data={"reason": reason[1]}, follow_redirects=False)
    assert answer.status_code == 303
    assert "Weld 1 of 3" in client.get(f"{joint}/weld").text
    assert "taken back by Tomas Veld" in client.get(f"{joint}/weld/1").text
    assert "Weld 1 taken back" in client.get(joint).text


def test_a_number_nobody_ticked_is_not_there(client: TestClient, joint: str) -> None:
    assert client.get(f"{joint}/weld/9").status_code == 404


def test_the_server_started_again_shows_the_same_step(tmp_path: Path, app: FastAPI) -> None:
    with TestClient(app, base_url=HOME, headers={"Origin": HOME}) as first:
        joint = steps.describe_joint(first, steps.open_job(first), old_spots="2")
        steps.cite_procedure(first, joint)
        steps.accept_own_set_up(first, joint)
        steps.tear_coupon(first, joint, steps.weld_coupon(first, joint), "5.6")
        steps.release(first, joint)
        for number in (1, 2, 3):
            fire = tap(first, joint, number)
        until = re.search(r"<dt>until</dt><dd>([0-9:]+)", first.get(fire).text)
    again = create_app(WebSettings(str(tmp_path / "record.db")))
    with TestClient(again, base_url=HOME, headers={"Origin": HOME}) as second:
        after = re.search(r"<dt>until</dt><dd>([0-9:]+)", second.get(fire).text)
        assert "Fire watch: stay" in second.get(fire).text
        assert "All 3 welds are made" in second.get(f"{joint}/weld").text
    assert until
    assert after
    assert until[1] == after[1]
