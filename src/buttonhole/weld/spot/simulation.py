"""From a stack-up and a set-up to one march through the weld."""

import math
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import copper_curves, curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.heat.tables import MaterialTables, material_tables
from buttonhole.weld.spot.coated_contact import CONTACTS, between
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.layout import Layout, lay_out
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

Array = NDArray[np.float64]

CELL = 1e-4  # m
T_STEP = 60.0  # K, change per step the controller aims at
LONGEST_STEP = 1e-3  # s
MAX_STEPS = 20_000
MAX_TIME = 6.0  # s from first current on to the end of hold
AFTER_HOLD = 2.0  # s of cooling in air, at most
ROOM = 20.0  # degC
FREQUENCY = {CurrentType.MFDC: 0.0, CurrentType.AC50: 50.0, CurrentType.AC60: 60.0}  # Hz
YOUNG = 210e9  # Pa
FLANGE_WIDTH, GAP_SPAN = 20e-3, 60e-3  # m, the strip that is bent to close a gap; common practice
MOST_FORCE_LOST = 0.5  # -, a strip that needs more force yields
GAP_NARROWS = 0.3  # -, share of the contact radius lost per gap over thickness


@dataclass(frozen=True, slots=True)
class Resolution:
    """Cell size near the weld [m] and time steps: aim [K] and longest [s]."""

    cell: float = CELL
    t_step: float = T_STEP
    longest_step: float = LONGEST_STEP


DEFAULT = Resolution()
COARSE = Resolution(cell=2e-4, t_step=120.0, longest_step=2e-3)


@dataclass(frozen=True, slots=True)
class Simulation:
    """What one march left behind; SI units, arrays for interfaces from side A."""

    layout: Layout
    nugget: Array  # (interfaces,), m
    axis_melted: Array  # (interfaces,), liquid fraction on the axis at the largest nugget [-]
    penetration: Array  # (interfaces, 2), m
    cooling_t85: Array  # (interfaces,), s, NaN where the axis was never above 800 degC
    contact_radius: Array  # (interfaces,), m
    sunk: Array  # (2,), m, caps A and B
    heat: float  # J
    imbalance: float  # -, of the energy books, relative to the heat
    record: Array  # (steps, 3 + interfaces)
    peak: Array  # (nz, nr), degC
    at_off: Array  # (nz, nr), degC
    seconds: float  # s, in the compiled solver


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
    if not (0.0 <= set_up.hold_time and set_up.weld_time + set_up.hold_time <= MAX_TIME):
        raise BadInput("hold_time", f"current and hold may last {MAX_TIME:g} s together at most")
    for cap in (set_up.cap_a, set_up.cap_b):
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
    """Force left for the faying contacts [N] after a gap is closed, and the radius factor [-].

    A strip clamped at both ends is bent by the gap; what that takes is not there to press.

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


def _tables(stack: StackUp) -> MaterialTables:
    copper = copper_curves()
    return material_tables([copper, *(curves(sheet.steel) for sheet in stack.sheets), copper])


def _films(stack: StackUp, c: ContactConstants) -> tuple[Array, Array]:
    coatings = [sheet.coating for sheet in stack.sheets]
    film = [c.faying_film * between(a, b) for a, b in zip(coatings, coatings[1:], strict=False)]
    ends = (coatings[0], coatings[-1])
    outer = [c.cap_film * CONTACTS[coating].cap for coating in ends]
    widen = np.zeros(len(coatings) + 1)
    for place, coating, sheet in ((0, ends[0], stack.sheets[0]), (-1, ends[1], stack.sheets[-1])):
        widen[place] = CONTACTS[coating].widening * sheet.thickness
    return np.array([outer[0], *film, outer[1]]), widen


def _cap_numbers(cap: ElectrodeCap) -> list[float]:
    face = cap.face_diameter / 2 if cap.face_diameter is not None else 0.0
    return [face, cap.radius or 0.0, cap.body_diameter / 2]


def simulate(
    stack: StackUp,
    set_up: SpotSetUp,
    resolution: Resolution = DEFAULT,
    constants: ContactConstants = CONTACT,
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
    # Only here are compiled kernels needed; importing them costs more than the rest together.
    from buttonhole.weld.spot import march as kernel

    check_set_up(set_up)
    layout = lay_out(stack, set_up.cap_a, set_up.cap_b, resolution.cell)
    tables = _tables(stack)
    film, widen = _films(stack, constants)
    contacts, faces = len(film), len(film) - 2
    pressed, factor = force_at_interface(stack, set_up.electrode_force)
    force = np.full(contacts, pressed)
    force[[0, -1]] = set_up.electrode_force
    times, amps = programme(set_up)
    hold_until = float(times[-1]) + set_up.hold_time
    record = np.zeros((MAX_STEPS, 3 + faces))
    summary = np.zeros(8 + 6 * faces + contacts)
    peak, at_off = (np.full(layout.part.shape, ROOM) for _ in range(2))
    c = constants
    started = time.perf_counter()
    status, steps = kernel.march(
        layout.r_faces, layout.z_faces, layout.part, layout.contact_of, layout.contact_rows,
        tables.enthalpy_step, tables.temperature, tables.conductivity, tables.resistivity,
        tables.enthalpy, tables.flow_stress, tables.solidus, tables.liquidus,
        times, amps, FREQUENCY[set_up.current_type], hold_until, hold_until + AFTER_HOLD,
        force, film, widen, factor,
        np.array([_cap_numbers(set_up.cap_a), _cap_numbers(set_up.cap_b)]),
        np.array([stack.sheets[0].thickness, stack.sheets[-1].thickness]),
        (c.film_exponent, c.faying_conductance, c.cap_conductance, c.conductance_exponent),
        c.pressure_shape, c.spread,
        (c.sinking_rate, c.sinking_exponent, c.sinking_friction),
        resolution.t_step, resolution.longest_step, np.full(len(tables.solidus), ROOM),
        peak, at_off, record, summary,
    )  # fmt: skip
    seconds = time.perf_counter() - started
    if status != kernel.DONE:
        why = "not finite" if status == kernel.NOT_FINITE else f"more than {MAX_STEPS} steps"
        raise SolverFailed(f"spot weld: {why} after {steps} steps")
    found = summary[8 : 8 + 6 * faces].reshape(faces, 6)
    below_800, below_500 = found[:, 4], found[:, 5]
    known = (below_800 > 0.0) & (below_500 > below_800)
    return Simulation(
        layout=layout,
        nugget=found[:, 0],
        axis_melted=found[:, 1],
        penetration=found[:, 2:4],
        cooling_t85=np.where(known, below_500 - below_800, math.nan),
        contact_radius=summary[8 + 6 * faces : 8 + 7 * faces],
        sunk=summary[3:5],
        heat=float(summary[0]),
        imbalance=float((summary[0] + summary[1] - summary[2]) / max(summary[0], 1e-9)),
        record=record[:steps],
        peak=peak,
        at_off=at_off,
        seconds=seconds,
    )


