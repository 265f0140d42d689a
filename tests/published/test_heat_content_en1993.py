"""Heat content of carbon steel by EN 1993-1-2:2005, clause 3.4.1.2 (verification).

Quantity: integral of the specific heat from 20 degC, kJ/kg. Inputs: the four pieces of the
standard, read in published code that quotes the clause (17820, not the misprint 1820, as the
numerator of the third piece).

Expected values: an integration of the same pieces made apart from the program in 1 K steps and
smaller near 735 degC, printed to 0.1 kJ/kg at 20 temperatures. Tolerance 0.1 kJ/kg near the peak
(steps) and 0.05 elsewhere; the program integrates in closed form.
"""

import numpy as np
import pytest
from scipy.integrate import quad

from buttonhole.joint.material import curves, heat_content
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table

PRINTED = {
    100: 37.2,
    200: 88.2,
    300: 142.9,
    400: 201.3,
    500: 264.7,
    600: 335.7,
    650: 374.9,
    700: 419.1,
    720: 442.1,
    730: 459.3,
    735: 475.4,
    740: 492.6,
    750: 511.4,
    775: 540.0,
    800: 561.6,
    850: 598.6,
    900: 632.1,
    1000: 697.1,
    1100: 762.1,
    1200: 827.1,
}


@pytest.mark.parametrize(("temperature", "printed"), PRINTED.items())
def test_heat_content(temperature: float, printed: float) -> None:
    tolerance = 0.1 if 700 < temperature < 800 else 0.051
    assert heat_content(temperature) / 1e3 == pytest.approx(printed, abs=tolerance)


def specific_heat(t: float) -> float:
    """The standard's four pieces, written down a second time [J/kg/K]."""
    if t < 600:
        return 425 + 7.73e-1 * t - 1.69e-3 * t**2 + 2.22e-6 * t**3
    if t < 735:
        return 666 + 13002 / (738 - t)
    if t < 900:
        return 545 + 17820 / (t - 731)
    return 650.0


def test_closed_form_against_quadrature() -> None:
    for end in (500.0, 733.0, 737.0, 900.0, 1200.0):
        parts = [p for p in (600.0, 735.0, 900.0) if p < end]
        total = sum(
            quad(specific_heat, a, b, epsrel=1e-10)[0]
            for a, b in zip([20.0, *parts], [*parts, end], strict=True)
        )
        assert heat_content(end) == pytest.approx(total, rel=1e-8)


def test_the_pieces_meet_at_the_peak() -> None:
    # both sides of 735 degC print 5000 J/kg/K; with the misprint the second would start at 1000
    pieces = table("heat_capacity_en1993").where("steel", "carbon")
    c0, pole, at = (pieces.column(h) for h in ("c0 [J/kg/K]", "pole [J/kg]", "pole_at [degC]"))
    assert c0[1] + pole[1] / (at[1] - 735) == pytest.approx(5000.0)
    assert c0[2] + pole[2] / (at[2] - 735) == pytest.approx(5000.0)


def test_the_peak_survives_on_the_grid() -> None:
    found = curves(find_steel("DC04"))
    t, c = found.temperature, found.heat_capacity
    total = float(np.interp(900.0, t[1:], np.cumsum(np.diff(t) * (c[1:] + c[:-1]) / 2)))
    # 632 kJ/kg; a peak cut off at 1500 J/kg/K would lose about 24 of them
    assert total / 1e3 == pytest.approx(632.1, abs=0.5)
