"""Published check: what a spot weld must hold.

quantity: smallest shear-tension and cross-tension loads, torque
role: verification (formula cells, torques), validation (order of independent documents)
source: AWS C1.1 formula as quoted in a public guide to high-strength steels; AWS D8.1M:2007 from
    memory; AISI nominal shear in Merritt and Ricketts, table 8.6; optimum conditions chart for
    SAE 1010 of a resistance-welding supplier; torques worked out independently
tolerance: half of the last digit printed
"""

import pytest

from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.strength import (
    Edition,
    is_brittle,
    minimum_cross_tension,
    minimum_tensile_shear,
    shear_strength_from_torque,
    strongest_factor,
    torsion_torque,
)

CELLS = table("strength_aws_cells").rows()
POUND_FORCE = 4.4482216152605  # N
INCH = 25.4e-3  # m


@pytest.mark.parametrize(
    ("header", "edition"),
    [("F_C1.1 [kN]", Edition.C1_1), ("F_D8.1M_2007 [kN]", Edition.D8_1M_2007)],
)
def test_formula_cells(header: str, edition: Edition) -> None:
    assert len(CELLS) == 120
    for row in CELLS:
        found = minimum_tensile_shear(row["S [MPa]"] * 1e6, row["t [mm]"] * 1e-3, edition) * 1e-3
        assert found == pytest.approx(row[header], abs=5.1e-4), row


@pytest.mark.parametrize(
    ("edition", "strength", "factor"),
    [(Edition.C1_1, 759, 2.022), (Edition.D8_1M_2007, 517, 1.844)],
)
def test_where_more_strength_adds_least(edition: Edition, strength: float, factor: float) -> None:
    found = strongest_factor(edition)
    assert found[0] * 1e-6 == pytest.approx(strength, abs=0.5)
    assert found[1] == pytest.approx(factor, abs=5e-4)


def test_cross_tension_cells() -> None:
    for row in table("strength_cross_tension").rows():
        found = minimum_cross_tension(row["t [mm]"] * 1e-3) * 1e-3
        assert found == pytest.approx(row["F [kN]"], abs=5.1e-4)


def test_torques() -> None:
    for row in table("torsion_torques").rows():
        d, tau = row["d [mm]"] * 1e-3, row["tau [MPa]"] * 1e6
        full = torsion_torque(d, tau)
        assert full == pytest.approx(row["T_plastic [Nm]"], abs=5.1e-4)
        assert torsion_torque(d, tau, yielded=False) == pytest.approx(
            row["T_elastic [Nm]"], abs=5.1e-4
        )
        assert shear_strength_from_torque(full, d) == pytest.approx(tau)


def test_documents_keep_their_order() -> None:
    """AWS minimum < minimum of the optimum chart < AISI nominal, at every thickness of the chart.

    The chart is for 290 to 310 MPa, so 300 MPa; from 0.5 mm, where AISI's own minimum does not
    bend the comparison, to the end of AISI's table.
    """
    aisi = table("strength_aisi_nominal")
    checked = 0
    for row in table("schedule_sae1010").rows():
        inches = row["t [in]"]
        if inches * INCH < 0.5e-3 or inches > aisi.column("t [in]")[-1]:
            continue
        aws = minimum_tensile_shear(300e6, inches * INCH)
        chart = row["shear_min [lbf]"] * POUND_FORCE
        nominal = aisi.interpolate("t [in]", "F [kip]", inches) * 1e3 * POUND_FORCE
        # Over 1/8 inch the chart's welds hold more than AISI allows for: the order ends there.
        assert aws < chart
        if inches <= 0.125:
            assert chart < nominal
        checked += 1
    assert checked >= 9


@pytest.mark.parametrize("value", [0.0, -1e-3, float("nan"), float("inf")])
def test_sheets_that_can_not_be(value: float) -> None:
    with pytest.raises(BadInput, match="thickness"):
        minimum_tensile_shear(300e6, value)


def test_a_strength_beyond_the_formula() -> None:
    with pytest.raises(BadInput, match="sheet steel"):
        minimum_tensile_shear(2600e6, 1e-3)


def test_a_quarter_across_is_brittle() -> None:
    """JIS Z 3140:1989 leaves out joints whose cross-tension load is 25 % of shear or less."""
    assert is_brittle(2.5e3, 10e3)
    assert not is_brittle(2.51e3, 10e3)
    with pytest.raises(BadInput, match="tensile_shear"):
        is_brittle(1.0, 0.0)
