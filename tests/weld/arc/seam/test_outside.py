"""From the outside of a seam to its inside, with seams of the model itself for the truth."""

import dataclasses
import math
from functools import cache

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.seam import (
    ArcHeat,
    JointKind,
    SeamJoint,
    SeamSetUp,
    SeamSheet,
    Torch,
    continuous,
)
from buttonhole.weld.arc.seam.ensemble import Members
from buttonhole.weld.arc.seam.outside import (
    NO_ALLOWANCE,
    SeamLook,
    could_be,
    look_inside,
    marks_of,
)
from buttonhole.weld.arc.sighting import Sighting

MM = 1e-3
STRIP, BEAD = 0.3 * MM, 0.4 * MM


def joint() -> SeamJoint:
    sheets = [SeamSheet.of_steel(Sheet(find_steel("DC04"), t * MM)) for t in (1.0, 1.5)]
    return SeamJoint(JointKind.LAP, sheets[0], sheets[1], 30 * MM)


@cache
def seams() -> Members:
    return could_be(
        joint(), SeamSetUp(ArcHeat(880.0, 640.0, 47e-9), Torch(), continuous(30e-3, 9e-3)), 120
    )


def without(found: Members, one: int) -> Members:
    fields = [field.name for field in dataclasses.fields(found)]
    return Members(**{name: np.delete(getattr(found, name), one, axis=0) for name in fields})


def test_twin_experiment_halves_the_doubt_of_the_hidden_depth() -> None:
    found, rng = seams(), np.random.default_rng(3)
    marks, truth = marks_of(found), found.penetration[:, 0]
    errors, inside, count = [], 0, len(truth)
    for one in range(count):
        read = {
            SeamLook.ZINC_STRIP: (marks[SeamLook.ZINC_STRIP][one], STRIP),
            SeamLook.BACK_BEAD: (marks[SeamLook.BACK_BEAD][one], BEAD),
        }
        seen = {
            look: Sighting(max(value + off * rng.standard_normal(), 0.0), off)
            for look, (value, off) in read.items()
        }
        answer = look_inside(without(found, one), joint(), seen, NO_ALLOWANCE).sheets[0].penetration
        errors.append(answer.value - truth[one])
        inside += answer.low - 1e-6 <= truth[one] <= answer.high + 1e-6
    after = math.sqrt(float(np.square(errors).mean()))
    assert after < 0.6 * float(truth.std())
    assert 0.80 < inside / count <= 1.0


def test_a_wide_strip_and_a_back_bead_mean_deep_fusion() -> None:
    def asked(strip: float, bead: float) -> tuple[float, float]:
        seen = {
            SeamLook.ZINC_STRIP: Sighting(strip * MM, STRIP),
            SeamLook.BACK_BEAD: Sighting(bead * MM, BEAD),
        }
        answer = look_inside(seams(), joint(), seen)
        assert answer.now < answer.before
        return answer.sheets[0].penetration.value, answer.sheets[0].fused_probability

    middle = float(np.median(marks_of(seams())[SeamLook.ZINC_STRIP])) / MM
    deep, shallow = asked(middle + 1.2, 1.0), asked(middle - 1.2, 0.0)
    assert deep[0] > shallow[0] + 0.2 * MM
    assert deep[1] > shallow[1]


def test_the_next_look_leaves_less_doubt() -> None:
    answer = look_inside(seams(), joint(), {})
    assert {one.look for one in answer.next_looks} == set(SeamLook)
    assert answer.next_looks[0].left < answer.before
    assert [one.left for one in answer.next_looks] == sorted(one.left for one in answer.next_looks)


def test_a_reading_no_seam_shows_is_told() -> None:
    seen = {SeamLook.ZINC_STRIP: Sighting(30 * MM, STRIP)}
    answer = look_inside(seams(), joint(), seen)
    assert "no seam with these settings" in answer.alarms[0]


@pytest.mark.parametrize(("value", "off"), [(-1.0, 0.3), (5.0, 0.0), (math.nan, 0.3), (300.0, 1.0)])
def test_bad_readings_are_refused(value: float, off: float) -> None:
    with pytest.raises(BadInput, match="how far it may be off"):
        Sighting(value * MM, off * MM)


def test_a_butt_has_no_leg() -> None:
    butt = dataclasses.replace(joint(), kind=JointKind.BUTT_BACKED)
    with pytest.raises(BadInput, match="fillet"):
        look_inside(seams(), butt, {SeamLook.LEG: Sighting(3 * MM, STRIP)})
