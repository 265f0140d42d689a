"""An arc that travels over a plate, by the seam's march and by scikit-fem, at equal error.

Run as ``python -m benchmarks.seam_against_scikit_fem``; writes docs/validation/seam-speed.md.

What is compared is what both can do: a Gaussian disc that travels over an insulated plate of DC04
and its cooling, in three dimensions; conductivity and heat capacity change with temperature,
melting takes latent heat, the melt mixes. No metal is laid down, which the library has no means
for. Both: hexahedra on the same faces, implicit steps for the library (tangent, then secant heat
capacity, lumped) that grow as the plate cools. The library is used in three ways:

- as its pages do it: the form assembled anew in every step, the system given to its ``solve``;
- element matrices integrated once, one gather into a cached pattern, sparse factors;
- the same, but conjugate gradients with the diagonal: as well as we could write it.

It gets the longest step of those tried at which its error is no larger than ours.
"""

import math
import platform
import time
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix, diags
from scipy.sparse.linalg import cg, splu
from skfem import Basis, BilinearForm, ElementHex1, MeshHex
from skfem import solve as library_solve

from buttonhole.joint.steel import find_steel
from buttonhole.weld.arc.metal import steel_metal
from buttonhole.weld.arc.seam import Resolution, simulate
from buttonhole.weld.arc.seam.constants import SeamConstants
from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint, SeamSheet
from buttonhole.weld.arc.seam.reading import over_width
from buttonhole.weld.arc.seam.set_up import ArcHeat, SeamSetUp, Torch, continuous
from buttonhole.weld.arc.seam.simulation import Simulation
from buttonhole.weld.arc.seam.tables import seam_tables

Array = NDArray[np.float64]
PAGE = Path(__file__).resolve().parent.parent / "docs" / "validation" / "seam-speed.md"

THICK, POWER, SPEED, LENGTH, SIGMA, ROOM = 2e-3, 1300.0, 8e-3, 16e-3, 1.5e-3, 20.0
CONSTANTS = SeamConstants(
    sigma=SIGMA, finger_share=0.0, contact=1e12, convection=0.0, emissivity=0.0, evaporation=False
)
COOLED, LAST = 450.0, 20.0  # degC, s
LOOKED_AT = 2.6e-3  # m beside the middle of the seam, on the back, where the 8/5 time is taken
GRIDS = {1e-3: 1, 0.667e-3: 2, 0.5e-3: 2, 0.35e-3: 3}  # m: cells in half of the plate
MIDDLE = 0.667e-3  # m, the finest cells at which sparse factors are timed
ALIKE = 0.05  # %, by which errors may differ and still be equal
LONGEST = 0.15  # s
STEPS = (0.5, 1.0)  # cells the arc goes in a step of the library
TOLERANCE = 1e-5  # of the conjugate gradients


@dataclass(frozen=True, slots=True)
class Run:
    """Widths over 907 and 725 degC on the back and molten on the top [m], 8/5 time [s]; cost."""

    cell: float
    figures: Array
    cells: int
    steps: int
    seconds: float  # s of one core


def figures(y: Array, top: Array, back: Array, cooling: Array) -> Array:
    """Figures of a run from peaks [degC] and 8/5 times [s] across the middle of the seam."""
    curves = steel_metal(find_steel("DC04")).curves
    melts = 0.5 * (curves.solidus + curves.liquidus)
    rows = ((back, 907.0), (back, 725.0), (top, melts))
    found = [over_width(y, row[None, :], level) for row, level in rows]
    side = y > 0.0
    return np.array(
        [float(high[0] - low[0]) for low, high in found]
        + [float(np.interp(LOOKED_AT, y[side], cooling[side]))]
    )


def weld(cell: float) -> Simulation:
    """Our march."""
    sheet = SeamSheet(steel_metal(find_steel("DC04")), 0.5 * THICK)
    joint = SeamJoint(
        JointKind.BUTT_BACKED, sheet, sheet, LENGTH, width=20e-3, overlap=20e-3, overhang=12e-3
    )
    set_up = SeamSetUp(ArcHeat(POWER, 0.0, 0.0), Torch(90.0), continuous(LENGTH, SPEED))
    return simulate(joint, set_up, Resolution(cell=cell, rows=GRIDS[cell]), CONSTANTS)


