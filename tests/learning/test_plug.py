"""Plug welds by the same engine, on a surrogate of coarse runs of the solver."""

import math
from functools import cache

import numpy as np
import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.learning.beliefs import PLUG
from buttonhole.learning.diagnosis import Failure, diagnose
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon, back_evidence
from buttonhole.learning.faults import SCATTER_KEY, causes, effect_of, signs
from buttonhole.learning.foresight import surprise_of
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.plug_surrogate import plug_point, plug_surrogate
from buttonhole.learning.posterior import Posterior, learn, outlook
from buttonhole.learning.trials import Trials
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.plug import COARSE, PlugJoint
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

ZERO = (0.0,) * 6


def plug() -> tuple[PlugJoint, ArcSetUp]:
    sheets = (Sheet(find_steel("DC04"), 0.8e-3), Sheet(find_steel("DC04"), 1.5e-3))
    set_up = ArcSetUp(
        find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 7.0 / 60.0, 18.0, 12e-3, arc_time=1.5
    )
    return PlugJoint(StackUp(sheets), (8e-3,)), set_up


@cache
def model() -> Model:
    fitted = plug_surrogate(*plug(), 170, resolution=COARSE)
    return Model(PLUG, (LearnedJoint("plug", fitted, (5e-3,), (0.8e-3,)),))


def coupon(key: str, *evidence: Evidence) -> LearningCoupon:
    return LearningCoupon(key, "plug", ZERO, evidence)


@cache
def good_machine() -> Posterior:
    past = [
        coupon(f"h{i}", back_evidence("clear"), Evidence(Kind.MEASURED, 0, size, uncertainty=2e-4))
        for i, size in enumerate((5.4e-3, 5.6e-3, 5.3e-3, 5.5e-3))
    ]
    return learn(model(), past, seed=1, engine="quick")


def test_more_power_and_time_fuse_more_and_distance_less() -> None:
    own = model().joints["plug"].surrogate
    at = own.at(np.zeros(6))
    for i, sign in ((0, 1.0), (2, 1.0), (3, -1.0), (4, 1.0), (5, -1.0)):
        moved = np.zeros(6)
        moved[i] = 0.2 if i < 5 else 0.4e-3
        assert sign * (own.at(moved)[0] - at[0]) > 0.1e-3, own.inputs[i]
    hot = own.at(np.array([0.2, 0.1, 0.3, -0.2, 0.1, 0.0]))
    assert hot[own.place("spoil")] > at[own.place("spoil")]
    assert hot[own.place("back")] > at[own.place("back")]
    assert not own.trusted  # a coarse grid: 99 of 100 welds are not within 0.1 mm, and it says so


def test_the_same_engine_learns_from_plug_holes_and_backs() -> None:
    setting = model().setting("plug", ZERO)
    before = outlook(learn(model(), [], seed=1), setting)
    filled = learn(model(), [coupon("a", Evidence(Kind.AT_LEAST, value=6.5e-3))], seed=1)
    assert outlook(filled, setting).size[0].value > before.size[0].value + 0.1e-3
    cold = learn(model(), [coupon("a", back_evidence("faint"))], seed=1)
    warm = learn(model(), [coupon("a", back_evidence("bump"))], seed=1)
    assert outlook(cold, setting).size[0].value < outlook(warm, setting).size[0].value
    fell = learn(model(), [coupon("a", Evidence(Kind.EXPULSION))], seed=1)
    assert outlook(fell, setting).splash > 2.0 * before.splash
    meter = Evidence(Kind.METER, value=-0.08, uncertainty=0.02, meter="feed")
    slow = learn(model(), [coupon("a", meter)], seed=1)
    assert slow.unknown("wire feed").value == pytest.approx(-0.08, abs=0.03)


def test_story_5_plug_look_behind() -> None:
    """Torn hole of 3.5 mm and no heat mark on the back: the causes of P1 come first."""
    seen = coupon("a", back_evidence("none"), Evidence(Kind.MEASURED, 0, 3.5e-3, uncertainty=2e-4))
    found = diagnose(Failure("plug", (seen,), signs=("P1",)), good_machine())
    named = {one.cause.key: one.cause for one in found.suspects}
    assert found.suspects[0].cause.key == "rim_arc"
    assert set(named) <= set(signs()["P1"].chances)
    assert "middle of the lower sheet" in named["rim_arc"].correction
    assert any("back" in one for one in found.suspects[0].speaks_for)
    by_sign = diagnose(Failure("plug", signs=("P1",)))
    said = " ".join(one.cause.correction for one in by_sign.suspects)
    assert "8 to 10 % more wire feed" in said
    assert "stick-out 8 to 12 mm" in said


def test_points_and_what_never_fuses() -> None:
    joint, set_up = plug()
    assert plug_point(joint, set_up, set_up) == pytest.approx(ZERO)
    cold = ArcSetUp(
        find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 2.0 / 60.0, 14.0, 12e-3, arc_time=0.3
    )
    with pytest.raises(BadInput, match="fuses"):
        plug_surrogate(joint, cold, 20, resolution=COARSE)


def test_a_back_that_nobody_expected_surprises() -> None:
    before = good_machine()
    size = Evidence(Kind.MEASURED, 0, 5.45e-3, uncertainty=2e-4)
    usual = surprise_of(before, coupon("a", back_evidence("clear"), size))
    cold = surprise_of(before, coupon("a", back_evidence("none"), size))
    assert cold < 0.01 < 0.3 < usual


def test_a_crown_tells_how_much_wire_went_in() -> None:
    own = model().joints["plug"].surrogate
    at = own.at(np.zeros(6))
    wire = math.pi / 4.0 * 0.8e-3**2 * (7.0 / 60.0) * 1.5  # m3
    hole = math.pi / 4.0 * 8e-3**2
    assert at[own.place("crown")] == pytest.approx(wire / hole - 0.8e-3, abs=0.25e-3)
    short = own.at(np.array([0.0, 0.0, -0.3, 0.0, 0.0, 0.0]))
    fall = (1.0 - math.exp(-0.3)) * wire / hole
    assert at[own.place("crown")] - short[own.place("crown")] == pytest.approx(fall, rel=0.15)
    assert at[own.place("ring")] > short[own.place("ring")] > 8e-3


def test_every_remedy_of_a_plug_lowers_the_chance_of_a_bad_weld() -> None:
    before = good_machine()
    modelled = [(one, effect_of(one)) for one in causes("plug") if effect_of(one) is not None]
    assert len(modelled) == 13
    for cause, effect in modelled:
        if cause.key == SCATTER_KEY:
            continue
        hot = effect.spoil > 0.0
        torn = Evidence(Kind.MEASURED, 0, 4.2e-3, uncertainty=2e-4)
        failed = coupon("f", Evidence(Kind.EXPULSION) if hot else torn)
        remedy = Trials(before, (failed,)).remedy(effect)
        assert remedy is not None
        assert remedy.bad_after < remedy.bad_before - 0.005, cause.key
