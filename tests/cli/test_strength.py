"""``buttonhole strength``: loads, failure, weakest link and number of welds at the command line."""

import io
import json
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from buttonhole.cli import run as main

GOOD = """
process = "spot"
[[sheet]]
steel = "{steel}"
thickness = "1.0 mm"
coating = "bare"
[[sheet]]
steel = "DC04"
thickness = "1.2 mm"
coating = "bare"
[set_up]
welding_current = "9.5 kA"
current_type = "MFDC"
electrode_force = "2.6 kN"
electrode_face = "6 mm"
squeeze_time = "300 ms"
weld_time = "220 ms"
hold_time = "200 ms"
"""


@dataclass
class Done:
    returncode: int
    stdout: str
    stderr: str


def run(*words: str) -> Done:
    """In this process, as importing the solver takes longer than all welds here together."""
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        status = main(["strength", *words])
    return Done(status, out.getvalue(), err.getvalue())


@pytest.fixture(scope="module")
def weld(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("strength") / "weld.toml"
    file.write_text(GOOD.format(steel="DC04"), encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def answer(weld: Path) -> dict[str, Any]:
    done = run(str(weld), "--load", "12 kN", "--maker-count", "3", "--json")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    found = json.loads(done.stdout)
    assert isinstance(found, dict)
    return found


def test_every_load_has_its_interval_and_its_weakest_link(answer: dict[str, Any]) -> None:
    (weld,) = answer["welds"]
    assert [one["pull"] for one in weld["strength"]] == [
        "lap_shear", "cross_tension", "peel", "torsion",
    ]  # fmt: skip
    for one in weld["strength"]:
        key, unit = ("torque", "Nm") if one["pull"] == "torsion" else ("load", "N")
        low, high = one[f"{key}_interval_{unit}"]
        assert 0.0 < low < one[f"{key}_{unit}"] < high
        least = min(one["links"], key=lambda link: link[f"{key}_{unit}"])
        assert one["weakest"] == least["link"]
        assert one["why"]


def test_failure_says_what_is_from_memory(answer: dict[str, Any]) -> None:
    (one,) = answer["welds"][0]["failure"]
    assert one["mode"] in ("interfacial", "partial", "pull-out")
    low, high = one["critical_diameter_interval_mm"]
    assert low <= one["critical_diameter_mm"] <= high
    assert {each["status"] for each in one["models"]} == {"memory"}
    assert isinstance(one["weak_through_nugget"], bool)


def test_published_loads_are_marked_where_unverified(answer: dict[str, Any]) -> None:
    (face,) = answer["welds"][0]["least_loads"]
    loads = {one["name"]: one for one in face["loads"]}
    assert loads["AWS D8.1M:2007"]["unverified"]
    assert not loads["AWS C1.1"]["unverified"]
    order = ("AWS C1.1", "chart minimum", "nominal")
    listed = [loads[name]["load_N"] for name in order]
    assert listed == sorted(listed)
    assert all(one["held"] in ("yes", "open", "no") for one in face["loads"])


def test_the_count_is_never_under_the_makers(weld: Path, answer: dict[str, Any]) -> None:
    count = answer["count"]
    assert count["number"] == max(count["by_load"], count["by_maker"])
    assert count["governs"] in ("load", "maker", "both")
    assert count["efficiency_is_default"]
    more = json.loads(run(str(weld), "--load", "12 kN", "--maker-count", "40", "--json").stdout)
    assert more["count"]["number"] == 40
    assert more["count"]["governs"] == "maker"
    least = json.loads(run(str(weld), "--load", "1 N", "--efficiency", "1", "--json").stdout)
    assert least["count"]["number"] == 1
    assert not least["count"]["efficiency_is_default"]


def test_an_unknown_steel_is_not_given_a_load(tmp_path: Path) -> None:
    file = tmp_path / "weld.toml"
    file.write_text(GOOD.format(steel="unknown"), encoding="utf-8")
    found = json.loads(run(str(file), "--maker-count", "6", "--json").stdout)
    assert found["welds"][0]["strength"] is None
    assert found["welds"][0]["failure"] is None
    assert found["weakest"] is None
    assert found["count"]["number"] == 6
    refused = run(str(file), "--load", "10 kN")
    assert refused.returncode == 2
    assert "not known" in refused.stderr


def test_plug_and_spot_of_one_joint(weld: Path) -> None:
    done = run(str(weld), "examples/plug.toml", "--json")
    found = json.loads(done.stdout)
    assert [one["process"] for one in found["welds"]] == ["spot", "plug"]
    weakest = found["weakest"]
    loads = [
        each["load_N"]
        for one in found["welds"]
        for each in one["strength"]
        if each["pull"] == "lap_shear"
    ]
    assert weakest["load_N"] == pytest.approx(min(loads), rel=1e-4)
    assert weakest["reason"]


def test_in_words_it_fits_the_terminal(weld: Path) -> None:
    done = run(str(weld), "--load", "12 kN", "--maker-count", "3")
    assert done.returncode == 0, done.stderr
    assert max(len(line) for line in done.stdout.splitlines()) <= 80
    for words in ("lap shear", "lets go", "unverified", "Welds needed", "prevails"):
        assert words in done.stdout


@pytest.mark.parametrize(
    ("options", "word"),
    [
        (("--pull", "sideways"), "lap_shear"),
        (("--load", "12"), "unit"),
        (("--load", "-3 kN"), "above zero"),
        (("--maker-count", "0"), "1 to"),
        (("--load", "3 kN", "--efficiency", "2"), "up to 1"),
        (("--load", "3 kN", "--pull", "torsion"), "twisting"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(
    weld: Path, options: tuple[str, ...], word: str
) -> None:
    done = run(str(weld), *options)
    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert word in done.stderr
