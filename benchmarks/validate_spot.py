"""Score the spot-weld solver against published welds; write the page docs/validation/spot.md.

Run as ``python -m benchmarks.validate_spot``. Every row is printed with its role; the baselines
k*sqrt(t) and k*face are fitted to the very rows the constants were fitted to. Every source is also
left out in turn, constants and baselines refitted to the rest. Further tables: a trade between
schedule classes, sources that contradict each other, the nugget on three grids and with shorter
steps.
"""

import math
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np

from benchmarks.calibrate_contact import GRID, TRADED, fitted
from benchmarks.converge import alternating, convergence
from benchmarks.published_rows import PublishedWeld, published_welds, traded
from benchmarks.sweeps import class_trade, growth, unlike
from buttonhole.weld.spot import MODEL_VERSION, predict
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.simulation import simulate

ROUNDS = 5  # of the refits, from the constants in use
NEAR = 0.12  # -, logarithmic: how near two settings of different tables count as one
PAGE = Path(__file__).resolve().parent.parent / "docs" / "validation" / "spot.md"


def predicted(row: PublishedWeld) -> tuple[float, float, float]:
    """Nugget diameter and its interval [m]."""
    found = predict(row.stack, row.set_up()).interfaces[0].nugget_diameter
    return found.value, found.low, found.high


def best_factor(measured: np.ndarray, size: np.ndarray) -> float:
    """The k of k*size with the least relative error."""
    ratio = size / measured
    return float(ratio.sum() / (ratio**2).sum())


def errors(value: np.ndarray, measured: np.ndarray) -> tuple[float, float, float]:
    """Bias, root mean square and largest relative error [%]."""
    off = 100.0 * (value / measured - 1.0)
    return float(off.mean()), float(math.sqrt((off**2).mean())), float(np.abs(off).max())


def scores(rows: list[PublishedWeld], found: list[tuple[float, float, float]]) -> Iterator[str]:
    """Lines of the table of errors by source."""
    measured = np.array([row.nugget for row in rows])
    roots = np.sqrt([row.thickness for row in rows])
    faces = np.array([row.face for row in rows])
    trained = np.array([row.role == "calibration" for row in rows])
    k_root = best_factor(measured[trained], roots[trained])
    k_face = best_factor(measured[trained], faces[trained])
    values = np.array(found)
    yield f"Baselines fitted to the calibration rows: {k_root / 1e-3 * math.sqrt(1e-3):.2f} "
    yield f"sqrt(t) with t and diameter in mm, and {k_face:.2f} times the face."
    yield ""
    yield (
        "| source | role | rows | solver bias, rms, worst % | sqrt(t) bias, rms % | face rms % "
        "| inside interval |"
    )
    yield "|---|---|---|---|---|---|---|"
    for source in dict.fromkeys(row.source for row in rows):
        pick = np.array([row.source == source for row in rows])
        bias, rms, worst = errors(values[pick, 0], measured[pick])
        root = errors(k_root * roots[pick], measured[pick])
        face = errors(k_face * faces[pick], measured[pick])
        inside = (values[pick, 1] <= measured[pick]) & (measured[pick] <= values[pick, 2])
        role = rows[int(np.flatnonzero(pick)[0])].role
        yield (
            f"| {source} | {role} | {pick.sum()} | {bias:+.1f}, {rms:.1f}, {worst:.1f} "
            f"| {root[0]:+.1f}, {root[1]:.1f} | {face[1]:.1f} | {inside.sum()} of {pick.sum()} |"
        )


def nugget_with(row: PublishedWeld, constants: ContactConstants) -> float:
    """Nugget diameter on the grid of the fit [m]."""
    return float(simulate(row.stack, row.set_up(0.0), GRID, constants).nugget[0])


