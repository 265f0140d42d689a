"""The zones of each sheet: what turned into austenite, what did in part, what was only tempered."""

import math
from dataclasses import dataclass

import numpy as np

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import FayingInterface, StackUp
from buttonhole.joint.steel import Steel
from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.metallurgy import TEMPERED_FROM, softens, transformation_line
from buttonhole.weld.spot.edge import edge_radius
from buttonhole.weld.spot.simulation import Simulation

NO_TRANSFORMATION = Estimate(900.0, 850.0, 950.0)  # degC; bound drawn for austenitic steel, from
# memory, its spread judged
RATE_READ_FROM = (
    750.0  # degC; rings that came so far say how fast the zone's edge was heated; judged
)
OWN_SPREAD = 0.10  # - of a diameter, standard deviation, as of the nugget; judged, no source
SUNK_SPREAD = 0.5  # - of an indentation, standard deviation; judged, no source

Pairs = list[tuple[Simulation, Simulation]]


@dataclass(frozen=True, slots=True)
class SheetZones:
    """The heat-affected zone of one sheet, counted from side A (1 is the first).

    Diameters [m] are the widest over the sheet's thickness; None where the steel has no such zone,
    0 where it came to none. The softened ring lies between ``haz_diameter`` and
    ``softened_diameter``.
    """

    sheet: int
    heating_rate: float | None  # K/s at the edge of the zone, 500 to 700 degC; None: not so hot
    ac1: Estimate | None  # degC, at that heating rate
    ac3: Estimate | None  # degC, at that heating rate
    haz_diameter: Estimate  # m, over Ac1; over 900 degC for steel that does not transform
    austenitised_diameter: Estimate | None  # m, over Ac3
    softened_diameter: Estimate | None  # m, over 550 degC
    indentation: Estimate | None  # m, of an outer sheet


def fusion_temperature(face: FayingInterface) -> float:
    """Temperature from which the faces of an interface count as molten, as the solver counts it.

    Parameters
    ----------
    face : FayingInterface
        Where two sheets meet.

    Returns
    -------
    float
        Mean of solidus and liquidus of both steels [degC].
    """
    both = [curves(sheet.steel) for sheet in (face.sheet_a, face.sheet_b)]
    return sum(one.solidus + one.liquidus for one in both) / 4.0


def diameter_over(weld: Simulation, sheet: int, level: float) -> float:
    """Widest ring of one sheet that came to a temperature.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    sheet : int
        Counted from side A, 1 is the first.
    level : float
        The temperature [degC].

    Returns
    -------
    float
        Diameter [m]; 0 where nothing did.
    """
    hottest = np.where(weld.layout.part == sheet, weld.peak, -np.inf).max(axis=0)
    return 2.0 * edge_radius(weld.layout.r_faces, hottest, level)


def diameter_estimate(weld: Simulation, doubted: Pairs, sheet: int, level: Estimate) -> Estimate:
    """Widest ring of one sheet that came to a temperature which is itself not well known.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation.
    sheet : int
        Counted from side A, 1 is the first.
    level : Estimate
        The temperature [degC].

    Returns
    -------
    Estimate
        Diameter [m] with its 90 % interval.
    """
    value, narrow, wide = (
        diameter_over(weld, sheet, one) for one in (level.value, level.high, level.low)
    )
    spread = Z90 * math.hypot(
        OWN_SPREAD * value,
        *(
            diameter_over(moved, sheet, level.value) - diameter_over(base, sheet, level.value)
            for base, moved in doubted
        ),
    )
    down, up = math.hypot(value - narrow, spread), math.hypot(wide - value, spread)
    return Estimate(value, max(0.0, value - down), value + up)


def edge_heating_rate(weld: Simulation, sheet: int) -> float | None:
    """How fast the edge of a sheet's heat-affected zone was heated, at its faying faces.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    sheet : int
        Counted from side A, 1 is the first.

    Returns
    -------
    float or None
        Mean of its interfaces from 500 to 700 degC [K/s]; None where neither came to 750 degC.
    """
    rates = []
    for index in (sheet - 2, sheet - 1):
        if not 0 <= index < len(weld.nugget):
            continue
        hot = np.flatnonzero(weld.faces.hottest[index] >= RATE_READ_FROM)
        if len(hot):
            rates.append(float(weld.faces.heating_rate[index, hot[-1]]))
    return math.exp(sum(math.log(one) for one in rates) / len(rates)) if rates else None


def sheet_zones(weld: Simulation, doubted: Pairs, stack: StackUp) -> tuple[SheetZones, ...]:
    """Measure the zones of every sheet.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation.
    stack : StackUp
        The sheets.

    Returns
    -------
    tuple of SheetZones
        From side A; SI, with 90 % intervals.
    """
    last = len(stack.sheets)
    sunk = {1: float(weld.sunk[0]), last: float(weld.sunk[1])}
    return tuple(
        _zones(weld, doubted, number, sheet.steel, sunk.get(number))
        for number, sheet in enumerate(stack.sheets, start=1)
    )


def _zones(
    weld: Simulation, doubted: Pairs, number: int, steel: Steel, sunk: float | None
) -> SheetZones:
    rate = edge_heating_rate(weld, number)
    ac1, ac3 = (transformation_line(steel, line, rate or 0.0) for line in ("Ac1", "Ac3"))
    return SheetZones(
        sheet=number,
        heating_rate=rate,
        ac1=ac1,
        ac3=ac3,
        haz_diameter=diameter_estimate(weld, doubted, number, ac1 or NO_TRANSFORMATION),
        austenitised_diameter=None
        if ac3 is None
        else diameter_estimate(weld, doubted, number, ac3),
        softened_diameter=diameter_estimate(weld, doubted, number, TEMPERED_FROM)
        if softens(steel)
        else None,
        indentation=None if sunk is None else _indented(sunk),
    )


def _indented(sunk: float) -> Estimate:
    spread = Z90 * SUNK_SPREAD
    return Estimate(sunk, sunk * max(0.0, 1.0 - spread), sunk * (1.0 + spread))
