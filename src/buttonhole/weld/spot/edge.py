"""Where a field that falls outwards crosses a level, finer than a cell. Numerical, no source."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def edge_radius(r_faces: Array, values: Array, level: float) -> float:
    """Radius of the outermost ring that reaches a level.

    Parameters
    ----------
    r_faces : Array
        (nr + 1,) bounds of the rings [m].
    values : Array
        (nr,) on the middles of the rings [unit of level]; minus infinity where there is nothing.
    level : float
        What is to be reached [unit of values].

    Returns
    -------
    float
        [m], linear between the middles of the rings; 0 where none reaches it.
    """
    over = np.flatnonzero(values >= level)
    if not len(over):
        return 0.0
    middles = (r_faces[1:] + r_faces[:-1]) / 2
    i = int(over[-1])
    if i + 1 == len(middles) or not np.isfinite(values[i + 1]):
        return float(middles[i])
    share = (values[i] - level) / (values[i] - values[i + 1])
    return float(middles[i] + share * (middles[i + 1] - middles[i]))
