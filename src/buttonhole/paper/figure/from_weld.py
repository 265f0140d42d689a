"""From a predicted weld to its drawings: which values of the prediction each picture shows."""

import math
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from buttonhole.joint.coating import ZINC
from buttonhole.joint.material import curves
from buttonhole.joint.sheet import Sheet
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper.figure.cycle import DrawnCourse, DrawnCycle
from buttonhole.paper.figure.growth import DrawnGrowth
from buttonhole.paper.figure.section import DrawnNugget, DrawnSection, SheetLevels
from buttonhole.paper.figure.stack import DrawnCap, DrawnLimit, DrawnSheet, DrawnStack
from buttonhole.paper.figure.window import DrawnCurve, DrawnScatter, DrawnWindow
from buttonhole.weld.metallurgy import TEMPERED_FROM, softens

if TYPE_CHECKING:  # a page without a prediction need not load the solver
    from buttonhole.weld.spot.result import SpotWeld, ThermalCycle
    from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp
    from buttonhole.weld.spot.window import WeldWindow
    from buttonhole.weld.spot.zones import SheetZones

ZINC_BOILS = 907.0  # degC, at 1 bar; from memory

Limits = Sequence[Sequence[DrawnLimit]]  # for each faying interface from side A


def drawn_stack(
    stack: StackUp, set_up: "SpotSetUp | None" = None, limits: Limits = ()
) -> DrawnStack:
    """Say what the drawing of a stack-up shows.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp, optional
        Gives the caps.
    limits : sequence of sequence of DrawnLimit
        For each faying interface its least diameters.

    Returns
    -------
    DrawnStack
        To hand to :func:`buttonhole.paper.figure.stack.stack`.
    """
    return DrawnStack(
        sheets=tuple(
            DrawnSheet(sheet.thickness, sheet.steel.designation, str(sheet.coating))
            for sheet in stack.sheets
        ),
        cap_a=None if set_up is None else _cap(set_up.cap_a),
        cap_b=None if set_up is None else _cap(set_up.cap_b),
        limits=tuple(tuple(one) for one in limits),
        gap=stack.gap,
    )


def drawn_section(weld: "SpotWeld", stack: StackUp, limits: Limits = ()) -> DrawnSection:
    """Say what the drawing of a predicted cross-section shows.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for.
    limits : sequence of sequence of DrawnLimit
        For each faying interface its least diameters; the largest is shown.

    Returns
    -------
    DrawnSection
        To hand to :func:`buttonhole.paper.figure.section.section`.
    """
    nuggets = []
    for order, weld_there in enumerate(weld.interfaces):
        found = weld_there.nugget_diameter
        least = list(limits[order]) if order < len(limits) else []
        highest = max(least, key=lambda one: one.diameter) if least else None
        ring = weld_there.corona
        corona = None if ring is None else (ring.inner_diameter, ring.outer_diameter.value)
        nuggets.append(DrawnNugget(found.value, found.low, found.high, highest, corona))
    return DrawnSection(
        section=weld.section,
        levels=tuple(
            sheet_levels(sheet, zones)
            for sheet, zones in zip(
                stack.sheets, weld.sheets or [None] * len(stack.sheets), strict=True
            )
        ),
        nuggets=tuple(nuggets),
        indentation=weld.indentation.value,
    )


def drawn_growth(weld: "SpotWeld", limits: Limits = ()) -> DrawnGrowth:
    """Say what the growth curve shows.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    limits : sequence of sequence of DrawnLimit
        For each faying interface its least diameters; the largest is shown.

    Returns
    -------
    DrawnGrowth
        To hand to :func:`buttonhole.paper.figure.growth.growth`.
    """
    course = weld.course
    return DrawnGrowth(
        times=tuple(course.time.tolist()),
        current=tuple(course.current.tolist()),
        diameters=tuple(tuple(row) for row in course.nugget_diameter.tolist()),
        limits=tuple(
            max(least, key=lambda one: one.diameter) if least else None for least in limits
        ),
    )


