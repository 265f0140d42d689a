"""A coupon of an arc weld proves only what it shares with the joint."""

from dataclasses import replace

import pytest

from buttonhole.coupon.arc.difference import arc_differences
from buttonhole.coupon.arc.piece import ArcSettings
from buttonhole.coupon.comparison import compare
from buttonhole.coupon.difference import Level, ReadBack, Surroundings
from buttonhole.joint.coating import Coating
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from tests.coupon.arc.pieces import BUTT, LAP, PLUG, sheet
from tests.coupon.test_difference import SET_UP, STACK

SET = ArcSettings("G 3Si1", 0.8e-3, "M21", 6.4 / 60, 17.5, 13e-3, arc_time=1.9, path="spiral")
THERE = Surroundings("Feeder C", "", "3.1", "W3", "L25", "PA", "T. Brindeval")


def found(piece=PLUG, settings=SET, here=THERE, shown=None, joint=PLUG, **more):
    listed = arc_differences((joint, SET, THERE), (piece, settings, here), shown, **more)
    order = [list(Level).index(one.level) for one in listed]
    assert order == sorted(order)
    return {one.item: one for one in listed}


def test_the_same_is_green_everywhere():
    assert {one.level for one in found().values()} == {Level.GREEN}


@pytest.mark.parametrize(
    ("change", "item"),
    [
        ({"wire": "G 4Si1"}, "wire"),
        ({"wire_diameter": 1e-3}, "wire"),
        ({"gas": "C1"}, "gas"),
        ({"gas_flow": 2e-4}, "gas flow"),
        ({"wire_feed_speed": 7 / 60}, "wire feed"),
        ({"arc_voltage": 18.5}, "arc voltage"),
        ({"contact_tube_distance": 20e-3}, "contact tube to work"),
        ({"arc_time": 2.4}, "arc time"),
        ({"path": "rim"}, "path of the arc"),
        ({"position": "PF"}, "position"),
        ({"polarity": "wire negative"}, "polarity"),
    ],
)
def test_another_setting_is_another_weld(change, item):
    one = found(settings=replace(SET, **change))[item]
    assert one.level is (Level.AMBER if item == "position" else Level.RED)
    assert one.advice


def test_positions_that_are_said_and_differ_are_red():
    joint, coupon = replace(SET, position="PA"), replace(SET, position="PF")
    listed = arc_differences((PLUG, joint, THERE), (PLUG, coupon, THERE))
    assert {one.item: one.level for one in listed}["position"] is Level.RED


@pytest.mark.parametrize(
    ("piece", "item", "level"),
    [
        (replace(PLUG, gap=0.5e-3), "gap", Level.AMBER),
        (replace(PLUG, holes=(8.3e-3,)), "hole in sheet 1", Level.AMBER),
        (replace(PLUG, holes=(6.5e-3,)), "hole in sheet 1", Level.RED),
        (replace(PLUG, backing="copper"), "on the back", Level.RED),
        (replace(PLUG, sheets=(sheet(0.8), sheet(1.2))), "sheet 2", Level.RED),
        (replace(PLUG, sheets=(sheet(0.85), sheet(1.5))), "sheet 1", Level.AMBER),
        (replace(PLUG, sheets=(sheet(0.8), sheet(1.5, "HCT600X"))), "sheet 2", Level.RED),
        (
            replace(PLUG, sheets=(replace(sheet(0.8), coating=Coating.GI), sheet(1.5))),
            "sheet 1",
            Level.RED,
        ),
        (LAP, "form of the weld", Level.RED),
    ],
)
def test_another_piece(piece, item, level):
    one = found(piece=piece)[item]
    assert one.level is level
    assert one.advice


def test_a_wider_root_on_the_vehicle_is_red():
    listed = arc_differences((replace(BUTT, root_gap=1.5e-3), SET, THERE), (BUTT, SET, THERE))
    assert {one.item: one.level for one in listed}["root gap"] is Level.RED


@pytest.mark.parametrize(
    ("field", "value", "level"),
    [
        ("machine", "Feeder D", Level.RED),
        ("outlet", "W1", Level.RED),
        ("lead", "L10", Level.RED),
        ("program_version", "3.2", Level.RED),
        ("welder", "P. Marr", Level.AMBER),
    ],
)
def test_other_surroundings(field, value, level):
    names = {"program_version": "program version"}
    assert found(here=replace(THERE, **{field: value}))[names.get(field, field)].level is level


@pytest.mark.parametrize(
    ("field", "item", "level"),
    [
        ("torch", "torch", Level.RED),
        ("liner", "liner", Level.AMBER),
        ("wire_batch", "wire spool", Level.AMBER),
        ("gas_batch", "gas cylinder", Level.AMBER),
        ("coating_state", "coating state", Level.RED),
        ("between", "sealer or adhesive", Level.RED),
    ],
)
def test_what_is_optional_counts_once_somebody_says_it(field, item, level):
    assert item not in found()
    assert found(here=replace(THERE, **{field: "one"}))[item].level is Level.AMBER
    joint = (PLUG, SET, replace(THERE, **{field: "one"}))
    coupon = (PLUG, SET, replace(THERE, **{field: "other"}))
    listed = {one.item: one for one in arc_differences(joint, coupon)}
    assert listed[item].level is level


def test_a_coupon_prepared_as_the_joint_is_the_same():
    joint = (PLUG, SET, replace(THERE, coating_state="bare"))
    coupon = (PLUG, SET, replace(THERE, coating_state="as_joint"))
    listed = {one.item: one for one in arc_differences(joint, coupon)}
    assert listed["coating state"].level is Level.GREEN


def test_what_the_machine_showed():
    shown = ReadBack(current=80.0, voltage=16.6, wire_feed_speed=6.6 / 60, arc_time=1.9)
    listed = found(shown=shown, expected_current=Estimate(100.0, 90.0, 110.0))
    assert listed["voltage shown"].level is Level.AMBER  # 5 % off
    assert listed["wire feed shown"].level is Level.AMBER  # 3.1 % off
    assert listed["arc time shown"].level is Level.GREEN
    assert listed["current shown"].level is Level.AMBER
    assert listed["current shown"].on_joint == "90 to 110 A"


def test_a_coupon_of_another_process_is_refused():
    with pytest.raises(BadInput, match="another process"):
        compare((PLUG, SET, THERE), (STACK, SET_UP, THERE))
