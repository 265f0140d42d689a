"""Seams by the same engine, on a surrogate of coarse runs of the seam's solver."""

from functools import cache

import numpy as np
import pytest

from buttonhole.coupon.verdict import Outcome
from buttonhole.joint.coating import Coating
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.steel import find_steel
from buttonhole.learning.beliefs import SEAM
from buttonhole.learning.case import Case, JudgedCoupon
from buttonhole.learning.decision import Step, decide
from buttonhole.learning.diagnosis import Failure, diagnose
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon, back_evidence
from buttonhole.learning.faults import SCATTER_KEY, causes, effect_of
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.next_coupon import candidates, choose
from buttonhole.learning.posterior import Posterior, learn, outlook
from buttonhole.learning.seam_surrogate import INPUTS, seam_point, seam_surrogate
from buttonhole.learning.trials import Trials
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import find_gas
from buttonhole.weld.arc.seam import JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import find_wire

ACCEPT, REJECT = Outcome.ACCEPT, Outcome.REJECT
ZERO = (0.0,) * 7
U = 0.18e-3


def lap() -> tuple[SeamJoint, ArcSetUp]:
    upper = SeamSheet.of_steel(Sheet(find_steel("DC04"), 1.0e-3))
    lower = SeamSheet.of_steel(Sheet(find_steel("DC04"), 1.5e-3, Coating.GI))
    set_up = ArcSetUp(
        find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 5.6 / 60.0, 17.5, 12e-3, travel_speed=8e-3
    )
    return SeamJoint(JointKind.LAP, upper, lower, 40e-3), set_up


@cache
def model() -> Model:
    fitted = seam_surrogate(*lap(), 120)
    joint = LearnedJoint(
        "lap",
        fitted,
        (1.0e-3, 0.15e-3),
        (1.0e-3, 1.0e-3),
        scales=(1.0, 0.4),
        names=("fused width", "depth"),
    )
    return Model(SEAM, (joint,))


def coupon(key: str, *evidence: Evidence, point: tuple[float, ...] = ZERO) -> LearningCoupon:
    return LearningCoupon(key, "lap", point, evidence)


def wide(size: float) -> Evidence:
    return Evidence(Kind.MEASURED, 0, size, uncertainty=U)


def deep(size: float) -> Evidence:
    return Evidence(Kind.MEASURED, 1, size, uncertainty=0.1e-3)


@cache
def middle() -> tuple[float, float]:
    """Width and depth of the set-up as believed [m]."""
    found = model().joints["lap"].surrogate.at(np.zeros(7))
    return float(found[0]), float(found[1])


@cache
def known() -> Posterior:
    width, depth = middle()
    past = [
        coupon(f"h{i}", wide(width + off), deep(depth), back_evidence("clear"))
        for i, off in enumerate((0.1e-3, -0.1e-3, 0.0, 0.2e-3, -0.2e-3, 0.0))
    ]
    return learn(model(), past, seed=1, engine="quick")


def test_heat_widens_and_deepens_and_speed_and_distance_take_it_back() -> None:
    own = model().joints["lap"].surrogate
    at = own.at(np.zeros(7))
    for name, sign in (("feed", 1), ("voltage", 1), ("speed", -1), ("distance", -1), ("stray", 1)):
        moved = np.zeros(7)
        moved[INPUTS.index(name)] = 0.6e-3 if name == "stray" else 0.09
        found = own.at(moved)
        assert sign * (found[0] - at[0]) > 0.05e-3, name
    hot = own.at(np.array([0.2, 0.1, -0.2, -0.2, 0.1, 0.0, 0.0]))
    assert hot[own.place("spoil")] > at[own.place("spoil")] + 1.0
    assert own.error[0] < 0.7e-3
    assert not own.trusted  # a coarse grid, and it says so


