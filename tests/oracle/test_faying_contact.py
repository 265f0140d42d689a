"""Faying contact radius of two cold elastic sheets against a finite-element model.

Role: verification of the reduced law in ``contact_mechanics.faying_radius``. Source: our own model
in scikit-fem, a general-purpose finite-element library: one sheet by symmetry, axisymmetric linear
elasticity of second order on quadrangles, receding contact without friction found by an active
set. Three loads bracket a cap: a rigid flat punch, even pressure, Hertz's pressure.
"""

import functools

import numpy as np
import pytest
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    condense,
    solve,
)

from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.contact_mechanics import faying_radius

YOUNG, POISSON = 210e9, 0.3  # Pa, -
PRESSURE, PUSHED = 100e6, 1e-6  # Pa, m; receding contact does not hang on either
SHEETS = [(0.5e-3, 2.25e-3), (0.8e-3, 2.5e-3), (1.5e-3, 3.25e-3), (3.2e-3, 4.5e-3)]  # t, a [m]
LOADS = {
    "even": lambda s: 1.0 * (s < 1.0),
    "hertz": lambda s: 1.5 * np.sqrt(np.clip(1 - s**2, 0, 1)),
}


def mesh(t: float, a: float, layers: int) -> MeshQuad:
    h = t / layers
    under = np.linspace(0.0, a, round(a / h) + 1)
    beside = a + np.arange(h, 3 * t + h / 2, h)
    far = beside[-1] + h * np.cumsum(1.3 ** np.arange(1, 7))
    return MeshQuad.init_tensor(np.concatenate([under, beside, far]), np.linspace(0, t, layers + 1))


@BilinearForm
def stiffness(u, v, w):
    """Axisymmetric: first coordinate the radius, hoop strain u/r."""
    r = w.x[0]
    shear = YOUNG / (2 * (1 + POISSON))
    lame = YOUNG * POISSON / ((1 + POISSON) * (1 - 2 * POISSON))

    def strains(of):
        return of.grad[0][0], of.grad[1][1], of[0] / r, (of.grad[0][1] + of.grad[1][0]) / 2

    e, f = strains(u), strains(v)
    normal = e[0] * f[0] + e[1] * f[1] + e[2] * f[2]
    volume = (e[0] + e[1] + e[2]) * (f[0] + f[1] + f[2])
    return 2 * np.pi * r * (lame * volume + 2 * shear * (normal + 2 * e[3] * f[3]))


@functools.cache
def contact(t: float, a: float, load: str, layers: int = 10) -> float:
    """Radius [m] out to which two sheets of ``t`` [m] touch, loaded out to ``a`` [m]."""
    grid, element = mesh(t, a, layers), ElementVector(ElementQuad2())
    basis = Basis(grid, element)
    matrix, force = stiffness.assemble(basis), np.zeros(basis.N)
    fixed = set(basis.get_dofs(lambda x: x[0] < 1e-12).all("u^1"))
    faying = basis.get_dofs(lambda x: x[1] < 1e-12).all("u^2")
    given = np.zeros(basis.N)
    if load == "punch":
        top = basis.get_dofs(lambda x: (abs(x[1] - t) < 1e-9) & (x[0] <= a + 1e-9)).all("u^2")
        given[top] = -PUSHED
        fixed |= set(top)
    else:
        facets = grid.facets_satisfying(lambda x: abs(x[1] - t) < 1e-9)

        @LinearForm
        def pressed(v, w):
            return -2 * np.pi * w.x[0] * PRESSURE * LOADS[load](w.x[0] / a) * v[1]

        force = pressed.assemble(FacetBasis(grid, element, facets=facets))
    touching = np.ones(len(faying), dtype=bool)
    for _ in range(40):
        held = np.array(sorted(fixed | set(faying[touching])))
        moved = solve(*condense(matrix, force, D=held, x=given))
        reaction = matrix @ moved - force
        now = np.where(touching, reaction[faying] > 0, moved[faying] < 0)
        if (now == touching).all():
            return float(basis.doflocs[0, faying[touching]].max())
        touching = now
    raise AssertionError("the active set does not settle")


def gained(t: float, a: float, load: str, layers: int = 10) -> float:
    """Radius gained per sheet thickness [-]."""
    return (contact(t, a, load, layers) - a) / t


@pytest.mark.parametrize(("t", "a"), SHEETS)
def test_the_law_lies_between_hertz_and_a_punch(t: float, a: float) -> None:
    law = (faying_radius(a, a, t, t, CONTACT.spread) - a) / t
    node = 0.05  # -, of the thickness: half a cell of the model
    assert gained(t, a, "hertz") - node <= law <= gained(t, a, "punch") + node


@pytest.mark.parametrize(("t", "a"), SHEETS)
def test_the_figures_of_the_decision(t: float, a: float) -> None:
    assert 0.19 <= gained(t, a, "hertz") <= 0.36
    assert 0.39 <= gained(t, a, "even") <= 0.46
    assert 0.49 <= gained(t, a, "punch") <= 0.56


@pytest.mark.parametrize("load", ["punch", "even", "hertz"])
def test_the_model_does_not_hang_on_its_grid(load: str) -> None:
    t, a = SHEETS[1]
    assert gained(t, a, load, 10) == pytest.approx(gained(t, a, load, 20), abs=0.06)
