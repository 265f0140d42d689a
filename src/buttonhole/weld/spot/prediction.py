"""What is said of a weld before an arc is struck: figures with intervals, pictures, warnings."""

import dataclasses
import itertools
import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.metallurgy import RELATIVE_SPREAD, martensite_hardness, sheet_hardness
from buttonhole.weld.spot.bond import corona
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.cost import condition_costs
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.effects import nugget_shape
from buttonhole.weld.spot.expulsion import after_expulsion, splash
from buttonhole.weld.spot.result import Course, InterfaceWeld, Section, SpotWeld, ThermalCycle
from buttonhole.weld.spot.separation import sheet_separation
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import (
    COARSE,
    DEFAULT,
    Resolution,
    Simulation,
    simulate,
)
from buttonhole.weld.spot.thermal_cycle import thermal_cycles
from buttonhole.weld.spot.timing import HoldEffect, Pairs, cooling_estimate, hold_effect, melting
from buttonhole.weld.spot.weld_warnings import weld_warnings
from buttonhole.weld.spot.zones import SheetZones, fusion_temperature, sheet_zones

MODEL_VERSION = "spot-7"

BUTTON_OVER_NUGGET = 1.12  # -, published ratios of peel button to section nugget: 1.10 and 1.14
BUTTON_SPREAD = 0.03  # -, standard deviation of that ratio, judged, no source
MODEL_SPREAD = 0.07  # -, of a nugget diameter against published bare rows: 56 of 60 lie inside
COATED_SPREAD = 0.14  # -, the same for coated sheet, judged wider, no source
LOAD_SPREAD = 0.10  # -, standard deviation of the logarithm of a ring's load; judged, no source
# What is known least, by how much it may be off (factor, one standard deviation; judged).
CAP_CONDUCTANCE_DOUBT = 1.3  # - factor, one standard deviation; judged, no source
DOUBTS = {"rim": 1.3, "cap_film": 1.5, "faying_film": 1.5, "sinking_rate": 2.0}

Array = NDArray[np.float64]


def predict(
    stack: StackUp,
    set_up: SpotSetUp,
    *,
    resolution: Resolution = DEFAULT,
    constants: ContactConstants = CONTACT,
    points: tuple[Point, ...] = (),
    condition: SpotCondition = NORMAL,
) -> SpotWeld:
    """Predict a resistance spot weld.

    Parameters
    ----------
    stack : StackUp
        Two to four sheets from side A.
    set_up : SpotSetUp
        What is set on the machine.
    resolution : Resolution
        Cells [m] and steps of the solver.
    constants : ContactConstants
        The contact model's numbers.
    points : tuple of Point
        Where the thermal cycle is wanted, besides the centres of the faying interfaces.
    condition : SpotCondition
        What the weld is made in: gun, caps, mains, the last weld.

    Returns
    -------
    SpotWeld
        Figures in SI units with 90 % intervals.

    Raises
    ------
    BadInput
        When the set-up can't be computed.
    SolverFailed
        When the numbers went out of bounds.

    Sources
    -------
    cooper-1969 and senkara-2004 (from memory); iso-14373 for the words.
    """
    asked = (*_centres(stack), *points)
    # First the coarse ones: the kernels are loaded then, and the seconds told are the solver's own.
    doubted = _doubted(stack, set_up, constants, condition, asked)
    best = simulate(stack, set_up, resolution, constants, points=asked, condition=condition)
    return _weld(stack, set_up, constants, condition, asked, best, doubted)