def left_out(rows: list[PublishedWeld], pool: ProcessPoolExecutor) -> Iterator[str]:
    """Lines of the table of sources left out in turn."""
    yield (
        "| left out | rows | solver bias, rms, worst % | sqrt(t) bias, rms, worst % "
        "| face bias, rms, worst % |"
    )
    yield "|---|---|---|---|---|"
    pooled: list[list[float]] = [[], [], []]
    for source in dict.fromkeys(row.source for row in rows):
        fit = [row for row in rows if row.source != source and row.role == "calibration"]
        judged = [row for row in rows if row.source == source]
        constants = fitted(fit, pool, ROUNDS) if len(fit) < _fitted_count(rows) else CONTACT
        solver = np.array(list(pool.map(partial(nugget_with, constants=constants), judged)))
        measured, known = (np.array([row.nugget for row in each]) for each in (judged, fit))
        cells = [errors(solver, measured)]
        pooled[0] += list(solver / measured - 1.0)
        for place, size in enumerate((lambda row: math.sqrt(row.thickness), lambda row: row.face)):
            k = best_factor(known, np.array([size(row) for row in fit]))
            simple = k * np.array([size(row) for row in judged])
            pooled[place + 1] += list(simple / measured - 1.0)
            cells.append(errors(simple, measured))
        said = " | ".join(f"{bias:+.1f}, {rms:.1f}, {worst:.1f}" for bias, rms, worst in cells)
        yield f"| {source} | {len(judged)} | {said} |"
    cells = [errors(1.0 + np.array(each), np.ones(len(each))) for each in pooled]
    said = " | ".join(f"{bias:+.1f}, {rms:.1f}, {worst:.1f}" for bias, rms, worst in cells)
    yield f"| all together | {len(pooled[0])} | {said} |"


def _fitted_count(rows: list[PublishedWeld]) -> int:
    return sum(1 for row in rows if row.role == "calibration")


def trades(rows: list[PublishedWeld], pool: ProcessPoolExecutor) -> Iterator[str]:
    """Lines of the table of a trade between schedule classes."""
    base = [row for row in rows if row.source == TRADED]
    fast = list(pool.map(partial(nugget_with, constants=CONTACT), base))
    slow = list(pool.map(partial(nugget_with, constants=CONTACT), map(traded, base)))
    yield "| t mm | as printed mm | 0.7 force, 0.8 current, 1.8 time mm | change % |"
    yield "|---|---|---|---|"
    for row, a, b in zip(base, fast, slow, strict=True):
        change = 100 * (b / a - 1)
        yield f"| {row.thickness * 1e3:.2f} | {a * 1e3:.2f} | {b * 1e3:.2f} | {change:+.1f} |"


def contradictions(
    rows: list[PublishedWeld], found: list[tuple[float, float, float]]
) -> Iterator[str]:
    """Lines of the table of nearly equal settings that two sources print unlike nuggets for."""

    def setting(row: PublishedWeld) -> np.ndarray:
        return np.log([row.thickness, row.force, row.current, row.time])

    yield "| sources | t mm | kN | kA | ms | published mm | per sqrt(t) apart % | solver error % |"
    yield "|---|---|---|---|---|---|---|---|"
    for i, a in enumerate(rows):
        for j in range(i + 1, len(rows)):
            b = rows[j]
            apart = np.abs(setting(a) - setting(b))
            if a.source == b.source or a.steel != b.steel or apart.max() > 2 * NEAR:
                continue
            if math.sqrt(float((apart**2).mean())) > NEAR:
                continue
            ratio = a.nugget / b.nugget * math.sqrt(b.thickness / a.thickness)
            ea, eb = (100 * (found[n][0] / rows[n].nugget - 1) for n in (i, j))
            yield (
                f"| {a.source}, {b.source} | {a.thickness * 1e3:.2f}, {b.thickness * 1e3:.2f} "
                f"| {a.force / 1e3:.2f}, {b.force / 1e3:.2f} "
                f"| {a.current / 1e3:.1f}, {b.current / 1e3:.1f} "
                f"| {a.time * 1e3:.0f}, {b.time * 1e3:.0f} "
                f"| {a.nugget * 1e3:.2f}, {b.nugget * 1e3:.2f} | {100 * (ratio - 1):+.0f} "
                f"| {ea:+.0f}, {eb:+.0f} |"
            )


def every_row(rows: list[PublishedWeld], found: list[tuple[float, float, float]]) -> Iterator[str]:
    """Lines of the table of all rows."""
    yield (
        "| source | t mm | force kN | current kA | time ms | published mm | solver mm "
        "| 90 % interval | error % |"
    )
    yield "|---|---|---|---|---|---|---|---|---|"
    for row, (value, low, high) in zip(rows, found, strict=True):
        yield (
            f"| {row.source} | {row.thickness * 1e3:.2f} | {row.force / 1e3:.2f} "
            f"| {row.current / 1e3:.1f} | {row.time * 1e3:.0f} | {row.nugget * 1e3:.2f} "
            f"| {value * 1e3:.2f} | {low * 1e3:.2f} to {high * 1e3:.2f} "
            f"| {100 * (value / row.nugget - 1):+.1f} |"
        )


