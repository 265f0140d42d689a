"""Published check: what a spot weld must hold.

quantity: smallest shear-tension and cross-tension loads, torque, critical diameters, peak loads
role: verification (formula cells, torques, models), validation (order of independent documents)
source: AWS C1.1 formula as quoted in a public guide to high-strength steels; AWS D8.1M:2007 from
    memory; AISI nominal shear in Merritt and Ricketts, table 8.6; optimum conditions chart for
    SAE 1010 of a resistance-welding supplier; torques worked out independently
tolerance: half of the last digit printed
"""

import math
from collections.abc import Mapping

import pytest

from buttonhole.sources import Status, table
from buttonhole.units import BadInput
from buttonhole.weld.strength import (
    Edition,
    chart_minimum,
    is_brittle,
    least_loads,
    load_factor,
    minimum_cross_tension,
    minimum_tensile_shear,
    nominal_shear,
    nominal_shear_equation,
    shear_strength_from_torque,
    strongest_factor,
    torsion_torque,
)
from buttonhole.weld.strength.failure import (
    critical_chao,
    critical_pouranvari,
    critical_radakovic,
    interfacial_load,
    pull_out_load,
    pull_out_load_all_round,
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
        assert aws < chart
        # The thickest row as printed, 1/4 inch: 18 000 lbf against a nominal 15 kip.
        assert (chart < nominal) is (inches < 0.25)
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


CRITICAL = table("critical_diameters").rows()
PEAK = table("peak_loads").rows()


@pytest.mark.parametrize("row", CRITICAL, ids=lambda row: f"{row['t [mm]']} mm")
def test_critical_diameters_to_the_digits_printed(row: Mapping[str, float]) -> None:
    thickness = row["t [mm]"] * 1e-3
    assert critical_chao(thickness) * 1e3 == pytest.approx(row["d_chao [mm]"], abs=5.1e-3)
    assert critical_radakovic(thickness) * 1e3 == pytest.approx(row["d_rt [mm]"], abs=5.1e-3)
    for ratio in ("2.0", "1.7", "1.5", "1.2", "1.0"):
        found = critical_pouranvari(thickness, float(ratio)) * 1e3
        assert found == pytest.approx(row[f"d_pm_{ratio} [mm]"], abs=5.1e-3)


@pytest.mark.parametrize("row", PEAK, ids=lambda row: f"{row['S [MPa]']} MPa {row['t [mm]']} mm")
def test_peak_loads_to_the_digits_printed(row: Mapping[str, float]) -> None:
    """At d = 5 sqrt(t), which the table rounds; the loads come from the unrounded one."""
    strength, thickness = row["S [MPa]"] * 1e6, row["t [mm]"] * 1e-3
    diameter = 5e-3 * math.sqrt(row["t [mm]"])
    assert diameter * 1e3 == pytest.approx(row["d [mm]"], abs=5.1e-4)
    button = pull_out_load(strength, thickness, diameter)
    through = interfacial_load(strength, diameter)
    rim = pull_out_load_all_round(strength, thickness, diameter)
    floor = load_factor(strength) * strength * thickness * diameter
    for value, header in (
        (button, "F_rt_pullout"),
        (through, "F_rt_interfacial"),
        (rim, "F_pm_pullout"),
        (floor, "F_aws"),
    ):
        assert value * 1e-3 == pytest.approx(row[f"{header} [kN]"], abs=5.1e-4), header
    # the models switch at 1.86 mm for welds of 5 sqrt(t)
    assert (through < button) == (row["t [mm]"] > 1.86)


def test_critical_diameters_and_loads_are_shown_as_from_memory() -> None:
    assert table("critical_diameters").status is Status.MEMORY
    assert table("peak_loads").status is Status.MEMORY
    listed = {one.name: one for one in least_loads([(1.0e-3, 300e6), (1.0e-3, 300e6)])}
    assert listed["AWS D8.1M:2007"].status is Status.MEMORY
    assert listed["AWS C1.1"].status is Status.READ


def test_nominal_loads_to_the_digits_printed() -> None:
    for row in table("strength_aisi_equation").rows():
        thickness = row["t [in]"] * INCH
        assert thickness * 1e3 == pytest.approx(row["t [mm]"], abs=5.1e-4)
        aws = minimum_tensile_shear(300e6, thickness) * 1e-3
        assert aws == pytest.approx(row["F_aws_300MPa [kN]"], abs=5.1e-4)
        if row["F_equation [kN]"] is not None:
            equation = nominal_shear_equation(thickness) * 1e-3
            assert equation == pytest.approx(row["F_equation [kN]"], abs=5.1e-4)
    for inches, printed in ((0.04, 6.316), (0.06, 10.142), (0.08, 14.813)):
        assert nominal_shear(inches * INCH) * 1e-3 == pytest.approx(printed, abs=5.1e-4)


@pytest.mark.parametrize("tenths", range(10, 103))
def test_least_loads_keep_their_order_between_the_rows_too(tenths: int) -> None:
    """AWS minimum < chart minimum < nominal, every 0.05 mm from 0.5 to 5.1 mm.

    Over 5.12 mm, thicker than any body sheet, the chart asks for more than the nominal table.
    """
    thickness = tenths * 0.05e-3
    aws = minimum_tensile_shear(300e6, thickness)
    assert aws < chart_minimum(thickness) < nominal_shear(thickness)
