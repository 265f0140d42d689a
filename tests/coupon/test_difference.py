"""A coupon proves only what it shares with the joint."""

from dataclasses import replace

import pytest

from buttonhole.coupon.difference import (
    Difference,
    Level,
    ReadBack,
    Surroundings,
    differences,
)
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

STACK = StackUp(
    (
        Sheet(find_steel("DC04"), 0.7e-3, Coating.GI),
        Sheet(find_steel("HCT600X"), 1.2e-3, Coating.GI),
    ),
    gap=0.2e-3,
)
CAP = ElectrodeCap(face_diameter=6e-3)
SET_UP = SpotSetUp((Pulse(9e3, 0.2),), CurrentType.MFDC, 3e3, CAP, CAP, 0.3, 0.2)
THERE = Surroundings("Gun A", "120", "4.2", "W3", "L25", "PA", "Tomas Veld")


def compare(stack=STACK, set_up=SET_UP, here=THERE, shown=None) -> dict[str, Difference]:
    found = differences((STACK, SET_UP, THERE), (stack, set_up, here), shown)
    assert [one.level for one in found] == sorted(
        (one.level for one in found), key=list(Level).index
    )
    return {one.item: one for one in found}


def test_the_same_is_green_everywhere():
    found = compare()
    assert {one.level for one in found.values()} == {Level.GREEN}
    assert {one.word for one in Level} == {"not the joint", "look", "same"}


@pytest.mark.parametrize(
    ("field", "value", "level"),
    [
        ("machine", "Gun B", Level.RED),
        ("arm_pair", "500", Level.RED),
        ("program_version", "4.3", Level.RED),
        ("outlet", "W1", Level.RED),
        ("lead", "L10", Level.RED),
        ("position", "PF", Level.AMBER),
        ("welder", "Priya Marr", Level.AMBER),
        ("outlet", "", Level.AMBER),
    ],
)
def test_other_surroundings(field, value, level):
    found = compare(here=replace(THERE, **{field: value}))
    item = field.replace("_", " ")
    assert found[item].level is level
    assert [name for name, one in found.items() if one.level is not Level.GREEN] == [item]
    if not value:
        assert found[item].on_coupon == "not said"


@pytest.mark.parametrize(
    ("thickness", "level"),
    [(0.7e-3, "green"), (0.72e-3, "green"), (0.75e-3, "amber"), (0.8e-3, "amber"), (0.9e-3, "red")],
)
def test_thickness(thickness, level):
    sheet = Sheet(find_steel("DC04"), thickness, Coating.GI)
    assert compare(stack=replace(STACK, sheets=(sheet, STACK.sheets[1])))["sheet 1"].level == level


def test_other_metal_other_coating_other_count():
    other = Sheet(find_steel("HC340LA"), 0.7e-3, Coating.GI)
    assert compare(stack=replace(STACK, sheets=(other, STACK.sheets[1])))["sheet 1"].level == "red"
    bare = Sheet(find_steel("DC04"), 0.7e-3)
    assert compare(stack=replace(STACK, sheets=(bare, STACK.sheets[1])))["sheet 1"].level == "red"
    three = replace(STACK, sheets=(*STACK.sheets, bare))
    assert compare(stack=three)["sheets"].level == "red"


def test_an_unknown_sheet_is_never_green():
    unknown = StackUp((Sheet(find_steel("unknown"), 1e-3), STACK.sheets[1]))
    found = differences((unknown, SET_UP, THERE), (unknown, SET_UP, THERE))
    assert next(one for one in found if one.item == "sheet 1").level is Level.AMBER


@pytest.mark.parametrize(
    ("gap", "level"), [(0.2e-3, "green"), (0.16e-3, "green"), (0.1e-3, "red"), (0.5e-3, "amber")]
)
def test_a_flat_coupon_hides_the_gap_of_the_joint(gap, level):
    assert compare(stack=replace(STACK, gap=gap))["gap"].level == level


@pytest.mark.parametrize(
    ("change", "item"),
    [
        ({"pulses": (Pulse(9.2e3, 0.2),)}, "welding current"),
        ({"pulses": (Pulse(9e3, 0.2, up_slope=0.04),)}, "welding current"),
        ({"electrode_force": 2.5e3}, "electrode force"),
        ({"hold_time": 0.1}, "hold time"),
        ({"squeeze_time": 0.4}, "squeeze time"),
        ({"current_type": CurrentType.AC50}, "current type"),
        ({"cap_b": ElectrodeCap(face_diameter=8e-3)}, "electrode caps"),
    ],
)
def test_another_set_up_is_red(change, item):
    found = compare(set_up=replace(SET_UP, **change))
    assert [name for name, one in found.items() if one.level is Level.RED] == [item]


@pytest.mark.parametrize(
    ("shown", "level"), [(8.9e3, "green"), (8.6e3, "amber"), (8.3e3, "red"), (9.7e3, "red")]
)
def test_what_the_machine_showed(shown, level):
    found = compare(shown=ReadBack(current=shown))
    assert found["current shown"].level == level
    assert "force shown" not in found
