"""The hardest place: which relation counts, what its interval holds, what it refuses to say."""

import math

import pytest

from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel, steels
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.carbon_equivalent import NAMES, carbon_equivalent, carbon_equivalents
from buttonhole.weld.hardness.critical_temperature import andrews, critical_temperatures, linear
from buttonhole.weld.hardness.formula import AFTER_COOLING, boron_term, yurioka
from buttonhole.weld.hardness.peak import (
    LEAN_RISE,
    arc_hardening,
    base_hardness,
    hardest,
    quench_hardening,
)

ARC = Estimate(5.0, 4.0, 7.0)  # s
SPOT = Estimate(0.06, 0.04, 0.1)  # s
MARTENSITIC = [one for one in steels() if one.composition.get("C", 0.0) >= 0.08 and
               one.composition.get("Cr", 0.0) < 5.0]  # fmt: skip


@pytest.mark.parametrize("steel", MARTENSITIC, ids=lambda one: one.designation)
def test_the_interval_holds_what_every_formula_says(steel: object) -> None:
    found = arc_hardening(steel, ARC)  # type: ignore[arg-type]  # a listed steel
    assert found.in_range
    assert len(found.formulas) == len(AFTER_COOLING)
    for one in found.formulas:
        assert found.hardness.low <= one.hardness <= found.hardness.high
        assert one.source


def test_quicker_cooling_is_harder() -> None:
    steel = find_steel("HCT780X")
    values = [
        arc_hardening(steel, Estimate(t, t, t)).hardness.value for t in (1.0, 2.0, 5.0, 10.0, 20.0)
    ]
    assert values == sorted(values, reverse=True)
    assert quench_hardening(steel, SPOT).hardness.value > values[1]


def test_lean_steel_is_said_to_be_outside_and_bounded() -> None:
    steel = find_steel("DC04")
    found, base = arc_hardening(steel, ARC), base_hardness(steel)
    assert not found.in_range
    assert "0.08 %" in found.remark
    assert base.value <= found.hardness.value <= base.value + LEAN_RISE
    assert found.hardness.high == base.high + LEAN_RISE


def test_slower_than_the_formulas_is_said() -> None:
    found = arc_hardening(find_steel("HCT780X"), Estimate(60.0, 50.0, 70.0))
    assert not found.in_range
    assert "slower" in found.remark


def test_a_spot_weld_is_told_by_the_carbon_of_its_martensite() -> None:
    found = quench_hardening(find_steel("22MnB5"), SPOT)
    assert found.in_range
    assert found.relation == "martensite by carbon"
    assert "arc formulas" in found.remark
    assert "do not hold here" in found.remark
    richer = quench_hardening(find_steel("HCT600X"), SPOT)
    assert richer.hardness.value < found.hardness.value
    # an arc weld that cools as fast is told by the same relation
    assert arc_hardening(find_steel("22MnB5"), SPOT) == found


def test_lean_nuggets_are_between_martensite_and_the_sheet() -> None:
    found = quench_hardening(find_steel("DC04"), SPOT)
    assert not found.in_range
    assert "lean" in found.remark
    assert base_hardness(find_steel("DC04")).low <= found.hardness.low < 200.0
    assert 300.0 < found.hardness.high < 370.0


@pytest.mark.parametrize("relation", [arc_hardening, quench_hardening])
def test_an_unknown_steel_may_be_anything(relation: object) -> None:
    found = relation(UNKNOWN_STEEL, ARC)  # type: ignore[operator]  # one of the two relations
    assert not found.in_range
    assert found.hardness.low < 100.0
    assert found.hardness.high > 480.0


def test_the_hardest_of_a_cold_weld_is_the_hardest_sheet() -> None:
    sheets = [(find_steel("DC04"), False), (find_steel("22MnB5"), False)]
    found = hardest(sheets, SPOT, quench_hardening)
    assert found.hardness.value == base_hardness(find_steel("22MnB5")).value
    assert found.formulas == ()
    assert hardest([(find_steel("DC04"), True)], None, arc_hardening).relation.startswith("sheet")


def test_a_slow_weld_leaves_hot_stamped_sheet_the_hardest_place() -> None:
    slow = Estimate(12.0, 10.0, 14.0)
    found = hardest([(find_steel("22MnB5"), True)], slow, arc_hardening)
    assert "no harder" in found.remark
    assert found.hardness.value == base_hardness(find_steel("22MnB5")).value
    assert found.formulas[0].hardness < found.hardness.value


def test_boron_counts_from_one_to_four_parts_and_less_with_nitrogen() -> None:
    assert boron_term({"B": 1e-4}) == 0.0
    assert boron_term({"B": 2e-4}) == pytest.approx(0.03)
    assert boron_term({"B": 3e-4}) == pytest.approx(0.06)
    assert boron_term({"B": 30e-4}) == pytest.approx(0.09)
    assert boron_term({"B": 30e-4, "N": 0.004}) == pytest.approx(0.072)


def test_each_equivalent_says_what_it_is_for() -> None:
    found = {one.name: one for one in carbon_equivalents(find_steel("DC04").composition)}
    assert set(found) == set(NAMES)
    assert not found["CET"].in_range  # 0.04 % carbon, made for 0.05 and over
    assert found["CEN"].in_range
    assert all(one.made_for and one.source for one in found.values())


@pytest.mark.parametrize("wrong", [{"C": -0.1}, {"Mn": 50.0}, {"C": math.nan}])
def test_what_is_no_composition_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(BadInput, match="share of the mass"):
        carbon_equivalent(wrong, "CET")


def test_unknown_formulas_are_refused_by_name() -> None:
    with pytest.raises(BadInput, match="CE_IIW"):
        carbon_equivalent({"C": 0.1}, "CE")
    with pytest.raises(BadInput, match="Ac1, Ac3"):
        andrews({"C": 0.1}, "Ms")
    with pytest.raises(BadInput, match="Hougardy"):
        linear({"C": 0.1}, "Ms", "Hougardy")


def test_lines_lie_in_order_for_every_steel() -> None:
    for steel in MARTENSITIC:
        lines: dict[str, list[float]] = {}
        for one in critical_temperatures(steel.composition):
            lines.setdefault(one.line, []).append(one.value)
        assert max(lines["Ms"]) < min(lines["Ac1"]) < min(lines["Ac3"])
        assert max(lines["Ms"]) - min(lines["Ms"]) < 40.0  # two formulas


def test_yurioka_falls_with_time_to_its_bainite() -> None:
    steel = find_steel("HCT980X").composition
    assert yurioka(steel, 3.0) > yurioka(steel, 30.0) > yurioka(steel, 3000.0)
