"""What is said of a seam before an arc is struck: figures with intervals, picture, warnings.

Which of the trade's rules the model explains: that both sheets fuse when the wire points into the
joint at 40 to 45 degrees, and only the one it points at when it stands square on that one; that a
longer distance of the contact tube at the same feed costs penetration (less current, the same
drops); that a gap costs throat and burns the upper edge back; that slower travel and more heat
widen the zone; that skipping with pauses keeps the neighbourhood cooler.

Only in part: the wider heat zone of a torch at 90 degrees. Turned about the same aim point it moves
heat from the lower sheet to the edge of the upper one, but no zone gets wider by it (the page of
validation has the sizes). Stood on the lower sheet it widens the zone there by a few per cent, and
by about half once it is moved so slowly that the upper sheet is fused all the same. So the wide
zone comes from where the arc points and how long it stays, and does not prove a wrong angle. In
part, too: how far the edge burns back (no flow, no arc force). Not at all: the travel angle, for
which a stated rule without a source stands in.
"""

import math
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.cooling_time import LongSeamCooling, Shape, long_seam_cooling
from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.constants import SEAM, SeamConstants
from buttonhole.weld.arc.seam.ensemble import MEMBERS, Members, members, middle, no_doubt
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.seam.layout import DEFAULT, Resolution
from buttonhole.weld.arc.seam.reading import NAMES, SeamReading, melting, read, zone_level
from buttonhole.weld.arc.seam.result import Along, CrossSection, SeamSheetResult, SeamWeld
from buttonhole.weld.arc.seam.set_up import SeamSetUp
from buttonhole.weld.arc.seam.simulation import Simulation, simulate
from buttonhole.weld.arc.seam.words import warnings_of
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.peak import Hardening, arc_hardening, hardest

MODEL_VERSION = "seam-2"

Array = NDArray[np.float64]

FUSED = 0.1  # -, of the thickness: so much must have melted; common practice, no source
MELTED = 0.05e-3  # m; a brazed sheet that melts no deeper counts as not melted, judged
STEADY = 0.8  # -, of the depth in the middle: from there on the cold start is over
T85_EXPONENT = 1.5  # -, of heat per length; 2 in a wide thin sheet, 1 in a thick one
T85_SPREAD = 0.12  # -, standard deviation for what the model leaves out, judged, no source
# Standard deviations of what no member shows (form of the model), judged, no source
MODEL_SPREAD = {"leg_lower": 0.12, "throat": 0.12, "haz_edge": 0.06, "back_peak": 0.03}
Z90 = 1.645
SURFACE_TENSION, LIQUID_DENSITY = 1.2, 7000.0  # N/m, kg/m3, molten steel, from memory
GRAVITY = 9.81  # m/s2
ARC_PRESSURE = 0.03  # Pa/A2, from memory, order of magnitude
HOLE_SPREAD = 0.3  # -, of the width at which a pool falls through, judged, no source


def predict(
    joint: SeamJoint,
    set_up: SeamSetUp,
    *,
    resolution: Resolution = DEFAULT,
    constants: SeamConstants = SEAM,
    count: int = MEMBERS,
) -> SeamWeld:
    """Predict a seam.

    Parameters
    ----------
    joint : SeamJoint
        Lap, or butt over a backing strip.
    set_up : SeamSetUp
        Heat of the arc, torch, runs, hand, and the filler where it is a brazing one.
    resolution : Resolution
        Cells [m] and steps of the solver.
    constants : SeamConstants
        The model's numbers.
    count : int
        How many other seams are welded for the intervals; 0 for none: an interval then holds what
        the form of the model may be off, no more, and a probability is 0 or 1.

    Returns
    -------
    SeamWeld
        Figures in SI units with 90 % intervals.

    Raises
    ------
    BadInput
        When a value can't be computed.
    SeamFailed
        When the numbers went out of bounds.

    Sources
    -------
    en-1011-2 for the reference; the rest our own, derived
    """
    sim = simulate(joint, set_up, resolution, constants)
    doubt = members(joint, set_up, constants, count) if count else no_doubt(read(sim))
    return _said(sim, doubt)


