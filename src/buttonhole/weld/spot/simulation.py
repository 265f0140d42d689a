"""From a stack-up and a set-up to one march through the weld.

Numbers without a source beside them are common practice, no source.
"""

import dataclasses
import math
import time
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.coating import Coating
from buttonhole.joint.material import copper_curves, curves
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import Steel
from buttonhole.weld.heat import tables as by_heat
from buttonhole.weld.heat.tables import TOP, MaterialTables, material_tables
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot.coated_contact import CONTACTS, between
from buttonhole.weld.spot.condition import NORMAL, ROOM, SpotCondition
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.cycle import Point, check_point, stencil
from buttonhole.weld.spot.effects import feed_row, overlap, sealing_radii
from buttonhole.weld.spot.face_history import FaceHistory, empty_faces, face_history
from buttonhole.weld.spot.layout import Layout, lay_out, mirrored
from buttonhole.weld.spot.pressing import force_at_interface
from buttonhole.weld.spot.programme import FREQUENCY, check_set_up, segments
from buttonhole.weld.spot.set_up import SpotSetUp

Array = NDArray[np.float64]

CELL = 1e-4  # m
T_STEP = 150.0  # K, change per step the controller aims at
LONGEST_STEP = 6e-3  # s
MAX_STEPS = 20_000
AFTER_HOLD = 2.0  # s of cooling in air, at most
SQUEEZE_STEP = 0.01  # s
ONE_STEP = 1e-4  # s of it, so that the contacts learn where the caps came to rest
REFERENCE_STRENGTH = 200e6  # Pa, SAE 1010
FAYING_WIDENING = 1.0  # - of the widening at a cap; judged, no source
NO_WATER = 1e-6  # W/m2/K in an air-cooled cap: within one weld its heat stays in the copper
MOST_NARROWED = 10.0  # -, a contact that has left the weld altogether


@dataclass(frozen=True, slots=True)
class Resolution:
    """How finely a weld is resolved in space and time."""

    cell: float = CELL  # m, near the weld
    t_step: float = T_STEP  # K, aim of the step control
    longest_step: float = LONGEST_STEP  # s
    tolerance: float = 2e-3  # - of the potential, energy norm
    whole: bool = False  # solve both halves of a symmetric stack-up
    everywhere: bool = False  # work every cell from the start, also air and what no heat reaches
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
    contact_radius: Array  # (interfaces,), m, of the pressed contact, on its worst side
    given: float  # -, current from the machine over that set, root mean square
    passed: float  # -, current through the weld over that from the machine
    load: Array  # (interfaces,), -, most that pressed the ring round a nugget open over what held
    diameter_at_limit: Array  # (interfaces,), m, nugget when the load came to the limit; else 0
    skin: Array  # (2,), degC, hottest place of a sheet's face under caps A and B
    sunk: Array  # (2,), m, caps A and B
    heat: float  # J
    imbalance: float  # -, of the energy books, relative to the heat
    record: Array  # (steps, 3 + interfaces), SI: time, current, resistance, diameters
    peak: Array  # (nz, nr), degC
    at_off: Array  # (nz, nr), degC
    faces: FaceHistory
    trace: Array  # (all steps, 1 + points), time [s] and temperature at each point [degC]
    worked: float  # -, of the cells of the section, mean over the steps
    seconds: float  # s, in the compiled solver

    @property
    def boils(self) -> bool:
        """Somewhere metal comes to its boiling point; from there the figures are no weld's."""
        return bool(self.peak.max() >= TOP - 1.0)


class SolverFailed(ArithmeticError):
    """The solver met a state that is not finite or needed too many steps."""


def is_symmetric(stack: StackUp, set_up: SpotSetUp) -> bool:
    """Both halves of the stack-up are alike; the mirror is an interface or within a sheet."""
    sheets = stack.sheets
    return sheets == sheets[::-1] and set_up.cap_a == set_up.cap_b


@lru_cache(maxsize=64)
def _tables(steels: tuple[Steel, ...]) -> MaterialTables:
    copper = copper_curves()
    return material_tables([copper, *map(curves, steels), copper])


def tables_of(stack: StackUp) -> MaterialTables:
    """Properties of caps and sheets by number of the part."""
    return _tables(tuple(sheet.steel for sheet in stack.sheets))


def cap_strength() -> float:
    """Strength of a cold cap [Pa], by the table of its copper.

    Returns
    -------
    float
        [Pa].
    """
    return float(copper_curves().flow_stress[0])


def relative_strength(a: Sheet, b: Sheet | None) -> float:
    """Strength of the softer of two bare faces [-] over that of the steel the films were fitted on.

    Asperities carry current where the softer face yields, so the cold film goes with its strength
    over the pressure. Where there is a coating it is the coating that yields, whatever the steel.
    ``None`` is a cap.
    """
    if a.coating is not Coating.BARE or (b is not None and b.coating is not Coating.BARE):
        return 1.0
    other = cap_strength() if b is None else b.steel.yield_strength
    return min(a.steel.yield_strength, other) / REFERENCE_STRENGTH


