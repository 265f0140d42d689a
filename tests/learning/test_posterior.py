import dataclasses

import numpy as np
import pytest

from buttonhole.coupon.fracture import FractureMode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.learning import posterior
from buttonhole.learning.evidence import (
    Correction,
    Evidence,
    Kind,
    LearningCoupon,
    as_corrected,
    back_evidence,
    evidence_of,
)
from buttonhole.learning.model import CouponLikelihood
from buttonhole.learning.posterior import learn, outlook
from buttonhole.units import BadInput
from tests.learning.made import ZERO, joint, model


def coupon(key: str, *evidence: Evidence, name: str = "thin") -> LearningCoupon:
    return LearningCoupon(key, name, ZERO, evidence, joint(name).current)


def measured(size: float, interface: int = 0) -> Evidence:
    return Evidence(Kind.MEASURED, interface, size, uncertainty=0.1e-3)


def test_polynomials_of_the_guesses_are_those_of_the_surrogate() -> None:
    own = model("thin", "strong")
    z = np.random.default_rng(1).standard_normal((50, own.size)) * 0.8
    point = (0.05, -0.1, 0.02, 0.0, 0.1e-3)
    found = own.figures(z, own.setting("thin", point, 8e3))
    shift = own.unknown_values(z)
    at = np.array(point) + np.zeros((50, 5))
    for i, one in enumerate(own.unknowns):
        if one.group in ("", "bare"):
            share = one.per_current / 8e3 if one.per_current else 1.0
            at[:, joint("thin").surrogate.inputs.index(one.moves)] += share * shift[:, i]
    size = joint("thin").surrogate.at(at)[:, 0] + own.beliefs.common * z[:, len(own.unknowns)]
    own_sd = np.hypot(own.beliefs.own, joint("thin").surrogate.size_doubt)
    size += own_sd * z[:, len(own.unknowns) + 1]
    assert found.size[:, 0] == pytest.approx(size, abs=1e-9)


def test_one_measured_coupon_of_known_size_against_the_exact_posterior() -> None:
    """With all but the joint's own error fixed, the posterior of a size is a product of bells."""
    own = model("thin")
    off = CouponLikelihood(own, [coupon("a", measured(4.0e-3))])
    z = np.zeros((3, own.size))
    z[:, 0] = (0.0, 0.5, 1.0)
    size = own.figures(z, own.setting("thin", ZERO, joint("thin").current)).size[:, 0]
    error = joint("thin").surrogate.error[0]
    square = own.beliefs.scatter**2 + 0.1e-3**2 + error**2
    wanted = -0.5 * (4.0e-3 - size) ** 2 / square
    found = off(z)
    assert np.diff(found) == pytest.approx(np.diff(wanted), rel=1e-3)


def test_coupons_move_the_size_and_narrow_it() -> None:
    own = model("thin")
    before = outlook(learn(own, [], seed=1), own.setting("thin", ZERO)).size[0]
    coupons = [coupon(str(i), measured(5.6e-3 + 0.05e-3 * i)) for i in range(4)]
    after = outlook(learn(own, coupons, seed=1), own.setting("thin", ZERO)).size[0]
    assert before.value < after.value <= 5.8e-3
    assert after.high - after.low < 0.75 * (before.high - before.low)


@pytest.mark.parametrize(
    ("one", "grows"),
    [
        (Evidence(Kind.NO_BUTTON), False),
        (Evidence(Kind.INTERFACIAL), False),
        (measured(5.8e-3), True),
        (measured(3.8e-3), False),
        (Evidence(Kind.AT_LEAST, value=5.6e-3), True),
        (Evidence(Kind.CHISEL_PASSED, value=5.0e-3), True),
        (Evidence(Kind.METER, value=0.10, uncertainty=0.02, meter="current"), True),
        (Evidence(Kind.METER, value=0.3, uncertainty=0.02, meter="face"), False),
    ],
    ids=lambda one: one.kind.value if isinstance(one, Evidence) else "",
)
def test_each_kind_of_evidence_pushes_its_way(one: Evidence, grows: bool) -> None:
    own = model("thin")
    setting = own.setting("thin", ZERO)
    before = outlook(learn(own, [], seed=3), setting).size[0].value
    after = outlook(learn(own, [coupon("a", one)], seed=3), setting).size[0].value
    assert (after > before + 0.02e-3) == grows
    assert (after < before - 0.02e-3) == (not grows)


def test_a_chisel_says_less_than_a_coupon() -> None:
    own, setting = model("thin"), model("thin").setting("thin", ZERO)
    torn = learn(own, [coupon("a", Evidence(Kind.AT_LEAST, value=5.2e-3))], seed=3)
    chisel = learn(own, [coupon("a", Evidence(Kind.CHISEL_PASSED, value=5.2e-3))], seed=3)
    assert outlook(chisel, setting).size[0].value < outlook(torn, setting).size[0].value


def test_splash_does_not_teach_the_current() -> None:
    own = model("thin")
    splashed = [coupon(str(i), Evidence(Kind.EXPULSION)) for i in range(3)]
    before, after = learn(own, [], seed=4), learn(own, splashed, seed=4)
    assert (before.draws.z == after.draws.z).all()
    setting = own.setting("thin", ZERO)
    assert outlook(after, setting).splash > 2.0 * outlook(before, setting).splash
    assert outlook(after, setting).size[0].value == outlook(before, setting).size[0].value
    both = [dataclasses.replace(splashed[0], evidence=(Evidence(Kind.EXPULSION), measured(6e-3)))]
    assert (learn(own, both, seed=4).draws.z == before.draws.z).all()


