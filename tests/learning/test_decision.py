import dataclasses

import pytest

from buttonhole.coupon.difference import Surroundings, differences
from buttonhole.coupon.verdict import Outcome
from buttonhole.learning.beliefs import PLUG
from buttonhole.learning.case import Case, JudgedCoupon, judged
from buttonhole.learning.decision import ReleaseRule, Step, decide
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.units import BadInput
from tests.learning.made import SPOT, THIN, THIN_SET, ZERO, joint


def torn(
    key: str, size: float, outcome: Outcome = Outcome.ACCEPT, name: str = "thin"
) -> JudgedCoupon:
    one = Evidence(Kind.MEASURED, 0, size, uncertainty=0.12e-3)
    return JudgedCoupon(LearningCoupon(key, name, ZERO, (one,), joint(name).current), outcome)


def past(count: int) -> list[LearningCoupon]:
    sizes = (4.9e-3, 5.1e-3, 5.0e-3, 4.8e-3, 5.05e-3)
    return [dataclasses.replace(torn(f"h{i}", sizes[i % 5]).coupon) for i in range(count)]


def calm() -> LearnedJoint:
    """The thin joint, were it far from splashing: here the rule is tried, not the solver."""
    own = joint("thin")
    coefficients = own.surrogate.coefficients.copy()
    coefficients[own.surrogate.place("spoil")] = 0.0
    coefficients[own.surrogate.place("spoil"), 0] = -6.0
    fitted = dataclasses.replace(own.surrogate, coefficients=coefficients)
    return dataclasses.replace(own, surrogate=fitted)


CASE = Case(Model(SPOT, (calm(),)), "thin", ZERO, joint("thin").current, welds=40)
GOOD = [torn(str(i), size) for i, size in enumerate((5.0e-3, 4.9e-3, 5.05e-3))]


def test_good_coupons_of_a_new_shop_and_what_is_said() -> None:
    found = decide(CASE, [*GOOD, torn("3", 4.95e-3)], [], seed=1)
    assert found.step is Step.RELEASE, found.reasons
    assert found.counting is not None
    assert "Counting alone, this shows that at least 47.2 %" in found.words
    assert "With the physics model and 0 earlier coupons" in found.words
    assert "What carried it: diameters" in found.words
    assert "What would overturn it: one coupon under" in found.words
    assert 4.0e-3 <= found.overturns < 4.95e-3
    assert found.chance is not None
    assert found.chance.low <= found.chance.value <= 1.0
    assert found.undersize == pytest.approx(40 * (1.0 - found.chance.value))
    assert found.all_good >= found.chance.value**40  # not its power: guesses differ
    assert "maker's procedure" in found.cautions[0]


def test_two_are_not_enough_for_a_new_shop_and_one_never() -> None:
    assert decide(CASE, GOOD[:2], [], seed=1).step is Step.ANOTHER
    assert decide(CASE, GOOD[:1], past(12), seed=1).step is Step.ANOTHER
    assert decide(CASE, GOOD[:2], past(12), seed=1).step is Step.RELEASE
    quick = dataclasses.replace(CASE, recheck=True)
    assert decide(quick, GOOD[:1], past(12), seed=1).step is Step.RELEASE
    assert decide(quick, GOOD[:1], past(4), seed=1).step is Step.ANOTHER


def test_the_criterion_goes_first() -> None:
    bad = torn("bad", 5.2e-3, Outcome.REJECT)
    found = decide(CASE, [*GOOD, bad], past(20), seed=1)
    assert found.step is Step.REFUSE
    assert any("criterion" in one for one in found.reasons)


def test_an_undecided_last_coupon_asks_for_another() -> None:
    found = decide(CASE, [*GOOD, torn("u", 4.7e-3, Outcome.UNDECIDED)], past(12), seed=1)
    assert found.step is Step.ANOTHER
    assert any("guard band" in one for one in found.reasons)


def test_a_splash_refuses_and_the_advice_is_gap_and_force() -> None:
    splashed = JudgedCoupon(
        LearningCoupon("s", "thin", ZERO, (Evidence(Kind.EXPULSION),), joint("thin").current),
        Outcome.REJECT,
    )
    found = decide(CASE, [*GOOD, splashed], [], seed=1)
    assert found.step is Step.REFUSE
    assert any("gap" in one and "force" in one for one in found.reasons)


