"""From a stack-up and a set-up to one march through the weld.

Numbers without a source beside them are common practice, no source.
"""

import math
import time
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import copper_curves, curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import Steel
from buttonhole.units import BadInput
from buttonhole.weld.heat.tables import TOP, MaterialTables, material_tables
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot.coated_contact import CONTACTS, between
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.cycle import Point, check_point, stencil
from buttonhole.weld.spot.face_history import FaceHistory, empty_faces, face_history
from buttonhole.weld.spot.layout import Layout, lay_out, mirrored
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

Array = NDArray[np.float64]

CELL = 1e-4  # m
T_STEP = 90.0  # K, change per step the controller aims at
LONGEST_STEP = 3e-3  # s
MAX_STEPS = 20_000
MAX_TIME = 6.0  # s from first current on to the end of hold
AFTER_HOLD = 2.0  # s of cooling in air, at most
ONE_STEP = 1e-4  # s of it, so that the contacts learn where the caps came to rest
ROOM = 20.0  # degC
FREQUENCY = {CurrentType.MFDC: 0.0, CurrentType.AC50: 50.0, CurrentType.AC60: 60.0}  # Hz
YOUNG = 210e9  # Pa
FLANGE_WIDTH, GAP_SPAN = 20e-3, 60e-3  # m, the strip that is bent to close a gap; common practice
MOST_FORCE_LOST = 0.5  # -, a strip that needs more force yields
FAYING_WIDENING = 1.0  # - of the widening at a cap; judged, no source
GAP_NARROWS = 0.3  # -, share of the contact radius lost per gap over thickness


@dataclass(frozen=True, slots=True)
class Resolution:
    """How finely a weld is resolved in space and time."""

    cell: float = CELL  # m, near the weld
    t_step: float = T_STEP  # K, aim of the step control
    longest_step: float = LONGEST_STEP  # s
    tolerance: float = 2e-3  # - of the potential, energy norm
    whole: bool = False  # solve both halves of a symmetric stack-up
    cooling: bool = True  # go on after the hold; nuggets don't change any more there
    most_cells: int = 0  # coarser cells where a thick stack-up would take more; 0: never


# sheets of car bodies stay below these counts; plates of 6 mm would take half a minute
DEFAULT = Resolution(most_cells=9_000)
COARSE = Resolution(cell=2e-4, t_step=120.0, longest_step=5e-3, most_cells=3_000)


@dataclass(frozen=True, slots=True)
class Simulation:
    """What one march left behind; SI units, arrays for interfaces from side A."""

    layout: Layout
    nugget: Array  # (interfaces,), m
    axis_melted: Array  # (interfaces,), 1 where the widest melt had no solid centre, else 0 [-]
    penetration: Array  # (interfaces, 2), m
    cooling_t85: Array  # (interfaces,), s; NaN: never above 800 degC, inf: over 500 degC at the end
    contact_radius: Array  # (interfaces,), m, of what is pressed hard enough to seal melt in
    sunk: Array  # (2,), m, caps A and B
    heat: float  # J
    imbalance: float  # -, of the energy books, relative to the heat
    record: Array  # (steps, 3 + interfaces), SI: time, current, resistance, diameters
    peak: Array  # (nz, nr), degC
    at_off: Array  # (nz, nr), degC
    faces: FaceHistory
    trace: Array  # (all steps, 1 + points), time [s] and temperature at each point [degC]
    seconds: float  # s, in the compiled solver

    @property
    def boils(self) -> bool:
        """Somewhere metal comes to its boiling point; from there the figures are no weld's."""
        return bool(self.peak.max() >= TOP - 1.0)


class SolverFailed(ArithmeticError):
    """The solver met a state that is not finite or needed too many steps."""


