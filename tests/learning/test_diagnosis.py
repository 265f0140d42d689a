import dataclasses
from functools import cache

import numpy as np
import pytest

from buttonhole.learning.diagnosis import Checked, Failure, diagnose
from buttonhole.learning.evidence import Evidence, Kind, LearningCoupon, shown_evidence
from buttonhole.learning.faults import SCATTER_KEY, causes, effect_of, signs
from buttonhole.learning.model import Model
from buttonhole.learning.posterior import Posterior, learn
from buttonhole.learning.trials import Trials
from buttonhole.sources import table
from buttonhole.units import BadInput
from tests.learning.made import SPOT, ZERO, joint, model

ROWS = sorted({str(row["row"]) for row in table("failure_signs").rows()})


def coupon(key: str, *evidence: Evidence) -> LearningCoupon:
    return LearningCoupon(key, "thin", ZERO, evidence, joint("thin").current)


def measured(size: float) -> Evidence:
    return Evidence(Kind.MEASURED, 0, size, uncertainty=0.12e-3)


def history() -> list[LearningCoupon]:
    """Coupons that agree with the model, and the yearly reading of the current."""
    read = Evidence(Kind.METER, value=0.0, uncertainty=0.02, meter="current")
    torn = [coupon(f"h{i}", measured(5.2e-3 + 0.1e-3 * (i % 3))) for i in range(8)]
    return [coupon("m", read), *torn]


@cache
def known() -> Posterior:
    """A machine with a history that agrees with the model."""
    return learn(model("thin"), history(), seed=1, engine="quick")


def test_all_rows_are_covered() -> None:
    assert len(ROWS) == 51
    counts = [sum(row[0] == letter for row in ROWS) for letter in "SPMBA"]
    assert counts == [15, 10, 10, 8, 8]
    for sign in signs().values():
        keys = {one.key for one in causes(sign.process)}
        assert set(sign.chances) <= keys, sign.row


