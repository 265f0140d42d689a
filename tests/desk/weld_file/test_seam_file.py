"""The file of a seam: what it becomes, and every way it can be wrong."""

import math
from pathlib import Path

import pytest

from buttonhole.desk.weld_file import BadFile, SeamWeldFile, read_any_weld_file
from buttonhole.weld.arc.seam.joint import JointKind

GOOD = Path("examples/seam_lap.toml").read_text(encoding="utf-8")


@pytest.fixture
def weld(tmp_path: Path) -> Path:
    return tmp_path / "weld.toml"


def read(path: Path, text: str) -> SeamWeldFile:
    path.write_text(text, encoding="utf-8")
    found = read_any_weld_file(path)
    assert isinstance(found, SeamWeldFile)
    return found


def test_the_values_of_a_good_file(weld: Path) -> None:
    found = read(weld, GOOD)
    assert found.joint.kind is JointKind.LAP
    assert found.joint.upper.thickness == pytest.approx(1.0e-3)
    assert found.joint.lower.thickness == pytest.approx(1.2e-3)
    assert not found.joint.upper.zinc
    assert found.joint.lower.zinc
    assert found.set_up.travel_speed == pytest.approx(8e-3)
    assert math.degrees(found.set_up.work_angle) == pytest.approx(45.0)
    assert found.runs is None


def test_a_butt_over_a_strip_takes_two_or_three_sheets(weld: Path) -> None:
    butt = GOOD.replace('"lap"', '"butt_backed"').replace(
        '"40 mm"', '"40 mm"\nroot_gap = "1 mm"', 1
    )
    found = read(weld, butt)
    assert found.joint.right is None
    assert found.joint.root_opening == pytest.approx(1e-3)
    third = '[[sheet]]\nsteel = "DC04"\nthickness = "1.5 mm"\n'
    assert read(weld, butt.replace("[set_up]", third + "[set_up]", 1)).joint.right is not None


def test_stitches_and_a_bar(weld: Path) -> None:
    text = GOOD.replace(
        "[set_up]", '[set_up]\nstitch_length = "10 mm"\nstitch_space = "5 mm"\nstitch_pause = "4 s"'
    )
    found = read(weld, text + '[coupon]\nbacking = "copper"\nwidth = "30 mm"\n')
    assert found.runs is not None
    assert [one.start for one in found.runs] == pytest.approx([0.0, 15e-3, 30e-3])
    assert found.runs[1].pause == pytest.approx(4.0)
    assert found.joint.bar is not None
    assert found.joint.width == pytest.approx(30e-3)


def test_parts_in_an_order_with_pauses(weld: Path) -> None:
    found = read(
        weld, GOOD.replace("[set_up]", '[set_up]\nskip_order = [1, 3, 2]\nskip_pause = "8 s"')
    )
    assert found.runs is not None
    assert [one.start for one in found.runs] == pytest.approx([0.0, 80e-3 / 3, 40e-3 / 3])
    assert [one.pause for one in found.runs] == pytest.approx([0.0, 8.0, 8.0])


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ("skip_order = [1, 1, 2]", "each part once"),
        ("skip_order = []", "each part once"),
        ('skip_pause = "8 s"', "is missing"),
        ('skip_order = [1, 2]\nstitch_length = "10 mm"', "one of them"),
        (f"skip_order = {list(range(1, 30))}", "at most 13 parts"),
    ],
)
def test_an_order_that_is_none_is_refused(weld: Path, keys: str, told: str) -> None:
    with pytest.raises(BadFile, match=told):
        read(weld, GOOD.replace("[set_up]", f"[set_up]\n{keys}"))


def test_aluminium(weld: Path) -> None:
    text = GOOD.replace('steel = "DC04"', 'alloy = "6082"').replace('"1.2 mm"', '"2 mm"')
    text = text.replace('"G 3Si1"', '"S Al 5356"').replace('"M21"', '"I1"')
    found = read(weld, text)
    assert found.joint.upper.metal.steel is None
    assert found.coatings == ()


# (what is replaced, by what, key of the refusal, words it must say)
WRONG = {
    "steel by the number of inert gas": ('"seam"', '"131"', "process", '"135"'),
    "a joint nobody knows": ('"lap"', '"corner"', "joint", "lap, butt_backed"),
    "no joint": ('joint = "lap"  ', "", "joint", "lap"),
    "a seam of a metre": ('length = "40 mm"', 'length = "1 m"', "length", "120 mm"),
    "a speed of a car": ('"8 mm/s"', '"60 m/s"', "set_up travel_speed", "50 mm/s"),
    "a flat torch": ('"45 deg"', '"5 deg"', "set_up work_angle", "20 to 110"),
    "an angle without its unit": ('"45 deg"', '"45"', "set_up work_angle", "unit"),
    "both speed and time": (
        "[set_up]",
        '[set_up]\narc_time = "5 s"',
        "set_up travel_speed",
        "arc_time",
    ),
    "a space without stitches": (
        "[set_up]",
        '[set_up]\nstitch_space = "5 mm"',
        "set_up stitch_length",
        "10 mm",
    ),
    "a stitch longer than the seam": (
        "[set_up]",
        '[set_up]\nstitch_length = "90 mm"',
        "set_up stitch_length",
        "shorter",
    ),
    "a hole as for a plug": (
        'thickness = "1.0 mm"',
        'thickness = "1.0 mm"\nhole_diameter = "8 mm"',
        "sheet 1 hole_diameter",
        "is no key of a seam",
    ),
    "two metals of one sheet": (
        'steel = "DC04"',
        'steel = "DC04"\nalloy = "6082"',
        "sheet 1 steel",
        "alloy",
    ),
    "an alloy nobody listed": ('steel = "DC04"', 'alloy = "9999"', "sheet 1 alloy", "EN AW"),
    "a root gap in a lap": (
        'length = "40 mm"',
        'length = "40 mm"\nroot_gap = "1 mm"',
        "root_gap",
        "lap",
    ),
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


def test_a_third_sheet_in_a_lap_is_refused(weld: Path) -> None:
    third = '[[sheet]]\nsteel = "DC04"\nthickness = "1 mm"\n'
    weld.write_text(GOOD.replace("[set_up]", third + "[set_up]", 1), encoding="utf-8")
    with pytest.raises(BadFile, match="upper sheet, then the lower"):
        read_any_weld_file(weld)
