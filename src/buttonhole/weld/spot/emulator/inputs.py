"""A weld as the row of numbers that the nets of the emulator take.

What the rows hold is derived from the stack-up and the set-up by the same laws as the solver's own
facts; the scales are judged, no source: they only bring the numbers near to each other.
"""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.coating import Coating
from buttonhole.joint.material import curves
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import FayingInterface, StackUp
from buttonhole.joint.steel import Steel
from buttonhole.weld.spot.coated_contact import CONTACTS, between
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp
from buttonhole.weld.spot.simulation import FREQUENCY, force_at_interface

Array = NDArray[np.float64]

MM = 1e-3  # m
HOT = 800.0  # degC, where a second point of the flow stress is taken
HEIGHT, FORCE, RADIUS, USUAL_TIME = 3.0 * MM, 3e3, 3.0 * MM, 0.25  # m, N, m, s: one in a row
PLASTIC = 3.0  # -, mean pressure over strength under a dome
DENT = 0.06  # -, share of the sheet a dome is taken to have sunk when the reference is made
SOLID_ZINC = 1.5  # -, melting point over 1000 degC of a coating that is taken as never melting
PER_SHEET, PER_INTERFACE, PER_CAP = 6, 3, 6  # numbers in a row
SET = ("current", "time", "force", "alternating", "frequency", "hold", "pressed", "narrowed",
       "slope", "total", "reference")  # fmt: skip
CURRENT, TIME, HOLD, SLOPE, REFERENCE = 0, 1, 5, 8, 10  # places in SET of what a slider moves


@dataclass(frozen=True, slots=True)
class Row:
    """The numbers of one weld, and what is needed to move its current and its time."""

    numbers: Array  # (columns,), -
    level: float  # -, logarithm of the reference current in A at 250 ms
    fall: float  # -, by which it falls with the logarithm of the time


@cache
def steel_numbers(steel: Steel) -> tuple[float, float, float, float, float]:
    """What a net knows of a steel.

    Parameters
    ----------
    steel : Steel
        Any listed one.

    Returns
    -------
    tuple of float
        Logarithms of resistivity, conductivity and flow stress when cold, of the flow stress when
        hot, and the solidus, each brought near to one [-].
    """
    own = curves(steel)
    hot = int(np.searchsorted(own.temperature, HOT))
    return (
        math.log(own.resistivity[0] / 2e-7),
        math.log(own.conductivity[0] / 40.0),
        math.log(own.flow_stress[0] / 400e6),
        math.log(own.flow_stress[hot] / 80e6),
        (own.solidus - 1470.0) / 30.0,
    )


def contact_radius(cap: ElectrodeCap, force: float, sheet: Sheet) -> float:
    """About how wide a cap presses on a sheet once it has sunk in a little.

    Parameters
    ----------
    cap : ElectrodeCap
        On that sheet.
    force : float
        On the cap [N].
    sheet : Sheet
        Under the cap.

    Returns
    -------
    float
        Radius [m]; a scale, not the solver's.
    """
    face = cap.face_diameter / 2 if cap.face_diameter is not None else cap.body_diameter / 2
    if cap.radius is None:
        return face
    cold = force / (PLASTIC * math.pi * sheet.steel.yield_strength)
    return min(math.sqrt(cold + 2.0 * cap.radius * DENT * sheet.thickness), face)


def reference_current(row: Row, time: Array | float) -> Array:
    """Current about at which such a stack-up begins to melt, within a third.

    Parameters
    ----------
    row : Row
        The weld as numbers.
    time : Array or float
        Of the current [s].

    Returns
    -------
    Array
        Current [A]; a scale, not the solver's onset.
    """
    found: Array = np.exp(row.level + row.fall * np.log(np.asarray(time, float) / USUAL_TIME))
    return found


def _level(height: float, force: float, radius: float, films: Array) -> tuple[float, float]:
    """Level and fall of the reference current; fitted to onsets the solver gave, a scale only."""
    h, f, a = math.log(height / HEIGHT), math.log(force / FORCE), math.log(radius / RADIUS)
    film, widening = films[:, 0], films[:, 1].mean()
    level = 8.75 + 0.13 * h + 0.17 * f + 1.2 * a - 0.45 * a * f + 0.4 * h * f
    level += 0.2 * film.mean() - 0.25 * film.max() + 0.4 * widening
    return float(level), -0.30 - 0.26 * h


def _coating_numbers(coating: Coating) -> tuple[float, float, float]:
    own = CONTACTS[coating]
    return math.log(own.cap), own.widening, min(own.melts / 1000.0, SOLID_ZINC)


def _cap_numbers(cap: ElectrodeCap, sheet: Sheet, radius: float) -> tuple[float, ...]:
    curved = 0.05 / cap.radius if cap.radius is not None else 0.0
    return (
        *_coating_numbers(sheet.coating),
        math.log(radius / RADIUS),
        curved,
        cap.body_diameter / (16.0 * MM) - 1.0,
    )


