"""A metal as the seam's solver needs it: its curves, how it radiates, what leaves as vapour."""

from dataclasses import dataclass

from buttonhole.joint.material import MaterialCurves, curves
from buttonhole.joint.steel import Steel


@dataclass(frozen=True, slots=True)
class Vapour:
    """What boils off first: boiling point [K], heat of evaporation [J/kg], molar mass [kg/mol]."""

    boiling: float  # K
    heat: float  # J/kg
    molar_mass: float  # kg/mol


IRON = Vapour(3133.0, 6.09e6, 0.0558)  # from memory
COPPER = Vapour(2835.0, 4.73e6, 0.0635)  # from memory
ALUMINIUM = Vapour(2743.0, 10.9e6, 0.0270)  # from memory; magnesium leaves earlier and is not seen


@dataclass(frozen=True, slots=True)
class SeamMetal:
    """Curves of a metal, emissivity [-] of its hot face, vapour, and what heat does to it.

    ``steel`` where it is one. ``softens_over`` [degC]: a peak from which a metal that does not
    transform has lost strength; None where it loses none or nobody knows.
    ``glows``: it shows by its colour how hot it is before it melts.
    """

    curves: MaterialCurves
    emissivity: float = 0.7  # -, oxidised steel, common practice, no source
    vapour: Vapour = IRON
    steel: Steel | None = None
    softens_over: float | None = None
    glows: bool = True


def steel_metal(steel: Steel) -> SeamMetal:
    """Return a sheet steel for the seam's solver."""
    return SeamMetal(curves(steel), steel=steel)
