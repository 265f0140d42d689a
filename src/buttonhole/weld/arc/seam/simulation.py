"""From a joint and a set-up to one march of the compiled solver."""

import math
import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.metal import ThermalMetal
from buttonhole.weld.arc.seam import grid as g
from buttonhole.weld.arc.seam.constants import SEAM, SeamConstants
from buttonhole.weld.arc.seam.joint import SeamJoint
from buttonhole.weld.arc.seam.layout import (
    DEFAULT,
    Layout,
    Resolution,
    centres,
    fastest_rate,
    lay_out,
    rimmed_faces,
)
from buttonhole.weld.arc.seam.march import march
from buttonhole.weld.arc.seam.set_up import SeamSetUp, path
from buttonhole.weld.arc.seam.tables import AMBIENT, SeamTables, seam_tables

Array = NDArray[np.float64]
Codes = NDArray[np.int64]

STOP_BELOW = 450.0  # degC; every cooling time is known when all metal is below
LONGEST_COOLING = 60.0  # s
# Travel angle: conduction has no usable sign for it. The trade says a dragged arc goes deeper; this
# much of the deep share per degree, at most MOST_TILT, is a proposal without a source.
TILT, MOST_TILT = 0.015, 0.30  # 1/deg, -
GAP_SCALE = 2.5e-3  # m, depth at which an open gap draws half of what it can; no source
MEANT, SIGMA_EXPONENT = 100.0, 0.3  # A at which the arc's numbers are meant, -
MOST_PUSHED = 0.8  # -, of the arc's heat; no source
REACH = 4.0  # standard deviations of the arc that are computed


class SeamFailed(ArithmeticError):
    """The solver met a state that is not finite."""


@dataclass(frozen=True, slots=True)
class Simulation:
    """What one march left behind; arrays over cells as in ``layout``, rim included."""

    joint: SeamJoint
    set_up: SeamSetUp
    constants: SeamConstants
    layout: Layout
    part: Codes  # - codes of ``grid``, deposit included
    peak: Array  # degC
    final: Array  # J/m3, enthalpy at the end
    cooling: Array  # s from 800 to 500 degC, NaN where that did not happen
    shapes: Array  # (nx + 2, 7), m: outline of the deposit in each slice, columns of ``grid``
    deposit: Array  # (nx + 2,), m2, section laid down in each slice
    arc_heat: float  # J
    droplet_heat: float  # J
    lost: float  # J
    imbalance: float  # - of the books, relative to the heat that came in
    steps: int
    stages: int
    end: float  # s
    cooled: bool  # all metal came below STOP_BELOW
    seconds: float  # s of one core, in the compiled solver

    @property
    def x(self) -> Array:
        """Middles of the slices, rim included [m]."""
        return centres(self.layout.x_faces)

    @property
    def y(self) -> Array:
        """Middles of the columns, rim included [m]."""
        return centres(self.layout.y_faces)


def arc_width(constants: SeamConstants, set_up: SeamSetUp) -> float:
    """Standard deviation of the arc's heat across its axis [m], at the current that flows.

    Sources
    -------
    tsai-eagar-1985 (the exponent; from memory).
    """
    return constants.sigma * math.pow(max(set_up.heat.current / MEANT, 0.1), SIGMA_EXPONENT)


def finger_share(constants: SeamConstants, set_up: SeamSetUp) -> float:
    """Share of the arc's heat that goes deep [-]: what the current pushes, and the travel angle.

    The arc's force grows with the current, and depth with more than the current
    (handbook-memory: about its power of 4/3); the share taken as proportional to it is a proposal.
    """
    tilt = min(max(-TILT * set_up.torch.travel_angle, -MOST_TILT), MOST_TILT)
    pushed = min(constants.finger_share * set_up.heat.current / MEANT, MOST_PUSHED)
    return min(pushed * (1.0 + tilt), 0.9)


def wet_temperature(
    joint: SeamJoint, filler: ThermalMetal | None, constants: SeamConstants
) -> float:
    """Temperature a face must have to be wetted [degC] by its own metal, or by a filler.

    A front of melt goes on as long as it does not freeze. Melt of the sheet's own kind is hotter
    than the face and lifts it by ``below_solidus``; a filler must not freeze on the face.
    """
    if filler is not None:
        return filler.curves.solidus
    return min(sheet.metal.curves.solidus for sheet in joint.sheets) - constants.below_solidus


def _metals(joint: SeamJoint, filler: ThermalMetal | None) -> tuple[list[ThermalMetal], list[int]]:
    """Different metals, and which of them the sheets and the deposit are of."""
    wanted = [sheet.metal for sheet in joint.sheets]
    wanted += [joint.lower.metal] * (3 - len(wanted)) + [filler or joint.lower.metal]
    names = list(dict.fromkeys(metal.curves.name for metal in wanted))
    metals = [next(m for m in wanted if m.curves.name == name) for name in names]
    return metals, [names.index(metal.curves.name) for metal in wanted]