def drawn_window(
    window: "WeldWindow",
    limits: Limits = (),
    *,
    order: int = 0,
    current: float | None = None,
    scatter: float = 0.0,
    setting: str = "",
) -> DrawnWindow:
    """Say what the window plot shows.

    Parameters
    ----------
    window : WeldWindow
        The map over current, and over time where more than one was asked for.
    limits : sequence of sequence of DrawnLimit
        For each faying interface its least diameters.
    order : int
        Which of the window's times is drawn.
    current : float, optional
        The chosen current [A]; else the robust one, if there is one. One outside the map is
        not drawn.
    scatter : float
        Half width of the scatter of the current, as a share of it [-]; 0 draws no box.
    setting : str
        What is held, in words: weld time, force, caps.

    Returns
    -------
    DrawnWindow
        To hand to :func:`buttonhole.paper.figure.window.window`.
    """
    rows = window.nugget[:, order, :]
    lower, upper = float(window.lower_limit[order]), float(window.upper_limit[order])
    first, last = float(window.currents[0]), float(window.currents[-1])
    end = upper if math.isfinite(upper) else last
    chosen = float(window.robust_current[order]) if current is None else current
    inside = first <= chosen <= last  # also turns NaN away

    def at(where: float) -> tuple[float, ...]:
        return tuple(float(np.interp(where, window.currents, row)) for row in rows)

    return DrawnWindow(
        currents=tuple(window.currents.tolist()),
        curves=tuple(
            DrawnCurve(
                diameters=tuple(row.tolist()),
                limits=tuple(limits[index]) if index < len(limits) else (),
            )
            for index, row in enumerate(rows)
        ),
        usable=(lower, end) if lower < end else None,  # NaN gives none
        expulsion_current=upper if math.isfinite(upper) else None,
        chosen_current=chosen if inside else None,
        chosen_diameters=at(chosen) if inside else (),
        scatter=_scatter(chosen, scatter, at) if inside and scatter > 0.0 else None,
        setting=setting,
    )


def _scatter(chosen: float, share: float, at: Callable[[float], tuple[float, ...]]) -> DrawnScatter:
    """The box round the chosen current, as high as the curves are between its sides."""
    low, high = chosen * (1.0 - share), chosen * (1.0 + share)
    pairs = [sorted(pair) for pair in zip(at(low), at(high), strict=True)]
    return DrawnScatter(low, high, tuple(p[0] for p in pairs), tuple(p[1] for p in pairs))


def sheet_levels(sheet: Sheet, zones: "SheetZones | None" = None) -> SheetLevels:
    """Give the temperatures that bound the zones of a sheet.

    Parameters
    ----------
    sheet : Sheet
        Steel and coating.
    zones : SheetZones, optional
        Of the prediction: gives Ac1 and Ac3 at its heating rate; else those at rest.

    Returns
    -------
    SheetLevels
        Melted from the mean of solidus and liquidus [degC], as the solver counts it; Ac1 and Ac3
        [degC], none for a steel that does not transform.
    """
    found = curves(sheet.steel)
    ac1, ac3 = found.ac1, found.ac3
    if zones is not None and zones.ac1 is not None and zones.ac3 is not None:
        ac1, ac3 = zones.ac1.value, zones.ac3.value
    return SheetLevels(
        melted=(found.solidus + found.liquidus) / 2,
        ac3=ac3 if math.isfinite(ac3) else None,
        ac1=ac1 if math.isfinite(ac1) else None,
        coating_gone=ZINC_BOILS if sheet.coating in ZINC else None,
        softened=TEMPERED_FROM.value if softens(sheet.steel) else None,
    )


def drawn_cycle(weld: "SpotWeld", stack: StackUp) -> DrawnCycle:
    """Say what the drawing of the thermal cycles shows.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for; the levels drawn are those of the sheet that melts at the
        highest temperature.

    Returns
    -------
    DrawnCycle
        To hand to :func:`buttonhole.paper.figure.cycle.cycle`.
    """
    highest = max(range(len(stack.sheets)), key=lambda n: curves(stack.sheets[n].steel).liquidus)
    zones = weld.sheets[highest] if weld.sheets else None
    found = sheet_levels(stack.sheets[highest], zones)
    named = (("melts", found.melted), ("Ac3", found.ac3), ("Ac1", found.ac1))
    return DrawnCycle(
        courses=tuple(_course(one) for one in weld.cycles),
        current_off=weld.current_off,
        release=weld.release,
        levels=tuple((name, level) for name, level in named if level is not None),
    )


def _course(cycle: "ThermalCycle") -> DrawnCourse:
    name = f"{1e3 * cycle.point.radius:g} mm out, {1e3 * cycle.point.depth:.3g} mm deep"
    if cycle.interface is not None:
        name = f"centre {cycle.interface + 1}-{cycle.interface + 2}"
    cooling, peak = cycle.cooling_t85, cycle.peak
    return DrawnCourse(
        name=name,
        times=tuple(cycle.time.tolist()),
        temperatures=tuple(cycle.temperature.tolist()),
        cooling=None if cooling is None else (cooling.value, cooling.low, cooling.high),
        peak=(peak.value, peak.low, peak.high),
    )


def _cap(cap: "ElectrodeCap") -> DrawnCap:
    return DrawnCap(cap.face_diameter, cap.radius, cap.body_diameter)