def programme(set_up: SpotSetUp) -> tuple[Array, Array]:
    """Return break points of the set current: times [s] and rms values [A], straight in between."""
    times, amps, now = [], [], 0.0
    for pulse in set_up.pulses:
        level_from = now + pulse.up_slope
        level_to = max(now + pulse.time - pulse.down_slope, level_from)
        end = now + pulse.time
        times += [now, level_from, level_to, end]
        first = 0.0 if pulse.up_slope > 0.0 else pulse.current
        last = 0.0 if pulse.down_slope > 0.0 else pulse.current
        amps += [first, pulse.current, pulse.current, last]
        if pulse.cool_time > 0.0 and pulse is not set_up.pulses[-1]:
            times += [end, end + pulse.cool_time]
            amps += [0.0, 0.0]
        now = end + pulse.cool_time
    return np.array(times), np.array(amps)


def check_set_up(set_up: SpotSetUp) -> None:
    """Refuse a set-up that can't be set or can't be computed.

    Raises
    ------
    BadInput
        Naming the key of the weld file.
    """
    if not set_up.pulses:
        raise BadInput("pulse", "none given; a spot weld needs at least one pulse of current")
    for pulse in set_up.pulses:
        if not 100.0 <= pulse.current <= 60e3:
            raise BadInput("welding_current", f"is {pulse.current:g} A; give 0.1 to 60 kA rms")
        if not 1e-3 <= pulse.time <= 5.0:
            raise BadInput("weld_time", f"is {1e3 * pulse.time:g} ms; give 1 ms to 5 s")
        if not (pulse.up_slope >= 0.0 <= pulse.down_slope and pulse.cool_time >= 0.0):
            raise BadInput("pulse", "a slope or cool time is negative; give 0 ms or more")
        if pulse.up_slope + pulse.down_slope > pulse.time + 1e-9:
            raise BadInput("pulse", "the slopes are longer than the pulse they are part of")
    if not 100.0 <= set_up.electrode_force <= 50e3:
        raise BadInput("electrode_force", f"is {set_up.electrode_force:g} N; give 0.1 to 50 kN")
    if not (set_up.hold_time >= 0.0 and set_up.weld_time + set_up.hold_time <= MAX_TIME):
        raise BadInput("hold_time", f"current and hold may last {MAX_TIME:g} s together at most")
    for cap in (set_up.cap_a, set_up.cap_b):
        _check_cap(cap)


def _check_cap(cap: ElectrodeCap) -> None:
    if cap.face_diameter is None and cap.radius is None:
        raise BadInput("electrode_face", "give electrode_face, electrode_radius or both")
    if cap.face_diameter is not None and not 1e-3 <= cap.face_diameter <= cap.body_diameter:
        raise BadInput(
            "electrode_face",
            f"is {1e3 * cap.face_diameter:g} mm; give 1 mm to the body diameter, "
            f"{1e3 * cap.body_diameter:g} mm",
        )
    if cap.radius is not None and not 2e-3 <= cap.radius <= 1.0:
        raise BadInput("electrode_radius", f"is {1e3 * cap.radius:g} mm; give 2 to 1000 mm")


def force_at_interface(stack: StackUp, force: float) -> tuple[float, float]:
    """Force left for the faying contacts after a gap is closed, and the radius factor.

    A strip clamped at both ends is bent by the gap; what that takes is not there to press.

    Parameters
    ----------
    stack : StackUp
        With its gap.
    force : float
        Set on the machine [N].

    Returns
    -------
    tuple of float
        Force [N] and factor on the contact radius [-].

    Sources
    -------
    handbook-memory (clamped beam with a central load).
    """
    if stack.gap <= 0.0:
        return force, 1.0
    thinnest = min(sheet.thickness for sheet in stack.sheets)
    inertia = FLANGE_WIDTH * thinnest**3 / 12
    lost = 192.0 * YOUNG * inertia * stack.gap / GAP_SPAN**3
    factor = max(1.0 - GAP_NARROWS * stack.gap / thinnest, 0.4)
    return force - min(lost, MOST_FORCE_LOST * force), factor


def is_symmetric(stack: StackUp, set_up: SpotSetUp) -> bool:
    """Both halves of the stack-up are alike; the mirror is an interface or within a sheet."""
    sheets = stack.sheets
    return sheets == sheets[::-1] and set_up.cap_a == set_up.cap_b


