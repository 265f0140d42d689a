"""Teach the emulator what the solver says, and write how wrong it is.

``./go bench train_emulator`` solves the welds (in chunks under the user's cache folder: stop it
when you like, it goes on where it was), teaches the nets, asks them for welds they were not taught,
and writes the nets, ``about.toml`` and the page ``docs/validation/emulator.md``. The same
solver, seed and machine give the same files. It takes an hour or two on two cores.

When the code of the solver has changed but not what it says (a few welds are solved again and
compared), only the hash is renewed. ``--part 0.1`` teaches on a tenth of the welds, to try it out.
``--go-on`` begins with the nets that are kept, which needs fewer welds after a small change of the
solver; the files then hang on those nets too.
"""

import argparse
import dataclasses
import os
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # sums in one order, and one core

import numpy as np
from numpy.typing import NDArray

from benchmarks import emulator_page
from benchmarks.emulator_errors import (
    Compared,
    Sweep,
    compared,
    default_grid,
    held_out,
    rms,
    sweep_welds,
    within_90,
)
from benchmarks.emulator_samples import (
    SEED,
    SPACE,
    joint_at,
    points,
    solve_all,
    welds_of,
)
from benchmarks.emulator_training import HIDDEN, NETS, taught
from buttonhole.weld.estimate import Z90
from buttonhole.weld.spot import MODEL_VERSION
from buttonhole.weld.spot.condition import NORMAL
from buttonhole.weld.spot.constants import CONTACT
from buttonhole.weld.spot.emulator.fingerprint import fingerprint
from buttonhole.weld.spot.emulator.nets import Nets
from buttonhole.weld.spot.emulator.stored import ABOUT, about, keep
from buttonhole.weld.spot.emulator.stored import NETS as NETS_FILE
from buttonhole.weld.spot.emulator.stored import nets as kept_nets
from buttonhole.weld.spot.prediction import _doubted, _spread
from buttonhole.weld.spot.simulation import COARSE, simulate

Array = NDArray[np.float64]

CHUNKS = {2: 8, 3: 8, 4: 8}  # of CHUNK joints
ROUNDS, LATER_ROUNDS = 150, 60  # from the start; from nets that were taught before
HELD_OUT = {2: 36, 3: 20, 4: 14}  # joints
DEFAULT_GRID = {2: 8, 3: 4, 4: 3}  # of them, solved on the default grid too
DOUBTED = {2: 12, 3: 6, 4: 4}  # of them, for the solver's own doubt
APART_QUANTILE = 0.98  # of the held-out welds are inside the ground
FLOOR_SHARE = 0.5  # of the rms error of the nets' numbers, where the nets agree
PROBES = 6  # joints that show whether the solver still says the same
PROBE_SEED = 5
SAME = 2e-3  # -, of a diameter


def probes() -> list[list[float]]:
    """Nuggets of a few welds [mm]."""
    found = []
    for order in range(PROBES):
        sheets = 2 + order % 3
        joint = joint_at(points(sheets, 0, PROBE_SEED)[order], sheets)
        for _, figures, _ in welds_of(joint):
            found.append([round(1e3 * d, 5) for d in figures.nugget[0].tolist()])
    return found


def says_the_same(known: dict[str, object]) -> bool:
    """The solver gives the probes' nuggets as it did when it taught."""
    then, now = known["probe_nuggets_mm"], probes()
    return isinstance(then, list) and all(
        len(a) == len(b) and np.allclose(a, b, rtol=SAME, atol=0.01)
        for a, b in zip(then, now, strict=True)
    )