def row_of(stack: StackUp, set_up: SpotSetUp) -> Row:
    """Put a weld of one pulse into numbers.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        With one pulse.

    Returns
    -------
    Row
        ``PER_SHEET`` numbers for each sheet, ``PER_INTERFACE`` for each interface, ``PER_CAP`` for
        each cap, all from side A, then those of ``SET`` [-].
    """
    sheets, force = stack.sheets, set_up.electrode_force
    caps = (set_up.cap_a, set_up.cap_b)
    outer = (sheets[0], sheets[-1])
    radii = [contact_radius(cap, force, sheet) for cap, sheet in zip(caps, outer, strict=True)]
    numbers: list[float] = []
    for sheet in sheets:
        numbers += [math.log(sheet.thickness / MM), *steel_numbers(sheet.steel)]
    films = np.array([_film_numbers(face) for face in stack.interfaces])
    numbers += films.ravel().tolist()
    for cap, sheet, radius in zip(caps, outer, radii, strict=True):
        numbers += _cap_numbers(cap, sheet, radius)
    level, fall = _level(stack.total_thickness, force, math.sqrt(radii[0] * radii[1]), films)
    pressed, narrowed = force_at_interface(stack, force)
    frequency = FREQUENCY[set_up.current_type]
    numbers += [0.0, 0.0, math.log(force / FORCE)]
    numbers += [float(set_up.current_type is not CurrentType.MFDC), (frequency - 50.0) / 50.0]
    numbers += [0.0, 4.0 * (pressed / force - 1.0), 4.0 * (narrowed - 1.0), 0.0]
    numbers += [math.log(stack.total_thickness / HEIGHT), 0.0]
    row = Row(np.array(numbers), level, fall)
    pulse = set_up.pulses[0]
    share = pulse.up_slope / pulse.time
    return Row(moved(row, pulse.current, pulse.time, set_up.hold_time, share)[0], level, fall)


def _film_numbers(face: FayingInterface) -> tuple[float, float, float]:
    a, b = (CONTACTS[one.coating] for one in (face.sheet_a, face.sheet_b))
    film = math.log(between(face.sheet_a.coating, face.sheet_b.coating))
    melts = min(a.melts, b.melts) / 1000.0
    return film, 0.5 * (a.widening + b.widening), min(melts, SOLID_ZINC)


def moved(
    row: Row, current: Array | float, time: Array | float, hold: float, slope: float
) -> Array:
    """Rows for the same joint at other currents and times.

    Parameters
    ----------
    row : Row
        Of any of them.
    current, time : Array or float
        Of the pulse [A], [s]; of the same shape.
    hold : float
        Hold time [s].
    slope : float
        Up-slope over the time of the pulse [-].

    Returns
    -------
    Array
        (welds, columns) [-].
    """
    amps, lasts = np.atleast_1d(np.asarray(current, float)), np.atleast_1d(np.asarray(time, float))
    reference = reference_current(row, lasts)
    rows = np.repeat(row.numbers[None, :], len(amps), axis=0)
    first = len(row.numbers) - len(SET)
    rows[:, first + CURRENT] = 4.0 * np.log(amps / reference)
    rows[:, first + TIME] = np.log(lasts / USUAL_TIME)
    rows[:, first + HOLD] = np.log((hold + 0.02) / 0.2)
    rows[:, first + SLOPE] = 4.0 * slope
    rows[:, first + REFERENCE] = np.log(reference / 8e3)
    return rows


@cache
def turned(sheets: int) -> NDArray[np.int64]:
    """Columns of a row in the order they have when the stack-up is looked at from side B.

    Parameters
    ----------
    sheets : int
        In the stack-up.

    Returns
    -------
    ndarray
        (columns,) [-].
    """
    blocks = [(sheets, PER_SHEET), (sheets - 1, PER_INTERFACE), (2, PER_CAP), (1, len(SET))]
    order: list[int] = []
    start = 0
    for count, width in blocks:
        for one in reversed(range(count)):
            order += range(start + one * width, start + (one + 1) * width)
        start += count * width
    return np.array(order)


@cache
def groups(sheets: int) -> dict[str, list[int]]:
    """Columns of a row by what they tell of a weld, in words.

    Parameters
    ----------
    sheets : int
        In the stack-up.

    Returns
    -------
    dict
        Words to places.
    """
    films = sheets * PER_SHEET
    caps = films + (sheets - 1) * PER_INTERFACE
    first = caps + 2 * PER_CAP
    each = [[i + sheet * PER_SHEET for sheet in range(sheets)] for i in range(PER_SHEET)]
    of_caps = [[caps + side * PER_CAP + i for side in (0, 1)] for i in range(PER_CAP)]
    return {
        "thickness": each[0],
        "steel": [place for column in each[1:] for place in column],
        "coating": [*range(films, caps), *(place for column in of_caps[:3] for place in column)],
        "electrode caps": [place for column in of_caps[3:] for place in column],
        "welding current": [first + CURRENT],
        "weld time": [first + TIME],
        "electrode force": [first + SET.index("force")],
        "current type": [first + SET.index("alternating"), first + SET.index("frequency")],
        "hold time": [first + HOLD],
        "gap": [first + SET.index("pressed"), first + SET.index("narrowed")],
        "up-slope": [first + SLOPE],
    }