@lru_cache(maxsize=64)
def _tables(steels: tuple[Steel, ...]) -> MaterialTables:
    copper = copper_curves()
    return material_tables([copper, *map(curves, steels), copper])


def segments(set_up: SpotSetUp, after_hold: float = AFTER_HOLD) -> Array:
    """Straight pieces of the current programme, hold and cooling last.

    Parameters
    ----------
    set_up : SpotSetUp
        What is set.
    after_hold : float
        Cooling in air after the hold [s].

    Returns
    -------
    Array
        (pieces, 4): begin [s], end [s], first and last current [A].
    """
    times, amps = programme(set_up)
    pieces = [
        (a, b, first, last)
        for a, b, first, last in zip(times, times[1:], amps, amps[1:], strict=False)
        if b - a > 1e-9
    ]
    end = float(times[-1])
    pieces.append((end, end + set_up.hold_time + after_hold, 0.0, 0.0))
    return np.array(pieces, dtype=np.float64)


def _contact_facts(stack: StackUp, set_up: SpotSetUp, c: ContactConstants) -> Array:
    """One row for each contact from side A, columns as in ``fields.py``."""
    sheets = stack.sheets
    pressed, narrowed = force_at_interface(stack, set_up.electrode_force)
    depth = np.concatenate([[0.0], np.cumsum([sheet.thickness for sheet in sheets])])
    facts = np.zeros((len(sheets) + 1, f.CONTACT_FACTS))
    for q, row in enumerate(facts):
        row[f.DEPTH_A], row[f.DEPTH_B] = depth[q], depth[-1] - depth[q]
        row[f.FORCE], row[f.NARROWED] = pressed, narrowed
        if 0 < q < len(sheets):
            a, b = sheets[q - 1], sheets[q]
            row[f.COLD_FILM] = c.faying_film * between(a.coating, b.coating)
            # what melts is pressed into a ring round the contact and carries current there
            widening = 0.5 * (CONTACTS[a.coating].widening + CONTACTS[b.coating].widening)
            row[f.HALO] = FAYING_WIDENING * widening * min(a.thickness, b.thickness)
            row[f.MELTS] = min(CONTACTS[a.coating].melts, CONTACTS[b.coating].melts)
        else:
            sheet = sheets[0] if q == 0 else sheets[-1]
            coated = CONTACTS[sheet.coating]
            row[f.COLD_FILM] = c.cap_film * coated.cap
            row[f.HALO], row[f.MELTS] = coated.widening * sheet.thickness, coated.melts
            row[f.FORCE], row[f.NARROWED] = set_up.electrode_force, 1.0
    return facts


def _cap_facts(stack: StackUp, set_up: SpotSetUp, tables: MaterialTables) -> Array:
    from buttonhole.weld.spot.contact_mechanics import cap_radius, first_depth

    facts = np.zeros((2, f.CAP_FACTS))
    for side, (row, cap) in enumerate(zip(facts, (set_up.cap_a, set_up.cap_b), strict=True)):
        face = cap.face_diameter / 2 if cap.face_diameter is not None else 0.0
        dome, body = cap.radius or 0.0, cap.body_diameter / 2
        strength = float(tables.flow_stress[1 if side == 0 else -2, 0])
        row[f.FACE], row[f.DOME], row[f.BODY] = face, dome, body
        row[f.OUTER_SHEET] = stack.sheets[0 if side == 0 else -1].thickness
        row[f.DEPTH] = first_depth(set_up.electrode_force, strength, face, dome)
        row[f.RADIUS] = cap_radius(row[f.DEPTH], face, dome, body)
    return facts


