"""A run of welds: the caps carry their heat from one to the next, the sheets are fresh each time.

The field of each cap is kept as the march left it and goes on conducting between two welds, into
the water, or without water into the shank. The shank is lumped: what the cap gives it, it stores
and loses to arm and air. Within a weld an air-cooled cap keeps its heat.
"""

import dataclasses
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot.condition import NORMAL, ROOM, SpotCondition
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.layout import Layout
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import (
    COARSE,
    Left,
    Resolution,
    bundles,
    simulate_from,
    tables_of,
)

Array = NDArray[np.float64]

# An air-cooled electrode of 16 mm and 60 mm behind the cap; judged, no source.
SHANK_FILM = 1.1e4  # W/m2/K, copper conductivity over 30 mm, on the back of the cap
SHANK_CAPACITY = 41.0  # J/K
SHANK_LOSS = 0.27  # W/K, to the arm and the air
LONGEST_WAIT = 0.5  # s, between two balances of the shank
WAIT_STEP = 0.1  # s
SETTLED = 1.0  # K, within which the caps start as at the end of the run
MOST_WELDS = 5000


@dataclass(frozen=True, slots=True)
class WeldRun:
    """What a run of welds came to, one row a weld; caps A and B in columns."""

    nugget: Array  # (welds, interfaces), m
    start: Array  # (welds, 2), degC, mean of each cap when its weld begins
    peak_face: Array  # (welds, 2), degC, hottest copper
    shank: Array  # (welds, 2), degC after the weld's interval; room temperature with water
    gained: Array  # (welds, 2), J that welds left in each cap
    given: Array  # (welds, 2), J that each cap gave off until the next weld

    @property
    def settled(self) -> int | None:
        """After how many welds the caps start within a kelvin of the last start; None: not yet."""
        off = np.abs(self.start - self.start[-1]).max(axis=1) > SETTLED
        after = int(np.flatnonzero(off)[-1]) + 1 if off.any() else 0
        return after if after < len(self.start) - 1 else None


def weld_run(
    stack: StackUp,
    set_up: SpotSetUp,
    welds: int,
    interval: float,
    *,
    condition: SpotCondition = NORMAL,
    resolution: Resolution = COARSE,
    constants: ContactConstants = CONTACT,
    progress: Callable[[int, int], None] | None = None,
) -> WeldRun:
    """Make one weld after the other with the same caps.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    welds : int
        How many.
    interval : float
        From one weld to the next [s], squeeze, weld and hold in it.
    condition : SpotCondition
        What the welds are made in; the cap temperatures are those before the first.
    resolution : Resolution
        Cells and steps of the solver.
    constants : ContactConstants
        The contact model's numbers.
    progress : callable, optional
        Called with (done, of) after each weld; an exception it raises stops the work.

    Returns
    -------
    WeldRun
        Figures in SI units.

    Raises
    ------
    BadInput
        An interval shorter than a weld, or a number of welds that is none.
    """
    rest = _rest(set_up, welds, interval)
    short = dataclasses.replace(resolution, cooling=False)
    caps: Array | None = None
    shank = np.array(condition.cap_temperature)
    rows = []
    for number in range(welds):
        weld, left = simulate_from(stack, set_up, short, constants, condition, (), caps)
        before = _heat(left, left.begun_enthalpy)
        after = _heat(left, left.cells[f.ENTHALPY])
        caps, given = _wait(stack, left, constants, condition, rest, shank)
        start = _mean(stack, left, left.begun_enthalpy)
        peak = np.array([left.cells[f.PEAK][left.layout.part == n].max() for n in _caps(left)])
        rows.append((weld.nugget, start, peak, shank.copy(), after - before, given))
        if progress is not None:
            progress(number + 1, welds)
    return WeldRun(*(np.array(column) for column in zip(*rows, strict=True)))


def _rest(set_up: SpotSetUp, welds: int, interval: float) -> float:
    """Time [s] from the end of a hold to the next squeeze."""
    rest = interval - set_up.squeeze_time - set_up.weld_time - set_up.hold_time
    if not 0.0 <= rest < 3600.0:
        raise BadInput(
            "interval",
            f"is {interval:g} s; a weld takes {interval - rest:g} s, give that to one hour",
        )
    if not 1 <= welds <= MOST_WELDS:
        raise BadInput("welds", f"is {welds}; give 1 to {MOST_WELDS}")
    return rest


def _caps(left: Left) -> tuple[int, int]:
    """Numbers of the parts that are caps A and B; in a mirrored half both are A."""
    last = len(left.facts)  # one more than there are sheets
    return 0, last if (left.layout.part == last).any() else 0


def _heat(left: Left, enthalpy: Array) -> Array:
    """Heat in each cap [J], counted from room temperature."""
    joule = enthalpy * left.cells[f.VOLUME]
    return np.array([joule[left.layout.part == n].sum() for n in _caps(left)])


def _mean(stack: StackUp, left: Left, enthalpy: Array) -> Array:
    """Temperature of each cap [degC] that holds as much heat when it is even."""
    tables = tables_of(stack)
    volumes = [left.cells[f.VOLUME][left.layout.part == n].sum() for n in _caps(left)]
    copper = tables.enthalpy[0]
    found: Array = np.interp(
        _heat(left, enthalpy) / volumes, copper, ROOM + np.arange(len(copper), dtype=float)
    )
    return found


def _wait(
    stack: StackUp,
    left: Left,
    constants: ContactConstants,
    condition: SpotCondition,
    rest: float,
    shank: Array,
) -> tuple[Array, Array]:
    """Let both caps cool until the next weld; their enthalpy [J/m3] and what they gave off [J].

    ``shank`` [degC] moves on in place.
    """
    from buttonhole.weld.spot.waiting import wait

    water, tables = condition.water_temperature, tables_of(stack)
    film = constants.water_film if water is not None else SHANK_FILM
    law = dataclasses.replace(constants, water_film=film).array()
    kept, given = left.cells[f.ENTHALPY].copy(), np.zeros(2)
    for side, number in enumerate(_caps(left)):
        if side == 1 and number == 0:
            given[1], shank[1] = given[0], shank[0]
            break
        cells, alone = _alone(left, number)
        grid, material, work = bundles(alone, tables)
        joint = (left.facts, left.caps.copy(), False, law)
        radii, feed, gone = np.zeros(len(grid[5])), np.zeros(f.FEED), 0.0
        while gone < rest - 1e-9:
            span = min(LONGEST_WAIT, rest - gone)
            feed[f.OUTSIDE] = shank[side] if water is None else water
            out = -float(
                wait(cells, grid, material, joint, feed, work, radii, True, span, WAIT_STEP)
            )
            given[side] += out
            if water is None:
                over = shank[side] + out / SHANK_CAPACITY - ROOM
                shank[side] = ROOM + over * math.exp(-span * SHANK_LOSS / SHANK_CAPACITY)
            gone += span
        if water is not None:
            shank[side] = ROOM
        mine = left.layout.part == number
        kept[mine] = cells[f.ENTHALPY][mine]
    return kept, given


def _alone(left: Left, number: int) -> tuple[Array, Layout]:
    """Fields and section with one cap in it and air elsewhere."""
    layout = left.layout
    part = np.where(layout.part == number, number, -1)
    cells = left.cells.copy()
    cells[f.ENTHALPY][part < 0] = 0.0
    return cells, dataclasses.replace(layout, part=np.ascontiguousarray(part))
