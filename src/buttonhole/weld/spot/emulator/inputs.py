"""A weld as the numbers that the nets of the emulator take: one view from each interface.

A view holds the sheets, films and caps on its side A, the same on its side B, the film between, and
what is set. So one kind of net serves two, three and four sheets. The numbers are derived from the
stack-up and the set-up by the same laws as the solver's own facts; the scales are judged, no
source: they only bring the numbers near to each other.
"""

import math
from collections.abc import Sequence
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
from buttonhole.weld.spot.pressing import force_at_interface
from buttonhole.weld.spot.programme import FREQUENCY
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, SpotSetUp

Array = NDArray[np.float64]

MM = 1e-3  # m
HOT = 800.0  # degC, where a second point of the flow stress is taken
HEIGHT, FORCE, RADIUS, USUAL_TIME = 3.0 * MM, 3e3, 3.0 * MM, 0.25  # m, N, m, s: one in a row
PLASTIC = 3.0  # -, mean pressure over strength under a dome
DENT = 0.06  # -, share of the sheet a dome is taken to have sunk when the reference is made
SOLID_ZINC = 1.5  # -, melting point over 1000 degC of a coating that is taken as never melting
SLOTS = 3  # sheets on either side of an interface that a view has room for
PER_SHEET, PER_FILM, PER_CAP = 7, 3, 6  # numbers in a view
PER_SIDE = SLOTS * PER_SHEET + (SLOTS - 1) * PER_FILM + PER_CAP + 1
SET = ("current", "time", "force", "alternating", "frequency", "hold", "pressed", "narrowed",
       "slope", "total", "reference")  # fmt: skip
FIRST_SET = 2 * PER_SIDE + PER_FILM
COLUMNS = FIRST_SET + len(SET)
CURRENT, TIME, HOLD, SLOPE, REFERENCE = (
    FIRST_SET + SET.index(name) for name in ("current", "time", "hold", "slope", "reference")
)


@dataclass(frozen=True, slots=True)
class Views:
    """A weld as seen from each of its interfaces, and what moves its current and its time."""

    numbers: Array  # (interfaces, columns), -
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


def reference_current(views: Views, time: Array | float) -> Array:
    """Current about at which such a stack-up begins to melt, within a third.

    Parameters
    ----------
    views : Views
        The weld as numbers.
    time : Array or float
        Of the current [s].

    Returns
    -------
    Array
        Current [A]; a scale, not the solver's onset.
    """
    found: Array = np.exp(views.level + views.fall * np.log(np.asarray(time, float) / USUAL_TIME))
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


def views_of(stack: StackUp, set_up: SpotSetUp) -> Views:
    """Put a weld of one pulse into numbers.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        With one pulse.

    Returns
    -------
    Views
        From each interface [-].
    """
    sheets, force = stack.sheets, set_up.electrode_force
    ends = ((set_up.cap_a, sheets[0]), (set_up.cap_b, sheets[-1]))
    radii = [contact_radius(cap, force, sheet) for cap, sheet in ends]
    caps = [_cap_numbers(*end, radius) for end, radius in zip(ends, radii, strict=True)]
    of_sheets = [
        (1.0, math.log(sheet.thickness / MM), *steel_numbers(sheet.steel)) for sheet in sheets
    ]
    films = [_film_numbers(face) for face in stack.interfaces]
    shared = _set_numbers(stack, set_up)
    depth = [0.0]
    for sheet in sheets:
        depth.append(depth[-1] + sheet.thickness)
    numbers = []
    for q in range(1, len(sheets)):
        side_a = _side(of_sheets[:q][::-1], films[: q - 1][::-1], caps[0], depth[q])
        side_b = _side(of_sheets[q:], films[q:], caps[1], depth[-1] - depth[q])
        numbers.append([*side_a, *side_b, *films[q - 1], *shared])
    radius = math.sqrt(radii[0] * radii[1])
    level, fall = _level(stack.total_thickness, force, radius, np.array(films))
    views, pulse = Views(np.array(numbers), level, fall), set_up.pulses[0]
    share = pulse.up_slope / pulse.time
    now = moved(views, pulse.current, pulse.time, set_up.hold_time, share)[0]
    return Views(now, level, fall)


