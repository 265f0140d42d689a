"""What a seam may also be: the same seam with what is doubted moved, on coarse cells.

The doubts: power, width of the arc, how deep it works, contact, stirring, how an open gap draws
the arc, and the hand's aim and speed. Each member is a short piece of the seam, long enough for its
middle to be steady in what melts (12 to 15 mm). Size of the ensemble: our own, no source.
"""

import dataclasses
import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.arc.seam.constants import SPREADS, SeamConstants
from buttonhole.weld.arc.seam.joint import SHORTEST, SeamJoint
from buttonhole.weld.arc.seam.layout import Resolution
from buttonhole.weld.arc.seam.reading import SeamReading, read
from buttonhole.weld.arc.seam.set_up import Run, SeamSetUp
from buttonhole.weld.arc.seam.simulation import simulate

Array = NDArray[np.float64]

PIECE = 16e-3  # m
COARSE = Resolution(cell=0.8e-3, rows=2, travel=0.3, longest_arc_step=30e-3, cooling_growth=0.05)
MEMBERS = 24
AFTERWARDS = 1.5  # s of cooling; the zones near the seam have their peaks by then
NAMES = (*SPREADS, "edge_attachment", "aim", "speed")


@dataclass(frozen=True, slots=True)
class Members:
    """Figures in the middle of each member; the first row is the seam as believed.

    Arrays have shape (members,) or, for sheets, (members, sheets).
    """

    penetration: Array  # m
    fused_width: Array  # m
    haz_edge: Array  # m
    haz_band: Array  # m
    haz_width: Array  # m
    zinc_width: Array  # m
    wetted_width: Array  # m
    leg_lower: Array  # m
    leg_upper: Array  # m
    throat: Array  # m
    back_peak: Array  # degC
    back_melted: Array  # m
    heat_ratio: Array  # - of power over speed


def even_draws(count: int, dimensions: int) -> Array:
    """Standard normal numbers that fill the space evenly, shape (count, dimensions) [-].

    The same ones every time: fractional parts of multiples of the powers of a root (numerical, from
    memory).
    """
    root = 2.0
    for _ in range(60):
        root = (1.0 + root) ** (1.0 / (dimensions + 1))
    steps = root ** -np.arange(1.0, dimensions + 1)
    shares = (0.5 + np.outer(np.arange(1, count + 1), steps)) % 1.0
    drawn: Array = np.vectorize(NormalDist().inv_cdf)(np.clip(shares, 1e-6, 1.0 - 1e-6))
    return drawn


def _member(
    joint: SeamJoint, set_up: SeamSetUp, constants: SeamConstants, z: Array
) -> tuple[SeamJoint, SeamSetUp, SeamConstants, float]:
    by = dict(zip(NAMES, z.tolist(), strict=True))
    moved = {
        name: getattr(constants, name) * math.exp(spread * by[name])
        for name, spread in SPREADS.items()
        if name != "power"
    }
    moved["finger_share"] = min(moved["finger_share"], 0.8)
    # from 0 to 1, the believed one in the middle
    share = NormalDist().cdf(by["edge_attachment"])
    moved["edge_attachment"] = min(max(constants.edge_attachment + share - 0.5, 0.0), 1.0)
    factor = math.exp(SPREADS["power"] * by["power"])
    speed = set_up.runs[0].speed * math.exp(set_up.hand.speed * by["speed"])
    stray = min(max(set_up.torch.stray + set_up.hand.aim * by["aim"], -6e-3), 6e-3)
    longest = max(abs(run.end - run.start) for run in set_up.runs)
    piece = max(min(longest, PIECE), SHORTEST)
    return (
        dataclasses.replace(joint, length=piece),
        dataclasses.replace(
            set_up,
            heat=set_up.heat.scaled(factor),
            torch=dataclasses.replace(set_up.torch, stray=stray),
            runs=(Run(0.0, piece, min(max(speed, 1e-3), 50e-3)),),
        ),
        dataclasses.replace(constants, **moved),
        factor * set_up.runs[0].speed / speed,
    )


def middle(reading: SeamReading, values: Array) -> float:
    """Median of ``values`` [SI] (slices,) over the slices off the ends; 0 where none is known."""
    known = values[reading.middle]
    known = known[np.isfinite(known)]
    return float(np.median(known)) if len(known) else 0.0


OF_SHEETS = (
    "penetration", "fused_width", "haz_edge", "haz_band", "haz_width", "zinc_width", "wetted_width",
)  # fmt: skip
OF_SEAM = ("leg_lower", "leg_upper", "throat")


def _row(reading: SeamReading, ratio: float) -> dict[str, object]:
    """Figures in the middle of one seam, by the names of ``Members``."""
    back = reading.sheets[0]
    return {
        **{
            name: [middle(reading, getattr(sheet, name)) for sheet in reading.sheets]
            for name in OF_SHEETS
        },
        **{name: middle(reading, getattr(reading, name)) for name in OF_SEAM},
        "back_peak": middle(reading, back.outer_peak),
        "back_melted": middle(reading, back.outer_melted),
        "heat_ratio": ratio,
    }


def _gathered(rows: list[dict[str, object]]) -> Members:
    return Members(**{name: np.array([row[name] for row in rows]) for name in rows[0]})


def no_doubt(reading: SeamReading) -> Members:
    """Take one seam for all that could be."""
    return _gathered([_row(reading, 1.0)] * 2)


def members(
    joint: SeamJoint, set_up: SeamSetUp, constants: SeamConstants, count: int = MEMBERS
) -> Members:
    """Weld the seam as believed and ``count`` times as it may also be."""
    rows = []
    for z in np.vstack([np.zeros(len(NAMES)), even_draws(count, len(NAMES))]):
        piece, moved, numbers, ratio = _member(joint, set_up, constants, z)
        rows.append(_row(read(simulate(piece, moved, COARSE, numbers, cooling=AFTERWARDS)), ratio))
    return _gathered(rows)
