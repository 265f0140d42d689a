"""The slug column of BS 1140:1993 (verification: it is 5 sqrt(t)).

Quantity: minimum slug diameter. Inputs: thicknesses and diameters as printed in table
``slug_bs1140``, read as reprinted in a welding equipment brochure. The cells at 1.0 and 1.1 mm are
left out: both print 5.5, the value of the next row (1.2 mm), where 5 sqrt(t) gives 5.0 and 5.2; a
slug of 1.0 mm sheet can't need to be as large as that of 1.2 mm sheet, so they are misprints.
Tolerance: 0.061 mm: the column is printed to 0.1 mm, mostly rounded (0.05) and at 3.0 mm cut
(8.66 printed as 8.6).
"""

import math

import pytest

from buttonhole.sources import table

PRINTED = table("slug_bs1140")


def test_five_root_t() -> None:
    good = PRINTED.where("misprint", "no")
    thickness, slug = good.column("t [mm]"), good.column("slug_min [mm]")
    assert len(thickness) == 12
    for t, printed in zip(thickness, slug, strict=True):
        assert 5.0 * math.sqrt(t) == pytest.approx(printed, abs=0.061)


def test_the_two_cells_left_out_contradict_the_column() -> None:
    bad = PRINTED.where("misprint", "yes")
    assert bad.column("t [mm]").tolist() == [1.0, 1.1]
    assert bad.column("slug_min [mm]").tolist() == [5.5, 5.5]
    for t in (1.0, 1.1):
        assert abs(5.0 * math.sqrt(t) - 5.5) > 0.2
    # left in, three thicknesses would share one slug
    at_1_2 = PRINTED.where("t [mm]", "1.2").column("slug_min [mm]")
    assert at_1_2.tolist() == [5.5]
