"""What a training piece shows, and who is ready."""

import pytest

from buttonhole.coupon.training import (
    Fault,
    Piece,
    PieceResult,
    ReadyRule,
    WeldType,
    commonest,
    judge_piece,
    readiness,
    usual_limit,
)
from buttonhole.units import BadInput


def results(*margins):
    return [PieceResult(5e-3 + one, 5e-3, one >= 0, "") for one in margins]


def test_usual_limits():
    assert usual_limit(WeldType.SPOT, 1e-3, 8e-3) == pytest.approx(4.5e-3)
    assert usual_limit(WeldType.PLUG, 1e-3, 8e-3) == pytest.approx(5e-3)
    assert usual_limit(WeldType.LAP, 1.5e-3, 8e-3) == pytest.approx(1.5e-3)


def test_a_round_weld_is_judged_by_the_mean_of_two_diameters():
    passed = judge_piece(WeldType.SPOT, Piece(5.4e-3, 4.8e-3), 4.5e-3)
    assert passed.size == pytest.approx(5.1e-3)
    assert passed.passed
    failed = judge_piece(WeldType.PLUG, Piece(5.1e-3, 4.7e-3), 5e-3)
    assert not failed.passed
    assert "4.9 mm, at least 5.0 mm" in failed.reason


def test_a_size_right_on_the_limit_passes():
    assert judge_piece(WeldType.PLUG, Piece(5e-3, 5e-3), 5e-3).passed


def test_a_seam_fails_by_any_length_that_is_not_fused():
    assert judge_piece(WeldType.LAP, Piece(1.2e-3, 0.0), 1e-3).passed
    failed = judge_piece(WeldType.BUTT, Piece(1.2e-3, 6e-3), 1e-3)
    assert not failed.passed
    assert "6 mm not fused" in failed.reason


@pytest.mark.parametrize("fault", list(Fault))
def test_faults_that_fail_whatever_the_size(fault):
    found = judge_piece(WeldType.PLUG, Piece(8e-3, 8e-3, fault), 5e-3)
    assert found.passed != (fault in (Fault.NOT_FUSED, Fault.BURNT, Fault.CRACK))


@pytest.mark.parametrize(
    "piece", [Piece(4e-3, 5e-3), Piece(float("nan"), 0.0), Piece(-1e-3, 0.0), Piece(0.061, 0.01)]
)
def test_figures_that_are_none_are_refused(piece):
    with pytest.raises(BadInput):
        judge_piece(WeldType.SPOT, piece, 5e-3)


def test_eight_of_ten_with_a_sure_mean_are_ready():
    good = [0.4e-3, 0.6e-3, 0.5e-3, 0.7e-3] * 2
    assert readiness(results(*good, -0.1e-3, -0.1e-3), ReadyRule()).state == "ready"
    assert readiness(results(*good[:7], *[-0.1e-3] * 3), ReadyRule()).state == "not yet"


def test_pieces_that_pass_by_luck_are_not_ready():
    wild = [0.1e-3] * 8 + [-4e-3, -4e-3]
    found = readiness(results(*wild), ReadyRule())
    assert found.state == "not yet"
    assert "scatter" in found.reason


def test_only_the_last_ones_count():
    late = [-1e-3] * 20 + [0.4e-3, 0.6e-3] * 5
    found = readiness(results(*late), ReadyRule())
    assert (found.state, found.counted, found.passed) == ("ready", 10, 10)


def test_too_few_say_how_many_there_are():
    assert readiness([], ReadyRule()).reason == "0 of 10 pieces"
    found = readiness(results(0.5e-3), ReadyRule())
    assert (found.state, found.sure_margin) == ("too few", None)


def test_the_sure_mean_is_students_lower_bound():
    # mean 0.5, s = 0.1 of four; t(0.90, 3) = 1.638: 0.5 - 1.638 * 0.1 / 2
    margins = [0.5e-3 + one * 0.1e-3 / (2 / 3**0.5) for one in (-1, -1, 1, 1)]
    found = readiness(results(*margins), ReadyRule(4))
    assert found.sure_margin == pytest.approx(0.5e-3 - 1.63774 * 0.1e-3 / 2, rel=1e-4)


def test_the_commonest_fault_comes_first_and_none_is_not_counted():
    faults = [Fault.NONE, Fault.COLD, Fault.PORES, Fault.COLD, Fault.NONE, Fault.PORES, Fault.COLD]
    assert commonest(faults) == ((Fault.COLD, 3), (Fault.PORES, 2))


def test_every_fault_has_a_cue_for_every_weld():
    for fault in Fault:
        for weld in WeldType:
            assert bool(fault.cue(weld)) == (fault is not Fault.NONE)


@pytest.mark.parametrize("rule", [(1, 0.8), (51, 0.8), (10, 0.4), (10, 1.1)])
def test_rules_nobody_or_everybody_meets_are_refused(rule):
    with pytest.raises(BadInput):
        ReadyRule(*rule)
