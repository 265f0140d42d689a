"""The file of a plug weld: what it becomes, and every way it can be wrong."""

import math
from pathlib import Path

import pytest

from buttonhole.desk.weld_file import BadFile, PlugWeldFile, read_any_weld_file, read_weld_file
from buttonhole.weld.arc.plug.joint import TorchPath
from buttonhole.weld.arc.set_up import Position

GOOD = Path("examples/plug.toml").read_text(encoding="utf-8")


@pytest.fixture
def weld(tmp_path: Path) -> Path:
    return tmp_path / "weld.toml"


def read(path: Path, text: str) -> PlugWeldFile:
    path.write_text(text, encoding="utf-8")
    found = read_any_weld_file(path)
    assert isinstance(found, PlugWeldFile)
    return found


def test_the_values_of_a_good_file(weld: Path) -> None:
    found = read(weld, GOOD)
    assert [one.thickness for one in found.joint.stack.sheets] == pytest.approx([1e-3, 1.5e-3])
    assert found.joint.hole_diameters == pytest.approx((8e-3,))
    assert found.joint.path is TorchPath.SPIRAL
    assert math.pi * found.joint.piece_radius**2 == pytest.approx(70e-3**2)
    assert found.set_up.wire_feed_speed == pytest.approx(6.4 / 60.0)
    assert found.set_up.contact_tube_distance == pytest.approx(13e-3)
    assert found.set_up.position is Position.PA


def test_stepped_holes_and_a_process_by_its_number() -> None:
    found = read_any_weld_file("examples/plug_stepped_holes.toml")
    assert isinstance(found, PlugWeldFile)
    assert found.joint.hole_diameters == pytest.approx((10e-3, 8e-3))


def test_copper_behind_takes_heat_off(weld: Path) -> None:
    assert read(weld, GOOD).joint.back_film == 0.0
    assert read(weld, GOOD + 'backing = "copper"\n').joint.back_film > 0.0


def test_a_plug_is_no_spot_weld(weld: Path) -> None:
    weld.write_text(GOOD, encoding="utf-8")
    with pytest.raises(BadFile, match="process"):
        read_weld_file(weld)


# (what is replaced, by what, key of the refusal, words it must say)
WRONG = {
    "the number of another process": ('"plug"', '"131"', "process", '"135"'),
    "brazing with steel wire": ('"plug"', '"973"', "process", '"135"'),
    "no hole": ('hole_diameter = "8 mm"', "", "sheet 1 hole_diameter", '"8 mm"'),
    "an alloy beside a steel": (
        'steel = "DC04"',
        'steel = "DC04"\nalloy = "6082"',
        "sheet 1 steel",
        "alloy",
    ),
    "steel on aluminium": ('steel = "DC04"', 'alloy = "6082"', "sheet", "mixes"),
    "an alloy nobody lists": ('steel = "DC04"', 'alloy = "7075"', "sheet", "mixes"),
    "no sheet of nothing": ('"1.0 mm"', '"0 mm"', "sheet 1 thickness", "0.2 to 6 mm"),
    "no unit": ('"6.4 m/min"', '"6.4"', "set_up wire_feed_speed", "unit"),
    "a bare number": ('"1.9 s"', "1.9", "set_up arc_time", "quotes"),
    "a time of hours": ('"1.9 s"', '"2 h"', "set_up arc_time", "20 s"),
    "current in place of voltage": ('"17.5 V"', '"110 A"', "set_up arc_voltage", "V"),
    "a wire nobody sells": ('"G 3Si1"', '"ER99"', "set_up wire", "G 3Si1"),
    "no gas": ('"M21"', '"air"', "set_up gas", "M21"),
    "a mistyped key": ("arc_time", "arc_tme", "set_up arc_tme", "arc_time"),
    "a key of a spot weld": (
        "[set_up]",
        '[set_up]\nelectrode_force = "2 kN"',
        "set_up electrode_force",
        "wire_feed_speed",
    ),
    "a hole in the wrong table": (
        "[set_up]",
        '[set_up]\nhole_diameter = "8 mm"',
        "set_up hole_diameter",
        "[sheet]",
    ),
    "a path nobody leads": ('"spiral"', '"zigzag"', "set_up torch_path", "centre, spiral, rim"),
    "a hole too large": ('"8 mm"', '"40 mm"', "sheet 1 hole_diameter", "16 mm"),
    "a hole too small": ('"8 mm"', '"1 mm"', "sheet hole_diameter", "3 to 16 mm"),
    "a piece too small": ('width = "70 mm"', 'width = "10 mm"', "coupon width", "40 to"),
    "an unknown steel name": ('steel = "DC04"', 'steel = "DC4444"', "sheet 1 steel", "unknown"),
    "a thick wire": ('"0.8 mm"', '"3 mm"', "set_up wire_diameter", "0.6 to 1.6"),
    "far off": ('"13 mm"', '"90 mm"', "set_up contact_tube_distance", "40 mm"),
}


@pytest.mark.parametrize("case", WRONG)
def test_what_is_wrong_is_named_with_what_would_be_right(weld: Path, case: str) -> None:
    before, after, key, words = WRONG[case]
    assert before in GOOD
    weld.write_text(GOOD.replace(before, after, 1), encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        read_any_weld_file(weld)
    assert caught.value.key == key
    assert words in caught.value.message
    assert "\n" not in caught.value.message


def test_a_hole_in_the_last_sheet_and_one_larger_below_are_refused(weld: Path) -> None:
    last = GOOD.replace('coating = "GI"', 'coating = "GI"\nhole_diameter = "6 mm"')
    weld.write_text(last, encoding="utf-8")
    with pytest.raises(BadFile, match="last sheet"):
        read_any_weld_file(weld)
    stepped = Path("examples/plug_stepped_holes.toml").read_text(encoding="utf-8")
    weld.write_text(stepped.replace('"10 mm"', '"6 mm"', 1), encoding="utf-8")
    with pytest.raises(BadFile, match="largest outside"):
        read_any_weld_file(weld)


def test_a_fourth_sheet_is_refused(weld: Path) -> None:
    more = '[[sheet]]\nsteel = "DC04"\nthickness = "1 mm"\n'
    weld.write_text(GOOD.replace("[set_up]", f"{more}{more}[set_up]", 1), encoding="utf-8")
    with pytest.raises(BadFile, match="2 to 3"):
        read_any_weld_file(weld)


def test_a_hole_of_nothing_is_an_arc_spot(weld: Path) -> None:
    assert read(weld, GOOD.replace('"8 mm"', '"0 mm"')).joint.hole_diameters == (0.0,)


LIGHT = (
    GOOD.replace('steel = "DC04"', 'alloy = "EN AW-6082"')
    .replace('"1.0 mm"', '"1.5 mm"')
    .replace('"G 3Si1"', '"S Al 4043"')
    .replace('"M21"', '"I1"')
)


def test_a_plug_of_aluminium(weld: Path) -> None:
    found = read(weld, LIGHT).joint
    assert found.steels == ()
    assert [one.curves.name for one in found.metals] == ["EN AW-6082", "EN AW-6082"]
    weld.write_text(LIGHT.replace("6082", "7075", 1), encoding="utf-8")
    with pytest.raises(BadFile, match="sheet 1 alloy"):
        read_any_weld_file(weld)
    weld.write_text(LIGHT.replace("1.5 mm", "0.8 mm", 1), encoding="utf-8")
    with pytest.raises(BadFile, match=r"sheet 1 thickness.*1 to 3 mm"):
        read_any_weld_file(weld)
