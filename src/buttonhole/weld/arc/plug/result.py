"""What a predicted plug weld is made of."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.machine_map import OperatingPoint
from buttonhole.weld.arc.plug.marks import BackMark
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.peak import Hardening

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class PlugInterface:
    """The weld at one faying interface, counted from the side that is welded (index 0)."""

    index: int
    fused_diameter: Estimate  # m, melted at least 0.1 mm deep into the sheet below
    penetration: Estimate  # m, into the sheet below
    wanted_diameter: float  # m, smallest that counts in ``fusion_probability``
    wetted_diameter: Estimate | None = None  # m, of a braze: taken up by it and not melted


@dataclass(frozen=True, slots=True)
class PlugSection:
    """Half section through the axis, for pictures. ``r_faces`` and ``z_faces`` [m]."""

    r_faces: Array  # (nr + 1,)
    z_faces: Array  # (nz + 1,), 0 is the upper face of the first sheet, z grows downwards
    peak_temperature: Array  # (nz, nr), degC; NaN where there is no metal
    part: NDArray[np.int64]  # - (nz, nr): -1 nothing, 0.. sheets, then the weld metal


@dataclass(frozen=True, slots=True)
class PlugWeld:
    """Everything one prediction says. Intervals are 90 %."""

    point: OperatingPoint  # current, arc power, deposition
    arc_energy: Estimate  # J, voltage times current times arc time
    interfaces: tuple[PlugInterface, ...]
    brazed: bool
    fusion_probability: float  # -, that every interface is fused, or wetted, as wide as is wanted
    melting_probability: float | None  # -, that a brazed sheet melts, which it must not
    hole_probability: float  # -, that the pool falls through
    back_mark: BackMark
    back_peak: Estimate  # degC
    back_spot_diameter: Estimate  # m, molten on the back
    back_sag: Estimate  # m, of that spot
    zinc_ring_diameter: Estimate | None  # m, zinc boiled off or scaled, back; None on aluminium
    tint_diameter: Estimate | None  # m, over 300 degC on the back; None on aluminium
    haz_diameter: tuple[Estimate, ...]  # m, peak over Ac1, or where aluminium softens, each sheet
    head_diameter: Estimate  # m; 0 where the hole is not full
    head_height: Estimate  # m
    rim_fusion: Estimate  # -, share of the height of the hole's edge that melted, brazed: wetted
    burnt_hole_diameter: Estimate  # m, the hole with its edge melted back
    fill_time: Estimate  # s until the hole is full; infinite: never within the arc time
    fill_probability: float  # -, that it gets full within the arc time
    cooling_t85: Estimate  # s, of the sheet that cools fastest
    peak_hardness: Estimate | None  # HV, of the sheets' heat-affected zones; None on aluminium
    hardening: Hardening | None  # the same with what it rests on
    section: PlugSection
    warnings: tuple[str, ...]
    solver_seconds: float
    model_version: str
