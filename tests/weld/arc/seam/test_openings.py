"""Openings no feeler gauge finds, and slivers at the rim: no cell may be as thin as them."""

import numpy as np
import pytest

from buttonhole.weld.arc.seam import (
    PREVIEW,
    JointKind,
    SeamJoint,
    SeamSetUp,
    Torch,
    continuous,
    simulate,
)
from buttonhole.weld.arc.seam.joint import CLOSED
from buttonhole.weld.arc.seam.layout import outwards
from tests.weld.arc.seam.test_prediction import HEAT, MM, lap, steel

SET_UP = SeamSetUp(HEAT, Torch(45.0), continuous(20 * MM, 10 * MM))
SMALL = [5e-324, 1e-12, 1e-6, 0.99 * CLOSED]


@pytest.mark.parametrize("opening", SMALL)
def test_an_opening_no_gauge_finds_is_closed(opening: float) -> None:
    closed = simulate(lap(steel(1.0)), SET_UP, PREVIEW)
    found = simulate(lap(steel(1.0), gap=opening), SET_UP, PREVIEW)
    assert found.steps == closed.steps
    assert np.array_equal(found.peak, closed.peak)


def test_a_butt_with_an_opening_no_gauge_finds_is_closed() -> None:
    def butt(opening: float) -> SeamJoint:
        sheet = steel(1.0)
        return SeamJoint(JointKind.BUTT_BACKED, sheet, sheet, 20 * MM, root_opening=opening)

    closed, found = (simulate(butt(each), SET_UP, PREVIEW) for each in (0.0, SMALL[0]))
    assert np.array_equal(found.peak, closed.peak)


def test_the_smallest_gap_a_gauge_finds_is_a_gap() -> None:
    found = simulate(lap(steel(1.0), gap=CLOSED), SET_UP, PREVIEW)
    assert found.layout.gap_row > 0
    assert found.imbalance < 1e-10


@pytest.mark.parametrize("beyond", [-1e-3, 0.0, 1e-12, 1e-8, 1e-5, 1e-4, 3e-4, 1e-3, 5e-3])
def test_no_cell_is_a_sliver(beyond: float) -> None:
    fine, cell = 6e-3, 0.5e-3
    faces = outwards(fine, cell, fine + beyond)
    sizes = np.diff(np.concatenate([[0.0], faces]))
    assert faces[-1] == pytest.approx(fine + beyond, rel=1e-12)
    assert sizes.min() > 0.35 * cell
