"""Coating names: their mass, the thickness it makes, and the program's coating."""

import math

import pytest

from buttonhole.joint.coating import Coating
from buttonhole.joint.coating_name import find_coating
from buttonhole.sources import Status, bibliography, table
from buttonhole.units import BadInput


@pytest.mark.parametrize("row", table("coating_masses").rows(), ids=lambda row: row["designation"])
def test_a_listed_mass_is_what_its_name_says(row) -> None:  # type: ignore[no-untyped-def] # ids
    found = find_coating(row["designation"], "EN 10346")
    assert sum(found.mass) * 1e3 == pytest.approx(row["mass [g/m2]"])
    assert found.thickness[0] * 1e6 == pytest.approx(row["thickness [um]"])
    low, high = found.thickness_range
    assert low < found.thickness[0] < high
    assert row["single_spot [g/m2]"] < row["mass [g/m2]"]
    assert found.source in bibliography()


@pytest.mark.parametrize("row", table("coating_masses").rows(), ids=lambda row: row["designation"])
def test_mass_over_density_makes_the_printed_thickness(row) -> None:  # type: ignore[no-untyped-def] # ids
    code = row["designation"].rstrip("0123456789")
    density = table("coating_systems").where("code", code).column("density [g/cm3]")[0]
    by_mass = row["mass [g/m2]"] / 2.0 / density
    # the standard's guiding values belong to the single spot, up to a third less than the mean
    assert row["thickness_low [um]"] <= by_mass <= row["thickness_high [um]"]
    assert row["thickness [um]"] == pytest.approx(by_mass, rel=0.25)


def test_a_mass_between_the_listed_ones_is_worked_out() -> None:
    found = find_coating("Z120")
    assert found.thickness[0] == pytest.approx(60e-3 / 7100.0)
    assert found.thickness_range[0] < found.thickness[0] < found.thickness_range[1]


def test_each_side_has_its_own_mass() -> None:
    found = find_coating("GI60/40-E")
    assert found.mass == pytest.approx((60e-3, 40e-3))
    assert found.thickness[0] > found.thickness[1]
    assert found.surface == ("exposed part",)


def test_electrolytic_zinc_is_named_by_its_thickness() -> None:
    found = find_coating("ZE50/50")
    assert found.thickness == pytest.approx((5e-6, 5e-6))
    assert found.mass[0] == pytest.approx(35.5e-3)
    assert found.coating is Coating.EG


def test_a_bare_letter_code_has_no_mass() -> None:
    found = find_coating("GI")
    assert found.coating is Coating.GI
    assert all(math.isnan(side) for side in (*found.mass, *found.thickness))


def test_zinc_is_said_to_be_there_and_said_to_be_absent() -> None:
    assert any("Fumes" in hint for hint in find_coating("GA40/40").hints)
    assert any("No zinc" in hint for hint in find_coating("AS150").hints)
    mixed = find_coating("AZ150")
    assert mixed.coating is Coating.UNKNOWN  # which counts as zinc
    assert mixed.holds_zinc
    assert any("aluminium" in hint for hint in mixed.hints)


def test_a_name_of_two_standards_needs_its_standard() -> None:
    # Z10 is 100 g/m2 in JIS G 3302 and would be 10 g/m2 by the rule of EN 10346
    with pytest.raises(BadInput, match="more than one thing"):
        find_coating("Z10")
    assert sum(find_coating("Z10", "JIS G 3302").mass) == pytest.approx(0.1)


@pytest.mark.parametrize("text", ["", "zinc", "Z1000000", "GI50", "Q100", "x" * 100_000])
def test_anything_else_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="no coating name") as caught:
        find_coating(text)
    assert len(str(caught.value)) < 300


def test_only_what_was_read_is_verified() -> None:
    assert find_coating("Z275").status is Status.READ
    assert find_coating("GI50/50").status is Status.MEMORY


def test_american_names_give_ounces_or_grams() -> None:
    # G90 is 0.90 oz/ft2 of both sides, 275 g/m2, as printed beside Z275
    assert sum(find_coating("G90").mass) * 1e3 == pytest.approx(275.0, rel=0.005)
    sides = find_coating("98G60G")
    assert [1e3 * one for one in sides.mass] == pytest.approx([98.0, 60.0])
    # 0.20 oz/ft2 of each side make 8.6 um, as printed
    assert find_coating("G40").thickness[0] * 1e6 == pytest.approx(8.6, abs=0.1)
    assert find_coating("45A45A").coating is Coating.GA
