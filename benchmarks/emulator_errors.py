"""How wrong the emulator is on welds it was not taught: current sweeps of joints of their own.

Every held-out joint is welded over its whole window on the solver, so that the current can be
counted from its own onset. A part of them is solved on the default grid too: the emulator is taught
on a coarser one, and what that costs is part of its error.
"""

import math
import os
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from benchmarks.emulator_samples import WORKERS, folder, joint_at, points, solved
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.emulator.at_once import apart_of
from buttonhole.weld.spot.emulator.figures import (
    SIZE_AT,
    WARMTH_AT,
    Figures,
    expulsion_of,
    figures_of,
    numbers_of,
    roots,
)
from buttonhole.weld.spot.emulator.inputs import views_of
from buttonhole.weld.spot.emulator.nets import Nets
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import COARSE, DEFAULT, Resolution
from buttonhole.weld.spot.window import EXPULSION_LIMIT, crossing

Array = NDArray[np.float64]

HELD_OUT_SEED = 77  # of a sequence of its own
SWEEP = np.geomspace(0.6, 2.2, 10)  # - of the reference current
THICKNESS_BINS = (0.0, 0.9e-3, 1.3e-3, 1.9e-3, 9.0)  # m, mean of the sheets at an interface
CURRENT_BINS = (0.0, 0.95, 1.1, 1.3, 1.6, 9.0)  # - over the onset at that interface
FIGURE_NAMES = ("indentation", "haz_diameter", "cooling_t85", "heat", "load")


@dataclass(frozen=True, slots=True)
class Sweep:
    """One held-out joint welded over its window."""

    sheets: int
    place: int  # in the sequence
    numbers: Array  # (currents, interfaces, numbers), -
    nugget: Array  # (currents, interfaces), m


def sweep_welds(sheets: int, place: int) -> list[tuple[StackUp, SpotSetUp]]:
    """The welds of one held-out joint, weakest first."""
    joint = joint_at(points(sheets, 0, HELD_OUT_SEED)[place], sheets)
    return [(joint.stack, joint.at(share * joint.reference)) for share in SWEEP]


def solve_sweep(task: tuple[int, int, Resolution]) -> Sweep:
    """Solve one held-out joint, or find it solved; what failed is NaN."""
    sheets, place, resolution = task
    grid = round(resolution.cell * 1e6)
    path = folder() / f"held-out-{sheets}-{place:04d}-{grid}um.npz"
    if not path.exists():
        numbers, nuggets = [], []
        for stack, set_up in sweep_welds(sheets, place):
            found = solved(stack, set_up, resolution)
            if found is None:
                continue
            numbers.append(numbers_of(*found, stack)[0])
            nuggets.append(found[0].nugget[0])
        np.savez(path, numbers=np.array(numbers), nugget=np.array(nuggets))
    with np.load(path) as kept:
        return Sweep(sheets, place, kept["numbers"], kept["nugget"])


def held_out(counts: dict[int, int], resolution: Resolution = COARSE) -> list[Sweep]:
    """Solve so many held-out joints for each number of sheets; whole sweeps only."""
    tasks = [(sheets, place, resolution) for sheets, n in counts.items() for place in range(n)]
    with ProcessPoolExecutor(WORKERS, initializer=os.nice, initargs=(10,)) as pool:
        found = list(pool.map(solve_sweep, tasks))
    return [sweep for sweep in found if len(sweep.nugget) == len(SWEEP)]


@dataclass(frozen=True, slots=True)
class Compared:
    """The emulator beside the solver over held-out welds of one number of sheets."""

    thickness: Array  # (welds, interfaces), m
    over_onset: Array  # (welds, interfaces), current over that of the onset [-], NaN if unknown
    solver: Array  # (welds, interfaces), m
    emulator: Array  # (welds, interfaces), m
    warmth_error: Array  # (welds, interfaces), -
    size_error: Array  # (welds, interfaces), -, NaN where nothing melted
    warmth_apart: Array  # (welds, interfaces), -, between the nets
    size_apart: Array  # (welds, interfaces), -
    apart: Array  # (welds,), -, of the nets over the whole weld
    joint: NDArray[np.int64]  # (welds,), -
    figure_errors: dict[str, Array]  # (welds,) each, as in FIGURE_NAMES; relative or SI
    window_errors: dict[
        str, Array
    ]  # -, of the currents where a nugget begins and where it splashes