def _side(
    sheets: Sequence[tuple[float, ...]],
    films: Sequence[tuple[float, ...]],
    cap: tuple[float, ...],
    depth: float,
) -> list[float]:
    """One side of an interface, nearest sheet first; a slot without a sheet holds nothing."""
    found: list[float] = []
    for slot in range(SLOTS):
        found += sheets[slot] if slot < len(sheets) else (0.0,) * PER_SHEET
    for slot in range(SLOTS - 1):
        found += films[slot] if slot < len(films) else (0.0,) * PER_FILM
    return [*found, *cap, math.log(depth / MM)]


def _set_numbers(stack: StackUp, set_up: SpotSetUp) -> list[float]:
    force, kind = set_up.electrode_force, set_up.current_type
    pressed, narrowed = force_at_interface(stack, force)
    numbers = dict.fromkeys(SET, 0.0)
    numbers["force"] = math.log(force / FORCE)
    numbers["alternating"] = float(kind is not CurrentType.MFDC)
    numbers["frequency"] = (FREQUENCY[kind] - 50.0) / 50.0
    numbers["pressed"], numbers["narrowed"] = 4.0 * (pressed / force - 1.0), 4.0 * (narrowed - 1.0)
    numbers["total"] = math.log(stack.total_thickness / HEIGHT)
    return list(numbers.values())


def _film_numbers(face: FayingInterface) -> tuple[float, float, float]:
    a, b = (CONTACTS[one.coating] for one in (face.sheet_a, face.sheet_b))
    film = math.log(between(face.sheet_a.coating, face.sheet_b.coating))
    melts = min(a.melts, b.melts) / 1000.0
    return film, 0.5 * (a.widening + b.widening), min(melts, SOLID_ZINC)


def moved(
    views: Views, current: Array | float, time: Array | float, hold: float, slope: float
) -> Array:
    """Views of the same joint at other currents and times.

    Parameters
    ----------
    views : Views
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
        (welds, interfaces, columns) [-].
    """
    amps, lasts = np.atleast_1d(np.asarray(current, float)), np.atleast_1d(np.asarray(time, float))
    reference = reference_current(views, lasts)
    found = np.repeat(views.numbers[None], len(amps), axis=0)
    found[:, :, CURRENT] = 4.0 * np.log(amps / reference)[:, None]
    found[:, :, TIME] = np.log(lasts / USUAL_TIME)[:, None]
    found[:, :, HOLD] = math.log((hold + 0.02) / 0.2)
    found[:, :, SLOPE] = 4.0 * slope
    found[:, :, REFERENCE] = np.log(reference / 8e3)[:, None]
    return found


def turned() -> NDArray[np.int64]:
    """Columns of a view in the order they have when the stack-up is looked at from side B.

    Returns
    -------
    ndarray
        (columns,) [-].
    """
    sides = np.arange(2 * PER_SIDE).reshape(2, PER_SIDE)[::-1].ravel()
    return np.concatenate([sides, np.arange(2 * PER_SIDE, COLUMNS)])


@cache
def groups() -> dict[str, list[int]]:
    """Columns of a view by what they tell of a weld, in words.

    Returns
    -------
    dict
        Words to places.
    """
    sides = (0, PER_SIDE)
    sheet = [side + slot * PER_SHEET for side in sides for slot in range(SLOTS)]
    films = SLOTS * PER_SHEET
    caps = films + (SLOTS - 1) * PER_FILM
    return {
        "thickness": [one + 1 for one in sheet] + [side + PER_SIDE - 1 for side in sides],
        "steel": [one + i for one in sheet for i in range(2, PER_SHEET)],
        "coating": [
            *(side + i for side in sides for i in range(films, caps + 3)),
            *range(2 * PER_SIDE, FIRST_SET),
        ],
        "electrode caps": [side + i for side in sides for i in range(caps + 3, caps + PER_CAP)],
        "welding current": [CURRENT],
        "weld time": [TIME],
        "electrode force": [FIRST_SET + SET.index("force")],
        "current type": [FIRST_SET + SET.index(name) for name in ("alternating", "frequency")],
        "hold time": [HOLD],
        "gap": [FIRST_SET + SET.index(name) for name in ("pressed", "narrowed")],
        "up-slope": [SLOPE],
    }