def _contact_facts(
    stack: StackUp, set_up: SpotSetUp, c: ContactConstants, pressed_share: float
) -> Array:
    """One row for each contact from side A, columns as in ``fields.py``."""
    sheets = stack.sheets
    pressed, gapped = force_at_interface(stack, set_up.electrode_force)
    depth = np.concatenate([[0.0], np.cumsum([sheet.thickness for sheet in sheets])])
    facts = np.zeros((len(sheets) + 1, f.CONTACT_FACTS))
    for q, row in enumerate(facts):
        row[f.DEPTH_A], row[f.DEPTH_B] = depth[q], depth[-1] - depth[q]
        row[f.FORCE], row[f.NARROWED] = pressed, gapped * pressed_share
        if 0 < q < len(sheets):
            a, b = sheets[q - 1], sheets[q]
            row[f.COLD_FILM] = c.faying_film * between(a.coating, b.coating)
            row[f.COLD_FILM] *= relative_strength(a, b)
            # what melts is pressed into a ring round the contact and carries current there
            widening = 0.5 * (CONTACTS[a.coating].widening + CONTACTS[b.coating].widening)
            row[f.HALO] = FAYING_WIDENING * widening * min(a.thickness, b.thickness)
            row[f.MELTS] = min(CONTACTS[a.coating].melts, CONTACTS[b.coating].melts)
            row[f.ZINC] = CONTACTS[a.coating].zinc + CONTACTS[b.coating].zinc
        else:
            sheet = sheets[0] if q == 0 else sheets[-1]
            coated = CONTACTS[sheet.coating]
            row[f.COLD_FILM] = c.cap_film * coated.cap * relative_strength(sheet, None)
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
        softer = min(strength, cap_strength())
        row[f.FACE], row[f.DOME], row[f.BODY] = face, dome, body
        row[f.OUTER_SHEET] = stack.sheets[0 if side == 0 else -1].thickness
        row[f.DEPTH] = first_depth(set_up.electrode_force, softer, face, dome)
        row[f.RADIUS] = cap_radius(row[f.DEPTH], face, dome, body)
    return facts


def start_cells(layout: Layout, tables: MaterialTables, caps: tuple[float, float] | Array) -> Array:
    """Fields at the start: sheets at room temperature, where enthalpy is counted from.

    Parameters
    ----------
    layout : Layout
        The section that is solved.
    tables : MaterialTables
        Copper first and last.
    caps : tuple of float or Array
        Temperatures of caps A and B [degC], or the enthalpy of every cell of them, (nz, nr) [J/m3].

    Returns
    -------
    Array
        (fields, nz, nr) [SI], temperatures in [degC].
    """
    nz, nr = layout.part.shape
    cells = np.zeros((f.CELL_FIELDS, nz, nr))
    cells[f.TEMPERATURE] = ROOM
    for cap, number in enumerate((0, len(tables.enthalpy) - 1)):
        at, heat = layout.part == number, tables.enthalpy[number]
        warm = by_heat.T_FIRST + by_heat.T_STEP * np.arange(len(heat))
        cells[f.ENTHALPY][at] = (
            np.interp(caps[cap], warm, heat) if isinstance(caps, tuple) else caps[at]
        )
        cells[f.TEMPERATURE][at] = np.interp(cells[f.ENTHALPY][at], heat, warm)
    cells[f.PEAK] = cells[f.AT_OFF] = cells[f.TEMPERATURE]
    for field in (f.CONDUCTIVITY, f.RESISTIVITY):
        cells[field] = 1.0  # in air nothing flows, but nothing may be divided by zero either
    for number in range(len(tables.enthalpy)):
        at = layout.part == number
        cells[f.CONDUCTIVITY][at] = tables.conductivity[number, 0]
        cells[f.RESISTIVITY][at] = tables.resistivity[number, 0]
    rings = math.pi * np.diff(layout.r_faces**2)
    cells[f.CAPACITY] = 1.0  # the same
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
    condition: SpotCondition = NORMAL,
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
    condition : SpotCondition
        What the weld is made in.

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
    return simulate_from(stack, set_up, resolution, constants, condition, points)[0]


