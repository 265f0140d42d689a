"""Published check: uncertainty of a measurement and the room it asks for.

quantity: combined uncertainty, effective degrees of freedom, guard bands, chance of conformity
role: verification
source: JCGM 100:2008 example H.1 (end gauge); guard band table worked out independently
tolerance: half of the last digit printed
"""

import pytest

from buttonhole.coupon.uncertainty import (
    EXPANDED,
    ONE_SIDED,
    combined,
    coverage_factor,
    effective_degrees_of_freedom,
    probability_over_limit,
)
from buttonhole.sources import table
from buttonhole.units import BadInput


def test_end_gauge() -> None:
    budget = table("gum_h1_budget")
    parts, degrees = budget.column("u [nm]").tolist(), budget.column("dof [1]").tolist()
    assert len(parts) == 6
    assert combined(parts) == pytest.approx(31.705, abs=5e-4)
    assert round(combined(parts)) == 32  # as printed in the guide
    freedom = effective_degrees_of_freedom(parts, degrees)
    assert freedom == pytest.approx(16.64, abs=5e-3)
    assert int(freedom) == 16  # as printed in the guide
    result = table("gum_h1_result")
    wanted = dict(zip(result.text("quantity"), result.column("value [1]"), strict=True))
    for percent in (95, 99):
        factor = coverage_factor(percent / 100, freedom)
        assert factor == pytest.approx(wanted[f"t {percent} % at 16"], abs=6e-5)
        assert factor * combined(parts) == pytest.approx(wanted[f"U {percent} % [nm]"], abs=0.051)


def test_guard_bands() -> None:
    for row in table("guard_band_lower_limit").rows():
        u = row["u [mm]"]
        assert ONE_SIDED.factor * u == pytest.approx(row["g_1.645 [mm]"], abs=5.1e-4)
        assert EXPANDED.factor * u == pytest.approx(row["g_2 [mm]"], abs=5.1e-4)
        for over in (0.1, 0.2, 0.3):
            found = probability_over_limit(4.0 + over, 4.0, u)
            assert found == pytest.approx(row[f"P_at_{over:g} [-]"], abs=5.1e-5)
        assert probability_over_limit(4.0, 4.0, u) == pytest.approx(0.5)


def test_without_uncertainty_the_limit_is_sharp() -> None:
    assert probability_over_limit(4.0, 4.0, 0.0) == 1.0
    assert probability_over_limit(3.99, 4.0, 0.0) == 0.0


def test_degrees_for_each_part() -> None:
    with pytest.raises(BadInput, match="degrees"):
        effective_degrees_of_freedom([1.0, 2.0], [3.0])


def test_coverage_of_what_is_known_for_sure() -> None:
    assert coverage_factor(0.95, float("inf")) == pytest.approx(1.95996, abs=1e-5)
    with pytest.raises(BadInput, match="confidence"):
        coverage_factor(1.0, 5.0)
    with pytest.raises(BadInput, match="degrees"):
        coverage_factor(0.95, 0.5)
