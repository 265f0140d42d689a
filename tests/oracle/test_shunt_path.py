"""Resistance of a flange between two welds against a finite-element potential.

Role: verification of the closed form in ``shunt.sheet_resistance``. Source: our own model in
scikit-fem: one quarter of a strip by symmetry, both discs equipotentials, insulated edges, the
strip going on far beyond the welds; linear triangles, refined towards the rims.
"""

import math

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementTriP2, MeshTri, condense, solve
from skfem.helpers import dot, grad

from buttonhole.weld.spot.shunt import sheet_resistance

RHO, T = 1.5e-7, 1e-3  # ohm m, m
BEYOND = 3.0  # widths of flange past the weld


@BilinearForm
def conduction(u, v, _):
    return dot(grad(u), grad(v))


def mesh(distance: float, a: float, width: float, finest: float) -> MeshTri:
    """Quarter of the strip: x from the middle between the welds, y from their common line."""
    half = distance / 2
    grid = MeshTri.init_tensor(
        np.linspace(0.0, half + BEYOND * width, 40), np.linspace(0.0, width / 2, 12)
    )
    for _ in range(12):
        centres = grid.p[:, grid.t].mean(axis=1)
        size = np.sqrt(np.ptp(grid.p[0][grid.t], axis=0) * np.ptp(grid.p[1][grid.t], axis=0))
        off = np.abs(np.hypot(centres[0] - half, centres[1]) - a)
        coarse = np.flatnonzero((size > finest) & (off < 1.5 * size))
        if not len(coarse):
            break
        grid = grid.refined(coarse)
    return grid


def by_elements(distance: float, a: float, width: float, finest: float) -> float:
    """Resistance of the whole sheet from disc to disc [ohm]."""
    grid = mesh(distance, a, width, finest)
    basis = Basis(grid, ElementTriP2())
    matrix, x = conduction.assemble(basis), basis.doflocs
    inside = np.flatnonzero(np.hypot(x[0] - distance / 2, x[1]) <= a * (1 + 1e-9))
    middle = np.flatnonzero(x[0] < 1e-12)
    given = np.zeros(basis.N)
    given[inside] = 1.0
    phi = solve(*condense(matrix, x=given, D=np.union1d(inside, middle)))
    quarter = float(phi @ matrix @ phi) * T / RHO  # S, at 1 V over half of the way, half as wide
    return 2.0 / (2.0 * quarter)


@pytest.mark.parametrize(
    ("distance", "width"), [(20e-3, 200e-3), (20e-3, 20e-3), (40e-3, 20e-3), (30e-3, 15e-3)]
)
def test_the_closed_form(distance: float, width: float) -> None:
    a = 2.5e-3
    coarse, fine = (by_elements(distance, a, width, h) for h in (0.2e-3, 0.1e-3))
    assert coarse == pytest.approx(fine, rel=0.01)
    # nodes inside the disc are its rim: the disc is too small by half a cell, which h halves
    extrapolated = 2.0 * fine - coarse
    assert sheet_resistance(RHO, T, distance, a, a, width) == pytest.approx(extrapolated, rel=0.01)


def test_a_flange_is_no_wide_sheet() -> None:
    wide, narrow = (sheet_resistance(RHO, T, 30e-3, 2.5e-3, 2.5e-3, w) for w in (math.inf, 15e-3))
    assert narrow > 1.5 * wide