def compared(sweeps: list[Sweep], nets: Nets) -> Compared:
    """Ask the nets for the welds of the sweeps."""
    columns: dict[str, list[Array]] = {}
    figures: dict[str, list[Array]] = {name: [] for name in FIGURE_NAMES}
    ends: dict[str, list[float]] = {"onset": [], "splash": []}

    def keep(name: str, values: Array) -> None:
        columns.setdefault(name, []).append(values)

    for order, sweep in enumerate(sweeps):
        welds = sweep_welds(sweep.sheets, sweep.place)
        stack = welds[0][0]
        each = nets.each(np.array([views_of(*weld).numbers for weld in welds]))
        guessed = each.mean(axis=0)
        found = figures_of(guessed, stack)
        amps = np.array([one.pulses[0].current for _, one in welds])
        keep("thickness", np.repeat(roots(stack)[None] ** 2, len(amps), axis=0))
        onsets = [_onset(amps, warmth) for warmth in sweep.numbers[:, :, WARMTH_AT].T]
        keep("over_onset", amps[:, None] / np.array(onsets)[None])
        begun = [_onset(amps, warmth) for warmth in guessed[:, :, WARMTH_AT].T]
        ends["onset"] += (np.array(begun) / np.array(onsets) - 1.0).tolist()
        splashes = [
            crossing(amps, expulsion_of(one, stack), EXPULSION_LIMIT)
            for one in (found, figures_of(sweep.numbers, stack))
        ]
        if splashes[1] > amps[0]:
            ends["splash"].append(splashes[0] / splashes[1] - 1.0)
        keep("solver", sweep.nugget)
        keep("emulator", found.nugget)
        for name, place in (("warmth", WARMTH_AT), ("size", SIZE_AT)):
            keep(f"{name}_error", guessed[:, :, place] - sweep.numbers[:, :, place])
            keep(f"{name}_apart", each[:, :, :, place].std(axis=0))
        keep("apart", apart_of(each))
        keep("joint", np.full(len(amps), order))
        for name, values in _figure_errors(sweep, found, guessed, stack).items():
            figures[name].append(values)
    joined = {name: np.concatenate(values) for name, values in columns.items()}
    return Compared(
        **joined,
        figure_errors={name: np.concatenate(values) for name, values in figures.items()},
        window_errors={name: np.array(values) for name, values in ends.items()},
    )


def _onset(currents: Array, warmth: Array) -> float:
    """Current at which the solver's nugget begins [A]; NaN where the sweep doesn't hold it."""
    melted = np.flatnonzero(warmth > 0.0)
    if not len(melted) or melted[0] == 0:
        return math.nan
    i = int(melted[0])
    share = -warmth[i - 1] / (warmth[i] - warmth[i - 1])
    return float(currents[i - 1] + share * (currents[i] - currents[i - 1]))


def _figure_errors(
    sweep: Sweep, found: Figures, guessed: Array, stack: StackUp
) -> dict[str, Array]:
    solver = figures_of(sweep.numbers, stack)
    with np.errstate(invalid="ignore", divide="ignore"):
        sunk = np.maximum(solver.sunk.max(axis=1), 0.02 * stack.sheets[0].thickness)
        return {
            "indentation": (found.sunk.max(axis=1) - solver.sunk.max(axis=1)) / sunk,
            "haz_diameter": found.haz_diameter - solver.haz_diameter,
            "cooling_t85": found.cooling_t85 / solver.cooling_t85 - 1.0,
            "heat": found.heat / solver.heat - 1.0,
            "load": np.log(found.load.max(axis=1) / solver.load.max(axis=1)),
        }


def rms(values: Array) -> float:
    """Root mean square of what is known."""
    known = values[np.isfinite(values)]
    return float(np.sqrt((known**2).mean())) if len(known) else math.nan


def within_90(values: Array) -> float:
    """What nine of ten stay under."""
    known = np.abs(values[np.isfinite(values)])
    return float(np.quantile(known, 0.9)) if len(known) else math.nan


def error_map(found: Compared) -> Iterator[tuple[float, float, int, float, float]]:
    """Cells of the map: thickness bin, current bin (lower ends), welds, rms and 90 % error [m]."""
    error = found.emulator - found.solver
    for low, high in pairwise(THICKNESS_BINS):
        for first, last in pairwise(CURRENT_BINS):
            inside = (found.thickness >= low) & (found.thickness < high)
            inside &= (found.over_onset >= first) & (found.over_onset < last)
            yield low, first, int(inside.sum()), rms(error[inside]), within_90(error[inside])


def default_grid(counts: dict[int, int]) -> list[Sweep]:
    """The same held-out joints on the grid that predictions are made on."""
    return held_out(counts, DEFAULT)
