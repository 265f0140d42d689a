"""The API takes the keys of a weld file and answers as the command line does."""

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from buttonhole.cli import DONE, run

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def weld() -> dict[str, Any]:
    return tomllib.loads((EXAMPLES / "two_sheets.toml").read_text(encoding="utf-8"))


def test_it_answers_what_the_command_line_prints(
    client: TestClient, weld: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["predict", str(EXAMPLES / "two_sheets.toml"), "--json"]) == DONE
    expected = json.loads(capsys.readouterr().out)
    answer = client.post("/api/predict", json=weld)
    assert answer.status_code == 200
    found = answer.json()
    for one in (expected, found):
        one.pop("solver_seconds")  # of the computer, not of the weld
    assert found == expected


@pytest.mark.parametrize(
    ("change", "key"),
    [
        (lambda weld: weld["sheet"][0].update(thickness="0 mm"), "sheet 1 thickness"),
        (lambda weld: weld["sheet"][0].update(thickness="thin"), "sheet 1 thickness"),
        (lambda weld: weld["sheet"][0].update(steel="DC0A4"), "sheet 1 steel"),
        (lambda weld: weld["sheet"][1].update(colour="red"), "sheet 2 colour"),
        (lambda weld: weld.update(sheet=weld["sheet"] * 3), "sheet"),
        (lambda weld: weld["set_up"].update(electrode_force=2200), "set_up electrode_force"),
        (lambda weld: weld.pop("set_up"), "set_up"),
    ],
)
def test_a_bad_value_is_named_with_what_would_be_right(
    client: TestClient, weld: dict[str, Any], change: Any, key: str
) -> None:
    change(weld)
    answer = client.post("/api/predict", json=weld)
    assert answer.status_code == 422
    assert answer.json()["error"]["key"] == key
    assert answer.json()["error"]["message"]


@pytest.mark.parametrize(
    "body", [b"", b"{", b"[]", b'"spot"', b"\xff\xfe", b'{"gap": NaN}', b"[" * 60_000, b"1"]
)
def test_what_is_no_json_object_is_refused(client: TestClient, body: bytes) -> None:
    answer = client.post("/api/predict", content=body, headers={"Content-Type": "application/json"})
    assert answer.status_code == 400
    assert "JSON" in answer.json()["error"]["message"]


def test_ten_megabytes_of_junk_are_refused(client: TestClient) -> None:
    answer = client.post(
        "/api/predict", content=b"x" * 10_000_000, headers={"Content-Type": "application/json"}
    )
    assert answer.status_code == 413


def test_a_point_of_the_body_gets_its_thermal_cycle(
    client: TestClient, weld: dict[str, Any]
) -> None:
    weld["cycle"] = [{"radius": "2 mm", "depth": "0.4 mm"}]
    cycles = client.post("/api/predict", json=weld).json()["thermal_cycles"]
    assert (cycles[-1]["radius_mm"], cycles[-1]["depth_mm"]) == (2.0, 0.4)
    weld["cycle"][0]["depth"] = "9 mm"
    refused = client.post("/api/predict", json=weld)
    assert refused.status_code == 422
    assert refused.json()["error"]["key"] == "cycle depth"


def test_a_quick_answer_is_marked_and_says_its_error(
    client: TestClient, weld: dict[str, Any]
) -> None:
    found = client.post("/api/predict/quick", json=weld).json()
    assert found["quick"]["is_quick"] is True
    (error,) = found["quick"]["nugget_error_mm"]
    assert error > 0.0
    (one,) = found["interfaces"]
    solved = client.post("/api/predict", json=weld).json()["interfaces"][0]
    low, high = one["nugget_interval_mm"]
    assert low <= solved["nugget_diameter_mm"] <= high
    assert one["minimum_diameter_mm"] == solved["minimum_diameter_mm"]


def test_where_no_quick_answer_can_be_given_the_solver_gives_it(
    client: TestClient, weld: dict[str, Any]
) -> None:
    weld["set_up"]["weld_time"] = "20 ms"
    found = client.post("/api/predict/quick", json=weld).json()
    why = found.pop("quick")
    assert why["is_quick"] is False
    assert "weld time" in why["why_not"]
    solved = client.post("/api/predict", json=weld).json()
    for answer in (found, solved):
        answer.pop("solver_seconds")
    assert found == solved


def test_strength_takes_the_same_keys_and_answers_as_the_command_line(
    client: TestClient, weld: dict[str, Any], capsys: pytest.CaptureFixture[str]
) -> None:
    file = str(EXAMPLES / "two_sheets.toml")
    assert run(["strength", file, "--load", "9 kN", "--maker-count", "4", "--json"]) == DONE
    expected = json.loads(capsys.readouterr().out)
    answer = client.post("/api/strength?required_load=9 kN&maker_count=4", json=weld)
    assert answer.status_code == 200
    found = answer.json()
    for one in (expected, found):
        one["welds"][0].pop("name")
        one["weakest"].pop("weld")
    assert found == expected
    refused = client.post("/api/strength?pull=sideways", json=weld)
    assert refused.status_code == 422
    assert refused.json()["error"]["key"] == "pull"
    assert client.post("/api/strength?required_load=9", json=weld).status_code == 422
