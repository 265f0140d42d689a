"""Fit the contact constants to the calibration rows of ``published_rows``.

Run as ``python -m benchmarks.calibrate_contact``; prints the constants to be put into
``weld/spot/constants.py`` and the errors by source. Only rows of the role calibration enter the
fit; the sources with the role validation are printed after it and have no say in it.

What is minimised: the logarithm of predicted over published diameter, every source weighing the
same, large errors growing only linearly (a table contradicts itself here and there), plus penalties
for what a sound weld does not do (sinking less than a twentieth or more than a seventh of the
sheet, melting more than nine tenths of it) and for a trade between schedule classes that changes
the nugget.
"""

import argparse
import dataclasses
import json
import math
from concurrent.futures import ProcessPoolExecutor
from functools import partial

import numpy as np
from scipy.optimize import least_squares

from benchmarks.published_rows import PublishedWeld, published_welds, traded
from buttonhole.joint.material import curves
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.simulation import Resolution, simulate

# Sinking hardly moves the nugget: its constants are held where sound welds are dented as they are.
FREE = ("faying_film", "cap_film", "rim")
TRADED = "schedule_class_a"  # the source whose rows the trade is tried on
TRADE_WEIGHT = 0.7  # -, of the trade against a source as a whole
GRID = Resolution(cell=0.2e-3, t_step=90.0)  # within 1 % of the finest, see validate_spot
SOFT = 0.4  # -, logarithmic error from which on it counts half
DENT = (0.05, 0.15)  # -, of the sheet: how deep sound welds are dented
LEAST = 0.4  # -, of the published diameter; below it the temperature says how far off it is


def figures(row: PublishedWeld, constants: ContactConstants) -> tuple[float, float, float]:
    """Logarithmic error of the diameter, sinking and penetration per thickness."""
    weld = simulate(row.stack, row.set_up(0.0), GRID, constants)
    ratio = float(weld.nugget[0]) / row.nugget
    if ratio < LEAST:
        melts = curves(row.stack.sheets[0].steel).solidus
        missing = max(0.0, melts + 100.0 - float(weld.peak.max()))
        error = math.log(LEAST) - missing / 600.0
    else:
        error = math.log(ratio)
    return (
        error,
        float(weld.sunk.max()) / row.thickness,
        float(weld.penetration.max()) / row.thickness,
    )


def moved(at: np.ndarray) -> ContactConstants:
    """Constants at logarithms of factors on the present ones, counted from 1.

    From 1, as a step for a slope is a share of the value and would be lost at 0.
    """
    changes = {
        name: getattr(CONTACT, name) * math.exp(x - 1.0) for name, x in zip(FREE, at, strict=True)
    }
    return dataclasses.replace(CONTACT, **changes)


def misfits(at: np.ndarray, rows: list[PublishedWeld], pool: ProcessPoolExecutor) -> np.ndarray:
    """Everything that is to be small."""
    base = [row for row in rows if row.source == TRADED]
    every = [*rows, *map(traded, base)]
    found = list(pool.map(partial(figures, constants=moved(at)), every, chunksize=2))
    counts = {row.source: sum(1 for each in rows if each.source == row.source) for row in rows}
    out = []
    for row, (error, sunk, deep) in zip(rows, found, strict=False):
        weight = 3.0 / math.sqrt(counts[row.source])
        if abs(error) > SOFT:
            error = math.copysign(SOFT + (abs(error) - SOFT) / 2, error)
        dent = max(0.0, sunk - DENT[1]) + max(0.0, DENT[0] - sunk)
        out += [weight * error, 0.7 * weight * dent, weight * max(0.0, deep - 0.9)]
    fast = [error for row, (error, _, _) in zip(rows, found, strict=False) if row in base]
    slow = [error for error, _, _ in found[len(rows) :]]
    out += [TRADE_WEIGHT * (s - f) for s, f in zip(slow, fast, strict=True)]
    return np.array([*out, *(0.03 * (at - 1.0))])


def fitted(rows: list[PublishedWeld], pool: ProcessPoolExecutor, rounds: int) -> ContactConstants:
    """Constants with the least misfit on the rows."""
    best = least_squares(
        misfits, np.ones(len(FREE)), args=(rows, pool), diff_step=0.12, bounds=(-2.0, 4.0),
        x_scale=0.3, max_nfev=rounds,
    )  # fmt: skip
    return moved(best.x)


def report(constants: ContactConstants, pool: ProcessPoolExecutor) -> None:
    """Print bias and root mean square error of every source."""
    rows = published_welds()
    found = list(pool.map(partial(figures, constants=constants), rows, chunksize=2))
    for source in dict.fromkeys(row.source for row in rows):
        errors = np.array(
            [
                math.exp(f[0]) - 1.0
                for row, f in zip(rows, found, strict=True)
                if row.source == source
            ]
        )
        role = next(row.role for row in rows if row.source == source)
        print(
            f"{source:26s} {role:12s} bias {100 * errors.mean():+5.1f} %  "
            f"rms {100 * math.sqrt((errors**2).mean()):5.1f} %"
        )


def main() -> None:
    """Fit and report."""
    asked = argparse.ArgumentParser(description="Fit the contact constants.")
    asked.add_argument("--rounds", type=int, default=12)
    asked.add_argument("--leave-out", default="", help="a calibration source not to fit to")
    given = asked.parse_args()
    rows = [
        row
        for row in published_welds()
        if row.role == "calibration" and row.source != given.leave_out
    ]
    with ProcessPoolExecutor() as pool:
        report(CONTACT, pool)
        constants = fitted(rows, pool, given.rounds)
        print(json.dumps({name: float(f"{getattr(constants, name):.3g}") for name in FREE}))
        report(constants, pool)


if __name__ == "__main__":
    main()
