"""The k*sqrt(t) table (verification: arithmetic, worked out beside the program).

Quantity: least weld diameter d = k sqrt(t), both in mm. Inputs: the sheet thicknesses of table
``diameter_values``; factors as documents in table ``diameter_rule_documents`` ask for them.
Tolerance: half of the last printed digit, 0.0005 mm, plus float noise.
"""

import math

import pytest

from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp, ThicknessRule, governing_thickness
from buttonhole.joint.steel import find_steel
from buttonhole.sources import table

VALUES = table("diameter_values")
FACTORS = [float(h[2:].split()[0]) for h in VALUES.header if h.startswith("d_")]
ROWS = [tuple(float(cell) for cell in row) for row in VALUES.cells]


def sheets(*millimetres: float) -> StackUp:
    return StackUp(tuple(Sheet(find_steel("DC04"), t * 1e-3) for t in millimetres))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]} mm")
def test_k_root_t(row: tuple[float, ...]) -> None:
    stack = sheets(row[0], 3.0)
    thickness = governing_thickness(stack, ThicknessRule.THINNER_OF_INTERFACE, 0) * 1e3
    for factor, printed in zip(FACTORS, row[1:], strict=True):
        assert factor * math.sqrt(thickness) == pytest.approx(printed, abs=0.00051)


# Stack 0.7/1.2/1.6: the limits as the design of the demo job prints them, to 0.01 mm.
@pytest.mark.parametrize(("factor", "limits"), [(4.0, (3.35, 4.38)), (5.0, (4.18, 5.48))])
def test_each_interface_of_the_demo_stack(factor: float, limits: tuple[float, float]) -> None:
    stack = sheets(0.7, 1.2, 1.6)
    for index, limit in enumerate(limits):
        t = governing_thickness(stack, ThicknessRule.THINNER_OF_INTERFACE, index) * 1e3
        assert factor * math.sqrt(t) == pytest.approx(limit, abs=0.00501)


def test_aws_and_bs_govern_alike_for_three_sheets() -> None:
    # AWS D8.1M: second thickest; BS 1140: second thinnest (both read): 1.2 mm, 4.382 mm at k = 4
    stack = sheets(0.7, 1.2, 1.5)
    for rule in (ThicknessRule.AWS_GMT, ThicknessRule.BS_1140):
        t = governing_thickness(stack, rule) * 1e3
        assert 4.0 * math.sqrt(t) == pytest.approx(4.382, abs=0.00051)


def test_every_factor_of_a_document_is_in_the_table() -> None:
    asked = table("diameter_rule_documents").column("k [-]")
    assert set(asked.tolist()) <= set(FACTORS)
