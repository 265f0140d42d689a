"""Specific heat and resistivity of 304 near melting against a measurement.

Role: verification of the property curves. Source: table ``stainless_304_cezairliyan`` (abstract
read), measured on 304L by a subsecond technique from 1400 to 1700 K. Tolerance: the measurement is
good to 3 % (heat) and 2 % (resistivity); the curve comes from another report, which gives no
uncertainty, so twice the measured heat's own is allowed and 4 % of the resistivity.
"""

import numpy as np
import pytest

from buttonhole.joint.material import curves
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table


@pytest.mark.parametrize("kelvin", [1400.0, 1500.0, 1600.0])
@pytest.mark.parametrize(
    ("quantity", "column", "unit", "tolerance"),
    [
        ("specific heat [J/kg/K]", "heat_capacity", 1.0, 0.06),
        ("resistivity [uohm cm]", "resistivity", 1e-8, 0.04),
    ],
)
def test_curves_meet_the_measurement(
    quantity: str, column: str, unit: float, tolerance: float, kelvin: float
) -> None:
    (row,) = table("stainless_304_cezairliyan").where("quantity", quantity).rows()
    c0, c1, c2 = (float(str(row[name])) for name in ("c0", "c1 [1/K]", "c2 [1/K2]"))
    measured = unit * (c0 + c1 * kelvin + c2 * kelvin**2)
    found = curves(find_steel("1.4301"))
    ours = float(np.interp(kelvin - 273.15, found.temperature, getattr(found, column)))
    assert ours == pytest.approx(measured, rel=tolerance)