def _said(sim: Simulation, doubt: Members) -> SeamWeld:
    joint, set_up, reading = sim.joint, sim.set_up, read(sim)
    sheets = tuple(_sheet(sim, reading, doubt, code) for code in range(len(reading.sheets)))
    back = reading.sheets[0]
    steel = any(sheet.metal.steel is not None for sheet in joint.sheets)
    cooling = _cooling(reading, doubt) if steel else None
    melted = _estimate(middle(reading, back.outer_melted), doubt.back_melted)
    pressure = pool_pressure(sim, reading)
    hardening = _hardening(joint, cooling)
    result = SeamWeld(
        sheets=sheets,
        fusion_probability=_all_fused(sim, reading, doubt),
        cold_start=_cold_start(sim, reading),
        leg_lower=_seen(reading, reading.leg_lower, doubt.leg_lower, "leg_lower"),
        leg_upper=_seen(reading, reading.leg_upper, doubt.leg_upper, ""),
        throat=_seen(reading, reading.throat, doubt.throat, "throat"),
        crown=middle(reading, reading.crown),
        cold_lap=middle(reading, reading.cold_lap),
        cooling_t85=cooling,
        long_seam=_long_seam(joint, set_up) if cooling else None,
        heat_per_length=set_up.energy_per_length,
        back_peak=_seen(reading, back.outer_peak, doubt.back_peak, "back_peak"),
        back_melted=melted,
        back_sag=0.0 if joint.bar else (0.5 * melted.value) ** 2 * pressure / (2 * SURFACE_TENSION),
        burn_through_probability=_hole(melted.value, doubt.back_melted, pressure, joint),
        peak_hardness=None if hardening is None else hardening.hardness,
        hardening=hardening,
        along=_along(reading),
        section=_section(sim),
        warnings=(),
        solver_seconds=sim.seconds,
        model_version=MODEL_VERSION,
    )
    return warnings_of(result, joint, set_up, sim)


def _estimate(value: float, drawn: Array, spread: float = 0.0, top: float = math.inf) -> Estimate:
    """Interval [SI] from how the members lie about the seam as believed, moved to its value."""
    off = drawn[1:] - drawn[0]
    low, high = (float(q) for q in np.quantile(off, (0.05, 0.95)))
    if np.quantile(drawn[1:], 0.05) <= 0.0:
        low = -value  # one in twenty has none of it, whatever the coarse cells give on average
    own = Z90 * spread * abs(value)
    low, high = -math.hypot(min(low, 0.0), own), math.hypot(max(high, 0.0), own)
    return Estimate(min(value, top), min(max(value + low, 0.0), top), min(value + high, top))


def _seen(reading: SeamReading, values: Array, drawn: Array, name: str) -> Estimate:
    return _estimate(middle(reading, values), drawn, MODEL_SPREAD.get(name, 0.0))


def _sheet(sim: Simulation, reading: SeamReading, doubt: Members, code: int) -> SeamSheetResult:
    sheet, found = sim.joint.sheets[code], reading.sheets[code]

    def about(name: str, spread: float = 0.0, top: float = math.inf) -> Estimate:
        value = middle(reading, getattr(found, name))
        return _estimate(value, getattr(doubt, name)[:, code], spread, top)

    edgeways = sim.joint.kind is JointKind.LAP and code == g.UPPER
    depth = about("penetration", top=math.inf if edgeways else sheet.thickness)
    haz = about("haz_width", MODEL_SPREAD["haz_edge"])
    softens = sheet.metal.softens_over is not None
    return SeamSheetResult(
        name=NAMES[sim.joint.kind][code],
        penetration=depth,
        fused_width=about("fused_width"),
        fused_probability=float(_fused(sim, reading, doubt, code).mean()),
        melting_probability=float((_depths(reading, doubt, code) > MELTED).mean()),
        haz_edge=about("haz_edge", MODEL_SPREAD["haz_edge"]),
        haz_band=about("haz_band", MODEL_SPREAD["haz_edge"]),
        softened_width=haz if softens else None,
        zinc_width=about("zinc_width", MODEL_SPREAD["haz_edge"]) if sheet.zinc else None,
        wetted_width=about("wetted_width"),
    )


def _fused(sim: Simulation, reading: SeamReading, doubt: Members, code: int) -> NDArray[np.bool_]:
    """For each member whether a sheet is fused."""
    depths = _depths(reading, doubt, code)
    fused: NDArray[np.bool_] = depths >= FUSED * sim.joint.sheets[code].thickness
    return fused