def test_history_on_another_joint_helps_and_does_not_replace_a_coupon() -> None:
    own = model("thin", "strong")
    elsewhere = [
        coupon(str(i), measured(6.0e-3 + 0.1e-3 * (i % 3)), name="strong") for i in range(8)
    ]
    here = [coupon(str(i), measured(5.3e-3)) for i in range(3)]

    def width(coupons: list[LearningCoupon]) -> float:
        size = outlook(learn(own, coupons, seed=2), own.setting("thin", ZERO)).size[0]
        return size.high - size.low

    alone, with_history, with_coupons = width([]), width(elsewhere), width(here)
    assert with_coupons < with_history < alone


def test_quick_preview_agrees_with_the_reference_and_hands_over_when_it_must() -> None:
    own, setting = model("thin"), model("thin").setting("thin", ZERO)
    coupons = [coupon(str(i), measured(5.2e-3 + 0.1e-3 * (i % 2))) for i in range(6)]
    sure = outlook(learn(own, coupons, seed=1), setting)
    preview = learn(own, coupons, seed=1, engine="quick")
    assert not preview.handed_over
    assert outlook(preview, setting).chance.value == pytest.approx(sure.chance.value, abs=0.01)


def test_what_no_machine_can_be_is_a_slip() -> None:
    own = model("thin")
    sharp = Evidence(Kind.METER, value=0.69, uncertainty=1e-7, meter="current")
    with pytest.raises(BadInput, match="slip"):
        learn(own, [coupon("a", sharp)], seed=1)
    with pytest.raises(BadInput, match="slip"):
        Evidence(Kind.METER, value=9.0, uncertainty=0.02, meter="current")


def test_the_quick_way_hands_over_when_too_few_draws_count(monkeypatch: pytest.MonkeyPatch) -> None:
    own, seen = model("thin"), [coupon("a", measured(5.2e-3))]
    assert not learn(own, seen, seed=1, engine="quick").handed_over
    monkeypatch.setattr(posterior, "ENOUGH", 1e9)
    found = learn(own, seen, seed=1, engine="quick")
    assert found.handed_over
    assert (found.draws.z == learn(own, seen, seed=1).draws.z).all()


def test_a_meter_reads_the_machine() -> None:
    own = model("thin")
    read = Evidence(Kind.METER, value=-0.08, uncertainty=0.02, meter="current")
    found = learn(own, [coupon("a", read)], seed=1)
    share = 300.0 / joint("thin").current
    both = found.model.unknown_values(found.draws.z)[:, :2] @ [1.0, share]
    assert both.mean() == pytest.approx(-0.08, abs=0.01)
    with pytest.raises(BadInput, match="teaches nothing"):
        learn(own, [coupon("a", dataclasses.replace(read, meter="colour"))], seed=1)


def test_nothing_is_taken_out_and_a_correction_says_why() -> None:
    wrong = [coupon("a", measured(3.0e-3)), coupon("b", measured(5.0e-3))]
    right = Correction("a", (measured(5.1e-3),), "read off the wrong button")
    found = as_corrected(wrong, [right])
    assert [each.key for each in found] == ["a", "b"]
    assert found[0].evidence[0].value == 5.1e-3
    assert found[0].corrected == "read off the wrong button"
    assert wrong[0].evidence[0].value == 3.0e-3
    with pytest.raises(BadInput, match="never taken out"):
        Correction("a", (), "did not like it")
    with pytest.raises(BadInput, match="says why"):
        Correction("a", (measured(5e-3),), " ")
    with pytest.raises(BadInput, match="never entered"):
        as_corrected(wrong, [Correction("c", (measured(5e-3),), "why")])
    with pytest.raises(BadInput, match="twice"):
        as_corrected([*wrong, wrong[0]], [])


def test_readings_become_evidence() -> None:
    full = Reading(0, TestKind.PEEL, FractureMode.FULL_BUTTON, 5.4e-3, 4.8e-3)
    (one,) = evidence_of(full)
    assert (one.kind, one.value) == (Kind.MEASURED, pytest.approx(5.1e-3))
    assert one.uncertainty == pytest.approx(np.hypot(0.10e-3, 0.15e-3))
    splashed = dataclasses.replace(full, expulsion=True)
    assert evidence_of(splashed)[0].kind is Kind.EXPULSION
    stuck = Reading(0, TestKind.PEEL, FractureMode.STUCK_WELD, 0.0, 0.0)
    assert evidence_of(stuck)[0].kind is Kind.NO_BUTTON
    parted = Reading(0, TestKind.PEEL, FractureMode.INTERFACIAL, 0.0, 0.0)
    assert evidence_of(parted)[0].kind is Kind.INTERFACIAL
    assert back_evidence("clear").value == 907.0
    with pytest.raises(BadInput, match="back_mark"):
        back_evidence("purple")


def test_three_sheets_learn_each_interface() -> None:
    own = model("three")
    setting = own.setting("three", ZERO)
    before = outlook(learn(own, [], seed=1), setting).size
    seen = [coupon(str(i), measured(3.4e-3, 0), name="three") for i in range(4)]
    after = outlook(learn(own, seen, seed=1), setting).size
    assert after[0].high - after[0].low < before[0].high - before[0].low
    with pytest.raises(BadInput, match="interface"):
        learn(own, [coupon("a", measured(4e-3, 2), name="three")], seed=1)
