"""Small nets that answer together: their mean, and how far they are apart. Numerical, no source."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Small = NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class Nets:
    """Nets of one shape, each from a start of its own; single precision, as they were taught."""

    weights: tuple[Small, ...]  # (nets, from, to) of each layer [-]
    offsets: tuple[Small, ...]  # (nets, 1, to) of each layer [-]
    input_middle: Small  # (columns,), -
    input_width: Small  # (columns,), -
    output_middle: Small  # (numbers,), -
    output_width: Small  # (numbers,), -
    turned_inputs: NDArray[np.int64]  # (columns,), - places when looked at from side B
    turned_outputs: NDArray[np.int64]  # (numbers,), -

    def each(self, views: Array) -> Array:
        """What every net says.

        A weld looked at from the other side is the same weld: both views are asked and their mean
        is taken, so that turning the stack-up round changes nothing.

        Parameters
        ----------
        views : Array
            (welds, interfaces, columns) [-].

        Returns
        -------
        Array
            (nets, welds, interfaces, numbers) [-].
        """
        rows = views.reshape(-1, views.shape[-1])
        both = np.concatenate([rows, rows[:, self.turned_inputs]])
        layer: Small = ((both - self.input_middle) / self.input_width).astype(np.float32)[None]
        for weight, offset in zip(self.weights[:-1], self.offsets[:-1], strict=True):
            layer = bent(layer @ weight + offset)
        last = layer @ self.weights[-1] + self.offsets[-1]
        numbers = last * self.output_width + self.output_middle
        count = len(rows)
        other = numbers[:, count:][:, :, self.turned_outputs]
        mean: Small = np.float32(0.5) * (numbers[:, :count] + other)
        found: Array = mean.reshape(len(mean), *views.shape[:-1], -1).astype(np.float64)
        return found


def bent(x: Small) -> Small:
    """The bend of a layer: x for large x, nothing for very negative x, smooth in between [-].

    Parameters
    ----------
    x : ndarray
        What comes into it [-].

    Returns
    -------
    ndarray
        [-].
    """
    gate = np.float32(1.0) + np.exp(-np.maximum(x, np.float32(-60.0)))
    found: Small = (x / gate).astype(np.float32, copy=False)
    return found
