"""What the heat of a spot weld leaves of its steel: hardness, softened ring, liquid zinc."""

import itertools
from dataclasses import dataclass

import numpy as np

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.liquid_zinc import Meeting, ZincFlag, window, zinc_flags
from buttonhole.weld.hardness.peak import Hardening, hardest, quench_hardening
from buttonhole.weld.hardness.softened import near, softened, tempers
from buttonhole.weld.hardness.zone import SoftZone, soft_zone
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.edge import edge_radius
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, simulate
from buttonhole.weld.spot.zones import SheetZones

TILTED = 0.05  # rad; cracks were found at 6 degrees, half of that is called much; judged
OFF_CENTRE = 0.5e-3  # m between the axes of the caps; judged
ADVICE = "Square the gun, close gaps, hold longer, less current"
SPLASHES = 0.10  # -, chance of expulsion; as where a window ends


@dataclass(frozen=True, slots=True)
class SpotMetal:
    """What a spot weld leaves: the hardest place, each sheet's softened ring, zinc flags."""

    peak: Hardening
    soft: tuple[SoftZone | None, ...]  # from side A; None where the steel does not soften
    zinc: tuple[ZincFlag, ...]


def spot_metal(weld: SpotWeld, stack: StackUp, set_up: SpotSetUp) -> SpotMetal:
    """Read off a predicted weld what its heat leaves of the steel.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        Its sheets.
    set_up : SpotSetUp
        What was set.

    Returns
    -------
    SpotMetal
        Hardness [HV] and lengths [m] with intervals.

    Raises
    ------
    SolverFailed
        The thermal cycles of the softened rings could not be computed.

    Sources
    -------
    yurioka-1987, duren-1985, suzuki-1985, hollomon-jaffe-1945 (from memory);
    lme-subcritical-2021 (read)
    """
    hot = [(sheet.steel, zones.haz_diameter.value > 0.0)
           for sheet, zones in zip(stack.sheets, weld.sheets, strict=True)]  # fmt: skip
    return SpotMetal(
        hardest(hot, weld.cooling_t85, quench_hardening),
        _softened(weld, stack, set_up),
        zinc_flags(_meetings(weld, stack)),
    )


def _softened(weld: SpotWeld, stack: StackUp, set_up: SpotSetUp) -> tuple[SoftZone | None, ...]:
    """The softened ring of each sheet, from the thermal cycle beside its own Ac1 line."""
    asked = {
        zones.sheet: _beside(zones, weld, stack)
        for zones, sheet in zip(weld.sheets, stack.sheets, strict=True)
        if tempers(sheet.steel) and zones.ac1 is not None and zones.haz_diameter.value > 0.0
    }
    if not asked:
        return tuple(None for _ in stack.sheets)
    points = tuple(asked.values())
    march = simulate(stack, set_up, COARSE, points=points, condition=weld.condition)
    traces = dict(zip(asked, range(len(points)), strict=True))
    found: list[SoftZone | None] = []
    for zones, sheet in zip(weld.sheets, stack.sheets, strict=True):
        if zones.sheet not in traces or zones.ac1 is None:
            found.append(None)
            continue
        cycle = near(march.trace[:, 0], march.trace[:, 1 + traces[zones.sheet]])
        soft = softened(sheet.steel, cycle, zones.ac1)
        off = 0.25 * (zones.haz_diameter.high - zones.haz_diameter.low)
        found.append(soft_zone(soft, zones.ac1, lambda t, n=zones.sheet: _edge(weld, n, t), off))  # type: ignore[misc]  # n is a default, not an argument
    return tuple(found)


def _beside(zones: SheetZones, weld: SpotWeld, stack: StackUp) -> Point:
    """A place just outside a sheet's Ac1 line, at the faying face that is hotter."""
    depths = [0.0, *itertools.accumulate(sheet.thickness for sheet in stack.sheets)]
    faces = [at for at in (zones.sheet - 1, zones.sheet) if 0 < at < len(stack.sheets)]
    sizes = {at: weld.interfaces[at - 1].nugget_diameter.value for at in faces}
    face = max(faces, key=lambda at: sizes[at])
    return Point(0.5 * zones.haz_diameter.value, depths[face])


def _edge(weld: SpotWeld, number: int, level: float) -> float:
    """How far from the axis a sheet came to a temperature [m]."""
    section = weld.section
    hottest = np.where(section.part == number, section.peak_temperature, -np.inf).max(axis=0)
    return edge_radius(section.r_faces, hottest, level)


def _meetings(weld: SpotWeld, stack: StackUp) -> list[Meeting]:
    """Zinc on every face of every sheet, own zinc or that of the sheet it lies on."""
    last = len(stack.sheets)
    besides = _besides(weld, stack)
    found = []
    for number, sheet in enumerate(stack.sheets, start=1):
        for step, side in ((-1, "A"), (1, "B")):
            other = number + step
            inside = 1 <= other <= last
            coatings = {sheet.coating} | ({stack.sheets[other - 1].coating} if inside else set())
            place = f"face to sheet {other}" if inside else f"face under cap {side}"
            found.append(
                Meeting(
                    sheet=number,
                    steel=sheet.steel,
                    coatings=frozenset(coatings),
                    place=place,
                    peak=_face_peak(weld, number, first=step < 0),
                    always="the sheets are pressed and pushed apart while they are hot"
                    if inside
                    else "the cap presses its edge into the hot sheet",
                    advice=ADVICE,
                    besides=besides,
                )
            )
    return found


def _face_peak(weld: SpotWeld, number: int, *, first: bool) -> float:
    """Hottest metal [degC] of the outermost row of a sheet's cells."""
    section = weld.section
    rows = np.flatnonzero((section.part == number).any(axis=1))
    row = rows[0] if first else rows[-1]
    own = section.part[row] == number
    return float(section.peak_temperature[row][own].max())


def _besides(weld: SpotWeld, stack: StackUp) -> tuple[str, ...]:
    """What pulls at the hot steel more than in a square, closed, held weld."""
    condition, said = weld.condition, []
    if condition.tilt >= TILTED:
        said.append(f"the gun is tilted by {np.degrees(condition.tilt):.0f}°")
    if condition.misalignment >= OFF_CENTRE:
        said.append(f"the caps stand {1e3 * condition.misalignment:.1f} mm beside each other")
    if stack.gap > 0.0:
        said.append(f"a gap of {1e3 * stack.gap:.1f} mm is pressed shut")
    if weld.expulsion_probability.value >= SPLASHES:
        said.append(f"it splashes with a chance of {100 * weld.expulsion_probability.value:.0f} %")
    low, _high = window()
    if weld.hold is not None and _late(weld.hold.temperature_at_release, low):
        said.append("the caps open while the weld is still so hot")
    return tuple(said)


def _late(release: Estimate, low: float) -> bool:
    return release.value >= low