def simulate_from(
    stack: StackUp,
    set_up: SpotSetUp,
    resolution: Resolution,
    constants: ContactConstants,
    condition: SpotCondition,
    points: tuple[Point, ...] = (),
    caps: Array | None = None,
) -> "tuple[Simulation, Left]":
    """March one weld from caps that are warm already; also what the kernel left behind.

    Parameters
    ----------
    stack, set_up, resolution, constants, condition, points
        As for ``simulate``.
    caps : Array or None
        Enthalpy of the caps' cells in the section that is solved, (nz, nr) [J/m3]; None for those
        of the condition.

    Returns
    -------
    tuple
        Figures and fields in SI units.
    """
    check_set_up(set_up)
    for point in points:
        check_point(point, stack.total_thickness)
    started = time.perf_counter()
    tables = tables_of(stack)
    as_pressed = condition.pressing(set_up)
    half = is_symmetric(stack, as_pressed) and not resolution.whole
    half = half and condition.cap_temperature[0] == condition.cap_temperature[1]
    if condition.water_temperature is None:
        constants = dataclasses.replace(constants, water_film=NO_WATER)
    facts = _contact_facts(stack, as_pressed, constants, overlap(stack, set_up, condition))
    joint = (facts, _cap_facts(stack, as_pressed, tables), half)
    layout = _lay_out(stack, as_pressed, resolution, half, float(joint[1][:, f.RADIUS].min()))
    solved = mirrored(layout) if half else layout
    read = stencil(solved, points, stack.total_thickness)
    cells = start_cells(solved, tables, condition.cap_temperature if caps is None else caps)
    feed = feed_row(stack, as_pressed, tables, condition)
    left = _march(solved, cells, tables, joint, constants, as_pressed, resolution, feed, read)
    found = _simulation(layout, left, half, time.perf_counter() - started)
    sealing = sealing_radii(found, stack, set_up, condition)
    # where the ring is narrower the same melt finds less to hold it: as the area within its edge
    narrower = np.divide(
        found.contact_radius, sealing, out=np.full_like(sealing, MOST_NARROWED), where=sealing > 0.0
    )
    load = found.load * np.minimum(narrower, MOST_NARROWED) ** 2
    return dataclasses.replace(found, contact_radius=sealing, load=load), left


def _lay_out(
    stack: StackUp, set_up: SpotSetUp, resolution: Resolution, half: bool, narrowest: float
) -> Layout:
    layout = lay_out(stack, set_up.cap_a, set_up.cap_b, resolution.cell, narrowest)
    count = layout.part.size // (2 if half else 1)
    if not 0 < resolution.most_cells < count:
        return layout
    cell = resolution.cell * math.sqrt(count / resolution.most_cells)
    return lay_out(stack, set_up.cap_a, set_up.cap_b, cell, narrowest)


Bundle = tuple[NDArray[Any], ...]


def bundles(layout: Layout, tables: MaterialTables) -> tuple[Bundle, Bundle, Bundle]:
    """Arrays the kernels share: grid and material as they are, work to be filled.

    Parameters
    ----------
    layout : Layout
        The section that is solved.
    tables : MaterialTables
        Of its parts.

    Returns
    -------
    tuple
        As listed in ``march`` [SI]; every row reaches as far as it has metal.
    """
    nz, nr = layout.part.shape
    reach = ((layout.part >= 0) * np.arange(1, nr + 1)).max(axis=1)
    grid = (layout.part, layout.r_faces, np.diff(layout.r_faces), np.diff(layout.z_faces),
            layout.contact_of, layout.contact_rows, reach)  # fmt: skip
    by_enthalpy = np.stack([tables.temperature, tables.conductivity, tables.resistivity])
    melting = np.stack([tables.solidus, tables.liquidus])
    material = (tables.enthalpy_step, by_enthalpy, tables.enthalpy, tables.flow_stress, melting)
    contact = np.zeros((f.CONTACT_FIELDS, len(grid[5]), nr))
    contact[f.HOTTEST], contact[f.SHARE] = ROOM, 1.0
    work = (contact, np.zeros((4, nz + 1, nr + 1)), np.zeros((f.END_FIELDS, nr)), np.zeros(nr),
            np.zeros((nr, 4)))  # fmt: skip
    return grid, material, work


