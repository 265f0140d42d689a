"""Property curves with their band: what they say is what the solver uses."""

import numpy as np
import pytest

from buttonhole.joint.material import curves
from buttonhole.joint.property_band import QUANTITIES, property_bands
from buttonhole.joint.steel import UNKNOWN_STEEL, find_steel, steels
from buttonhole.sources import Status, bibliography, names
from buttonhole.units import BadInput


@pytest.mark.parametrize("name", ["DC04", "HC380LA", "34MnB5", "1.4310", "SPFC590Y"])
def test_the_value_is_the_solvers_own(name: str) -> None:
    hot = np.array([20.0, 300.0, 735.0, 1000.0, 1500.0])
    found = curves(find_steel(name))
    for band in property_bands(find_steel(name), hot):
        field = QUANTITIES[band.quantity][0]
        expected = np.interp(hot, found.temperature, getattr(found, field))
        assert band.value == pytest.approx(expected)
        assert np.all(band.low <= band.value)
        assert np.all(band.value <= band.high)
        assert band.source in bibliography()
        assert band.table in names()
        assert band.rule
        assert band.uncertainty


def test_a_lent_curve_has_a_wider_band_and_is_called_derived() -> None:
    own = {b.quantity: b for b in property_bands(find_steel("HC420LA"))}
    lent = {b.quantity: b for b in property_bands(find_steel("HC380LA"))}
    for quantity in ("conductivity", "resistivity", "flow stress"):
        widths = [
            (b[quantity].high[0] - b[quantity].low[0]) / b[quantity].value[0] for b in (own, lent)
        ]
        assert widths[1] > 1.1 * widths[0]
        assert lent[quantity].status is Status.DERIVED
        assert "lent by HC420LA" in lent[quantity].rule
    assert own["conductivity"].status is Status.MEMORY
    assert own["heat capacity"].status is Status.READ


def test_the_band_is_what_the_table_states() -> None:
    conductivity, _, resistivity, flow = property_bands(find_steel("DC04"), np.array([100.0]))
    assert conductivity.high[0] / conductivity.value[0] == pytest.approx(1.10)
    assert resistivity.high[0] / resistivity.value[0] == pytest.approx(1.03)
    assert flow.low[0] / flow.value[0] == pytest.approx(0.75)


def test_the_unknown_steel_may_be_any() -> None:
    unknown = property_bands(UNKNOWN_STEEL)
    for steel in steels():
        for any_, one in zip(unknown, property_bands(steel), strict=True):
            assert np.all(any_.low <= one.low + 1e-15)
            assert np.all(one.high <= any_.high + 1e-15)


@pytest.mark.parametrize("hot", [[], [19.0], [5000.0], [float("nan")]])
def test_nothing_is_said_outside_the_curves(hot: list[float]) -> None:
    with pytest.raises(BadInput, match="outside the curves"):
        property_bands(find_steel("DC04"), np.array(hot))
