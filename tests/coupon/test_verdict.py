"""What a reading means: size with its guard band, then the manner of fracture."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.coupon.criterion import criteria, find_criterion, maker_criterion
from buttonhole.coupon.fracture import FractureMode as Mode
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.series import judge_series
from buttonhole.coupon.test import TestKind as Kind
from buttonhole.coupon.uncertainty import ONE_SIDED
from buttonhole.coupon.verdict import Outcome, Verdict, judge, judge_force
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput

RULE = find_criterion("4.5-root-t")


def stack(*sheets: tuple[str, float]) -> StackUp:
    return StackUp(tuple(Sheet(find_steel(name), t * 1e-3) for name, t in sheets))


DP600 = stack(("DP600", 1.0), ("DP600", 1.0))
MILD = stack(("DC04", 1.0), ("DC04", 1.0))
STRONG = stack(("22MnB5", 1.0), ("22MnB5", 1.0))
DP980 = stack(("HCT980X", 1.8), ("HCT980X", 1.8))
THIN_OUTER = stack(("DC04", 0.7), ("DP600", 1.2), ("22MnB5", 1.6))
THICK = stack(("DC04", 2.4), ("DC04", 2.4))
UNKNOWN = stack(("unknown", 1.0), ("DC04", 1.0))


def reading(
    test: Kind = Kind.PEEL,
    mode: Mode | None = Mode.FULL_BUTTON,
    d_max: float = 5.4,
    d_min: float = 4.8,
    **changes: object,
) -> Reading:
    plain = Reading(
        0,
        test,
        mode,
        d_max * 1e-3,
        d_min * 1e-3,
        instrument_uncertainty=0.1e-3,
        reader_uncertainty=0.15e-3,
    )
    return replace(plain, **changes)  # type: ignore[arg-type]  # fields named by the test


def outcome(on: StackUp, test: Kind, mode: Mode | None, d: float = 7.0, **more: object) -> Outcome:
    return judge(reading(test, mode, d, d, **more), RULE, on).outcome


def test_reading_a_torn_spot() -> None:
    found = judge(reading(), RULE, DP600)
    assert found.outcome is Outcome.ACCEPT
    assert found.mean_diameter == pytest.approx(5.1e-3)
    assert found.limit == pytest.approx(4.5e-3)
    assert round(found.expanded_uncertainty * 1e3, 2) == 0.36
    assert round(found.guarded_limit * 1e3, 2) == 4.86
    assert round(found.margin * 1e3, 2) == 0.24


def test_the_same_weld_twisted_off_keeps_its_diameter_and_asks_for_a_second_test() -> None:
    found = judge(reading(Kind.TORSION, Mode.INTERFACIAL), RULE, DP600)
    assert found.outcome is Outcome.ACCEPT_NOTE
    assert any("the diameter counts" in text and "not decisive" in text for text in found.reasons)
    assert found.next_action == "Peel or section one coupon."


def test_a_reading_inside_the_guard_band_is_not_decided() -> None:
    between = judge(reading(d_max=4.7, d_min=4.7), RULE, DP600)
    assert between.outcome is Outcome.UNDECIDED
    assert between.margin < 0.0
    assert 0.5 < between.probability_over_limit < 1.0
    narrow = judge(reading(d_max=4.82, d_min=4.82), RULE, DP600, policy=ONE_SIDED)
    assert narrow.outcome is Outcome.ACCEPT
    assert narrow.guard_band == pytest.approx(1.645 * math.hypot(0.1e-3, 0.15e-3))


@pytest.mark.parametrize(
    ("on", "test", "mode", "wanted"),
    [
        (MILD, Kind.PEEL, Mode.FULL_BUTTON, Outcome.ACCEPT),
        (MILD, Kind.CHISEL, Mode.PARTIAL_BUTTON, Outcome.ACCEPT_NOTE),
        (MILD, Kind.PEEL, Mode.PARTIAL_THICKNESS, Outcome.ACCEPT_NOTE),
        (MILD, Kind.PEEL, Mode.INTERFACIAL, Outcome.REJECT),
        (MILD, Kind.CROSS_TENSION, Mode.INTERFACIAL, Outcome.REJECT),
        (MILD, Kind.TENSILE_SHEAR, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (MILD, Kind.TORSION, Mode.INTERFACIAL, Outcome.ACCEPT_NOTE),
        (DP600, Kind.PEEL, Mode.PARTIAL_BUTTON, Outcome.ACCEPT_NOTE),
        (DP600, Kind.PEEL, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (STRONG, Kind.PEEL, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (STRONG, Kind.PEEL, Mode.FULL_BUTTON, Outcome.ACCEPT),
        (DP980, Kind.TORSION, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (UNKNOWN, Kind.PEEL, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (THICK, Kind.TORSION, Mode.INTERFACIAL, Outcome.UNDECIDED),
        (THICK, Kind.TORSION, Mode.FULL_BUTTON, Outcome.UNDECIDED),
        (MILD, Kind.PEEL, Mode.NO_WELD, Outcome.REJECT),
        (MILD, Kind.TORSION, Mode.STUCK_WELD, Outcome.REJECT),
        (MILD, Kind.PEEL, Mode.EXPELLED, Outcome.REJECT),
        (MILD, Kind.MACRO, None, Outcome.ACCEPT),
    ],
)
def test_the_judgement_matrix(on: StackUp, test: Kind, mode: Mode | None, wanted: Outcome) -> None:
    assert outcome(on, test, mode, d=7.5) is wanted


def test_a_section_backs_a_weld_that_parted_but_only_one_of_the_same_interface() -> None:
    parted = reading(Kind.PEEL, Mode.INTERFACIAL, 7.0, 7.0)
    section = reading(Kind.MACRO, None, 6.0, 6.0)
    assert judge(parted, RULE, STRONG, backing=[section]).outcome is Outcome.ACCEPT_NOTE
    small = reading(Kind.MACRO, None, 4.6, 4.6)
    assert judge(parted, RULE, STRONG, backing=[small]).outcome is Outcome.UNDECIDED
    elsewhere = replace(section, interface=1)
    assert judge(parted, RULE, STRONG, backing=[elsewhere]).outcome is Outcome.UNDECIDED


def test_a_force_backs_it_when_it_is_over_the_published_smallest_load() -> None:
    parted = reading(Kind.PEEL, Mode.INTERFACIAL, 7.0, 7.0)
    pulled = reading(Kind.TENSILE_SHEAR, Mode.INTERFACIAL, force=12e3, force_uncertainty=100.0)
    assert judge(parted, RULE, STRONG, backing=[pulled]).outcome is Outcome.ACCEPT_NOTE
    weak = replace(pulled, force=5e3)
    assert judge(parted, RULE, STRONG, backing=[weak]).outcome is Outcome.UNDECIDED


def test_backing_never_makes_a_small_diameter_large() -> None:
    small = reading(Kind.PEEL, Mode.INTERFACIAL, 4.0, 4.0)
    section = reading(Kind.MACRO, None, 6.0, 6.0)
    assert judge(small, RULE, STRONG, backing=[section]).outcome is Outcome.REJECT


def test_a_button_of_a_thin_outside_sheet_is_no_proof_of_fusion() -> None:
    found = judge(reading(), RULE, THIN_OUTER)
    assert found.outcome is Outcome.ACCEPT_NOTE
    assert "section" in found.next_action
    inner = judge(reading(d_max=6.0, d_min=6.0, interface=1), RULE, THIN_OUTER)
    assert inner.outcome is Outcome.ACCEPT


def test_an_unknown_sheet_makes_the_limit_stricter_and_says_so() -> None:
    four = find_criterion("4-root-t")
    found = judge(reading(), four, UNKNOWN)
    assert found.limit == pytest.approx(5.0e-3)
    assert any("not known" in text for text in found.reasons)
    assert judge(reading(), four, MILD).limit == pytest.approx(4.0e-3)


def test_notes_of_shape_and_twist() -> None:
    long = judge(reading(d_max=7.0, d_min=5.0), RULE, MILD)
    assert long.outcome is Outcome.ACCEPT_NOTE
    assert "in line" in long.next_action
    brittle = judge(reading(Kind.TORSION, Mode.INTERFACIAL, 6, 6, twist_angle=10.0), RULE, MILD)
    assert any("brittle" in text for text in brittle.reasons)


def test_a_fused_mode_without_a_diameter_says_nothing() -> None:
    assert outcome(MILD, Kind.PEEL, Mode.FULL_BUTTON, d=0.0) is Outcome.INVALID


def test_aws_criteria_carry_the_caution_about_crashed_vehicles() -> None:
    found = judge(reading(), find_criterion("aws-d8.1m"), MILD)
    assert any("after a crash" in text for text in found.cautions)
    assert any("not verified" in text for text in found.cautions)
    assert judge(reading(), RULE, MILD).cautions == ()


def test_the_makers_own_diameter_can_be_the_criterion() -> None:
    rule = maker_criterion("body manual 4-12, 2025-11", fixed_diameter=5.0e-3)
    assert judge(reading(), rule, MILD).limit == 5.0e-3


def test_a_force_is_judged_by_a_force_criterion_only() -> None:
    pulled = reading(Kind.TENSILE_SHEAR, Mode.FULL_BUTTON, force=5.0e3, force_uncertainty=50.0)
    rule = find_criterion("aws-c1.1-shear")
    strong = stack(("HCT600X", 1.0), ("HCT600X", 1.0))
    assert judge_force(pulled, rule, strong).outcome is Outcome.ACCEPT
    assert judge_force(replace(pulled, force=4.6e3), rule, strong).outcome is Outcome.REJECT
    unsaid = replace(pulled, force_uncertainty=None)
    assert judge_force(unsaid, rule, strong).outcome is Outcome.ACCEPT_NOTE
    with pytest.raises(BadInput, match="force"):
        judge_force(reading(), rule, strong)
    with pytest.raises(BadInput, match="diameter"):
        judge(pulled, rule, strong)


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({"d_max": 4e-3, "d_min": 5e-3}, "d_min"),
        ({"d_max": math.nan}, "d_max"),
        ({"d_max": 5.4}, "d_max"),  # metres for millimetres
        ({"mode": None}, "mode"),
        ({"interface": -1}, "interface"),
        ({"force": -1.0}, "force"),
        ({"reader_uncertainty": math.inf}, "reader_uncertainty"),
    ],
)
def test_a_reading_no_weld_can_give_is_refused(changes: dict[str, object], key: str) -> None:
    with pytest.raises(BadInput) as caught:
        replace(reading(), **changes)  # type: ignore[arg-type]  # fields named by the test
    assert caught.value.key == key


def test_an_interface_that_is_not_there_is_refused() -> None:
    with pytest.raises(BadInput, match="interface"):
        judge(reading(interface=1), RULE, MILD)


def verdicts(*diameters: float) -> list[Verdict]:
    return [judge(reading(d_max=d, d_min=d), RULE, MILD) for d in diameters]


def test_a_series_counts_every_coupon() -> None:
    good = judge_series(verdicts(5.1, 5.2, 5.0))
    assert good.outcome is Outcome.ACCEPT
    assert (good.passed, good.n) == (3, 3)
    assert good.counting is not None
    assert "at least 36.8 %" in good.counting.text
    assert judge_series(verdicts(5.1, 4.0, 5.2)).outcome is Outcome.REJECT
    assert judge_series(verdicts(5.1, 4.7)).outcome is Outcome.UNDECIDED
    assert judge_series(verdicts(5.1), at_least=2).outcome is Outcome.UNDECIDED
    assert "Stop here" in judge_series(verdicts(4.7, 4.7, 4.7, 4.7, 4.7)).next_action
    assert judge_series([]).outcome is Outcome.INVALID


RANK = {
    Outcome.INVALID: 0,
    Outcome.REJECT: 0,
    Outcome.UNDECIDED: 1,
    Outcome.ACCEPT_NOTE: 2,
    Outcome.ACCEPT: 3,
}
SIZE = st.floats(0.0, 12.0)


@given(
    small=SIZE,
    large=SIZE,
    test=st.sampled_from(Kind),
    mode=st.sampled_from(Mode),
    on=st.sampled_from([MILD, DP600, STRONG, DP980, THIN_OUTER, THICK, UNKNOWN]),
    rule=st.sampled_from([c for c in criteria() if c.quantity == "diameter"]),
    expulsion=st.booleans(),
)
def test_a_larger_weld_is_never_judged_worse(
    small: float, large: float, test: Kind, mode: Mode, on: StackUp, rule: object, expulsion: bool
) -> None:
    small, large = sorted((small, large))
    found = [
        RANK[judge(reading(test, mode, d, d, expulsion=expulsion), rule, on).outcome]  # type: ignore[arg-type]  # a criterion
        for d in (small, large)
    ]
    assert found[0] <= found[1]
    if expulsion:
        assert found == [0, 0]


@given(d=st.floats(4.51, 12.0), on=st.sampled_from([MILD, DP600, STRONG, DP980, THICK, UNKNOWN]))
def test_torsion_is_never_refused_for_parting_between_the_sheets(d: float, on: StackUp) -> None:
    found = judge(reading(Kind.TORSION, Mode.INTERFACIAL, d, d), RULE, on)
    assert (found.outcome is Outcome.REJECT) == (on is not THICK and d * 1e-3 < found.limit)


def test_what_decides_is_said_first() -> None:
    splashed = judge(reading(d_max=6.4, expulsion=True), RULE, DP600)
    assert splashed.reasons[0].startswith("It splashed")
    stuck = judge(reading(mode=Mode.STUCK_WELD, d_max=0.0, d_min=0.0), RULE, DP600)
    assert stuck.reasons[0].startswith("Stuck weld")
    assert not any("0.00 mm" in text for text in stuck.reasons)