def test_width_depth_back_and_bend_teach_the_same_machine() -> None:
    setting = model().setting("lap", ZERO)
    before = outlook(learn(model(), [], seed=1), setting)
    width, depth = middle()
    narrow = outlook(learn(model(), [coupon("a", wide(width - 0.8e-3))], seed=1), setting)
    assert narrow.size[0].value < before.size[0].value - 0.2e-3
    assert narrow.size[1].value < before.size[1].value  # one machine: it is shallower too
    shallow = outlook(learn(model(), [coupon("a", deep(0.5 * depth))], seed=1), setting)
    assert shallow.size[1].value < before.size[1].value - 0.1e-3
    smooth = outlook(learn(model(), [coupon("a", Evidence(Kind.NO_BUTTON))], seed=1), setting)
    assert smooth.chance.value < before.chance.value - 0.1
    held = Evidence(Kind.CHISEL_PASSED, 0, 1.0e-3)
    bent = outlook(learn(model(), [coupon("a", held)], seed=1), setting)
    assert bent.chance.value >= before.chance.value
    fell = outlook(learn(model(), [coupon("a", Evidence(Kind.EXPULSION))], seed=1), setting)
    assert fell.splash > before.splash
    meter = Evidence(Kind.METER, value=-0.08, uncertainty=0.02, meter="feed")
    slow = learn(model(), [coupon("a", meter)], seed=1)
    assert slow.unknown("wire feed").value == pytest.approx(-0.07, abs=0.03)


def test_good_seams_raise_the_chance_and_a_smooth_face_refuses() -> None:
    width, depth = middle()
    case = Case(model(), "lap", ZERO, welds=10)
    good = [JudgedCoupon(coupon(str(i), wide(width), deep(depth)), ACCEPT) for i in range(3)]
    found = decide(case, good, known().coupons, seed=1)
    assert found.chance is not None
    before = outlook(learn(model(), [], seed=1), model().setting("lap", ZERO))
    assert found.chance.value > before.chance.value
    assert "mm of fused width" in found.words
    smooth = JudgedCoupon(coupon("s", Evidence(Kind.NO_BUTTON)), REJECT)
    assert decide(case, [*good, smooth], (), seed=1).step is Step.REFUSE


def test_the_next_coupon_gets_more_heat_after_narrow_seams() -> None:
    found = learn(model(), [coupon(str(i), wide(1.0e-3), deep(0.1e-3)) for i in range(3)], seed=1)
    chosen = choose(found, "lap", candidates("seam", model().joints["lap"], ZERO))
    assert chosen.candidate.point[0] - chosen.candidate.point[2] > 0.0
    if chosen.robust:
        assert "wire feed" in chosen.words or "travel speed" in chosen.words


def test_a_slow_feed_is_told_from_a_bad_aim_by_the_meter() -> None:
    failed = (coupon("a", wide(middle()[0] - 1.2e-3)),)
    low = Evidence(Kind.METER, value=-0.16, uncertainty=0.03, meter="feed")
    right = Evidence(Kind.METER, value=0.0, uncertainty=0.03, meter="feed")
    cold = diagnose(Failure("seam", failed, (low,)), known())
    together = {cold.suspects[0].cause.key, *(one.key for one in cold.suspects[0].alike)}
    assert together & {"cold", "liner"}
    aimed = diagnose(Failure("seam", failed, (right,)), known())
    assert aimed.chances["cold"] < 0.3 * cold.chances["cold"]
    assert aimed.chances["aim_top"] > 2.0 * cold.chances["aim_top"]


def test_every_remedy_of_a_seam_lowers_the_chance_of_a_bad_weld() -> None:
    before = known()
    modelled = [one for one in causes("seam") if effect_of(one) is not None]
    assert len(modelled) == 13
    for cause in modelled:
        effect = effect_of(cause)
        if cause.key == SCATTER_KEY or effect is None:
            continue
        hot = effect.spoil > 0.0
        failed = coupon("f", Evidence(Kind.EXPULSION) if hot else wide(middle()[0] - 1.5e-3))
        remedy = Trials(before, (failed,)).remedy(effect)
        assert remedy is not None
        assert remedy.bad_after < remedy.bad_before - 0.002, cause.key


def test_points_and_what_never_fuses() -> None:
    joint, set_up = lap()
    assert seam_point(joint, set_up, set_up) == pytest.approx(ZERO)
    cold = ArcSetUp(
        find_wire("G 3Si1"), 0.8e-3, find_gas("M21"), 2.0 / 60.0, 14.0, 20e-3, travel_speed=40e-3
    )
    with pytest.raises(BadInput, match="fuses"):
        seam_surrogate(joint, cold, 12)
