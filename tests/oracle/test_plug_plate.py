"""The plug's march against a general-purpose finite-element library on the same nonlinear plate.

Role: verification. Both solve one second of arc on an insulated plate of DC04 and its cooling, with
properties that change and a melting range; only the way of solving differs. Tolerances: at 0.25 mm
each is within 1.5 % of the mean of both finest runs (docs/validation/plug-speed.md).
"""

import numpy as np
import pytest

from benchmarks.elements import Band
from benchmarks.plug_against_scikit_fem import library, ours


def test_rings_melt_and_cooling_agree_with_finite_elements() -> None:
    cell = 0.25e-3
    mine, theirs = ours(cell, rounds=1).figures, library(cell, Band).figures
    assert mine == pytest.approx(theirs, rel=0.03)
    # rings and cooling, where no melting front stair-steps, agree closer
    rings = [0, 1, 3]
    assert mine[rings] == pytest.approx(theirs[rings], rel=0.01)
    assert np.all(mine > 0.0)
