"""Teaches small nets what the solver said: gradient descent with a fading pace.

Every net of an ensemble begins at its own place and sees the welds in its own order, so that where
they were taught little they part. Each weld is shown from both of its sides.
"""

import os
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.spot.emulator.figures import SIZE_AT, WARMTH_AT, turned_numbers
from buttonhole.weld.spot.emulator.inputs import turned
from buttonhole.weld.spot.emulator.nets import Nets

Array = NDArray[np.float64]
Small = NDArray[np.float32]

NETS = 4
WORKERS = 2  # processes, with little claim on the machine
HIDDEN = (96, 96, 96)
BATCH = 256
PACE = 3e-3  # of the first steps
LATER_PACE = 1e-3  # of nets that were taught before
WARM = 0.02  # share of the steps in which the pace rises
DECAY = 0.1  # of the weights in each step, over the pace
NUGGET_COUNTS = 2.0  # weight of the nugget's error over that of the other numbers
NARROW = 1e-6  # a column that never moves is left alone


@dataclass
class _Net:
    """Weights and offsets of one net with the moments of their slopes."""

    values: list[Small]
    first: list[Small] = field(init=False)
    second: list[Small] = field(init=False)
    steps: int = 0

    def __post_init__(self) -> None:
        self.first = [np.zeros_like(one) for one in self.values]
        self.second = [np.zeros_like(one) for one in self.values]

    def step(self, slopes: list[Small], pace: float) -> None:
        """Go one step down the slopes (Adam, decoupled decay)."""
        self.steps += 1
        for value, slope, m, v in zip(self.values, slopes, self.first, self.second, strict=True):
            m += 0.1 * (slope - m)
            v += 0.001 * (slope * slope - v)
            rise = m / (1.0 - 0.9**self.steps)
            size = np.sqrt(v / (1.0 - 0.999**self.steps)) + 1e-8
            value -= np.float32(pace) * rise / size
            if value.ndim == 2:
                value *= np.float32(1.0 - pace * DECAY)


def _begun(widths: tuple[int, ...], rng: np.random.Generator) -> _Net:
    values: list[Small] = []
    for into, out in pairwise(widths):
        spread = np.sqrt(2.0 / into)
        values.append((spread * rng.standard_normal((into, out))).astype(np.float32))
        values.append(np.zeros(out, np.float32))
    return _Net(values)


def _slopes(net: _Net, x: Small, y: Small, weight: Small) -> list[Small]:
    """Slopes of the weighted mean square error; ``weight`` is nothing where y is not known."""
    layers, gates = [x], []
    last = len(net.values) // 2 - 1
    for index in range(last + 1):
        before = layers[-1] @ net.values[2 * index] + net.values[2 * index + 1]
        if index == last:
            layers.append(before)
            break
        open_ = 1.0 / (1.0 + np.exp(-np.maximum(before, np.float32(-60.0))))
        layers.append(before * open_)
        gates.append(open_ * (1.0 + before * (1.0 - open_)))
    back = weight * (layers[-1] - y) * np.float32(2.0 / len(x))
    slopes: list[Small] = []
    for index in range(last, -1, -1):
        slopes[:0] = [layers[index].T @ back, back.sum(axis=0)]
        if index > 0:
            back = (back @ net.values[2 * index].T) * gates[index - 1]
    return slopes


def _taught(
    x: Small, y: Small, weight: Small, rounds: int, start: tuple[int, list[Small] | None]
) -> _Net:
    rng = np.random.default_rng(start[0])
    begun = start[1]
    net = _begun((x.shape[1], *HIDDEN, y.shape[1]), rng) if begun is None else _Net(begun)
    top = PACE if begun is None else LATER_PACE
    total = rounds * (len(x) // BATCH)
    done = 0
    for _ in range(rounds):
        order = rng.permutation(len(x))
        for start in range(0, len(x) - BATCH + 1, BATCH):
            pick = order[start : start + BATCH]
            share = done / total
            pace = top * min(share / WARM, 0.5 * (1.0 + np.cos(np.pi * share)))
            net.step(_slopes(net, x[pick], y[pick], weight[pick]), float(pace))
            done += 1
    return net


def _values(before: Nets, one: int) -> list[Small]:
    pairs = zip(before.weights, before.offsets, strict=True)
    return [value.copy() for weight, offset in pairs for value in (weight[one], offset[one, 0])]


def taught(
    views: Array, numbers: Array, *, rounds: int, seed: int, before: Nets | None = None
) -> Nets:
    """Teach an ensemble.

    Parameters
    ----------
    views : Array
        (views, columns) [-].
    numbers : Array
        (views, numbers), NaN where not known [-].
    rounds : int
        How often every view is shown.
    seed : int
        Of starts and orders.
    before : Nets or None
        Nets to go on from, taught by a solver that said nearly the same.

    Returns
    -------
    Nets
        In single precision.
    """
    flipped, back = turned(), turned_numbers()
    x = np.concatenate([views, views[:, flipped]])
    y = np.concatenate([numbers, numbers[:, back]])
    known = np.isfinite(y)
    if before is None:
        middle, width = x.mean(axis=0), x.std(axis=0)
        width = np.where(width > NARROW, width, 1.0)
        y_middle, y_width = np.nanmean(y, axis=0), np.nanstd(y, axis=0)
    else:
        middle, width = before.input_middle, before.input_width
        y_middle, y_width = before.output_middle, before.output_width
    weight = known.astype(np.float32)
    weight[:, [WARMTH_AT, SIZE_AT]] *= np.float32(NUGGET_COUNTS)
    scaled = (
        ((x - middle) / width).astype(np.float32),
        np.where(known, (y - y_middle) / y_width, 0.0).astype(np.float32),
        weight,
    )
    starts = [(seed + 1000 * one, None if before is None else _values(before, one))
              for one in range(NETS)]  # fmt: skip
    with ProcessPoolExecutor(WORKERS, initializer=os.nice, initargs=(10,)) as pool:
        nets = list(pool.map(partial(_taught, *scaled, rounds), starts))
    layers = len(nets[0].values) // 2
    return Nets(
        weights=tuple(np.stack([net.values[2 * i] for net in nets]) for i in range(layers)),
        offsets=tuple(
            np.stack([net.values[2 * i + 1] for net in nets])[:, None] for i in range(layers)
        ),
        input_middle=middle.astype(np.float32),
        input_width=width.astype(np.float32),
        output_middle=y_middle.astype(np.float32),
        output_width=y_width.astype(np.float32),
        turned_inputs=flipped,
        turned_outputs=back,
    )