def doubt_of_the_solver(sweeps: list[Sweep]) -> float:
    """Relative standard deviation of grown nuggets from the numbers the solver is unsure of [-]."""
    found = []
    for sweep in sweeps:
        welds = sweep_welds(sweep.sheets, sweep.place)
        grown = np.flatnonzero((sweep.nugget > 2e-3).all(axis=1))
        if not len(grown):
            continue
        stack, set_up = welds[int(grown[len(grown) // 2])]
        best = simulate(stack, set_up, COARSE).nugget
        pairs = [(a.nugget, b.nugget) for a, b in _doubted(stack, set_up, CONTACT, NORMAL, ())]
        found += _spread(pairs, best).tolist()
    return rms(np.array(found))


def calibrated(found: Compared) -> dict[str, float]:
    """What the nets' distance from each other says of their error [-].

    The factors make nine of ten held-out errors lie within 1.645 standard deviations.
    """
    limit = float(np.quantile(found.apart, APART_QUANTILE))
    inside = found.apart <= limit
    known = {"limit": limit}
    for name in ("warmth", "size"):
        error = getattr(found, f"{name}_error")[inside].ravel()
        apart = getattr(found, f"{name}_apart")[inside].ravel()[np.isfinite(error)]
        error = error[np.isfinite(error)]
        floor = FLOOR_SHARE * rms(error)
        ratio = np.abs(error) / np.hypot(apart, floor)
        known[f"{name}_floor"] = floor
        known[f"{name}_factor"] = float(np.quantile(ratio, 0.9)) / Z90
    return known


def believed(found: Compared, limit: float) -> Compared:
    """The welds for which the nets are near enough together."""
    inside = found.apart <= limit
    picked = {
        field.name: getattr(found, field.name)[inside]
        for field in dataclasses.fields(found)
        if field.name not in ("figure_errors", "window_errors")
    }
    figures = {name: values[inside] for name, values in found.figure_errors.items()}
    return Compared(**picked, figure_errors=figures, window_errors=found.window_errors)


def teach(solver: dict[int, tuple[Array, Array]], before: Nets | None) -> Nets:
    """Nets for all numbers of sheets at once: every interface is a view of its own."""
    pairs = [[table.reshape(-1, table.shape[-1]) for table in each] for each in solver.values()]
    views, numbers = (np.concatenate(tables) for tables in zip(*pairs, strict=True))
    rounds = ROUNDS if before is None else LATER_ROUNDS
    print(f"{len(views)} interfaces, {rounds} rounds", flush=True)
    return taught(views, numbers, rounds=rounds, seed=SEED, before=before)


def main() -> int:
    """Renew the hash, or teach all."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--part", type=float, default=1.0, help="share of the welds")
    asked.add_argument("--anew", action="store_true", help="teach even if nothing has changed")
    asked.add_argument("--go-on", action="store_true", help="begin with the nets that are kept")
    part, anew, go_on = (vars(asked.parse_args())[name] for name in ("part", "anew", "go_on"))
    if ABOUT.exists() and not (anew or go_on):
        known = about()
        if known["welds_share"] >= part and says_the_same(known):
            emulator_page.write_about({**known, **_identity()})
            print("the solver says what it said: only its hash is renewed")
            return 0
    chunks = {sheets: max(round(part * n), 2) for sheets, n in CHUNKS.items()}
    solver = solve_all(chunks)
    sweeps = held_out({k: max(round(min(part * 4, 1) * n), 6) for k, n in HELD_OUT.items()})
    fine = default_grid({k: max(round(part * n), 2) for k, n in DEFAULT_GRID.items()})
    report = emulator_page.Report(welds={k: len(solver[k][0]) for k in CHUNKS})
    nets = teach(solver, kept_nets() if go_on else None)
    keep(nets)
    for sheets in CHUNKS:
        mine = [sweep for sweep in sweeps if sweep.sheets == sheets]
        found = compared(mine, nets)
        apart = calibrated(found)
        inside = believed(found, apart["limit"])
        on_fine = compared([sweep for sweep in fine if sweep.sheets == sheets], nets)
        apart["doubts"] = doubt_of_the_solver(mine[: DOUBTED[sheets]])
        share = len(inside.joint) / len(found.joint)
        report.add(sheets, inside, believed(on_fine, apart["limit"]), share, apart)
        error = 1e3 * (inside.emulator - inside.solver)
        print(f"{sheets} sheets: rms {rms(error):.3f} mm, 90 % {within_90(error):.3f} mm, "
              f"doubts {apart['doubts']:.3f}", flush=True)  # fmt: skip
    known = {
        **_identity(),
        "welds_share": part,
        "begun_with_earlier_nets": go_on,
        "seed": SEED,
        "nets": NETS,
        "hidden": list(HIDDEN),
        "rounds": LATER_ROUNDS if go_on else ROUNDS,
        "probe_nuggets_mm": probes(),
        "ground": dataclasses.asdict(SPACE),
        **report.tables(),
    }
    emulator_page.write_about(known)
    emulator_page.write_page(report)
    print(f"wrote {NETS_FILE.name}, {ABOUT.name} and {emulator_page.PAGE.name}")
    return 0


def _identity() -> dict[str, object]:
    return {
        "model_version": MODEL_VERSION,
        "solver": fingerprint(),
        "retrain": "./go bench train_emulator",
    }


if __name__ == "__main__":
    sys.exit(main())
