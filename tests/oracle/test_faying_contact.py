"""Faying contact radius of two cold elastic sheets against a finite-element model.

Role: verification of the reduced law in ``contact_mechanics.faying_radius``. Source: our own model
in scikit-fem, a general-purpose finite-element library (``benchmarks/pressed_sheets.py``): one
sheet by symmetry, receding contact without friction. Three loads bracket a cap: a rigid flat punch,
even pressure, Hertz's pressure.
"""

import functools

import numpy as np
import pytest

from benchmarks.pressed_sheets import CapShape, block, radii, seen
from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.contact_mechanics import faying_radius

PRESSURE, PUSHED = 100e6, 1e-7  # Pa, m; receding contact does not hang on either
SHEETS = [(0.5e-3, 2.25e-3), (0.8e-3, 2.5e-3), (1.5e-3, 3.25e-3), (3.2e-3, 4.5e-3)]  # t, a [m]
LOADS = {
    "even": lambda s: 1.0 * (s < 1.0),
    "hertz": lambda s: 1.5 * np.sqrt(np.clip(1 - s**2, 0, 1)),
}


@functools.cache
def contact(t: float, a: float, load: str, layers: int = 16) -> float:
    """Radius [m] out to which two sheets of ``t`` [m] touch, loaded out to ``a`` [m]."""
    cell = a / round(a * layers / t)  # a node at the edge of the load
    r, z = radii(a + cell * round(1.5 * t / cell), cell), np.linspace(0.0, t, layers + 1)
    punch = CapShape(face=a + 1e-5, rounded=1e-6) if load == "punch" else None
    press = block(r, z, punch)
    press.moves = False
    if load != "punch":
        inside = np.linspace(0.0, a, 2001)
        # each node takes its share of the pressure between it and its neighbours
        rings = 2 * np.pi * inside * PRESSURE * LOADS[load](inside / a)
        shape = np.maximum(1 - np.abs(np.subtract.outer(inside, r)) / cell, 0.0)
        top = 2 * (np.arange(len(r)) + len(r) * layers) + 1
        press.applied[top] = -np.trapezoid(rings[:, None] * shape, inside, axis=0)
        assert -press.applied.sum() == pytest.approx(PRESSURE * np.pi * a**2, rel=0.01)
    press.press(PUSHED)
    return seen(press).faying_radius


def gained(t: float, a: float, load: str, layers: int = 16) -> float:
    """Radius gained per sheet thickness [-]."""
    return (contact(t, a, load, layers) - a) / t


NODE = 0.05  # -, of the thickness: half a cell of the model


@pytest.mark.parametrize(("t", "a"), SHEETS)
def test_the_law_lies_between_hertz_and_a_punch(t: float, a: float) -> None:
    law = (faying_radius(a, a, CONTACT.spread * t, CONTACT.spread * t) - a) / t
    assert gained(t, a, "hertz") - NODE <= law <= gained(t, a, "punch") + NODE


@pytest.mark.parametrize(("t", "a"), SHEETS)
def test_the_figures_of_the_decision(t: float, a: float) -> None:
    """Counted to the last node that touches there, here to half way beyond it."""
    assert 0.19 <= gained(t, a, "hertz") <= 0.36 + NODE
    assert 0.39 <= gained(t, a, "even") <= 0.46 + NODE
    assert 0.49 <= gained(t, a, "punch") <= 0.56 + NODE


def test_the_model_does_not_hang_on_its_grid() -> None:
    t, a = SHEETS[1]
    for load in ("even", "hertz", "punch"):
        assert gained(t, a, load, 10) == pytest.approx(gained(t, a, load), abs=0.08)
