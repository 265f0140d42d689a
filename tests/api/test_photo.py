"""A torn weld measured in a photo, by forms alone."""

import re
from functools import cache
from urllib.parse import parse_qs, urlencode, urlsplit

import pytest
from starlette.testclient import TestClient

from benchmarks.photo_scene import Photo, changed, usual_photo
from tests.api import steps

SEED = 11  # a torn hole that stands out


@cache
def photo() -> Photo:
    return usual_photo(SEED)


@pytest.fixture
def coupon(client: TestClient) -> str:
    job = steps.open_job(client)
    joint = steps.describe_joint(client, job)
    steps.cite_procedure(client, joint)
    steps.accept_own_set_up(client, joint)
    return steps.weld_coupon(client, joint)


def fields() -> dict[str, str]:
    across, down = (80.0 * one for one in photo().view.print_scale)
    return {
        "interface": "0",
        "splash": "no",
        "test-0": "peel",
        "mode-0": "full_button",
        "face": "hole",
        "height": f"{photo().height:.2f}",
        "bar_across": f"{across:.3f}",
        "bar_down": f"{down:.3f}",
    }


def send(client: TestClient, coupon: str, content: bytes, name: str = "IMG_1.jpg"):
    return client.post(
        f"{coupon}/photo",
        data=fields(),
        files={"photo": (name, content, "image/jpeg")},
        follow_redirects=False,
    )


def test_from_the_photo_to_the_verdict(client: TestClient, coupon: str) -> None:
    asked = client.get(f"{coupon}/tear?splash=no&test-0=peel&mode-0=full_button")
    assert "Measure it in a photo" in asked.text
    answer = send(client, coupon, photo().jpeg)
    assert answer.status_code == 303, answer.text
    place = urlsplit(answer.headers["location"])
    shown = client.get(answer.headers["location"])
    assert shown.status_code == 200
    assert "Proposed, not measured" in shown.text
    picture = re.search(r'src="([^"]+loupe.jpg[^"]*)"', shown.text)
    assert picture
    loupe = client.get(picture[1].replace("&amp;", "&"))
    assert loupe.headers["content-type"] == "image/jpeg"
    assert len(loupe.content) < 200_000
    state = {key: value[0] for key, value in parse_qs(place.query).items()}
    moved = client.get(f"{place.path}?{urlencode({**state, 'nudge': 'left'})}")
    assert moved.history
    assert "Proposed, not measured" not in moved.text
    drawn = client.get(f"{place.path}?{urlencode({**state, 'do': 'snap'})}")
    state = {key: value[0] for key, value in parse_qs(urlsplit(str(drawn.url)).query).items()}
    taken = client.post(place.path, data={**state, "looked": "yes"}, follow_redirects=False)
    assert taken.status_code == 303, taken.text
    answers = {
        key: one[0] for key, one in parse_qs(urlsplit(taken.headers["location"]).query).items()
    }
    assert float(answers["max-0"]) == pytest.approx(photo().d_max, abs=0.3)
    assert float(answers["min-0"]) == pytest.approx(photo().d_min, abs=0.3)
    joint = coupon.partition("/coupons/")[0]
    rest = {"test-1": "peel", "mode-1": "full_button", "max-1": "5.8", "min-1": "5.6"}
    rest |= {"gauge": "calliper", "seen": steps.seen(client, joint)}
    done = client.post(f"{coupon}/tear", data={**answers, **rest}, follow_redirects=False)
    assert done.status_code == 303, done.text
    events = {one.type: one for one in client.app.state.shop.store.events()}  # type: ignore[attr-defined] # our app
    measured, read = events["photo_measured"].payload, events["coupon_read"].payload["readings"]
    assert read[0]["instrument_uncertainty"] == pytest.approx(measured["uncertainty"])
    assert read[1]["instrument_uncertainty"] != pytest.approx(measured["uncertainty"])
    assert measured["handles"]["placed"] == "hand"
    assert events["photo_kept"].payload["sha256"] == measured["sha256"]


def test_a_proposal_is_not_taken_without_a_look(client: TestClient, coupon: str) -> None:
    place = send(client, coupon, photo().jpeg).headers["location"]
    path, query = place.split("?")
    state = {key: value[0] for key, value in parse_qs(query).items()}
    answer = client.post(path, data=state, follow_redirects=False)
    assert answer.status_code == 422
    kinds = [one.type for one in client.app.state.shop.store.events()]  # type: ignore[attr-defined] # our app
    assert "photo_measured" not in kinds


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"<html><script>alert(1)</script></html>", "no picture"),
        (b"\x00\x00\x00\x18ftypheic" + bytes(64), "HEIC"),
        (b"\xff\xd8\xff\xe0" + bytes(64), "damaged"),
        (b"", "empty"),
    ],
)
def test_hostile_files_are_refused_in_words(
    client: TestClient, coupon: str, content: bytes, says: str
) -> None:
    answer = send(client, coupon, content, "../../x.php")
    assert answer.status_code == 422
    assert says in answer.text
    assert "<script>alert" not in answer.text


def test_a_photo_without_card_is_refused_with_what_to_do(client: TestClient, coupon: str) -> None:
    far = changed(SEED, distance=900.0).jpeg
    answer = send(client, coupon, far)
    assert answer.status_code == 422
    assert "Come nearer" in answer.text or "Lay the card" in answer.text


def test_more_than_a_photo_is_not_read(client: TestClient, coupon: str) -> None:
    answer = send(client, coupon, bytes(26 * 1024 * 1024))
    assert answer.status_code == 413
    assert "no photo may be that large" in answer.text
    other = client.post(f"{coupon}/tear", content=bytes(70_000))
    assert other.status_code == 413


def test_only_photos_of_this_record_are_shown(client: TestClient, coupon: str) -> None:
    for name in ("0" * 64, "../../etc", "x"):
        answer = client.get(f"{coupon}/photo/{name}?interface=0&face=hole")
        assert answer.status_code in (404, 422)
