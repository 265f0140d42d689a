"""Which test suits which sheets."""

import pytest

from buttonhole.coupon.test import TestKind as Kind
from buttonhole.coupon.test import find_test, suitability, suited
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import FayingInterface, StackUp
from buttonhole.joint.steel import find_steel
from buttonhole.units import BadInput


def face(name: str, *thickness: float) -> FayingInterface:
    sheets = tuple(Sheet(find_steel(name), t * 1e-3) for t in thickness)
    return StackUp(sheets).interfaces[0]


@pytest.mark.parametrize(
    ("test", "thickness", "decides"),
    [
        (Kind.PEEL, 3.0, True),
        (Kind.PEEL, 3.1, False),
        (Kind.PEEL, 0.5, True),
        (Kind.PEEL, 0.45, False),
        (Kind.TORSION, 1.9, True),
        (Kind.TORSION, 2.0, False),
        (Kind.TENSILE_SHEAR, 5.0, True),
        (Kind.CROSS_TENSION, 3.5, False),
        (Kind.MACRO, 6.0, True),
    ],
)
def test_scopes(test: Kind, thickness: float, decides: bool) -> None:
    found = suitability(test, face("DC04", thickness, thickness))
    assert found.decides is decides
    assert found.reason


def test_what_to_take_first() -> None:
    assert suited(face("DC04", 1.0, 1.0))[0].test is Kind.PEEL
    assert suited(face("22MnB5", 1.0, 1.0))[0].test is Kind.MACRO
    assert suited(face("unknown", 1.0, 1.0))[0].test is Kind.MACRO
    assert suited(face("DC04", 2.4, 2.4))[-1].test is Kind.TORSION


def test_each_test_says_what_it_shows_and_hides() -> None:
    for test in Kind:
        assert test.shows
        assert test.hides
        assert test.how
        assert test.standard.startswith("ISO ")


def test_a_test_by_name() -> None:
    assert find_test("tensile_shear") is Kind.TENSILE_SHEAR
    with pytest.raises(BadInput, match="peel"):
        find_test("twist")