def losses(rows: list[PublishedWeld], found: list[tuple[float, float, float]]) -> Iterator[str]:
    """Lines that name the rows the solver misses most."""
    off = [value / row.nugget - 1.0 for row, (value, _, _) in zip(rows, found, strict=True)]
    worst = sorted(range(len(rows)), key=lambda i: -abs(off[i]))[:6]
    for i in worst:
        row = rows[i]
        yield (
            f"- {row.source}, {row.thickness * 1e3:.2f} mm, {row.current / 1e3:.1f} kA, "
            f"{row.time * 1e3:.0f} ms: {100 * off[i]:+.0f} %"
        )


ABOUT = """\
The rows are handbook schedules: smoothed practice, some printed to half a millimetre.
Two tables for low-carbon steel contradict each other by a fifth at nearly one setting
(0.79 mm, 8 kA, 133 ms: 4.09 mm; 0.75 mm, 8 kA, 140 ms: 5 mm), so no model can suit both.
A root of the thickness fits a schedule well because schedules are written that way; it knows
nothing of current, time and force. No fit has seen class B and the second
stainless table, but they were in sight while variants of the model were weighed (stirring of the
melt, how caps sink), so they are not blind. The width of the intervals and the rate at which caps
sink were chosen with all rows in sight."""
LOST = """\
Thin stainless sheet at 80 ms lies at the foot of its growth, where a hundredth of the current
moves the nugget by a twentieth. A cap sinks a median 8 % of the sheet over these rows, from nothing
to a third; sound welds show 5 to 15 %. Class B at 0.5 mm comes out a sixth smaller than class A.
On unlike sheets the growth is too steep. What throws metal is judged: decision 0011."""


def swept(rows: list[PublishedWeld]) -> Iterator[str]:
    """Part of the page that a root of the thickness has no say in."""
    yield from ("## Class B against class A", "")
    yield "A quarter to a third less force and current, for longer; neither pair was fitted."
    yield ""
    yield from class_trade(rows)
    yield from ("", "## A current sweep on unlike sheets", "")
    yield (
        "1.2 mm DP1180 on 0.8 mm IF, domed caps of 6 mm. Force, time and radius are printed as "
        "ranges or not at all: both ends and the middle are given, with a usual radius of 40 mm. "
        "Not fitted, but the place of melt at a face was judged with it in sight."
    )
    yield ""
    yield from unlike()
    yield ""
    yield from growth()
    yield ""


def page() -> str:
    """Return the whole page."""
    rows = list(published_welds())
    with ProcessPoolExecutor() as pool:
        found = list(pool.map(partial(predicted), rows, chunksize=4))
        without, trade = list(left_out(rows, pool)), list(trades(rows, pool))
    lines = [
        "# Spot welds: solver against published welds",
        "",
        f"Model {MODEL_VERSION}. Written by `python -m benchmarks.validate_spot`.",
        "",
        ABOUT,
        "",
        *scores(rows, found),
        "",
        "## Sources left out in turn",
        "",
        f"Constants refitted to the other calibration sources ({ROUNDS} rounds from those in use), "
        "baselines to the same rows. The role validation never enters a fit.",
        "",
        *without,
        "",
        *swept(rows),
        "## A trade of force and current for time",
        "",
        "Less force and current for longer is to give nearly the same nugget (common practice, no "
        f"source for the exact factors), tried on {TRADED}. It enters the fit as a penalty.",
        "",
        *trade,
        "",
        "## Where sources contradict each other",
        "",
        "Pairs of rows for one steel whose thickness, force, current and time are nearly equal. "
        "What one table prints over what the other does, for the same thickness:",
        "",
        *contradictions(rows, found),
        "",
        *("## Where it loses", "", *losses(rows, found), "", LOST, ""),
        *("## Every row", "", *every_row(rows, found), ""),
        *("## Grid and time step", ""),
        *convergence(0.8e-3, 5e-3, 2e3, [5.5e3, 6e3, 6.5e3, 7e3, 8e3, 9e3, 10e3]),
        *convergence(1.5e-3, 6e-3, 3.6e3, [7.5e3, 8e3, 9e3, 10e3, 12e3]),
        *convergence(3e-3, 8e-3, 8e3, [12e3, 14e3, 17e3]),
        *alternating(rows),
    ]
    return "\n".join(lines).rstrip() + "\n"


def main() -> None:
    """Write the page and print it."""
    text = page()
    PAGE.parent.mkdir(parents=True, exist_ok=True)
    PAGE.write_text(text, "utf-8")
    print(text)


if __name__ == "__main__":
    main()
