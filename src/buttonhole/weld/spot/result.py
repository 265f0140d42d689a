"""What a predicted spot weld is made of."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.bond import Corona
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.timing import HoldEffect, Melting
from buttonhole.weld.spot.zones import SheetZones

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class InterfaceWeld:
    """The weld at one faying interface, counted from side A (index 0)."""

    index: int
    nugget_diameter: Estimate  # m, section at the interface
    button_diameter: Estimate  # m, what a peel test should pull
    penetration_a: float  # m, melt depth into the sheet on side A of the interface
    penetration_b: float  # m
    ring: bool  # melted as a ring: the centre stayed solid
    after_expulsion: Estimate  # m, nugget that is left where metal was thrown out
    sheet_separation: Estimate | None = None  # m, beside the contact as the current goes off
    melting: Melting | None = None
    cooling_t85: Estimate | None = None  # s, on its axis; None: never over 800 degC
    corona: Corona | None = None


@dataclass(frozen=True, slots=True)
class Course:
    """The weld against time; every array has shape (steps,)."""

    time: Array  # s
    current: Array  # A rms
    resistance: Array  # ohm, between the electrodes
    nugget_diameter: Array  # m, shape (interfaces, steps)


@dataclass(frozen=True, slots=True)
class Section:
    """Half section through the weld axis, for pictures. ``r_faces`` and ``z_faces`` [m]."""

    r_faces: Array  # (nr + 1,)
    z_faces: Array  # (nz + 1,), side A at the top, z grows towards side B
    peak_temperature: Array  # (nz, nr), degC
    temperature_at_current_off: Array  # (nz, nr), degC
    part: NDArray[np.int64]  # - (nz, nr): -1 air, 0 cap A, 1..n sheets, n + 1 cap B


@dataclass(frozen=True, slots=True)
class ThermalCycle:
    """Temperature against time at one point; None: it never came so hot."""

    point: Point
    interface: int | None  # the centre of that faying interface, or a point somebody asked for
    time: Array  # (steps,), s from first current on
    temperature: Array  # (steps,), degC
    peak: Estimate  # degC
    cooling_t85: Estimate | None  # s, from 800 to 500 degC
    heating_rate: Estimate | None  # K/s, mean from 500 to 700 degC


@dataclass(frozen=True, slots=True)
class ConditionCost:
    """What one thing about gun, caps, mains or neighbours costs; coarse, for warnings."""

    name: str
    diameters: tuple[float, ...]  # m lost at each interface; less than 0: gained
    expulsion: float  # -, probability it adds
    text: str


@dataclass(frozen=True, slots=True)
class SpotWeld:
    """Everything one prediction says. Intervals are 90 %."""

    interfaces: tuple[InterfaceWeld, ...]
    expulsion_probability: Estimate  # -
    indentation: Estimate  # m, deeper side
    haz_diameter: Estimate  # m, peak temperature over Ac1
    cooling_t85: Estimate  # s, weld centre
    heat: Estimate  # J, released between the electrodes
    peak_hardness: Estimate  # HV
    course: Course
    section: Section
    warnings: tuple[str, ...]
    solver_seconds: float
    model_version: str
    sheets: tuple[SheetZones, ...] = ()
    hold: HoldEffect | None = None
    cycles: tuple[ThermalCycle, ...] = ()  # centres of the interfaces first, then what was asked
    current_off: float = 0.0  # s, when the last current ends
    release: float = 0.0  # s, when the caps open
    condition: SpotCondition = NORMAL
    current_given: float = 1.0  # -, from the machine over that set
    current_passed: float = 1.0  # -, through the weld over that from the machine
    nugget_offset: float = 0.0  # m, beside either mark
    nugget_ovality: float = 1.0  # -, short over long diameter
    condition_costs: tuple[ConditionCost, ...] = ()
