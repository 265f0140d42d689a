"""Dials: where they stand, one step more or less, never past their ends; the joint is kept."""

import pytest

from buttonhole.desk.arc_view import ArcKind
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.web.fields import Answers
from buttonhole.web.kept import MOST, Kept
from buttonhole.web.pages.arc_try import DIALS, read_dials, turned_keys
from tests.desk.test_arc_joint import PLUG, SEAM


def standing(form: dict[str, str], keys: dict, kind: ArcKind) -> dict[str, float]:
    return {one.dial.key: one.value for one in read_dials(Answers(form), keys, kind)}


def test_dials_begin_where_the_weld_is() -> None:
    found = standing({}, PLUG, ArcKind.PLUG)
    assert found == {
        "contact_tube_distance": 13.0,
        "wire_feed_speed": 6.4,
        "hole_diameter": 8.0,
        "arc_time": 1.9,
        "gap": 0.0,
    }
    assert turned_keys(PLUG, read_dials(Answers({}), PLUG, ArcKind.PLUG)) == PLUG


def test_a_step_is_added_to_where_the_dial_stands() -> None:
    assert standing({"more": "gap"}, PLUG, ArcKind.PLUG)["gap"] == pytest.approx(0.1)
    form = {"less": "arc_time", "arc_time": "1.5"}
    assert standing(form, PLUG, ArcKind.PLUG)["arc_time"] == pytest.approx(1.4)
    assert standing({"less": "gap"}, PLUG, ArcKind.PLUG)["gap"] == 0.0
    form = {"aim_offset": "1", "work_angle": "60"}
    found = standing(form, SEAM, ArcKind.SEAM)
    assert (found["aim_offset"], found["work_angle"]) == (1.0, 60.0)


@pytest.mark.parametrize("nonsense", ["nan", "inf", "-inf", "1e999", "x", "1;2"])
def test_nonsense_leaves_a_dial_inside_its_ends(nonsense: str) -> None:
    dial = next(one for one, _ in DIALS if one.key == "arc_time")
    found = standing({"arc_time": nonsense}, PLUG, ArcKind.PLUG)["arc_time"]
    assert dial.low <= found <= dial.high


def test_turned_dials_make_a_weld_and_keep_the_rest() -> None:
    form = {"hole_diameter": "10", "gap": "0.5", "wire_feed_speed": "7"}
    keys = turned_keys(PLUG, read_dials(Answers(form), PLUG, ArcKind.PLUG))
    assert keys["sheet"][0]["hole_diameter"] == "10 mm"
    assert keys["gap"] == "0.5 mm"
    assert keys["set_up"]["wire_feed_speed"] == "7 m/min"
    assert keys["set_up"]["arc_time"] == "1.9 s"
    assert arc_weld_file_from(keys).joint.hole_diameters == (pytest.approx(10e-3),)
    assert PLUG["sheet"][0]["hole_diameter"] == "8 mm"


def test_stepped_holes_keep_their_step() -> None:
    first, last = PLUG["sheet"]
    stepped = {**PLUG, "sheet": [{**first, "hole_diameter": "10 mm"}, first, last]}
    turned = read_dials(Answers({"hole_diameter": "11"}), stepped, ArcKind.PLUG)
    keys = turned_keys(stepped, turned)
    assert [one.get("hole_diameter") for one in keys["sheet"]] == ["11 mm", "9 mm", None]


def test_only_the_last_answers_are_kept() -> None:
    kept = Kept()
    for number in range(MOST + 1):
        kept.put(("what if", {"number": number}), number)
    assert kept.get(("what if", {"number": 0})) is None
    assert kept.get(("what if", {"number": MOST})) == MOST
