"""Wires and gases by their designations, and what goes with what."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput
from buttonhole.weld.arc.gas import GasKind, classify, find_gas
from buttonhole.weld.arc.pairing import GAS_RULES, gas_objections, sheet_objections
from buttonhole.weld.arc.wire import WireMetal, find_wire, wire_area, wires


@pytest.mark.parametrize(
    ("text", "designation"),
    [
        ("G 3Si1", "G 3Si1"),
        ("g3si1", "G 3Si1"),
        ("G 42 4 M21 3Si1", "G 3Si1"),
        ("ER70S-6", "G 3Si1"),
        ("CuSi3", "S Cu 6560"),
        ("Cu 6100", "S Cu 6100"),
        ("AlMg5", "S Al 5356"),
    ],
)
def test_a_wire_by_what_stands_on_its_spool(text: str, designation: str) -> None:
    assert find_wire(text).designation == designation


def test_a_wire_nobody_lists_is_refused_with_what_comes_near() -> None:
    with pytest.raises(BadInput, match="G 3Si1"):
        find_wire("G 3Si2")
    with pytest.raises(BadInput, match="wire"):
        find_wire("")


def test_areas_and_diameters_nobody_sells() -> None:
    assert wire_area(1.0e-3) == pytest.approx(0.7853981634e-6)
    for diameter in (0.3e-3, 2.4e-3, float("nan")):
        with pytest.raises(BadInput, match="wire_diameter"):
            wire_area(diameter)


@pytest.mark.parametrize(
    ("text", "group"),
    [
        ("M21", "M21"),
        ("ISO 14175 - M21 - ArC - 18", "M21"),
        ("ISO 14175:2008-C1", "C1"),
        ("Ar + 18 CO2", "M21"),
        ("82 Ar / 18 CO2", "M21"),
        ("Ar80/CO2 20", "M21"),
        ("Ar + 15 % CO2", "M20"),  # at a limit the lower group holds
        ("Ar + 25 CO2", "M21"),
        ("Ar + 2,5 CO2", "M12"),
        ("Ar + 2 O2", "M13"),
        ("Ar + 10 CO2 + 3 O2", "M24"),  # the standard's own example
        ("Ar + 30 He", "I3"),
        ("argon", "I1"),
        ("CO2", "C1"),
        ("80 Ar 10 He 10 CO2", "M20"),
        ("Ar + 5 H2", "R1"),
    ],
)
def test_a_gas_by_group_or_mixture(text: str, group: str) -> None:
    assert find_gas(text).group == group


@pytest.mark.parametrize(
    "text", ["", "M99", "Ar 18 CO2", "70 Ar / 18 CO2", "Ar + 120 CO2", "air", "18 CO2 18 CO2", "N2"]
)
def test_a_gas_that_can_not_be_read_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="gas"):
        find_gas(text)


def test_argon_with_carbon_dioxide_falls_into_the_groups_without_a_hole() -> None:
    order = []
    for tenth in range(5, 501):
        group = classify({"Ar": 100.0 - tenth / 10, "CO2": tenth / 10})
        if not order or order[-1] != group:
            order.append(group)
    assert order == ["M12", "M20", "M21", "M31"]


def test_kinds() -> None:
    assert find_gas("argon").kind is GasKind.INERT
    assert find_gas("M21").kind is GasKind.ACTIVE


def test_active_gas_for_steel_argon_for_the_rest() -> None:
    steel, bronze, aluminium = (find_wire(name) for name in ("G 3Si1", "CuSi3", "AlSi5"))
    active, argon, little = (find_gas(name) for name in ("M21", "argon", "Ar + 2 CO2"))
    assert gas_objections(steel, active) == ()
    (said,) = gas_objections(steel, argon)
    assert said.refused
    assert "wander" in said.text
    assert gas_objections(bronze, argon) == gas_objections(aluminium, argon) == ()
    assert gas_objections(bronze, active)[0].refused
    assert not gas_objections(bronze, little)[0].refused  # tolerated, with its reason
    assert gas_objections(find_wire("CuAl8"), little)[0].refused
    assert gas_objections(aluminium, active)[0].refused
    assert {rule.metal for rule in GAS_RULES} == set(WireMetal)


def test_every_wire_has_a_usual_gas() -> None:
    for wire in wires():
        usual = "M21" if wire.metal is WireMetal.STEEL else "I1"
        assert gas_objections(wire, find_gas(usual)) == ()


def test_wire_and_sheet() -> None:
    mild, strong, stainless = (find_steel(name) for name in ("DC04", "HCT980X", "1.4301"))
    assert sheet_objections(find_wire("G 3Si1"), (mild, strong)) == ()
    assert "weaker" in sheet_objections(find_wire("G 3Si1"), (strong, strong))[0].text
    assert "stainless" in sheet_objections(find_wire("G 3Si1"), (stainless, mild))[0].text
    assert sheet_objections(find_wire("AlSi5"), (mild,))[0].refused


ODD = st.one_of(
    st.text(max_size=30),
    st.text("ArCO2HeN0123456789 ./%+-,MISG", max_size=24),
)


@given(text=ODD)
def test_any_text_is_a_gas_or_is_refused(text: str) -> None:
    try:
        found = find_gas(text)
    except BadInput as bad:
        assert bad.key == "gas"  # noqa: PT017 - the other branch is as good
        return
    assert not found.parts or sum(found.parts.values()) == pytest.approx(100.0, abs=0.6)
    assert all(0.0 <= share <= 100.0 for share in found.parts.values())


@given(text=ODD)
def test_any_text_is_a_wire_or_is_refused(text: str) -> None:
    try:
        assert find_wire(text) in wires()
    except BadInput as bad:
        assert bad.key == "wire"  # noqa: PT017 - the other branch is as good