def _weld(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    asked: tuple[Point, ...],
    best: Simulation,
    doubted: Pairs,
) -> SpotWeld:
    """All that is said of a weld, from what was marched."""
    cooled = _cooled(stack, set_up, constants, condition, doubted)
    interfaces = _interfaces(stack, set_up, constants, condition, best, doubted, cooled)
    cooling = _cooling(interfaces)
    sheets = sheet_zones(best, doubted, stack)
    cycles = thermal_cycles(best, doubted, asked, len(interfaces))
    hold = _hold(stack, set_up, constants, condition, cycles, interfaces)
    costs = condition_costs(stack, set_up, condition, constants)
    beside, oval = nugget_shape(best.sunk, stack, set_up, condition)
    return SpotWeld(
        interfaces=interfaces,
        expulsion_probability=_expulsion(best, stack, doubted),
        indentation=around(float(best.sunk.max()), 0.5),
        haz_diameter=max((one.haz_diameter for one in sheets), key=lambda one: one.value),
        cooling_t85=cooling,
        heat=around(best.heat, 0.08),
        peak_hardness=around(_hardest(sheets, stack, cooling.value), RELATIVE_SPREAD / Z90),
        course=_course(best),
        section=_section(best),
        warnings=weld_warnings(best, stack, interfaces, hold) + costs.texts,
        solver_seconds=best.seconds,
        model_version=MODEL_VERSION,
        sheets=sheets,
        hold=hold,
        cycles=cycles,
        current_off=set_up.weld_time,
        release=set_up.weld_time + set_up.hold_time,
        condition=condition,
        current_given=best.given,
        current_passed=best.passed,
        nugget_offset=beside,
        nugget_ovality=oval,
        condition_costs=costs.costs,
    )


def _centres(stack: StackUp) -> tuple[Point, ...]:
    depths = itertools.accumulate(sheet.thickness for sheet in stack.sheets[:-1])
    return tuple(Point(0.0, depth) for depth in depths)


def _interfaces(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    best: Simulation,
    doubted: Pairs,
    cooled: Pairs,
) -> tuple[InterfaceWeld, ...]:
    """The weld at each interface."""
    coated = any(face.coated for face in stack.interfaces)
    moved = _spread([(base.nugget, moved.nugget) for base, moved in doubted], best.nugget)
    own = COATED_SPREAD if coated else MODEL_SPREAD
    spread = [math.hypot(float(one), own) for one in moved]
    reach = _reach(stack, set_up, constants, condition, own, doubted[0][0].nugget)
    parted = sheet_separation(best, stack)
    found = []
    for index, face in enumerate(stack.interfaces):
        one = _interface(
            best, index, spread[index], (float(reach[0][index]), float(reach[1][index]))
        )
        melted = fusion_temperature(face)
        ring = corona(best, doubted, index, melted, one.nugget_diameter, coated=face.coated)
        found.append(
            dataclasses.replace(
                one,
                melting=melting(best, doubted, index, set_up.weld_time),
                cooling_t85=cooling_estimate(best, cooled, index),
                corona=ring,
                sheet_separation=parted[index],
            )
        )
    return tuple(found)


def _doubted(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    points: tuple[Point, ...],
) -> Pairs:
    """Pairs of coarse marches: as believed, and with one doubted number moved by its spread."""
    base = simulate(stack, set_up, COARSE, constants, points=points, condition=condition)
    pairs = []
    for name, factor in DOUBTS.items():
        moved = dataclasses.replace(constants, **{name: getattr(constants, name) * factor})
        other = simulate(stack, set_up, COARSE, moved, points=points, condition=condition)
        pairs.append((base, other))
    return pairs


def _cooled(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    doubted: Pairs,
) -> Pairs:
    """The same pairs, and one for how well the caps take heat: the cooling time hangs on it."""
    taken = constants.cap_conductance * CAP_CONDUCTANCE_DOUBT
    moved = dataclasses.replace(constants, cap_conductance=taken)
    other = simulate(stack, set_up, COARSE, moved, condition=condition)
    return [*doubted, (doubted[0][0], other)]


def _hold(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    cycles: tuple[ThermalCycle, ...],
    interfaces: tuple[InterfaceWeld, ...],
) -> HoldEffect:
    """What the hold does: the same weld without any, and where this one is when the caps open."""
    released = dataclasses.replace(set_up, hold_time=0.0)
    unheld = simulate(stack, released, COARSE, constants, condition=condition)
    times = unheld.cooling_t85[~np.isnan(unheld.cooling_t85)]
    release = set_up.weld_time + set_up.hold_time
    hottest = max(
        float(np.interp(release, one.time, one.temperature))
        for one in cycles
        if one.interface is not None
    )
    melted = tuple(one.melting for one in interfaces if one.melting is not None)
    longest = float(times.max()) if len(times) else math.nan
    return hold_effect(longest, hottest, melted, set_up.hold_time)


def _spread(pairs: list[tuple[Array, Array]], best: Array) -> Array:
    """Relative standard deviation [-] from independent doubts."""
    scale = np.maximum(best, 0.5e-3)  # near the onset a share of nothing says nothing
    total: Array = np.sqrt(sum(((moved - base) / scale) ** 2 for base, moved in pairs))
    return total


