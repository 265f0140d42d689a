"""What is said of a weld before an arc is struck: figures with intervals, pictures, warnings."""

import dataclasses
import math

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.joint.steel import Steel
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.metallurgy import RELATIVE_SPREAD, martensite_hardness, sheet_hardness
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.expulsion import BOILED, interface_expulsion
from buttonhole.weld.spot.result import Course, InterfaceWeld, Section, SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import (
    AFTER_HOLD,
    COARSE,
    DEFAULT,
    Resolution,
    Simulation,
    simulate,
)

MODEL_VERSION = "spot-4"

Z90 = 1.645  # standard deviations either side of a 90 % interval
BUTTON_OVER_NUGGET = 1.12  # -, published ratios of peel button to section nugget: 1.10 and 1.14
BUTTON_SPREAD = 0.03  # -, standard deviation of that ratio, judged, no source
MODEL_SPREAD = 0.10  # -, standard deviation of a nugget diameter against published bare rows
COATED_SPREAD = 0.14  # -, the same for coated sheet, judged wider, no source
NO_TRANSFORMATION = 900.0  # degC; bound of the zone drawn for austenitic steel, from memory
# What is known least, by how much it may be off (factor, one standard deviation; judged).
DOUBTS = {"rim": 1.3, "cap_film": 1.5, "faying_film": 1.5, "sinking_rate": 2.0}

Array = NDArray[np.float64]