def _cells(layout: Layout) -> Array:
    """Fields at the start: everything at room temperature, where enthalpy is counted from."""
    nz, nr = layout.part.shape
    cells = np.zeros((f.CELL_FIELDS, nz, nr))
    for field in (f.TEMPERATURE, f.PEAK, f.AT_OFF):
        cells[field] = ROOM
    for field in (f.CONDUCTIVITY, f.RESISTIVITY):
        cells[field] = 1.0  # in air nothing flows, but nothing may be divided by zero either
    rings = math.pi * np.diff(layout.r_faces**2)
    cells[f.VOLUME] = np.diff(layout.z_faces)[:, None] * rings[None, :]
    cells[f.POTENTIAL] = 1.0 - ((np.arange(nz) + 0.5) / nz)[:, None]
    return cells


def simulate(
    stack: StackUp,
    set_up: SpotSetUp,
    resolution: Resolution = DEFAULT,
    constants: ContactConstants = CONTACT,
    *,
    points: tuple[Point, ...] = (),
) -> Simulation:
    """March one weld.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    resolution : Resolution
        Cells [m] and steps [K, s].
    constants : ContactConstants
        The contact model's numbers.
    points : tuple of Point
        Where the temperature is wanted against time.

    Returns
    -------
    Simulation
        Fields and figures in SI units.

    Raises
    ------
    BadInput
        When the set-up can't be computed.
    SolverFailed
        When the numbers went out of bounds.
    """
    check_set_up(set_up)
    for point in points:
        check_point(point, stack.total_thickness)
    started = time.perf_counter()
    tables = _tables(tuple(sheet.steel for sheet in stack.sheets))
    half = is_symmetric(stack, set_up) and not resolution.whole
    joint = (_contact_facts(stack, set_up, constants), _cap_facts(stack, set_up, tables), half)
    layout = _lay_out(stack, set_up, resolution, half, float(joint[1][:, f.RADIUS].min()))
    solved = mirrored(layout) if half else layout
    read = stencil(solved, points, stack.total_thickness)
    left = _march(solved, tables, joint, constants, set_up, resolution, read)
    return _simulation(layout, left, half, time.perf_counter() - started)


def _lay_out(
    stack: StackUp, set_up: SpotSetUp, resolution: Resolution, half: bool, narrowest: float
) -> Layout:
    layout = lay_out(stack, set_up.cap_a, set_up.cap_b, resolution.cell, narrowest)
    count = layout.part.size // (2 if half else 1)
    if not 0 < resolution.most_cells < count:
        return layout
    cell = resolution.cell * math.sqrt(count / resolution.most_cells)
    return lay_out(stack, set_up.cap_a, set_up.cap_b, cell, narrowest)


def _march(
    layout: Layout,
    tables: MaterialTables,
    joint: tuple[Array, Array, bool],
    constants: ContactConstants,
    set_up: SpotSetUp,
    resolution: Resolution,
    read: tuple[NDArray[np.int64], Array],
) -> "_Left":
    """Lay out the arrays, run the kernel, and hand back what it filled."""
    # Only here are compiled kernels needed; importing them costs more than the rest together.
    from buttonhole.weld.spot import march as kernel

    nz, nr = layout.part.shape
    rows, cells = layout.contact_rows, _cells(layout)
    contact = np.zeros((f.CONTACT_FIELDS, len(rows), nr))
    contact[f.HOTTEST] = ROOM
    faying = len(rows) - (1 if joint[2] else 2)
    record = np.zeros((MAX_STEPS, f.R_NUGGET + faying))
    findings, sums, radii = (
        np.zeros((faying, f.FINDINGS)),
        np.zeros(f.SUMS),
        np.zeros((2, len(rows))),
    )
    trace = np.zeros((4 * MAX_STEPS + 2, 1 + len(read[0])))  # the kernel stops before it is full
    faces = empty_faces(faying, nr, ROOM)
    by_enthalpy = np.stack([tables.temperature, tables.conductivity, tables.resistivity])
    melting = np.stack([tables.solidus, tables.liquidus])
    plan = segments(set_up, AFTER_HOLD if resolution.cooling else ONE_STEP)
    status, steps = kernel.march(
        cells,
        (layout.part, layout.r_faces, np.diff(layout.r_faces), np.diff(layout.z_faces),
         layout.contact_of, rows),
        (tables.enthalpy_step, by_enthalpy, tables.enthalpy, tables.flow_stress, melting),
        (*joint, constants.array()),
        (plan, float(plan[-1, 0]) + set_up.hold_time, FREQUENCY[set_up.current_type]),
        (contact, np.zeros((4, nz + 1, nr + 1)), np.zeros((f.END_FIELDS, nr)), np.zeros(nr),
         np.zeros((nr, 4))),
        (record, findings, sums, radii, (*read, trace, faces)),
        resolution.t_step, resolution.longest_step, resolution.tolerance,
    )  # fmt: skip
    if status != f.DONE:
        why = "not finite" if status == f.NOT_FINITE else f"more than {MAX_STEPS} steps"
        raise SolverFailed(f"spot weld: {why} after {steps} steps")
    noted = 1 + int(np.count_nonzero(trace[:, 0]))  # the first one at time 0
    return _Left(
        cells, record[:steps].copy(), findings, sums, radii, joint[1], faces, trace[:noted].copy()
    )


