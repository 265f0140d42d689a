"""How far the sheets part beside a spot weld: the hot column under the caps swells.

The column is shut in by cold sheet all round, so that it swells along the axis more than it would
freely; what melts swells most. Beside the contact nothing has swollen and the sheets stand apart by
what the column gained. Bending by the dents is not in it.

Elastic-plastic finite elements of decision 0012 found 27 to 111 um at 0.5 and 1.5 mm.

Sources: handbook-memory (expansion of steel and its confinement).
"""

import itertools

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.fields import MELTING_GROWTH
from buttonhole.weld.spot.simulation import Simulation

Array = NDArray[np.float64]

EXPANSION = 1.4e-5  # 1/K, mean of steel to near melting; from memory
CONFINED = 1.86  # -, (1 + 0.3) / (1 - 0.3): axial over free expansion when the sides are held
LEAST, MOST = 0.5, 2.0  # -, of the value: 90 % interval, judged, no source


def sheet_separation(weld: Simulation, stack: StackUp) -> tuple[Estimate, ...]:
    """Gap beside each faying contact when the current goes off.

    Parameters
    ----------
    weld : Simulation
        One march.
    stack : StackUp
        What was welded.

    Returns
    -------
    tuple of Estimate
        One for each interface [m].
    """
    gained = [_swelling(weld, stack, number) for number in range(len(stack.sheets))]
    found = []
    for a, b in itertools.pairwise(gained):
        value = 0.5 * (a + b)  # the middles of the two sheets move apart by half of what each gains
        found.append(Estimate(value, LEAST * value, MOST * value))
    return tuple(found)


def _swelling(weld: Simulation, stack: StackUp, number: int) -> float:
    """What a sheet gains in thickness on the axis over the sheet beside the contact [m]."""
    layout, steel = weld.layout, curves(stack.sheets[number].steel)
    rows = np.flatnonzero(layout.part[:, 0] == number + 1)
    thick = np.diff(layout.z_faces)[rows]
    hot = weld.at_off[rows, 0]
    middles = (layout.r_faces[1:] + layout.r_faces[:-1]) / 2
    beside = float(weld.contact_radius.max()) + 0.5 * stack.sheets[number].thickness
    at = min(int(np.searchsorted(middles, beside)), len(middles) - 1)
    cold = weld.at_off[rows, at]
    melted = np.clip((hot - steel.solidus) / (steel.liquidus - steel.solidus), 0.0, 1.0)
    solid = CONFINED * EXPANSION * (np.minimum(hot, steel.solidus) - cold)
    return float((thick * (np.maximum(solid, 0.0) + MELTING_GROWTH * melted)).sum())
