"""Published check: what arc welds of sheet are asked for.

quantity: torn diameter of a plug in an 8 mm hole; imperfections permitted in sheet of 0.5 to 3 mm
role: verification
source: a trade training body's rule for test coupons as quoted by others (8 mm plug: a hole of 5 to
    10 mm torn from the lower coupon); ISO 5817 table 1, level C, as listed from its 2003 and 2014
    text: cracks, crater cracks, surface pores, end crater pipes, lack of fusion, overlap,
    burn-through and poor restarts are not permitted; undercut, shrinkage groove, sagging and root
    concavity up to 0.1 t
tolerance: none; the figures are printed
"""

import pytest

from buttonhole.coupon.arc.criterion import find_arc_criterion, smallest
from buttonhole.coupon.arc.imperfection import Rule, imperfections
from buttonhole.sources import Status
from tests.coupon.arc.pieces import PLUG

NUMBERS = {one.number: one for one in imperfections() if one.source == "iso-5817"}


def test_an_8_mm_plug_tears_at_least_5_mm() -> None:
    rule = find_arc_criterion("plug-5-of-8", PLUG)
    assert rule.status is Status.READ
    assert smallest(rule, PLUG.interfaces[0]) * 1e3 == pytest.approx(5.0)


@pytest.mark.parametrize("number", [100, 104, 2017, 2025, 401, 506, 510, 517])
def test_not_permitted_at_level_c(number: int) -> None:
    assert NUMBERS[number].rule is Rule.REFUSE


@pytest.mark.parametrize("number", [5011, 5013, 509, 515])
def test_permitted_up_to_a_tenth_of_the_sheet_at_level_c(number: int) -> None:
    assert NUMBERS[number].rule is Rule.LIMIT
    assert NUMBERS[number].share == pytest.approx(0.1)


def test_only_what_was_read_is_put_under_the_standard() -> None:
    assert all(one.status is Status.READ for one in NUMBERS.values())
