"""What the heat of a plug or a seam leaves of its steel: softened zones, liquid zinc."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import Steel
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.marks import isotherm
from buttonhole.weld.arc.plug.result import PlugWeld
from buttonhole.weld.arc.seam.joint import SeamJoint
from buttonhole.weld.arc.seam.reading import over_width
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.liquid_zinc import Meeting, ZincFlag, zinc_flags
from buttonhole.weld.hardness.peak import Hardening
from buttonhole.weld.hardness.softened import softened, tempers
from buttonhole.weld.hardness.tempering import conducted_cycle
from buttonhole.weld.hardness.zone import SoftZone, soft_zone
from buttonhole.weld.metallurgy import transformation_line

Array = NDArray[np.float64]

SHRINKS = "the seam shrinks between clamps and panel while its neighbourhood is hot"
ADVICE = "Take the zinc off on both faces first, relieve clamps, less heat"


@dataclass(frozen=True, slots=True)
class ArcMetal:
    """What an arc weld leaves: the hardest place, each sheet's softened zone, zinc flags."""

    peak: Hardening | None  # of the prediction; None: no steel
    soft: tuple[SoftZone | None, ...]  # of each sheet; None where it does not soften
    zinc: tuple[ZincFlag, ...]


def _ac1(steel: Steel, cooling: float, *, line: bool) -> Estimate | None:
    """Ac1 [degC] at the pace of the cycle that just comes to it."""
    rest = transformation_line(steel, "Ac1", math.nan)
    if rest is None:
        return None
    time, hot = conducted_cycle(cooling, rest.value, line=line)
    first, last = (int(np.argmax(hot >= level)) for level in (500.0, 700.0))
    return transformation_line(steel, "Ac1", 200.0 / max(float(time[last] - time[first]), 1e-3))


def _soft(
    steel: Steel | None, cooling: Estimate | None, edge: Callable[[float], float], off: float,
    *, line: bool,
) -> SoftZone | None:  # fmt: skip
    """The softened zone of one sheet; None where it has none."""
    if steel is None or cooling is None or not 0.0 < cooling.value < math.inf:
        return None
    ac1 = _ac1(steel, cooling.value, line=line) if tempers(steel) else None
    if ac1 is None or edge(ac1.value) <= 0.0:
        return None
    found = softened(steel, lambda peak: conducted_cycle(cooling.value, peak, line=line), ac1)
    return soft_zone(found, ac1, edge, off)


def plug_metal(weld: PlugWeld, joint: PlugJoint) -> ArcMetal:
    """Read off a predicted plug what its heat leaves of the steel.

    Parameters
    ----------
    weld : PlugWeld
        The prediction.
    joint : PlugJoint
        What it was made for.

    Returns
    -------
    ArcMetal
        Hardness [HV] and lengths [m] with intervals.

    Sources
    -------
    yurioka-1987, duren-1985, suzuki-1985, hollomon-jaffe-1945 (from memory);
    lme-subcritical-2021 (read)
    """
    if not isinstance(joint.stack, StackUp):
        return ArcMetal(None, (None,) * len(joint.stack.sheets), ())  # no steel
    section, sheets = weld.section, joint.stack.sheets
    middles = 0.5 * (section.r_faces[1:] + section.r_faces[:-1])

    def profile(number: int) -> Array:
        """Hottest of a sheet at each radius [degC]."""
        own = np.where(section.part == number, section.peak_temperature, -np.inf)
        found: Array = own.max(axis=0)
        return found

    soft: list[SoftZone | None] = []
    met: list[Meeting] = []
    for number, sheet in enumerate(sheets):
        peaks = profile(number)
        wide = weld.haz_diameter[number]
        edge = _ring(middles, peaks)
        off = 0.25 * (wide.high - wide.low)
        soft.append(_soft(sheet.steel, weld.cooling_t85, edge, off, line=True))
        coatings = {
            sheet.coating,
            *(one.coating for one in sheets[max(0, number - 1) : number + 2]),
        }
        met.append(_meeting(number + 1, sheet.steel, coatings, float(peaks.max())))
    return ArcMetal(weld.hardening, tuple(soft), zinc_flags(met))


def _ring(middles: Array, peaks: Array) -> Callable[[float], float]:
    return lambda level: 0.5 * isotherm(middles, np.where(np.isfinite(peaks), peaks, np.nan), level)


def seam_metal(weld: SeamWeld, joint: SeamJoint, coatings: Sequence[Coating]) -> ArcMetal:
    """Read off a predicted seam what its heat leaves of the steel.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    joint : SeamJoint
        What it was made for.
    coatings : sequence of Coating
        Of all sheets, in any order.

    Returns
    -------
    ArcMetal
        Hardness [HV] and lengths [m] with intervals; places are counted from the joint.

    Sources
    -------
    yurioka-1987, duren-1985, suzuki-1985, hollomon-jaffe-1945 (from memory);
    lme-subcritical-2021 (read)
    """
    section = weld.section
    middles = 0.5 * (section.y_faces[1:] + section.y_faces[:-1])
    soft: list[SoftZone | None] = []
    met: list[Meeting] = []
    for code, (sheet, made) in enumerate(zip(joint.sheets, weld.sheets, strict=True)):
        peaks = np.where(section.part == code, section.peak_temperature, -np.inf).max(axis=0)
        own = np.isfinite(peaks)
        edge = _side(middles[own], peaks[own])
        off = 0.5 * (made.haz_edge.high - made.haz_edge.low)
        steel = sheet.metal.steel
        soft.append(_soft(steel, weld.cooling_t85, edge, off, line=False))
        if steel is not None:
            # in the order of the weld file, where the lower sheet comes last
            number = code or len(joint.sheets)
            met.append(_meeting(number, steel, set(coatings), float(peaks.max())))
    return ArcMetal(weld.hardening, tuple(soft), zinc_flags(met))


def _side(y: Array, peaks: Array) -> Callable[[float], float]:
    """How far from the joint (y = 0) a sheet came to a temperature, on the wider side [m]."""

    def edge(level: float) -> float:
        low, high = over_width(y, peaks[None, :], level)
        sides = np.nan_to_num(np.array([-float(low[0]), float(high[0])]), nan=0.0)
        return max(float(sides.max()), 0.0)

    return edge


def _meeting(number: int, steel: Steel, coatings: set[Coating], peak: float) -> Meeting:
    place = "beside the weld"
    return Meeting(number, steel, frozenset(coatings), place, peak, SHRINKS, ADVICE)
