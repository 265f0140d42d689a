"""What is fused inside a seam of a file, by what can be seen on it."""

from pathlib import Path

import pytest

from buttonhole.desk.look_inside_seam import look_inside_seam
from buttonhole.desk.weld_file import SeamWeldFile, read_any_weld_file
from buttonhole.units import BadInput

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def described(name: str) -> SeamWeldFile:
    found = read_any_weld_file(EXAMPLES / name)
    assert isinstance(found, SeamWeldFile)
    return found


def test_sheets_chances_and_the_next_look() -> None:
    looks = {"zinc_strip": (6.0e-3, 2e-3), "back_bead": (0.8e-3, None)}
    answer = look_inside_seam(described("seam_lap.toml"), looks, 20)
    assert answer["members"] == 21
    assert [one["name"] for one in answer["sheets"]] in (["lower", "upper"], [])
    assert bool(answer["alarms"]) == (answer["fusion_probability"] is None)
    for one in answer["sheets"]:
        low, high = one["penetration_interval_mm"]
        assert low <= one["penetration_mm"] <= high
        assert 0.0 <= one["fused_probability"] <= 1.0
    assert {one["look"] for one in answer["next_looks"]} <= {"leg"}


@pytest.mark.parametrize(
    ("looks", "told"),
    [({"zinc_ring": (6e-3, None)}, "none of a seam"), ({"leg": (-1e-3, None)}, "how far it may")],
)
def test_marks_that_are_none_are_refused(
    looks: dict[str, tuple[float, float | None]], told: str
) -> None:
    with pytest.raises(BadInput, match=told):
        look_inside_seam(described("seam_lap.toml"), looks, 4)


def test_a_braze_has_nothing_fused_inside() -> None:
    with pytest.raises(BadInput, match="brazes"):
        look_inside_seam(described("braze_lap.toml"), {}, 4)