def predict(
    stack: StackUp,
    set_up: SpotSetUp,
    *,
    resolution: Resolution = DEFAULT,
    constants: ContactConstants = CONTACT,
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
    # First the coarse ones: the kernels are loaded then, and the seconds told are the solver's own.
    doubted = _doubted(stack, set_up, constants)
    best = simulate(stack, set_up, resolution, constants)
    interfaces, spread = _interfaces(stack, set_up, constants, best, doubted)
    haz = _around(_haz_diameter(best, stack), spread[int(np.argmax(best.nugget))])
    cooling = _cooling(best)
    return SpotWeld(
        interfaces=interfaces,
        expulsion_probability=_expulsion(best, interfaces, stack, set_up.electrode_force),
        indentation=_around(float(best.sunk.max()), 0.5),
        haz_diameter=haz,
        cooling_t85=cooling,
        heat=_around(best.heat, 0.08),
        peak_hardness=_around(_hardest(best, stack, cooling.value), RELATIVE_SPREAD / Z90),
        course=_course(best),
        section=_section(best),
        warnings=_warnings(best, stack),
        solver_seconds=best.seconds,
        model_version=MODEL_VERSION,
    )


def _interfaces(
    stack: StackUp,
    set_up: SpotSetUp,
    constants: ContactConstants,
    best: Simulation,
    doubted: list[tuple[Simulation, Simulation]],
) -> tuple[tuple[InterfaceWeld, ...], list[float]]:
    """The weld at each interface, and the relative standard deviation [-] of its diameter."""
    coated = any(face.coated for face in stack.interfaces)
    moved = _spread([(base.nugget, moved.nugget) for base, moved in doubted], best.nugget)
    own = COATED_SPREAD if coated else MODEL_SPREAD
    spread = [math.hypot(float(one), own) for one in moved]
    reach = _reach(stack, set_up, constants, own, doubted[0][0].nugget)
    welds = tuple(
        _interface(best, index, one, (float(reach[0][index]), float(reach[1][index])))
        for index, one in enumerate(spread)
    )
    return welds, spread


def _doubted(
    stack: StackUp, set_up: SpotSetUp, constants: ContactConstants
) -> list[tuple[Simulation, Simulation]]:
    """Pairs of coarse marches: as believed, and with one doubted number moved by its spread."""
    base = simulate(stack, set_up, COARSE, constants)
    pairs = []
    for name, factor in DOUBTS.items():
        moved = dataclasses.replace(constants, **{name: getattr(constants, name) * factor})
        pairs.append((base, simulate(stack, set_up, COARSE, moved)))
    return pairs


def _spread(pairs: list[tuple[Array, Array]], best: Array) -> Array:
    """Relative standard deviation [-] from independent doubts."""
    scale = np.maximum(best, 0.5e-3)  # near the onset a share of nothing says nothing
    total: Array = np.sqrt(sum(((moved - base) / scale) ** 2 for base, moved in pairs))
    return total


def _reach(
    stack: StackUp, set_up: SpotSetUp, constants: ContactConstants, spread: float, base: Array
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
        found.append(simulate(stack, shifted, COARSE, constants).nugget - base)
    return found[0], found[1]


def _around(value: float, spread: float) -> Estimate:
    return Estimate(value, value * max(0.0, 1.0 - Z90 * spread), value * (1.0 + Z90 * spread))


def _reaching(found: Estimate, down: float, up: float) -> Estimate:
    """Widen an interval to what lies ``down`` below and ``up`` above its value."""
    low = max(0.0, min(found.low, found.value + down))
    return Estimate(found.value, low, max(found.high, found.value + up))


def _interface(
    best: Simulation, index: int, spread: float, reach: tuple[float, float]
) -> InterfaceWeld:
    nugget = float(best.nugget[index])
    button = _around(nugget * BUTTON_OVER_NUGGET, math.hypot(spread, BUTTON_SPREAD))
    return InterfaceWeld(
        index=index,
        nugget_diameter=_reaching(_around(nugget, spread), *reach),
        button_diameter=_reaching(button, *(BUTTON_OVER_NUGGET * one for one in reach)),
        penetration_a=float(best.penetration[index, 0]),
        penetration_b=float(best.penetration[index, 1]),
        ring=nugget > 0.0 and float(best.axis_melted[index]) < 0.5,
    )


def _expulsion(
    best: Simulation, welds: tuple[InterfaceWeld, ...], stack: StackUp, force: float
) -> Estimate:
    def any_of(pick: str) -> float:
        safe = 1.0
        for weld, radius, face in zip(welds, best.contact_radius, stack.interfaces, strict=True):
            # the contact grows with the nugget, so half of the doubt is common to both
            d = weld.nugget_diameter
            nugget = 0.5 * (d.value + getattr(d, pick))
            thickness = 0.5 * (face.sheet_a.thickness + face.sheet_b.thickness)
            safe *= 1.0 - interface_expulsion(nugget, 2.0 * float(radius), force, thickness)
        return 1.0 - safe

    low, value, high = (any_of(pick) for pick in ("low", "value", "high"))
    if best.boils:
        value, high = max(value, BOILED), 1.0
    return Estimate(value, low, high)


def _cooling(best: Simulation) -> Estimate:
    """Longest time from 800 to 500 degC [s] of any interface; 0 where none came to 800 degC."""
    known = best.cooling_t85[~np.isnan(best.cooling_t85)]
    if not len(known):
        return Estimate(0.0, 0.0, 0.0)
    if np.isinf(known).any():  # the march ended first: it takes at least so long
        return Estimate(AFTER_HOLD, AFTER_HOLD, 10.0 * AFTER_HOLD)
    return _around(float(known.max()), 0.2)


def _hardest(best: Simulation, stack: StackUp, cooling: float) -> float:
    """Hardness [HV] of the hardest place: a sheet that was not heated keeps its own."""
    found = 0.0
    for number, sheet in enumerate(stack.sheets, start=1):
        found = max(found, sheet_hardness(sheet.steel))
        if cooling > 0.0 and best.peak[best.layout.part == number].max() >= _ac1(sheet.steel):
            found = max(found, martensite_hardness(sheet.steel, cooling))
    return found


def _ac1(steel: Steel) -> float:
    ac1 = curves(steel).ac1
    return ac1 if math.isfinite(ac1) else NO_TRANSFORMATION


def _haz_diameter(best: Simulation, stack: StackUp) -> float:
    """Widest ring of any sheet that went over Ac1 [m]."""
    layout, widest = best.layout, 0.0
    middles = (layout.r_faces[1:] + layout.r_faces[:-1]) / 2
    for number, sheet in enumerate(stack.sheets, start=1):
        level = _ac1(sheet.steel)
        hottest = np.where(layout.part == number, best.peak, -np.inf).max(axis=0)
        over = np.flatnonzero(hottest >= level)
        if not len(over):
            continue
        i = int(over[-1])
        edge = float(middles[i])
        if i + 1 < len(middles) and math.isfinite(hottest[i + 1]):
            fall = (hottest[i] - level) / (hottest[i] - hottest[i + 1])
            edge += float(fall * (middles[i + 1] - middles[i]))
        widest = max(widest, 2.0 * edge)
    return widest


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


def _warnings(best: Simulation, stack: StackUp) -> tuple[str, ...]:
    said = [caution.text for caution in cautions(stack)]
    for index, nugget in enumerate(best.nugget):
        if nugget > 0.0 and best.axis_melted[index] < 0.5:
            said.append(
                f"Interface {index + 1}: the melt is a ring, its centre stayed solid; "
                "more time or less current starts it in the middle."
            )
        elif nugget == 0.0:
            said.append(f"Interface {index + 1}: nothing melts; more current or time is needed.")
    if best.boils:
        said.append(
            "Metal comes to its boiling point: expect it to splash. These figures are of a weld "
            "nobody makes; give less current, less time or more force."
        )
    if np.isnan(best.cooling_t85).all():
        said.append("No faying interface comes to 800 °C: there is no cooling time to tell.")
    elif np.isinf(best.cooling_t85).any():
        said.append(
            f"The weld is still over 500 °C {AFTER_HOLD:g} s after the hold: cooling takes longer "
            "than this says."
        )
    outer = (stack.sheets[0].thickness, stack.sheets[-1].thickness)
    for side, sunk, thickness in zip("AB", best.sunk, outer, strict=True):
        if sunk > 0.25 * thickness:
            said.append(
                f"Side {side}: the cap is predicted to sink {100 * sunk / thickness:.0f} % into "
                "the sheet; a larger face or a shorter time dents less."
            )
    return tuple(said)
