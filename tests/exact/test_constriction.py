"""Resistance of a round contact between two cylinders against Holm's constriction.

Role: verification. Source: Holm, Electric contacts; correction for a cylinder of finite width,
1 - 1.40925 e + 0.29591 e^3 + 0.05254 e^5 + 0.02105 e^7 with e = a/b (from memory). The rim is a
singularity, so a grid with a sharp rim is of first order; two grids extrapolate past it.
"""

import math

import numpy as np

from buttonhole.weld.spot.conductances import across, along, end_planes
from buttonhole.weld.spot.joule import joule_across, joule_along
from buttonhole.weld.spot.potential import FIELDS, solve_potential
from tests.exact.column import orders

A, B, LENGTH, RHO = 2e-3, 8e-3, 10e-3, 2e-7
E = A / B
FACTOR = 1.0 - 1.40925 * E + 0.29591 * E**3 + 0.05254 * E**5 + 0.02105 * E**7
EXACT = 2.0 * LENGTH * RHO / (math.pi * B**2) + RHO / (2.0 * A) * FACTOR


def resistance(h: float) -> float:
    nr, half = round(B / h), round(LENGTH / h)
    nz = 2 * half
    r_faces, dz = np.arange(nr + 1) * h, np.full(nz, h)
    part = np.zeros((nz, nr), dtype=np.int64)
    contact_of = np.full(nz + 1, -1, dtype=np.int64)
    contact_of[half] = 0
    share = np.where(r_faces[1:] <= A + h / 10, 1.0, 0.0)[None, :]
    rho, k = np.full((nz, nr), RHO), np.ones((nz, nr))
    nothing, rc = np.zeros((1, nr)), np.zeros((1, nr))
    reach = np.full(nz, nr)
    faces = np.zeros((4, nz + 1, nr + 1))
    ends = np.zeros((4, nr))
    across(part, reach, k, rho, r_faces, dz, contact_of, share, rc, nothing, faces[0], faces[1])
    along(part, reach, k, rho, r_faces, dz, faces[2], faces[3])
    end_planes(part, reach, k, rho, r_faces, dz, contact_of, 1.0, False, share, rc, ends)
    phi = np.tile(1.0 - (np.arange(nz) + 0.5)[:, None] / nz, (1, nr))
    solve_potential(
        faces[1], faces[3], ends[2], ends[3], reach, phi, 1e-6, np.zeros((FIELDS, nz, nr))
    )
    heat = np.zeros((nz, nr))
    power = joule_across(
        faces[1], ends, phi, reach, k, rho, dz, contact_of, rc, np.ones((1, nr)), heat
    )
    power += joule_along(faces[3], phi, reach, rho, np.full(nr, h), heat)
    assert abs(heat.sum() / power - 1.0) < 1e-12
    return 1.0 / power


def test_constriction_of_a_round_contact() -> None:
    found = [resistance(h) for h in (0.4e-3, 0.2e-3, 0.1e-3)]
    errors = [abs(r / EXACT - 1.0) for r in found]
    assert errors[-1] < 0.025
    assert 0.85 < min(orders(errors)) < 1.3
    extrapolated = 2.0 * found[-1] - found[-2]
    assert abs(extrapolated / EXACT - 1.0) < 3e-3
