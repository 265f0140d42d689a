"""Reduced laws of the pressed contact against elastic-plastic finite elements.

Role: verification. Source: our own model on scikit-fem, ``benchmarks/elastic_plastic.py``, which is
itself held against closed solutions first: Hertz's contact, Hill's hollow sphere with its plastic
zone, the pressure under a ball and a punch, the disc between platens. The tables are written by
``python -m benchmarks.validate_contact``.
"""

import math

import numpy as np
import pytest

from benchmarks.elastic_plastic import Metal, Press, grid
from benchmarks.hot_sheets import pressed_hot, smooth
from benchmarks.pressed_sheets import (
    POISSON,
    YOUNG,
    CapOnSheet,
    CapShape,
    block,
    give_metal,
    seen,
    sheet,
)

STRENGTH = 190e6  # Pa


def graded(even: float, cell: float, ratio: float, end: float) -> np.ndarray:
    """From zero: cells of one size out to ``even`` [m], then growing to ``end``."""
    faces, step = list(np.linspace(0.0, even, round(even / cell) + 1)), cell
    while faces[-1] < end:
        step *= ratio
        faces.append(faces[-1] + step)
    return np.array(faces)


def half_space(cap: CapShape, even: float, cell: float) -> Press:
    r, z = graded(even, cell, 1.3, 25e-3), graded(0.5e-3, cell, 1.25, 25e-3)
    return block(r, np.sort(z[-1] - z), cap)


def test_hertz() -> None:
    """Johnson, Contact Mechanics (1985), chapter 4, from memory: a^3 = 3FR/4E*, d = a^2/R."""
    press = half_space(CapShape(dome=50e-3), 1.2e-3, 40e-6)
    press.moves = False
    press.press(12e-6)
    found, modulus = seen(press), YOUNG / (1 - POISSON**2)
    a = (0.75 * found.force * 50e-3 / modulus) ** (1 / 3)
    assert found.cap_radius == pytest.approx(a, abs=20e-6)  # half a cell
    assert found.approach == pytest.approx(a * a / 50e-3, rel=0.02)
    mean = found.force / (math.pi * a * a)
    assert found.cap_pressure[1][0] == pytest.approx(1.5 * mean, rel=0.02)


def test_hollow_sphere_with_a_plastic_zone() -> None:
    """Hill, Plasticity (1950), chapter 5, from memory: pressure and movement by the zone."""
    inner, outer, zone = 1e-3, 2e-3, 1.4e-3
    polar, quads = grid(np.linspace(inner, outer, 25), np.linspace(0.0, math.pi / 2, 25))
    nodes = np.array([polar[0] * np.cos(polar[1]), polar[0] * np.sin(polar[1])])
    nodes[np.abs(nodes) < 1e-12] = 0.0
    none, no_area = np.zeros(0, dtype=np.int64), np.zeros(0)
    contact = CapOnSheet(None, none, none, (no_area, no_area), 0.0)
    axis, plane = np.flatnonzero(nodes[0] == 0.0), np.flatnonzero(nodes[1] == 0.0)
    fixed = np.concatenate([2 * axis, 2 * plane + 1])
    metal = Metal.of(len(quads), YOUNG, POISSON, STRENGTH)
    press = Press(nodes, quads, metal, contact, fixed, 0.0, moves=False)
    pressure = 2 * STRENGTH * (math.log(zone / inner) + (1 - (zone / outer) ** 3) / 3)
    # a ring's share of the pressure on the cavity, along the radius from the centre
    bounds = np.linspace(0.0, math.pi / 2, 25)
    edges = np.concatenate([[0.0], 0.5 * (bounds[1:] + bounds[:-1]), [math.pi / 2]])
    area = 2 * math.pi * inner**2 * np.diff(np.sin(edges))
    at = np.arange(25) * 25
    press.applied[2 * at] = pressure * area * np.cos(bounds)
    press.applied[2 * at + 1] = pressure * area * np.sin(bounds)
    press.press(0.0)
    moved = np.hypot(*press.nodes[:, at + 24]) - outer
    expected = STRENGTH * zone**3 * (1 - POISSON) / (YOUNG * outer**2)
    assert moved == pytest.approx(expected, rel=0.015)
    rho = np.hypot(*nodes[:, quads].mean(axis=2))
    flowed = rho[press.plastic.mean(axis=1) > 0.0].max()
    assert flowed == pytest.approx(zone, abs=0.03e-3)  # a cell is 0.042 mm


@pytest.mark.slow
def test_pressure_under_a_ball() -> None:
    """Johnson (1985), chapter 6, from memory: 1.1 Y at first yield, 2.8 Y when a E / R Y is 40."""
    press = half_space(CapShape(dome=50e-3), 1.8e-3, 50e-6)
    give_metal(press, STRENGTH)
    over = []
    for _ in range(10):
        press.press(3e-6)
        found = seen(press)
        over.append(found.force / (math.pi * found.cap_radius**2 * STRENGTH))
    assert over[0] < 2.2
    assert 2.6 <= over[-1] <= 3.0