def plate_rows(sim: Simulation) -> slice:
    """Rows of the plate, the empty ones above it left out."""
    return slice(
        1, 1 + int((sim.part[sim.part.shape[0] // 2, :, sim.part.shape[2] // 2] >= 0).sum())
    )


def ours(cell: float) -> Run:
    """The best of three."""
    taken = []
    for _ in range(4):  # the first one loads the kernels
        begun = time.process_time()
        sim = weld(cell)
        taken.append(time.process_time() - begun)
    middle = int(np.argmin(np.abs(sim.x - 0.5 * LENGTH)))
    # an even number of slices has its middle on a face
    pair = [middle, middle + int(np.sign(0.5 * LENGTH - sim.x[middle]))]
    rows = plate_rows(sim)
    peak, cooling = (each[pair, rows, 1:-1].mean(axis=0) for each in (sim.peak, sim.cooling))
    top, back = 1.5 * peak[-1] - 0.5 * peak[-2], 1.5 * peak[0] - 0.5 * peak[1]
    known = np.isfinite(cooling[0])
    filled = np.interp(sim.y[1:-1], sim.y[1:-1][known], cooling[0][known])
    found = figures(sim.y[1:-1], top, back, filled)
    return Run(cell, found, int((sim.part >= 0).sum()), sim.steps, min(taken[1:]))


@BilinearForm
def stiffness(u, v, w):  # type: ignore[no-untyped-def]  # the library's own signature
    """Gradients."""
    return sum(u.grad[i] * v.grad[i] for i in range(3))


@BilinearForm
def conduction(u, v, w):  # type: ignore[no-untyped-def]  # the library's own signature
    """Gradients, with the conductivity at the points of integration."""
    return w.k * sum(u.grad[i] * v.grad[i] for i in range(3))


class Way(Enum):
    """How the library is used."""

    PAGES = "scikit-fem, as its pages do it"
    FACTORS = "scikit-fem, cached pattern, sparse factors"
    GRADIENTS = "scikit-fem, cached pattern, conjugate gradients"


class Plate:
    """The same by scikit-fem."""

    def __init__(self, cell: float, way: Way) -> None:
        sim = weld(cell)
        layout, rows = sim.layout, plate_rows(sim)
        z = layout.z_faces[: rows.stop]
        mesh = MeshHex.init_tensor(layout.x_faces, layout.y_faces, z)
        basis = Basis(mesh, ElementHex1(), intorder=2)
        blocks = stiffness.coo_data(basis)
        self.element = blocks.data.reshape(64, -1)
        self.nodes = mesh.t
        row, column = blocks.indices
        count = mesh.p.shape[1]
        pattern = csr_matrix((np.ones(len(row)), (row, column)), shape=(count, count))
        pattern.sum_duplicates()
        numbers = csr_matrix(
            (np.arange(1, pattern.nnz + 1), pattern.indices, pattern.indptr), pattern.shape
        )
        place = np.asarray(numbers[row, column]).ravel().astype(np.int64) - 1
        self.gather = csr_matrix(
            (np.ones(len(place)), (place, np.arange(len(place)))), shape=(pattern.nnz, len(place))
        )
        self.diagonal: NDArray[np.int64] | None = None
        self.pattern, self.p, self.cell, self.way = pattern, mesh.p, cell, way
        self.basis = basis
        self.cells = mesh.t.shape[1]
        # what half cells a node has on each side; the outermost has one
        faces = (layout.x_faces, layout.y_faces, z)
        share = [np.convolve(np.diff(each), [0.5, 0.5]) for each in faces]
        places = [np.searchsorted(each, mesh.p[i] - 1e-9) for i, each in enumerate(faces)]
        self.volume = share[0][places[0]] * share[1][places[1]] * share[2][places[2]]
        self.top = np.flatnonzero(mesh.p[2] > z[-1] - 1e-9)
        self.area = (share[0][places[0]] * share[1][places[1]])[self.top]
        made = seam_tables([steel_metal(find_steel("DC04"))], CONSTANTS)
        self.h = np.arange(made.table.shape[1]) / made.per_step[0]
        self.t, theta = made.table[0, :, 1], made.table[0, :, 0]
        self.k = np.gradient(theta, self.t)
        self.slope = np.gradient(self.h, self.t)

    def load(self, x: float) -> Array:
        """Heat [W] of each node with the arc at ``x`` [m]."""
        square = (self.p[0, self.top] - x) ** 2 + self.p[1, self.top] ** 2
        weight = np.exp(-0.5 * square / SIGMA**2) * self.area
        found = np.zeros(self.p.shape[1])
        found[self.top] = POWER * weight / weight.sum()
        return found

    def step(self, t: Array, h: Array, dt: float, load: Array | float) -> tuple[Array, Array]:
        """One step; temperatures [degC] and enthalpies [J/m3] of the nodes after it."""
        matrix = self._conducts(t)
        right = load - matrix @ t
        entries, change = matrix.data.copy(), np.zeros_like(t)
        diagonal = self._places(matrix)
        capacity = np.interp(t, self.t, self.slope)
        for attempt in range(2):
            if attempt:
                moved = np.abs(change) > 0.5
                rise = np.interp(t + change, self.t, self.h) - h
                capacity[moved] = np.clip(rise[moved] / change[moved], 2e6, 1e11)
            matrix.data = entries.copy()
            matrix.data[diagonal] += capacity * self.volume / dt
            change = self._solved(matrix, right, change)
        h = h + capacity * change
        return np.interp(h, self.h, self.t), h

    def _conducts(self, t: Array) -> csr_matrix:
        if self.way is Way.PAGES:
            k = self.basis.interpolate(np.interp(t, self.t, self.k))
            assembled: csr_matrix = conduction.assemble(self.basis, k=k)
            assembled.sort_indices()
            return assembled
        k = np.interp(t[self.nodes].mean(axis=0), self.t, self.k)
        matrix = self.pattern.copy()
        matrix.data = self.gather @ (self.element * k).ravel()
        return matrix

    def _places(self, matrix: csr_matrix) -> NDArray[np.int64]:
        """Where the diagonal stands in a matrix's data; alike in every step."""
        if self.diagonal is None or self.way is Way.PAGES:
            row = np.repeat(np.arange(matrix.shape[0]), np.diff(matrix.indptr))
            self.diagonal = np.flatnonzero(matrix.indices == row)
        return self.diagonal

    def _solved(self, matrix: csr_matrix, right: Array, guess: Array) -> Array:
        if self.way is Way.PAGES:
            plain: Array = library_solve(matrix, right)
            return plain
        if self.way is Way.FACTORS:
            factors = splu(
                matrix.tocsc(), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )  # fmt: skip
            direct: Array = factors.solve(right)
            return direct
        inverse = diags(1.0 / matrix.data[self.diagonal])
        found, failed = cg(matrix, right, x0=guess, rtol=TOLERANCE, M=inverse, maxiter=500)
        if failed:
            raise ArithmeticError("conjugate gradients did not come to an end")
        solution: Array = found
        return solution

    def march(self, travel: float) -> Run:
        """Weld and cool; the arc goes ``travel`` cells in a step."""
        arc_step, end = travel * self.cell / SPEED, LENGTH / SPEED
        count = self.p.shape[1]
        t, h = np.full(count, ROOM), np.zeros(count)
        peak, down = t.copy(), {800.0: np.full(count, np.nan), 500.0: np.full(count, np.nan)}
        now, steps = 0.0, 0
        begun = time.process_time()
        while now < LAST and (now < end - 1e-9 or t.max() > COOLED):
            lit = now < end - 1e-9
            dt = min(arc_step + 0.05 * max(now - end, 0.0), LONGEST)
            if lit:
                dt = (end - now) / math.ceil((end - now) / dt - 1e-9)
            was = t
            t, h = self.step(t, h, dt, self.load(SPEED * (now + 0.5 * dt)) if lit else 0.0)
            peak = np.maximum(peak, t)
            for level, at in down.items():
                fell = (was >= level) & (t < level)
                at[fell] = now + dt * (was[fell] - level) / (was[fell] - t[fell])
            now, steps = now + dt, steps + 1
        seconds = time.process_time() - begun
        middle = np.abs(self.p[0] - 0.5 * LENGTH) < 1e-3 * self.cell
        back, top = (self._across(middle, self.p[2] == z) for z in (0.0, self.p[2].max()))
        cooling = down[500.0][back] - down[800.0][back]
        y, known = self.p[1, back], np.isfinite(cooling)
        found = figures(y, peak[top], peak[back], np.interp(y, y[known], cooling[known]))
        return Run(self.cell, found, self.cells, steps, seconds)

    def _across(self, middle: NDArray[np.bool_], face: NDArray[np.bool_]) -> NDArray[np.int64]:
        nodes = np.flatnonzero(middle & face)
        return nodes[np.argsort(self.p[1, nodes])]


VERDICT = (
    "The aim is 50 times at equal error. It is reached against the library as its pages use it and "
    "against sparse factors, not against conjugate gradients written for this problem by hand. The "
    "two finest runs lie as far apart as their errors say: below that, errors tell nothing."
)


def off_by(run: Run, exact: Array) -> float:
    """Root mean square of a run's errors [%]."""
    return 100.0 * float(np.sqrt(((run.figures / exact - 1.0) ** 2).mean()))


def cheapest(made: Plate, exact: Array, wanted: float) -> Run:
    """The cheapest of runs whose error [%] is at most ``wanted``; the best one where none is."""
    runs = [made.march(travel) for travel in STEPS]
    good = [run for run in runs if off_by(run, exact) <= wanted]
    return min(good, key=lambda run: run.seconds) if good else runs[0]


def races() -> tuple[dict[str, list[Run]], Array]:
    """All runs by who made them, and the figures that count as exact."""
    mine = {cell: ours(cell) for cell in GRIDS}
    finest, coarsest = min(GRIDS), max(GRIDS)
    best = Plate(finest, Way.GRADIENTS).march(STEPS[0])
    exact = 0.5 * (mine[finest].figures + best.figures)
    theirs = [
        cheapest(Plate(cell, Way.GRADIENTS), exact, off_by(mine[cell], exact))
        for cell in GRIDS
        if cell != finest
    ]
    aim = off_by(mine[coarsest], exact)
    pages = [cheapest(Plate(coarsest, Way.PAGES), exact, aim)]
    factors = [
        cheapest(Plate(coarsest, Way.FACTORS), exact, aim),
        Plate(MIDDLE, Way.FACTORS).march(STEPS[1]),
    ]
    slower = {Way.PAGES.value: pages, Way.FACTORS.value: factors}
    named = {**slower, Way.GRADIENTS.value: [*theirs, best], "ours": list(mine.values())}
    return named, exact


def page() -> Iterator[str]:
    """Lines of the page."""
    named, exact = races()
    mine = {run.cell: run for run in named["ours"]}
    yield "# Seam: speed beside a finite-element library"
    yield ""
    yield "Written by `python -m benchmarks.seam_against_scikit_fem`, which says what is compared,"
    yield f"on one core ({platform.machine()}, Python {platform.python_version()}), CPU seconds."
    yield "Error: root mean square of the four figures against the mean of both finest runs."
    yield ""
    yield (
        "| program | cell mm | cells | over 907 °C, back mm | over 725 °C, back mm | melt mm "
        "| t8/5 s | error % | steps | seconds | µs a cell | times ours |"
    )
    yield "|---|---|---|---|---|---|---|---|---|---|---|---|"
    for name, runs in named.items():
        for run in runs:
            a, b, c, d = run.figures
            yield (
                f"| {name} | {run.cell * 1e3:g} | {run.cells} | {a * 1e3:.2f} | {b * 1e3:.2f} "
                f"| {c * 1e3:.2f} | {d:.3f} | {off_by(run, exact):.2f} | {run.steps} "
                f"| {run.seconds:.3g} | {1e6 * run.seconds / run.cells:.0f} "
                f"| {run.seconds / mine[run.cell].seconds:.0f} |"
            )
    yield ""
    for name, runs in named.items():
        for run in runs if name != "ours" else []:
            off = off_by(run, exact)
            fit = [one for one in mine.values() if off_by(one, exact) <= off + ALIKE]
            if not fit:
                yield f"- No run of ours is as near as {name} with {run.cell * 1e3:g} mm."
                continue
            own = min(fit, key=lambda one: one.seconds)
            yield (
                f"- {name}, {run.cell * 1e3:g} mm ({off:.2f} %): ours is as near with "
                f"{own.cell * 1e3:g} mm and **{run.seconds / own.seconds:.0f} times** as fast."
            )
    yield ""
    yield VERDICT


def main() -> None:
    """Write the page."""
    text = "\n".join(page()) + "\n"
    PAGE.write_text(text, encoding="utf-8")
    print(text)


if __name__ == "__main__":
    main()
