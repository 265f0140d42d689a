"""A brazed lap and a lap of aluminium by the same engine, on a few coarse runs of the solver."""

from functools import cache

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.learning.beliefs import ALUMINIUM, BRAZE, Beliefs
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.faults import SCATTER_KEY, causes, effect_of
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.posterior import learn, outlook
from buttonhole.learning.seam_surrogate import INPUTS, brazes, seam_surrogate
from buttonhole.learning.trials import Trials
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.seam import JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.seam.joint import aluminium_sheet
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

ZERO = (0.0,) * 7
RUNS = 64


def braze() -> tuple[SeamJoint, ArcSetUp, Beliefs]:
    sheet = SeamSheet.of_steel(Sheet(find_steel("DC04"), 1.0e-3))
    set_up = ArcSetUp(
        find_wire("S Cu 6560"), 0.8e-3, find_gas("I1"), 0.1, 16.0, 12e-3, travel_speed=6.5e-3
    )
    return SeamJoint(JointKind.LAP, sheet, sheet, 40e-3), set_up, BRAZE


def aluminium() -> tuple[SeamJoint, ArcSetUp, Beliefs]:
    sheet = aluminium_sheet("6082", 1.5e-3)
    set_up = ArcSetUp(
        find_wire("S Al 4043"), 1.0e-3, find_gas("I1"), 0.1, 17.0, 12e-3, travel_speed=8e-3
    )
    return SeamJoint(JointKind.LAP, sheet, sheet, 40e-3), set_up, ALUMINIUM


@cache
def model(kind: str) -> Model:
    joint, set_up, beliefs = braze() if kind == "braze" else aluminium()
    fitted = seam_surrogate(joint, set_up, RUNS)
    least = (3.0e-3,) if brazes(set_up) else (1.5e-3, 0.15e-3)
    thinner = (joint.upper.thickness,) * len(least)
    own = LearnedJoint(kind, fitted, least, thinner, scales=(1.0, 0.4)[: len(least)])
    return Model(beliefs, (own,))


def coupon(kind: str, *evidence: Evidence) -> LearningCoupon:
    return LearningCoupon("a", kind, ZERO, evidence)


@pytest.mark.parametrize("kind", ["braze", "aluminium"])
def test_more_heat_wets_or_fuses_more_and_a_narrow_coupon_teaches_it(kind: str) -> None:
    own = model(kind).joints[kind].surrogate
    assert own.interfaces == (1 if kind == "braze" else 2)
    cold, hot = np.zeros(7), np.zeros(7)
    cold[INPUTS.index("speed")], hot[INPUTS.index("speed")] = 0.2, -0.2
    assert own.at(hot)[0] > own.at(cold)[0] + 0.2e-3
    assert own.at(hot)[own.place("spoil")] > own.at(cold)[own.place("spoil")]
    setting = model(kind).setting(kind, ZERO)
    before = outlook(learn(model(kind), [], seed=1), setting)
    width = before.size[0].value
    narrow = Evidence(Kind.MEASURED, 0, 0.6 * width, uncertainty=0.18e-3)
    after = outlook(learn(model(kind), [coupon(kind, narrow)] * 1, seed=1), setting)
    assert after.size[0].value < width - 0.1e-3
    bare = outlook(learn(model(kind), [coupon(kind, Evidence(Kind.NO_BUTTON))], seed=1), setting)
    assert bare.chance.value < before.chance.value


@pytest.mark.parametrize(("kind", "count"), [("braze", 6), ("aluminium", 4)])
def test_every_remedy_lowers_the_chance_of_a_bad_weld(kind: str, count: int) -> None:
    before = learn(model(kind), [], seed=1)
    modelled = [one for one in causes(kind) if one.key != SCATTER_KEY and effect_of(one)]
    assert len(modelled) == count
    for cause in modelled:
        effect = effect_of(cause)
        assert effect is not None
        seen = Evidence(Kind.NO_BUTTON) if not effect.spoil else Evidence(Kind.EXPULSION)
        remedy = Trials(before, (coupon(kind, seen),)).remedy(effect)
        assert remedy is not None
        assert remedy.bad_after < remedy.bad_before - 0.002, cause.key