def test_it_stops_at_five() -> None:
    thin = [torn(str(i), 4.35e-3 + 0.05e-3 * (i % 2)) for i in range(5)]
    found = decide(CASE, thin, [], seed=1)
    assert found.step is Step.MOVE
    assert any("5 coupons are torn" in one for one in found.reasons)


def test_what_nobody_expected_takes_the_models_vote() -> None:
    odd = [
        torn(key, size) for key, size in zip("abcd", (7.0e-3, 7.1e-3, 7.05e-3, 7.0e-3), strict=True)
    ]
    found = decide(CASE, odd, past(15), seed=1)
    assert not found.model_votes
    assert any("no vote" in one for one in found.reasons)
    assert "physics model" not in found.words
    apart = [torn("a", 7.6e-3), torn("b", 5.6e-3), torn("c", 7.9e-3)]
    spread = decide(CASE, apart, past(15), seed=1)
    assert spread.step is not Step.RELEASE
    assert any("By the diameters alone nine of ten welds lie over" in one for one in spread.reasons)


def test_the_strict_class_asks_for_more() -> None:
    strict = dataclasses.replace(calm(), strict=True)
    case = dataclasses.replace(CASE, model=Model(SPOT, (strict,)))
    some = [torn(str(i), size) for i, size in enumerate((4.6e-3, 4.45e-3, 4.55e-3))]
    plain, sterner = decide(CASE, some, [], seed=1), decide(case, some, [], seed=1)
    assert plain.chance == sterner.chance
    rule = ReleaseRule(chance=0.5, assurance=0.5)
    assert decide(CASE, some, [], seed=1, rule=rule).step is Step.RELEASE
    found = decide(case, some, [], seed=1, rule=rule)
    assert found.step is Step.ANOTHER
    assert any("strict rule" in one for one in found.reasons)


def test_story_2_a_coupon_from_another_supply_does_not_release() -> None:
    at = Surroundings("gun 1", outlet="3", lead="25 m 2.5 mm2")
    other = dataclasses.replace(at, outlet="1", lead="none")
    unlike = differences((THIN, THIN_SET, at), (THIN, THIN_SET, other))
    found = decide(
        CASE, [dataclasses.replace(one, differences=unlike) for one in GOOD], past(12), seed=1
    )
    assert found.step is Step.ANOTHER
    assert any("supply" in one and "does not count" in one for one in found.reasons)
    assert found.counting is None
    same = differences((THIN, THIN_SET, at), (THIN, THIN_SET, at))
    alike = [dataclasses.replace(one, differences=same) for one in GOOD]
    assert decide(CASE, alike, past(12), seed=1).step is Step.RELEASE


def test_history_and_physics_are_told_apart() -> None:
    found = decide(CASE, GOOD, past(14), seed=1)
    assert found.carried is not None
    assert sum(found.carried.shares) == pytest.approx(1.0)
    assert found.carried.history > 0.0
    none = decide(CASE, GOOD, [], seed=1)
    assert none.carried is not None
    assert abs(none.carried.history) < 0.3  # draws differ a little


def test_the_same_seed_decides_the_same() -> None:
    assert decide(CASE, GOOD, past(5), seed=7) == decide(CASE, GOOD, past(5), seed=7)


def test_a_coupon_without_a_verdict_is_not_decided_on() -> None:
    with pytest.raises(BadInput, match="verdicts"):
        judged(GOOD[0].coupon, [])


def test_a_kind_of_weld_may_ask_to_be_surer() -> None:
    sure = dataclasses.replace(SPOT, assurance=1.01)  # more than there is
    case = dataclasses.replace(CASE, model=Model(sure, (calm(),)))
    assert decide(CASE, GOOD, past(12), seed=1).step is Step.RELEASE
    found = decide(case, GOOD, past(12), seed=1)
    assert found.step is not Step.RELEASE
    assert any("nine of ten" in one for one in found.reasons)
    assert PLUG.assurance > ReleaseRule().assurance
    assert PLUG.wary < SPOT.wary
