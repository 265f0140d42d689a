"""Published check: smallest diameters.

quantity: k sqrt(t) and the slug column of BS 1140
role: verification
source: arithmetic table; BS 1140:1993 as reprinted in an equipment brochure. Its cells at 1.0 and
    1.1 mm print 5.5 like the one at 1.2 mm where the rest of the column is 5 sqrt(t): left out.
tolerance: half of the last digit printed; for the column 0.1 mm, as 8.6 is printed for 8.66
"""

import pytest

from buttonhole.coupon.criterion import find_criterion, minimum_diameter, root_rule
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table

FACTORS = (3.4, 3.5, 4, 4.25, 4.5, 5, 6)
VALUES = table("diameter_values").rows()
SLUGS = table("slug_bs1140").rows()


def stack(*thickness: float) -> StackUp:
    return StackUp(tuple(Sheet(find_steel("DC04"), t * 1e-3) for t in thickness))


@pytest.mark.parametrize("row", VALUES, ids=lambda row: f"{row['t [mm]']:g} mm")
def test_root_rules(row: dict[str, float]) -> None:
    for factor in FACTORS:
        found = root_rule(factor, row["t [mm]"] * 1e-3) * 1e3
        assert found == pytest.approx(row[f"d_{factor:g} [mm]"], abs=5.1e-4)


def test_two_cells_are_left_out() -> None:
    assert [row["t [mm]"] for row in SLUGS if row["misprint"] == "yes"] == [1.0, 1.1]


@pytest.mark.parametrize(
    "row", [r for r in SLUGS if r["misprint"] == "no"], ids=lambda row: f"{row['t [mm]']:g} mm"
)
def test_slugs(row: dict[str, float]) -> None:
    t, printed = row["t [mm]"], row["slug_min [mm]"]
    on = stack(t, t)
    assert minimum_diameter(find_criterion("bs-1140-slug"), on, 0) * 1e3 == pytest.approx(printed)
    five = minimum_diameter(find_criterion("5-root-t"), on, 0) * 1e3
    assert five == pytest.approx(printed, abs=0.1)


def test_three_sheets_go_by_different_rules() -> None:
    on = stack(0.7, 1.2, 1.5)
    gmt = minimum_diameter(find_criterion("aws-d8.1m"), on, 0) * 1e3
    own = [minimum_diameter(find_criterion("4-root-t"), on, i) * 1e3 for i in (0, 1)]
    assert gmt == pytest.approx(4.382, abs=5e-4)
    assert own == pytest.approx([3.347, 4.382], abs=5e-4)
