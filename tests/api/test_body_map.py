"""A joint is placed by a tap on any of three sizes of picture, by nudges or by figures."""

import re

import pytest
from starlette.testclient import TestClient

from tests.api import steps


@pytest.fixture
def placed(client: TestClient) -> tuple[str, str]:
    job = steps.open_job(client)
    return job, steps.describe_joint(client, job).removeprefix("/joints/")


def where(client: TestClient, job: str, joint: str) -> tuple[float, float]:
    page = client.get(f"{job}/map?joint={joint}").text
    found = [re.search(rf'name="{key}" value="([0-9.]+)"', page) for key in ("across", "down")]
    assert found[0]
    assert found[1]
    return float(found[0][1]), float(found[1][1])


@pytest.mark.parametrize(("name", "width"), [("large", 880), ("middle", 580), ("small", 340)])
def test_a_tap_means_the_same_place_on_every_size(
    client: TestClient, placed: tuple[str, str], name: str, width: int
) -> None:
    job, joint = placed
    height = width * 400 / 880
    data = {"joint": joint, "view": "right"}
    data |= {f"at-{name}.x": str(round(0.5 * width)), f"at-{name}.y": str(round(0.75 * height))}
    answer = client.post(f"{job}/map", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text
    assert "view=right" in answer.headers["location"]
    assert where(client, job, joint) == pytest.approx((50.0, 75.0), abs=0.4)
    assert 'class="number"' in client.get(f"{job}/map/right.svg").text
    assert 'class="number"' not in client.get(f"{job}/map/left.svg").text


def test_nudges_move_it_and_stop_at_the_edge(client: TestClient, placed: tuple[str, str]) -> None:
    job, joint = placed
    data = {"joint": joint, "view": "left"}
    client.post(f"{job}/map", data={**data, "across": "1,5 %", "down": "40"})
    assert where(client, job, joint) == (1.5, 40.0)
    for way in ("left", "left", "left", "down"):
        client.post(f"{job}/map", data={**data, "nudge": way})
    assert where(client, job, joint) == (0.0, 41.0)


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"at-large.x": "0", "at-large.y": "0"},  # a key was pressed on the picture
        {"across": "120", "down": "10"},
        {"across": "wide", "down": "10"},
        {"nudge": "left"},  # nothing to nudge yet
    ],
)
def test_what_is_no_place_is_told_and_not_kept(
    client: TestClient, placed: tuple[str, str], more: dict[str, str]
) -> None:
    job, joint = placed
    data = {"joint": joint, "view": "left", **more}
    assert client.post(f"{job}/map", data=data).status_code == 422
    assert "not placed yet" in client.get(f"{job}/map").text


def test_a_joint_of_another_job_or_a_side_there_is_not(
    client: TestClient, placed: tuple[str, str]
) -> None:
    job, joint = placed
    assert client.post(f"{job}/map", data={"joint": "x", "view": "left"}).status_code == 422
    data = {"joint": joint, "view": "below", "across": "1", "down": "1"}
    assert client.post(f"{job}/map", data=data).status_code == 404
    assert client.get(f"{job}/map/below.svg").status_code == 404
