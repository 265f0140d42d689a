"""One change at a time: each is the change it says, and the trade's rules come out of the model."""

import math
from collections.abc import Mapping
from typing import Any

import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.procedure.arc_what_if import (
    Change,
    WhatIf,
    plug_changes,
    plug_figures,
    seam_changes,
    what_if,
)
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.plug import COARSE, PlugJoint, TorchPath, predict
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire
from tests.weld.arc.plug.plugs import joint, set_up

SHEET = SeamSheet.of_steel(Sheet(find_steel("DC04"), 1e-3))
LAP = SeamJoint(JointKind.LAP, SHEET, SHEET, 40e-3)
SEAM = ArcSetUp(
    find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 0.1, 17.5, 12e-3,
    travel_speed=8e-3, work_angle=math.radians(45.0),
)  # fmt: skip


def made(found: list[Change | str]) -> dict[str, Change]:
    return {one.words: one for one in found if isinstance(one, Change)}


def test_a_plug_changes_one_thing_at_a_time() -> None:
    found = made(list(plug_changes(joint(), set_up())))
    for one in found.values():
        same = [one.joint == joint(), one.set_up == set_up()]
        assert sorted(same) == [False, True], one.words
    assert {one.key for one in found.values()} == {
        "contact_tube_distance", "wire_feed_speed", "arc_time", "hole_diameter", "gap",
        "torch_path",
    }  # fmt: skip
    farther = found["contact tube 5 mm farther"].set_up
    assert farther.contact_tube_distance == pytest.approx(18e-3)
    assert found["holes 1 mm larger"].joint.hole_diameters == pytest.approx((9e-3,))


def test_a_seam_changes_one_thing_at_a_time() -> None:
    found = made(list(seam_changes(LAP, SEAM)))
    for one in found.values():
        assert sorted([one.joint == LAP, one.set_up == SEAM]) == [False, True], one.words
    assert {one.key for one in found.values()} == {
        "contact_tube_distance", "wire_feed_speed", "travel_speed", "aim_offset", "work_angle",
        "gap",
    }  # fmt: skip
    faster = found["travel 20% faster"].set_up.travel_speed
    assert faster == pytest.approx(1.2 * 8e-3)


def test_travel_by_arc_time_goes_the_other_way() -> None:
    timed = ArcSetUp(
        SEAM.wire, 0.8e-3, SEAM.gas, 0.1, 17.5, 12e-3, arc_time=5.0, work_angle=SEAM.work_angle
    )
    faster = made(list(seam_changes(LAP, timed)))["travel 20% faster"].set_up.arc_time
    assert faster == pytest.approx(5.0 / 1.2)


def test_what_can_not_be_is_left_out_and_said() -> None:
    near = set_up(distance=5.0)
    found = list(plug_changes(joint(), near))
    (refused,) = [one for one in found if isinstance(one, str)]
    assert "5 mm nearer" in refused

    def predicted(_joint: Any, tried: ArcSetUp) -> Mapping[str, float]:
        if tried.contact_tube_distance > 9e-3:
            raise BadInput("contact_tube_distance", "is too far")
        return {"size": tried.wire_feed_speed}

    compared = what_if(predicted, joint(), near, found)
    assert len(compared.left_out) == 2
    more = next(one for one in compared.outcomes if "more" in one.change.words)
    assert more.deltas["size"] == pytest.approx(0.1 * near.wire_feed_speed)


@pytest.fixture(scope="module")
def plug() -> WhatIf:
    def predicted(tried: PlugJoint, how: ArcSetUp) -> Mapping[str, float]:
        return plug_figures(predict(tried, how, resolution=COARSE, count=12))

    return what_if(predicted, joint(), set_up(), list(plug_changes(joint(), set_up())))


def of(found: WhatIf, words: str) -> Mapping[str, float]:
    (one,) = (one for one in found.outcomes if one.change.words == words)
    return one.deltas


def test_what_the_trade_says_of_plugs_comes_out(plug: WhatIf) -> None:
    assert of(plug, "contact tube 5 mm farther")["fused_diameter"] < -0.3e-3
    assert of(plug, "contact tube 5 mm farther")["welding_current"] < 0.0
    assert of(plug, "contact tube 5 mm nearer")["back_spot_diameter"] > 0.3e-3
    assert of(plug, "gap 0.5 mm wider")["fused_diameter"] < 0.0
    assert of(plug, "arc time 20% shorter")["back_spot_diameter"] < 0.0
    rim = of(plug, f"torch path {TorchPath.RIM.value}")
    assert rim["fused_diameter"] < -1.0e-3
    assert rim["fusion_probability"] < 0.0