def _depths(reading: SeamReading, doubt: Members, code: int) -> Array:
    """Penetration of each member [m], moved to where the fine seam is."""
    drawn = doubt.penetration[:, code]
    moved: Array = middle(reading, reading.sheets[code].penetration) + drawn[1:] - drawn[0]
    return moved


def _all_fused(sim: Simulation, reading: SeamReading, doubt: Members) -> float:
    each = [_fused(sim, reading, doubt, code) for code in range(len(reading.sheets))]
    return float(np.logical_and.reduce(each).mean())


def _cold_start(sim: Simulation, reading: SeamReading) -> float:
    """Way from the first start until the lower sheet is nearly as deep as in the middle [m]."""
    run = sim.set_up.runs[0]
    depth = reading.sheets[0].penetration
    wanted = STEADY * middle(reading, depth)
    if wanted <= 0.0:
        return abs(run.end - run.start)
    way = (reading.x - run.start) * (1.0 if run.end > run.start else -1.0)
    enough = way[(way >= 0.0) & (depth >= wanted)]
    return float(enough.min()) if len(enough) else abs(run.end - run.start)


def _cooling(reading: SeamReading, doubt: Members) -> Estimate:
    value = middle(reading, reading.cooling_t85)
    drawn = value * doubt.heat_ratio**T85_EXPONENT
    return _estimate(value, drawn, T85_SPREAD)


def _long_seam(joint: SeamJoint, set_up: SeamSetUp) -> LongSeamCooling:
    lap = joint.kind is JointKind.LAP
    return long_seam_cooling(
        max(set_up.energy_per_length, 1.0),
        joint.lower.thickness if lap else joint.upper.thickness,
        shape=Shape.LAP_FILLET if lap else Shape.BUTT,
    )


def pool_pressure(sim: Simulation, reading: SeamReading) -> float:
    """What presses a pool out at the back [Pa]: its own height and the arc."""
    height = sum(sheet.thickness for sheet in sim.joint.sheets[:2])
    height += max(middle(reading, reading.crown), 0.0)
    return LIQUID_DENSITY * GRAVITY * height + ARC_PRESSURE * sim.set_up.heat.current**2


def _hole(melted: float, drawn: Array, pressure: float, joint: SeamJoint) -> float:
    """Probability that the pool falls through; a long strip holds up to half width tension/p."""
    if joint.bar is not None:
        return 0.0
    critical = 2.0 * SURFACE_TENSION / pressure
    widths = np.maximum(melted + drawn[1:] - drawn[0], 1e-6)
    normal = NormalDist()
    return float(np.mean([normal.cdf(math.log(w / critical) / HOLE_SPREAD) for w in widths]))


def _hardening(joint: SeamJoint, cooling: Estimate | None) -> Hardening | None:
    steels = [sheet.metal.steel for sheet in joint.sheets if sheet.metal.steel is not None]
    if not steels or cooling is None or cooling.value <= 0.0:
        return None
    return hardest(((steel, True) for steel in steels), cooling, arc_hardening)


def _along(reading: SeamReading) -> Along:
    return Along(
        x=reading.x,
        penetration=np.array([sheet.penetration for sheet in reading.sheets]),
        haz_edge=np.array([sheet.haz_edge for sheet in reading.sheets]),
        cooling_t85=reading.cooling_t85,
        back_peak=reading.sheets[0].outer_peak,
    )


def _section(sim: Simulation) -> CrossSection:
    run = sim.set_up.runs[0]
    at = 1 + int(np.argmin(np.abs(sim.x[1:-1] - 0.5 * (run.start + run.end))))
    part, peak = sim.part[at, 1:-1, 1:-1], sim.peak[at, 1:-1, 1:-1]
    zone = np.where(part < 0, -1, 0)
    for code, sheet in enumerate(sim.joint.sheets):
        mine = part == code
        zone[mine & (peak >= zone_level(sheet.metal))] = 1
        zone[mine & (peak >= sheet.metal.curves.ac3)] = 2
        zone[mine & (peak >= melting(sim, code))] = 3
    zone[part == g.DEPOSIT] = 3
    layout = sim.layout
    return CrossSection(layout.y_faces, layout.z_faces, peak, part, zone)
