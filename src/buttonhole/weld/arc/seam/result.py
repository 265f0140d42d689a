"""What a predicted seam is made of."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.cooling_time import LongSeamCooling
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.peak import Hardening

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class SeamSheetResult:
    """One sheet in the middle of the seam. Intervals are 90 %."""

    name: str
    penetration: Estimate  # m; of the upper sheet of a lap: from its edge inwards
    fused_width: Estimate  # m, at the face towards the other sheet
    fused_probability: float  # - that it is melted by a tenth of its thickness or more
    melting_probability: float  # - that it melts at all, which a braze must not
    haz_edge: Estimate  # m, from the joint to where the metal came over Ac1
    haz_band: Estimate  # m, from the edge of what melted to there
    softened_width: (
        Estimate | None
    )  # m, whole width that lost strength; None: unknown for the metal
    zinc_width: Estimate | None  # m, burnt off the outer face; None: no zinc
    wetted_width: Estimate  # m, of the face towards the deposit


@dataclass(frozen=True, slots=True)
class Along:
    """The seam against the way along it; every array has shape (slices,)."""

    x: Array  # m
    penetration: Array  # m, shape (sheets, slices)
    haz_edge: Array  # m, shape (sheets, slices)
    cooling_t85: Array  # s, NaN where no unmelted metal came over Ac3
    back_peak: Array  # degC


@dataclass(frozen=True, slots=True)
class CrossSection:
    """Section in the middle of the seam, for pictures; ``z_faces`` rise from the back."""

    y_faces: Array  # (ny + 1,), m
    z_faces: Array  # (nz + 1,), m
    peak_temperature: Array  # (nz, ny), degC
    part: NDArray[np.int64]  # - (nz, ny): below 0 air, 0 to 2 sheets from the back, 3 deposit
    zone: NDArray[np.int64]  # - (nz, ny): -1 air, 0 unchanged, 1 over Ac1, 2 over Ac3, 3 melted


@dataclass(frozen=True, slots=True)
class SeamWeld:
    """Everything one prediction of a seam says. Intervals are 90 %."""

    sheets: tuple[SeamSheetResult, ...]
    fusion_probability: float  # - that all sheets of the joint are fused
    cold_start: float  # m from the start until the weld is as deep as in its middle
    leg_lower: Estimate  # m
    leg_upper: Estimate  # m
    throat: Estimate  # m; 0: the metal does not tie the sheets together
    crown: float  # m, of the deposit over the line from toe to toe
    cold_lap: float  # m of face that metal covers without having wetted it
    cooling_t85: Estimate | None  # s; None: no steel
    long_seam: LongSeamCooling | None  # EN 1011-2, for a seam without ends: reference only
    heat_per_length: float  # J/m, into the work
    back_peak: Estimate  # degC
    back_melted: Estimate  # m, width of metal that melted through to the back
    back_sag: float  # m, how far the pool hangs through at the back
    burn_through_probability: float  # -
    peak_hardness: Estimate | None  # HV; None: the metal does not harden
    hardening: Hardening | None  # the same with what it rests on
    along: Along
    section: CrossSection
    warnings: tuple[str, ...]
    solver_seconds: float
    model_version: str
