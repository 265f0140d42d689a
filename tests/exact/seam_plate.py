"""A bare plate under a moving arc: the seam's solver with even properties, and closed forms.

The plate is a backed butt whose faces touch perfectly; no wire, no losses, no melting.
"""

import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import GRID, MaterialCurves
from buttonhole.weld.arc import seam as _load  # noqa: F401  sets where kernels are kept
from buttonhole.weld.arc.metal import ThermalMetal
from buttonhole.weld.arc.seam.constants import SeamConstants
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.seam.layout import Resolution
from buttonhole.weld.arc.seam.set_up import ArcHeat, SeamSetUp, Torch, continuous
from buttonhole.weld.arc.seam.simulation import Simulation, simulate

Array = NDArray[np.float64]

K, CP, RHO = 30.0, 688.0, 7850.0  # W/m/K, J/kg/K, kg/m3
DIFFUSIVITY = K / (CP * RHO)
START = 20.0  # degC


def even_metal(
    k: float = K,
    solidus: float = 2800.0,
    liquidus: float = 2850.0,
    latent: float = 0.0,
    name: str = "even",
) -> ThermalMetal:
    """Conductivity [W/m/K] and specific heat alike at all temperatures."""
    flat = np.ones(len(GRID))
    curves = MaterialCurves(
        name=name,
        temperature=GRID,
        conductivity=k * flat,
        heat_capacity=CP * flat,
        resistivity=flat,
        flow_stress=flat,
        density=RHO,
        solidus=solidus,
        liquidus=liquidus,
        latent_heat=latent,
        ac1=725.0,
        ac3=860.0,
        source="even",
        status="even",
    )
    return ThermalMetal(curves)


def bare(sigma: float) -> SeamConstants:
    """No losses, no depth of the arc, perfect contact."""
    return SeamConstants(
        sigma=sigma,
        finger_share=0.0,
        contact=1e15,
        stirring=1.0,
        convection=0.0,
        emissivity=0.0,
        evaporation=False,
    )


def weld_plate(
    thick: float,
    power: float,
    speed: float,
    length: float,
    sigma: float,
    resolution: Resolution,
    cooling: float = 0.0,
    width: float = 40e-3,
) -> Simulation:
    """March over a plate ``thick`` [m] with ``power`` [W] at ``speed`` [m/s]."""
    sheet = SeamSheet(even_metal(), 0.5 * thick)
    joint = SeamJoint(
        JointKind.BUTT_BACKED, sheet, sheet, length, width=width, overlap=width, overhang=20e-3
    )
    set_up = SeamSetUp(ArcHeat(power, 0.0, 0.0), Torch(90.0), continuous(length, speed))
    return simulate(joint, set_up, resolution, bare(sigma), cooling=cooling)


def temperature(sim: Simulation) -> Array:
    """Temperature at the end [degC], rim included."""
    found: Array = START + sim.final / (RHO * CP)
    return found


def moving_disc(
    x: Array,
    y: Array,
    depth: Array,
    now: float,
    off: float,
    power: float,
    speed: float,
    thick: float,
    sigma: float,
) -> Array:
    """Rise [K] at points of a plate over which a Gaussian disc went from 0 s to ``off``.

    Instantaneous sources summed over time and over the plate's mirror images; the root of the age
    as variable takes the singular start away.

    Sources
    -------
    rosenthal-1946 (images; from memory)
    """
    nodes, weights = np.polynomial.legendre.leggauss(600)
    low, high = math.sqrt(max(now - off, 0.0)), math.sqrt(now)
    root = low + 0.5 * (high - low) * (nodes + 1.0)
    share = 0.5 * (high - low) * weights
    total = np.zeros(np.broadcast(x, y, depth).shape)
    images = 2.0 * thick * np.arange(-80, 81)
    for u, w in zip(root, share, strict=True):
        age = u * u
        wide = sigma**2 + 2.0 * DIFFUSIVITY * age
        across = np.exp(-((x - speed * (now - age)) ** 2 + y**2) / (2.0 * wide))
        gap = (depth[..., None] - images) ** 2
        deep = np.exp(-gap / (4.0 * DIFFUSIVITY * age)).sum(axis=-1)
        # 2 u du of the substitution over the root of pi a u^2 of the source
        total += w * 2.0 / math.sqrt(math.pi * DIFFUSIVITY) * across * deep / (2.0 * math.pi * wide)
    return power / (RHO * CP) * total


def thin_line(x: Array, y: Array, power: float, speed: float, thick: float) -> Array:
    """Steady rise [K] at a distance (x, y) [m] from a line source in a thin plate.

    Sources
    -------
    rosenthal-1946 (from memory)
    """
    from scipy.special import k0e

    r = np.hypot(x, y)
    z = speed * r / (2.0 * DIFFUSIVITY)
    found: Array = (
        power / (2.0 * math.pi * K * thick) * np.exp(-speed * x / (2.0 * DIFFUSIVITY) - z) * k0e(z)
    )
    return found


def thick_point(x: Array, y: Array, z: Array, power: float, speed: float) -> Array:
    """Steady rise [K] at a distance (x, y, z) [m] from a point source on a half space.

    Sources
    -------
    rosenthal-1946 (from memory)
    """
    r = np.sqrt(x**2 + y**2 + z**2)
    found: Array = power / (2.0 * math.pi * K * r) * np.exp(-speed * (r + x) / (2.0 * DIFFUSIVITY))
    return found