@dataclass(frozen=True, slots=True)
class _Left:
    """What the kernel left behind, of the half that was solved; SI units."""

    cells: Array  # (fields, nz, nr), SI
    record: Array  # (steps, columns), SI
    findings: Array  # (interfaces, columns), SI
    sums: Array  # J
    radii: Array  # (2, contacts), m, touching and sealing
    caps: Array  # (2, columns), SI
    faces: Array  # (interfaces, fields, nr), SI
    trace: Array  # (all steps, 1 + points), s and degC


def _simulation(layout: Layout, left: _Left, half: bool, seconds: float) -> Simulation:
    """Complete a mirrored half, and name what was found."""
    record, findings, radii, faces = left.record, left.findings, left.radii[:, 1:], left.faces
    peak, at_off = left.cells[f.PEAK], left.cells[f.AT_OFF]
    twice = 2.0 if half else 1.0
    if half:
        peak, at_off = (np.concatenate([field, field[::-1]]) for field in (peak, at_off))
        # with an even number of sheets the middle interface is its own mirror image
        own = 1 if layout.contact_of[layout.part.shape[0] // 2] >= 0 else 0
        back = findings[: len(findings) - own][::-1].copy()
        back[:, [f.DEEPEST_A, f.DEEPEST_B]] = back[:, [f.DEEPEST_B, f.DEEPEST_A]]
        diameters = record[:, f.R_NUGGET :]
        record = np.concatenate([record, diameters[:, : len(back)][:, ::-1]], axis=1)
        record[:, f.R_RESISTANCE] *= 2.0
        radii = np.concatenate([radii, radii[:, : len(back)][:, ::-1]], axis=1)
        faces = np.concatenate([faces, faces[: len(back)][::-1]])
        findings = np.concatenate([findings, back])
    else:
        radii = radii[:, :-1]
    at_800, at_500 = findings[:, f.AT_800], findings[:, f.AT_500]
    known = (at_800 > 0.0) & (at_500 > at_800)
    unknown = np.where(findings[:, f.LAST_AXIS] > 500.0, math.inf, math.nan)
    released, crossed = twice * left.sums
    stored = twice * float((left.cells[f.ENTHALPY] * left.cells[f.VOLUME]).sum())
    return Simulation(
        layout=layout,
        nugget=findings[:, f.WIDEST].copy(),
        axis_melted=findings[:, f.WIDEST_IS_FULL].copy(),
        penetration=findings[:, [f.DEEPEST_A, f.DEEPEST_B]],
        cooling_t85=np.where(known, at_500 - at_800, unknown),
        contact_radius=radii[1, : len(findings)],
        sunk=left.caps[:, f.DEPTH].copy(),
        heat=float(released),
        imbalance=float((released + crossed - stored) / max(released, 1e-9)),
        record=record,
        peak=peak,
        at_off=at_off,
        faces=face_history(faces, radii[0, : len(findings)]),
        trace=left.trace,
        seconds=seconds,
    )