def _numbers(
    joint: SeamJoint,
    set_up: SeamSetUp,
    constants: SeamConstants,
    resolution: Resolution,
    rate: float,
) -> Array:
    numbers = np.zeros(20)
    numbers[g.SIGMA] = arc_width(constants, set_up)
    numbers[g.FINGER_SHARE] = finger_share(constants, set_up)
    numbers[g.FINGER_RADIUS] = constants.finger_radius
    numbers[g.FINGER_DEPTH] = constants.finger_depth
    numbers[g.EDGE_SHARE] = constants.edge_attachment
    numbers[g.WET_TEMPERATURE] = wet_temperature(joint, set_up.filler, constants)
    numbers[g.SPLAT] = constants.splat
    numbers[g.CONVECTION] = constants.convection
    numbers[g.AMBIENT] = AMBIENT
    numbers[g.STEP_LENGTH] = resolution.travel * resolution.cell
    numbers[g.LONGEST_ARC_STEP] = resolution.longest_arc_step
    numbers[g.COOLING_GROWTH] = resolution.cooling_growth
    numbers[g.LONGEST_STEP] = resolution.longest_step
    numbers[g.STOP_BELOW] = STOP_BELOW
    numbers[g.LONGEST_COOLING] = LONGEST_COOLING
    numbers[g.FASTEST_RATE] = rate
    numbers[g.RESTS_AT] = math.radians(constants.rests_at)
    numbers[g.FLATTEST] = constants.flattest
    numbers[g.GAP_SCALE] = GAP_SCALE
    numbers[g.REACH] = REACH * numbers[g.SIGMA]
    return numbers


def _room(of_part: list[int], shape: tuple[int, ...]) -> int:
    """How many faces of a deposit of another metal may have to be listed."""
    return 0 if len(set(of_part)) == 1 else 3 * shape[0] * shape[1] * 60


def simulate(
    joint: SeamJoint,
    set_up: SeamSetUp,
    resolution: Resolution = DEFAULT,
    constants: SeamConstants = SEAM,
    rng: np.random.Generator | None = None,
    cooling: float = LONGEST_COOLING,
) -> Simulation:
    """Weld a seam once and let it cool.

    Parameters
    ----------
    joint, set_up
        What is welded, and how.
    resolution : Resolution
        Cells [m] and steps.
    constants : SeamConstants
        The model's numbers.
    rng : numpy.random.Generator, optional
        Draws how the hand wanders this once; without it the hand is steady.
    cooling : float
        Longest time after the last arc [s]; 0 is enough for fusion and peaks near the seam.

    Returns
    -------
    Simulation
        Fields and books in SI units.

    Raises
    ------
    SeamFailed
        When the state was not finite.
    """
    joint = joint.fitted()
    metals, of_part = _metals(joint, set_up.filler)
    tables = seam_tables(metals, constants)
    section = set_up.heat.deposition_rate / min(run.speed for run in set_up.runs)
    layout = lay_out(
        joint, resolution, constants, of_part, set_up.torch.aim_offset + set_up.torch.stray, section
    )
    numbers = _numbers(joint, set_up, constants, resolution, fastest_rate(layout, tables.fastest))
    numbers[g.LONGEST_COOLING] = cooling
    way = path(joint, set_up, rng)
    return _march(joint, set_up, layout, tables, way, numbers, of_part, constants)


def _march(
    joint: SeamJoint,
    set_up: SeamSetUp,
    layout: Layout,
    tables: SeamTables,
    way: Array,
    numbers: Array,
    of_part: list[int],
    constants: SeamConstants,
) -> Simulation:
    shape, part, heat = layout.part.shape, layout.part.copy(), set_up.heat
    peak, cooled_in = np.full(shape, AMBIENT), np.full(shape, math.nan)
    shapes, laid, filled = np.zeros((shape[0], 7)), np.zeros(shape[0]), np.zeros(shape[0])
    faces = (layout.x_faces, layout.y_faces, layout.z_faces)
    sizes = (layout.dx, layout.dy, layout.dz)
    top = np.repeat(layout.ground[None, :], shape[0], axis=0)
    material = np.array([*of_part, 0], dtype=np.int64)[np.clip(part, -1, 3)]
    links = np.concatenate([layout.links, np.zeros((_room(of_part, shape), 4), np.int64)])
    couplings = tuple(each.copy() for each in (layout.gx, layout.gy, layout.gz, layout.gap_flow))
    enthalpy = heat.droplet_power / heat.deposition_rate if heat.deposition_rate > 0.0 else 0.0
    started = time.process_time()
    h, books, steps, stages, end, cooled = march(
        way,
        set_up.torch.axis(),
        np.array([heat.arc_power, heat.deposition_rate, enthalpy]),
        numbers,
        joint.gap,
        np.array([layout.gap_row, *layout.gap_columns]),
        layout.fine,
        of_part[g.DEPOSIT],
        np.zeros(shape),
        (part, material, layout.bare.copy(), layout.ground, top),
        (*couplings, links, np.array([len(layout.links)])),
        (*map(centres, faces), *map(rimmed_faces, faces)),
        (*sizes, *(1.0 / size for size in sizes)),
        (layout.low.copy(), layout.high.copy()),
        (tables.per_step, tables.table, tables.solidus),
        layout.bar,
        (peak, cooled_in, shapes, laid, filled),
    )
    seconds = time.process_time() - started
    if not np.isfinite(h).all():
        raise SeamFailed("the state of the seam is not finite; this is a fault of the program")
    came = float(books[g.ARC] + books[g.DROPLETS])
    stored = float((h * layout.volume).sum())
    return Simulation(
        joint, set_up, constants, layout, part, peak, h, cooled_in, shapes, laid,
        float(books[g.ARC]), float(books[g.DROPLETS]), float(books[g.LOST]),
        abs(stored - (came - float(books[g.LOST]))) / max(came, 1e-12),
        int(steps), int(stages), float(end), bool(cooled), seconds,
    )  # fmt: skip
