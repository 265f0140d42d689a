"""The outside of a spot weld on side B: what the predicted heat leaves to be seen there."""

from typing import TYPE_CHECKING

import numpy as np

from buttonhole.joint.coating import ZINC
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper.figure.arc_back import DrawnBack, DrawnRing

if TYPE_CHECKING:  # a page without a prediction need not load the solver
    from buttonhole.weld.spot.result import SpotWeld

TINT, ZINC_BOILS = 300.0, 907.0  # degC; straw colour begins, zinc boils at 1 bar; from memory


def spot_back(weld: "SpotWeld", stack: StackUp) -> DrawnBack:
    """Say what the drawing of the outside on side B shows.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    stack : StackUp
        The sheets it was made for.

    Returns
    -------
    DrawnBack
        To hand to :func:`buttonhole.paper.figure.arc_back.arc_back`. The rings are as uncertain as
        the heat zone.

    Sources
    -------
    - handbook-memory: the two temperatures.
    """
    field, last = weld.section, len(stack.sheets)
    radii = 0.5 * (field.r_faces[:-1] + field.r_faces[1:])
    hottest = np.full(len(radii), np.nan)
    for place in range(len(radii)):
        rows = np.flatnonzero(field.part[:, place] == last)
        if len(rows):
            hottest[place] = field.peak_temperature[rows[-1], place]
    marks = [("tint", "straw colour", TINT)]
    if stack.sheets[-1].coating in ZINC:
        marks.append(("zinc", "zinc boiled off", ZINC_BOILS))
    zone = weld.haz_diameter
    low, high = (one / zone.value if zone.value > 0 else 1.0 for one in (zone.low, zone.high))
    rings = []
    for kind, name, level in marks:
        wide = _out_to(radii, hottest, level)
        if wide > 0.0:
            rings.append(DrawnRing(kind, name, wide, wide * low, wide * high))
    deep = weld.indentation.value * 1e3
    return DrawnBack(
        tuple(rings), f"print {deep:.2f} mm deep" if deep >= 0.02 else "hardly a print"
    )


def _out_to(radii: np.ndarray, hottest: np.ndarray, level: float) -> float:
    """Diameter [m] out to which a face came over a temperature [degC]; 0 where it never did."""
    over = np.flatnonzero(hottest >= level)  # never so where there is no metal
    if not len(over):
        return 0.0
    edge, beyond = int(over[-1]), int(over[-1]) + 1
    if beyond >= len(radii) or not np.isfinite(hottest[beyond]):
        return 2.0 * float(radii[edge])
    share = (hottest[edge] - level) / (hottest[edge] - hottest[beyond])
    return 2.0 * float(radii[edge] + share * (radii[beyond] - radii[edge]))