def _march(
    layout: Layout,
    cells: Array,
    tables: MaterialTables,
    joint: tuple[Array, Array, bool],
    constants: ContactConstants,
    set_up: SpotSetUp,
    resolution: Resolution,
    feed: Array,
    read: tuple[NDArray[np.int64], Array],
) -> "Left":
    """Lay out the arrays, run the kernel, and hand back what it filled."""
    # Only here are compiled kernels needed; importing them costs more than the rest together.
    from buttonhole.weld.spot import march as kernel

    first = cells[f.ENTHALPY].copy()
    begun = float((first * cells[f.VOLUME]).sum())
    grid, material, work = bundles(layout, tables)
    if resolution.everywhere:
        grid[6][:] = layout.part.shape[1]
    contacts = len(layout.contact_rows)
    faying = contacts - (1 if joint[2] else 2)
    record = np.zeros((MAX_STEPS, f.R_NUGGET + faying))
    findings, sums = np.zeros((faying, f.FINDINGS)), np.zeros(f.SUMS)
    radii, pressing = np.zeros(contacts), (*joint, constants.array())
    trace = np.zeros((4 * MAX_STEPS + 2, 1 + len(read[0])))  # the kernel stops before it is full
    faces = empty_faces(faying, layout.part.shape[1], ROOM)
    if begun > 0.0:
        # warm caps warm the sheets while they press and no current flows yet
        from buttonhole.weld.spot.waiting import wait

        sums[f.CROSSED] += wait(
            cells, grid, material, pressing, feed, work, radii, False, set_up.squeeze_time,
            SQUEEZE_STEP,
        )  # fmt: skip
        # the first current meets the contacts as a cold weld's does: no heat of a film before it
        work[0][f.FILM], work[0][f.CONDUCTANCE] = 0.0, 0.0
        work[1][:] = 0.0  # beyond its reach no row conducts, see ``active``
    if not resolution.everywhere:
        first_column = layout.part[:, 0]
        grid[6][(first_column > 0) & (first_column < len(tables.enthalpy) - 1)] = 0
    plan = segments(set_up, AFTER_HOLD if resolution.cooling else ONE_STEP)
    until = float(plan[-1, 0]) + set_up.hold_time
    status, steps = kernel.march(
        cells, grid, material, pressing, (plan, until, FREQUENCY[set_up.current_type], feed),
        work, (record, findings, sums, radii, (*read, trace, faces)), resolution.t_step,
        resolution.longest_step, resolution.tolerance,
    )  # fmt: skip
    if status != f.DONE:
        why = "not finite" if status == f.NOT_FINITE else f"more than {MAX_STEPS} steps"
        raise SolverFailed(f"spot weld: {why} after {steps} steps")
    noted = 1 + int(np.count_nonzero(trace[:, 0]))  # the first one at time 0
    return Left(
        cells, record[:steps].copy(), findings, sums, radii, joint[1], faces, trace[:noted].copy(),
        begun, layout, first, joint[0],
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Left:
    """What the kernel left behind, of the half that was solved; SI units."""

    cells: Array  # (fields, nz, nr), SI
    record: Array  # (steps, columns), SI
    findings: Array  # (interfaces, columns), SI
    sums: Array  # (sums,), SI
    radii: Array  # (contacts,), m
    caps: Array  # (2, columns), SI
    faces: Array  # (interfaces, fields, nr), SI
    trace: Array  # (all steps, 1 + points), s and degC
    begun: float  # J in it at the start, counted from room temperature
    layout: Layout
    begun_enthalpy: Array  # (nz, nr), J/m3
    facts: Array  # (contacts, columns), SI


def _simulation(layout: Layout, left: Left, half: bool, seconds: float) -> Simulation:
    """Complete a mirrored half, and name what was found."""
    record, findings, radii, faces = left.record, left.findings, left.radii[1:], left.faces
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
        radii = np.concatenate([radii, radii[: len(back)][::-1]])
        faces = np.concatenate([faces, faces[: len(back)][::-1]])
        findings = np.concatenate([findings, back])
    else:
        radii = radii[:-1]
    at_800, at_500 = findings[:, f.AT_800], findings[:, f.AT_500]
    known = (at_800 > 0.0) & (at_500 > at_800)
    unknown = np.where(findings[:, f.LAST_AXIS] > 500.0, math.inf, math.nan)
    released, crossed = twice * left.sums[f.RELEASED], twice * left.sums[f.CROSSED]
    stored = twice * (float((left.cells[f.ENTHALPY] * left.cells[f.VOLUME]).sum()) - left.begun)
    asked, given, passed = (float(left.sums[n]) for n in (f.SET, f.GIVEN, f.PASSED))
    return Simulation(
        layout=layout,
        nugget=findings[:, f.WIDEST].copy(),
        axis_melted=findings[:, f.WIDEST_IS_FULL].copy(),
        penetration=findings[:, [f.DEEPEST_A, f.DEEPEST_B]],
        cooling_t85=np.where(known, at_500 - at_800, unknown),
        contact_radius=radii[: len(findings)],
        given=math.sqrt(given / asked) if asked > 0.0 else 1.0,
        passed=math.sqrt(passed / given) if given > 0.0 else 1.0,
        load=findings[:, f.LOAD].copy(),
        diameter_at_limit=findings[:, f.AT_LIMIT].copy(),
        skin=left.sums[[f.SKIN_A, f.SKIN_B]],
        sunk=left.caps[:, f.DEPTH].copy(),
        heat=float(released),
        imbalance=float((released + crossed - stored) / max(released, 1e-9)),
        record=record,
        peak=peak,
        at_off=at_off,
        faces=face_history(faces, radii[: len(findings)]),
        trace=left.trace,
        worked=float(left.sums[f.WORKED]) / (len(left.trace) * left.layout.part.size),
        seconds=seconds,
    )