def test_pressure_under_a_punch() -> None:
    """Hill's 2.6 to 3 times the strength bracket it: 2.85 by Shield (Tresca), from memory."""
    press = half_space(CapShape(face=1e-3), 1.5e-3, 62.5e-6)
    give_metal(press, STRENGTH)
    for depth in (4e-6, 4e-6, 4e-6):
        press.press(depth)
    found = seen(press)
    assert 2.6 <= found.force / (math.pi * found.cap_radius**2 * STRENGTH) <= 3.1


@pytest.mark.parametrize("height", [0.8e-3, 2e-3])
def test_disc_between_platens(height: float) -> None:
    """Slab that sticks, p = Y (1 + 2a / (3 sqrt(3) h)), from memory; it is an upper bound.

    Free to slide, the pressure is the strength itself, over the face as it has grown.
    """
    flat, a, squeezed = CapShape(dome=1e6), 2e-3, 0.02
    for sticks in (False, True):
        press = block(np.linspace(0, a, 41), np.linspace(0, height / 2, 9), flat, sticks)
        give_metal(press, STRENGTH)
        for _ in range(4):
            press.press(squeezed / 4 * height / 2)
        over = seen(press).force * (1 - squeezed) / (math.pi * a * a * STRENGTH)
        slab = 1 + 2 * a / (3 * math.sqrt(3) * height)
        if sticks:
            assert 0.8 * slab <= over <= 1.03 * slab
        else:
            assert over == pytest.approx(1.0, abs=0.015)


DOMES = [(0.8e-3, 50e-3, 190e6, 2e3), (0.8e-3, 100e-3, 900e6, 2e3)]  # t, R [m], Y [Pa], F [N]


@pytest.mark.slow
@pytest.mark.parametrize(("t", "dome", "strength", "force"), DOMES)
def test_cold_dome_between_hertz_and_full_plasticity(
    t: float, dome: float, strength: float, force: float
) -> None:
    """A cap of copper that yields: the two are joined by their fourth powers."""
    press = sheet(t, CapShape(dome=dome), 3e-3, 10, copper=400e6)
    give_metal(press, strength, copper=400e6)
    press.press(1e-7)
    for part in (0.25, 0.5, 0.75, 1.0):
        press.load(part * force)
    hertz = (0.75 * force * dome / 84e9) ** (1 / 3)
    plastic = math.sqrt(force / (2.8 * math.pi * min(strength, 400e6)))
    law = (hertz**4 + plastic**4) ** 0.25
    found = seen(press)
    assert found.cap_radius == pytest.approx(law, rel=0.1)  # half a cell is 4 %
    assert found.cap_radius > 1.1 * math.sqrt(force / (3 * math.pi * strength))
    assert 0.0 <= found.faying_radius - found.cap_radius <= 0.5 * t


def test_a_cold_flat_cap_does_not_sink_by_itself() -> None:
    """0.8 mm of soft steel bears over twice its strength before the cap has sunk a fiftieth."""
    t, a = 0.8e-3, 2.5e-3
    press = sheet(t, CapShape(face=a), a + 1.5 * t, 8)
    give_metal(press, STRENGTH)
    for depth in (1e-3, 3e-3, 6e-3, 0.012, 0.02):
        press.press(depth * t - press.approach)
    found = seen(press)
    assert 2.0 <= found.force / (math.pi * a * a * STRENGTH) <= 2.6


HOT = [(1200.0, 1050.0), (2200.0, 1250.0)]  # degC, in the middle and at the skin


@pytest.mark.parametrize(("middle", "skin"), HOT)
def test_the_ring_beside_a_hot_cap_bears_it(middle: float, skin: float) -> None:
    """What resists is the ring half a thickness wide beside the cap; what lies under it is shut in.

    The mean under the cap, in the half of the sheet next to it, is off by more than a factor of
    four. The pressure at the faying face is nearly even. Friction at the cap matters little.
    """
    t, a = 0.8e-3, 2.5e-3
    hot = smooth(t, a, 2e3, middle, skin)
    found = pressed_hot(hot, (1e-4, 1e-3, 3e-3, 6e-3, 0.01, 0.015, 0.02))[-1]
    pressure = found.force / (math.pi * a * a)
    assert 1.6 <= pressure / hot.mean(a, a + t / 2) <= 2.5
    assert pressure / hot.mean(0.0, a, t / 2) > 4.0
    stuck = pressed_hot(hot, (1e-4, 1e-3, 3e-3, 6e-3, 0.01, 0.015, 0.02), sticks=True)[-1]
    assert found.force <= 1.02 * stuck.force <= 1.2 * found.force
    even = found.force / (math.pi * found.faying_radius**2)
    assert found.faying_pressure[1][0] == pytest.approx(even, rel=0.3)
    assert 0.1 <= (found.faying_radius - found.cap_radius) / t <= 0.5