@pytest.mark.parametrize("row", ROWS)
def test_each_row_alone_ranks_its_causes_first(row: str) -> None:
    sign = signs()[row]
    found = diagnose(Failure(sign.process, signs=(row,)))
    listed = list(sign.chances)
    ranked = sorted(found.chances, key=lambda key: -found.chances[key])
    upper = ranked[: max(len(ranked) // 2, len(listed))]
    assert set(listed) <= set(upper)
    assert {one.cause.key for one in found.suspects} & set(listed)
    assert found.suspects[0].cause.key in listed[:3]
    assert found.something_else == pytest.approx(0.05)
    assert sum(found.chances.values()) + found.something_else == pytest.approx(1.0)


def test_every_remedy_lowers_the_chance_of_a_bad_weld() -> None:
    """Each cause on a joint near its limit: simulate the failed weld, then put the cause right."""
    tight = dataclasses.replace(joint("thin"), key="tight", least=(4.7e-3,))
    own = Model(SPOT, (tight,))
    past = [dataclasses.replace(one, joint="tight") for one in history()]
    before = learn(own, past, seed=1, engine="quick")
    modelled = [(one, effect_of(one)) for one in causes("spot") if one.key != SCATTER_KEY]
    assert len(modelled) == 33
    assert sum(effect is not None for _, effect in modelled) == 27
    for cause, effect in modelled:
        if effect is None:
            continue
        splashes = effect.spoil > 0.0
        seen = Evidence(Kind.EXPULSION) if splashes else measured(4.4e-3)
        if effect.parts:
            seen = Evidence(Kind.INTERFACIAL)
        failed = LearningCoupon("f", "tight", ZERO, (seen,), tight.current)
        remedy = Trials(before, (failed,)).remedy(effect)
        assert remedy is not None
        assert remedy.bad_after < remedy.bad_before - 0.005, cause.key
        if not splashes and not effect.parts:
            assert remedy.size_after > remedy.size_before, cause.key


def test_what_no_coupon_tells_apart_is_named_together() -> None:
    read = Evidence(Kind.METER, value=-0.13, uncertainty=0.025, meter="current")
    found = diagnose(Failure("spot", (coupon("a", measured(4.1e-3)),), (read,)), known())
    assert len({one.cause.key for one in found.suspects}) == 3
    first = found.suspects[0]
    together = {first.cause.key, *(one.key for one in first.alike)}
    assert {"low_current", "wrong_program", "transformer_hot"} <= together
    assert not together & {"shunt", "high_force"}
    assert len({first.cause.check, *(one.check for one in first.alike)}) > 2  # they separate


def test_a_deep_dent_speaks_for_force_and_a_wide_mark_for_the_tips() -> None:
    """A small button alone fits many causes; what else it shows tells them apart."""
    before = known()
    setting = before.model.setting("thin", ZERO, joint("thin").current)
    dent = float(before.model.figures(np.zeros((1, before.model.size)), setting).others[0, 0])
    past = [
        dataclasses.replace(one, evidence=(*one.evidence, shown_evidence("dent", dent)))
        if any(each.kind is Kind.MEASURED for each in one.evidence)
        else one
        for one in before.coupons
    ]
    before = learn(before.model, past, seed=1, engine="quick")
    usual = diagnose(Failure("spot", (coupon("a", measured(4.4e-3)),)), before).chances
    deep = coupon("a", measured(4.4e-3), shown_evidence("dent", dent + 0.04e-3))
    assert (
        diagnose(Failure("spot", (deep,)), before).chances["high_force"] > 2 * usual["high_force"]
    )
    shallow = coupon("a", measured(4.4e-3), shown_evidence("dent", dent - 0.04e-3))
    found = diagnose(Failure("spot", (shallow,)), before)
    assert found.chances["high_force"] < 0.5 * usual["high_force"]
    assert any("dent" in one for one in found.suspects[0].speaks_for)
    mark = Evidence(Kind.METER, value=0.2, uncertainty=0.04, meter="face")
    wide = diagnose(Failure("spot", (coupon("a", measured(4.8e-3), mark),)), before)
    assert wide.suspects[0].cause.key == "worn_tips"
    # what shows beside the size teaches the diagnosis alone
    assert (before.draws.z == known().draws.z).all()


def test_a_small_button_and_a_low_current_meter() -> None:
    read = Evidence(Kind.METER, value=-0.13, uncertainty=0.025, meter="current")
    found = diagnose(Failure("spot", (coupon("a", measured(4.1e-3)),), (read,)), known())
    top = found.suspects[0]
    assert "current" in top.cause.key or top.cause.key in ("wrong_program", "transformer_hot")
    assert any("current meter" in one for one in top.speaks_for)
    assert top.remedy is not None
    assert top.remedy.size_after > top.remedy.size_before + 0.3e-3
    right = Evidence(Kind.METER, value=0.0, uncertainty=0.025, meter="current")
    other = diagnose(Failure("spot", (coupon("a", measured(4.1e-3)),), (right,)), known())
    assert other.chances["low_current"] < 0.5 * found.chances["low_current"]
    assert "shunt" in {one.cause.key for one in other.suspects}
    assert other.check.minutes <= 5.0


def test_story_4_splash_hunt() -> None:
    """Three splashed coupons and a gap of 0.8 mm: close the gap, do not lower the current."""
    splashed = tuple(coupon(str(i), Evidence(Kind.EXPULSION)) for i in range(3))
    gap = Evidence(Kind.METER, value=0.8e-3, uncertainty=0.1e-3, meter="gap")
    before = known()
    found = diagnose(Failure("spot", splashed, (gap,), ("S3",)), before)
    assert found.suspects[0].cause.key == "gap"
    assert "clamp" in found.suspects[0].cause.correction
    assert "kA less" not in found.suspects[0].cause.correction
    assert found.chances["high_current"] < found.chances["low_force"]
    after = learn(before.model, [*before.coupons, *splashed], seed=before.seed, engine="quick")
    assert (after.draws.z == before.draws.z).all()
    assert (after.draws.weight == before.draws.weight).all()


def test_scatter_is_not_a_suspect_unless_it_is_the_likely_one() -> None:
    found = diagnose(Failure("spot", (coupon("a", measured(3.4e-3)),)), known())
    assert SCATTER_KEY not in {one.cause.key for one in found.suspects}
    fine = diagnose(Failure("spot", (coupon("a", measured(5.25e-3)),)), known())
    assert fine.chances[SCATTER_KEY] > 0.02


def test_never_a_single_cause_unless_it_is_far_ahead() -> None:
    found = diagnose(Failure("spot", signs=("S1",)))
    assert not found.single
    assert len(found.suspects) == 3
    assert found.words.count(" %)") == 3


def test_three_coupons_are_more_sure_than_one() -> None:
    before = known()
    one = diagnose(Failure("spot", (coupon("a", measured(6.6e-3)),)), before)
    three = diagnose(
        Failure("spot", tuple(coupon(str(i), measured(6.6e-3)) for i in range(3))), before
    )
    assert max(three.chances.values()) >= max(one.chances.values()) - 0.02
    assert np.isclose(sum(three.chances.values()), 0.95)


@pytest.mark.parametrize(
    ("failure", "match"),
    [
        (Failure("spot"), "signs"),
        (Failure("spot", signs=("P1",)), "no sign of spot"),
        (Failure("rivet", signs=("S1",)), "process"),
        (Failure("spot", (coupon("a", measured(4e-3)),)), "machine"),
    ],
)
def test_what_can_not_be_diagnosed_is_said(failure: Failure, match: str) -> None:
    with pytest.raises(BadInput, match=match):
        diagnose(failure)


def test_a_check_that_was_done_counts_and_is_not_asked_for_again() -> None:
    seen = (coupon("a", measured(4.1e-3)),)
    first = diagnose(Failure("spot", seen), known())
    words = first.check.words
    yes = diagnose(Failure("spot", seen, checked=(Checked(words, True),)), known())
    no = diagnose(Failure("spot", seen, checked=(Checked(words, False),)), known())
    (key, *_) = (one.key for one in causes("spot") if one.check == words)
    assert no.chances[key] < first.chances[key] < yes.chances[key]
    assert words not in (yes.check.words, no.check.words)
    with pytest.raises(BadInput, match="no check"):
        diagnose(Failure("spot", checked=(Checked("ask the oracle", True),)))