def _reach(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    condition: SpotCondition,
    spread: float,
    base: Array,
) -> tuple[Array, Array]:
    """How far the nuggets go down and up [m] when the model's own spread is one of the current.

    Where a weld is well grown, a share of the current is about the same share of the diameter.
    Where melting begins a share of nothing says nothing, and this does.
    """
    found = []
    for factor in (1.0 - Z90 * spread, 1.0 + Z90 * spread):
        pulses = tuple(
            dataclasses.replace(one, current=min(max(one.current * factor, 100.0), 60e3))
            for one in set_up.pulses
        )
        shifted = dataclasses.replace(set_up, pulses=pulses)
        found.append(simulate(stack, shifted, COARSE, constants, condition=condition).nugget - base)
    return found[0], found[1]


def around(value: float, spread: float) -> Estimate:
    """A figure with its 90 % interval.

    Parameters
    ----------
    value : float
        The figure [SI].
    spread : float
        Relative standard deviation [-].

    Returns
    -------
    Estimate
        [SI]; nothing below zero.
    """
    return Estimate(value, value * max(0.0, 1.0 - Z90 * spread), value * (1.0 + Z90 * spread))


def _reaching(found: Estimate, down: float, up: float) -> Estimate:
    """Widen an interval to what lies ``down`` below and ``up`` above its value."""
    low = max(0.0, min(found.low, found.value + down))
    return Estimate(found.value, low, max(found.high, found.value + up))


def _interface(
    best: Simulation, index: int, spread: float, reach: tuple[float, float]
) -> InterfaceWeld:
    nugget = float(best.nugget[index])
    button = around(nugget * BUTTON_OVER_NUGGET, math.hypot(spread, BUTTON_SPREAD))
    return InterfaceWeld(
        index=index,
        nugget_diameter=_reaching(around(nugget, spread), *reach),
        button_diameter=_reaching(button, *(BUTTON_OVER_NUGGET * one for one in reach)),
        penetration_a=float(best.penetration[index, 0]),
        penetration_b=float(best.penetration[index, 1]),
        ring=nugget > 0.0 and math.isnan(best.faces.melted_at[index, 0]),
        after_expulsion=after_expulsion(nugget, float(best.diameter_at_limit[index])),
    )


def _expulsion(
    best: Simulation, stack: StackUp, doubted: list[tuple[Simulation, Simulation]]
) -> Estimate:
    """Probability with its interval: the rings' loads as far off as the doubts move them."""
    scale = np.maximum(best.load, 0.1)
    moved = math.sqrt(
        sum(float(np.max(((one.load - base.load) / scale) ** 2)) for base, one in doubted)
    )
    reach = math.exp(Z90 * math.hypot(moved, LOAD_SPREAD))
    low, value, high = (splash(best, stack, over) for over in (1.0 / reach, 1.0, reach))
    return Estimate(value, low, high)


def _cooling(interfaces: tuple[InterfaceWeld, ...]) -> Estimate:
    """Longest time from 800 to 500 degC [s] of any interface; 0 where none came to 800 degC."""
    known = [one.cooling_t85 for one in interfaces if one.cooling_t85 is not None]
    return max(known, key=lambda one: one.value, default=Estimate(0.0, 0.0, 0.0))


def _hardest(sheets: tuple[SheetZones, ...], stack: StackUp, cooling: float) -> float:
    """Hardness [HV] of the hardest place: a sheet that was not heated keeps its own."""
    found = 0.0
    for zones, sheet in zip(sheets, stack.sheets, strict=True):
        found = max(found, sheet_hardness(sheet.steel))
        if cooling > 0.0 and zones.haz_diameter.value > 0.0:
            found = max(found, martensite_hardness(sheet.steel, cooling))
    return found


def _course(best: Simulation) -> Course:
    record = best.record
    return Course(
        time=record[:, 0].copy(),
        current=record[:, 1].copy(),
        resistance=record[:, 2].copy(),
        nugget_diameter=record[:, 3:].T.copy(),
    )


def _section(best: Simulation) -> Section:
    layout = best.layout
    return Section(
        r_faces=layout.r_faces,
        z_faces=layout.z_faces,
        peak_temperature=best.peak,
        temperature_at_current_off=best.at_off,
        part=layout.part,
    )
