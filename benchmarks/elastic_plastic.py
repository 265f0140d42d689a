"""Elastic-plastic rings pressed together, on a general-purpose finite-element library.

Axisymmetric bilinear quadrangles of scikit-fem with the mean dilatation of each element, so that
they do not lock where metal flows at constant volume. Von Mises with linear hardening, radial
return and its consistent tangent. After each increment the nodes move and the stress turns with the
metal. Contact is a stiff spring where a gap would close, tried anew in each round of Newton.
"""

from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu
from skfem import Basis, ElementQuad1, MeshQuad

Array = NDArray[np.float64]
Indices = NDArray[np.int64]

ROUNDS = 40  # of Newton before an increment is halved
HALVINGS = 8
TRIES = 6  # of parts of a step
CLOSE = 1e-5  # - of the largest nodal force
SETTLED = 1e-2  # - the same, before what touches is looked at again
STIFF = 30.0  # - a contact spring over that of one layer of cold elements
NORMAL = np.array([1.0, 1.0, 1.0, 0.0])  # of the components rr, zz, hoop, rz
DEVIATOR = np.diag([1.0, 1.0, 1.0, 0.5]) - np.outer(NORMAL, NORMAL) / 3.0


class DoesNotSettle(ArithmeticError):
    """Newton's rounds do not converge, however small the increment."""


@dataclass(slots=True)
class Metal:
    """What the elements are made of, one entry for each [Pa]; ``swelling`` [-] is free strain."""

    shear: Array
    bulk: Array
    strength: Array
    hardening: Array  # per plastic strain
    swelling: Array

    @classmethod
    def of(cls, count: int, young: float, poisson: float, strength: float, hardening: float = 0.0):
        """The same everywhere."""
        values = (young / (2 + 2 * poisson), young / (3 - 6 * poisson), strength, hardening, 0.0)
        return cls(*(np.full(count, value) for value in values))


@dataclass(slots=True)
class Rows:
    """Gaps [m] that may not be negative, and how they change with what is unknown.

    ``area`` [m2] of a node; ``both`` marks ties, which pull as well. Where
    ``if_touching`` is not negative a row holds only while that other row touches.
    """

    gap: Array  # (rows,)
    unknowns: Indices  # (rows, k)
    slopes: Array  # (rows, k)
    area: Array  # (rows,)
    both: NDArray[np.bool_]
    if_touching: Indices


class Contact(Protocol):
    """What touches the rings."""

    def rows(self, nodes: Array, approach: float) -> Rows:
        """Gaps with nodes (2, n) [m] and an approach [m]."""

    def settle(self, nodes: Array, rows: Rows) -> None:
        """Take note of what touches after an increment."""


@dataclass(slots=True)
class Press:
    """Rings, what touches them, and what moves: a rigid cap, by its ``approach`` [m]."""

    nodes: Array  # (2, n): radius and height [m]
    quads: Indices  # (elements, 4)
    metal: Metal
    contact: Contact
    fixed: Indices  # unknowns: 2 node for the radius, 2 node + 1 for the height
    spring: float  # Pa/m
    approach: float = 0.0
    force: float = 0.0  # N, on the cap
    moves: bool = True  # False: small displacements, the nodes stay
    stress: Array = field(init=False)  # (elements, points, 4), Pa
    plastic: Array = field(init=False)  # (elements, points), -
    applied: Array = field(init=False)  # (unknowns,), N: loads beside the cap
    swollen: Array = field(init=False)  # (elements,), free strain so far
    pressing: Array = field(init=False)  # N, of each row of the contact
    rows: Rows = field(init=False)
    touching: NDArray[np.bool_] = field(init=False)
    matrices: tuple[Array, Array] = field(init=False)

    def __post_init__(self) -> None:
        """Nothing is loaded yet."""
        self.matrices = strain_matrices(self.nodes, self.quads)
        shape = self.matrices[1].shape
        self.stress, self.plastic = np.zeros((*shape, 4)), np.zeros(shape)
        self.applied = np.zeros(2 * self.nodes.shape[1])
        self.swollen = np.zeros(len(self.quads))
        self.rows = self.contact.rows(self.nodes, 0.0)
        self.pressing = np.zeros(len(self.rows.gap))
        self.touching = ~self.rows.both & (self.rows.gap <= 0.0)

    def press(self, by: float) -> None:
        """Let the cap come nearer by a distance [m], in parts where that does not settle."""
        done, part = 0.0, 1.0
        while done < 1.0 - 1e-12:
            part = min(part, 1.0 - done)
            if self.step(part * by, None):
                done += part
                part *= 2.0
            elif part < 0.5**HALVINGS:
                raise DoesNotSettle
            else:
                part *= 0.5

    def load(self, to: float) -> None:
        """Raise the force on the cap [N], in parts where that does not settle."""
        done, part, begin = 0.0, 1.0, self.force
        while done < 1.0 - 1e-12:
            part = min(part, 1.0 - done)
            if self.step(0.0, begin + (done + part) * (to - begin)):
                done += part
                part *= 2.0
            elif part < 0.5**HALVINGS:
                raise DoesNotSettle
            else:
                part *= 0.5

    def step(self, by: float, force: float | None) -> bool:
        """One increment: by a distance [m] or to a force [N]. False, and as before, if it fails."""
        n = self.nodes.shape[1]
        x = np.zeros(2 * n + 1)
        x[-1] = by
        held = self.fixed if force is not None else np.append(self.fixed, 2 * n)
        free = np.setdiff1d(np.arange(2 * n + 1), held)
        touching = self.touching
        found = self._residual(x, force, touching)
        for _ in range(ROUNDS):
            residual, tangent, state = found
            scale = max(np.abs(state[3]).max(initial=0.0), np.abs(self.applied).max(), 1e-9)
            left = np.abs(residual[free]).max() / scale
            if left < SETTLED:
                # only now is it seen what lets go and what comes to touch
                now = ~state[2].both & (state[2].gap < 0.0)
                if left < CLOSE and (now == touching).all():
                    self.touching = touching
                    self._settle(x, state)
                    return True
                if (now != touching).any():
                    touching = now
                    residual, tangent, state = self._residual(x, force, touching)
            inner = tangent[free][:, free].tocsc()
            step = np.zeros(len(x))
            step[free] = splu(
                inner, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.01,
                options={"SymmetricMode": True},
            ).solve(residual[free])  # fmt: skip
            if not np.isfinite(step).all():
                return False
            share, found = self._along(x, step, force, touching, residual)
            x += share * step
        return False

    def _along(self, x: Array, step: Array, force: float | None, touching, residual):  # type: ignore[no-untyped-def]  # long
        """How much of a step to take, so that the work left along it is small.

        With what touches held, the work is convex in an increment, so that this always gets there.
        """
        begin = step @ residual
        low, high, at_low, share = 0.0, 1.0, begin, 1.0
        for _ in range(TRIES):
            found = self._residual(x + share * step, force, touching)
            now = step @ found[0]
            if now > -0.3 * begin:
                if share == 1.0 or now < 0.5 * begin:
                    break
                low, at_low = share, now
            else:
                high, at_high = share, now
                share = low + (high - low) * at_low / (at_low - at_high)
                share = max(share, low + 0.1 * (high - low))
                continue
            share = 0.5 * (low + high)
        return share, found

    def _residual(self, x: Array, force: float | None, touching):  # type: ignore[no-untyped-def]  # long
        """Loads less what resists them, the tangent, and the state that goes with it."""
        b, w = self.matrices
        n = self.nodes.shape[1]
        of_element = np.repeat(2 * self.quads, 2, axis=1)
        of_element[:, 1::2] += 1
        strain = np.einsum("eqcd,ed->eqc", b, x[of_element])
        free_strain = (self.metal.swelling - self.swollen)[:, None, None]
        strain = strain - free_strain * NORMAL
        stress, plastic, moduli = returned(self.metal, self.stress, self.plastic, strain)
        inside = np.einsum("eqcd,eqc,eq->ed", b, stress, w)
        blocks = np.einsum("eqca,eqcf->eqaf", b, moduli @ b * w[..., None, None]).sum(axis=1)
        moved = x[:-1].reshape(-1, 2).T
        rows = self.contact.rows(self.nodes + moved, self.approach + x[-1])
        holds = np.where(rows.if_touching >= 0, touching[rows.if_touching], rows.both | touching)
        stiff = self.spring * rows.area * holds
        pressing = -stiff * rows.gap
        residual = np.zeros(2 * n + 1)
        residual[:-1] += self.applied
        np.add.at(residual, of_element, -inside)
        np.add.at(residual, rows.unknowns, pressing[:, None] * rows.slopes)
        on_cap = -residual[-1]
        residual[-1] += force if force is not None else 0.0
        pair = stiff[:, None, None] * rows.slopes[:, :, None] * rows.slopes[:, None, :]
        parts = [(of_element, blocks), (rows.unknowns, pair)]
        i = np.concatenate([np.repeat(u, u.shape[1], axis=1).ravel() for u, _ in parts])
        j = np.concatenate([np.tile(u, (1, u.shape[1])).ravel() for u, _ in parts])
        values = np.concatenate([m.ravel() for _, m in parts])
        tangent = coo_matrix((values, (i, j)), shape=(2 * n + 1, 2 * n + 1)).tocsr()
        return residual, tangent, (stress, plastic, rows, pressing, on_cap)

    def _settle(self, x: Array, state) -> None:  # type: ignore[no-untyped-def]  # as above
        self.stress, self.plastic, self.rows, self.pressing, self.force = state
        self.approach += x[-1]
        self.swollen = self.metal.swelling.copy()
        moved = x[:-1].reshape(-1, 2).T
        self.nodes = self.nodes + moved
        self.contact.settle(self.nodes, self.rows)
        if self.moves:
            self.stress = turned(self.stress, self.nodes, self.quads, moved)
            self.matrices = strain_matrices(self.nodes, self.quads)


def _basis(nodes: Array, quads: Indices) -> Basis:
    mesh = MeshQuad(np.ascontiguousarray(nodes), np.ascontiguousarray(quads.T))
    return Basis(mesh, ElementQuad1(), intorder=3)


def strain_matrices(nodes: Array, quads: Indices) -> tuple[Array, Array]:
    """Strains rr, zz, hoop, rz from the movements of an element's nodes, and volumes [m3]."""
    basis = _basis(nodes, quads)
    r = np.asarray(basis.global_coordinates())[0]
    w = 2.0 * np.pi * r * basis.dx
    b = np.zeros((*w.shape, 4, 8))
    for i in range(4):
        shape = basis.basis[i][0]
        gradient = shape.grad
        b[..., 0, 2 * i] = gradient[0]
        b[..., 1, 2 * i + 1] = gradient[1]
        b[..., 2, 2 * i] = np.broadcast_to(np.asarray(shape), r.shape) / r
        b[..., 3, 2 * i] = gradient[1]
        b[..., 3, 2 * i + 1] = gradient[0]
    volume = b[..., :3, :].sum(axis=-2)
    mean = (w[..., None] * volume).sum(axis=1) / w.sum(axis=1)[:, None]
    b[..., :3, :] += (mean[:, None, :] - volume)[..., None, :] / 3.0
    return b, w


def turned(stress: Array, nodes: Array, quads: Indices, moved: Array) -> Array:
    """Stress [Pa] turned by the spin of an increment."""
    basis = _basis(nodes, quads)
    spin = np.zeros(stress.shape[:2])
    for i in range(4):
        gradient, local = basis.basis[i][0].grad, moved[:, quads[:, i]]
        spin += 0.5 * (gradient[1] * local[0][:, None] - gradient[0] * local[1][:, None])
    c, s = np.cos(spin), np.sin(spin)
    rr, zz, hoop, rz = np.moveaxis(stress, -1, 0)
    return np.stack(
        [
            c * c * rr + s * s * zz + 2 * c * s * rz,
            s * s * rr + c * c * zz - 2 * c * s * rz,
            hoop,
            c * s * (zz - rr) + (c * c - s * s) * rz,
        ],
        axis=-1,
    )


def returned(
    metal: Metal, stress: Array, plastic: Array, strain: Array
) -> tuple[Array, Array, Array]:
    """Radial return from the elastic guess: stress, plastic strain and the consistent moduli."""
    g, k = metal.shear[:, None], metal.bulk[:, None]
    h, strength = metal.hardening[:, None], metal.strength[:, None]
    elastic = k[..., None, None] * np.outer(NORMAL, NORMAL) + 2 * g[..., None, None] * DEVIATOR
    guess = stress + (elastic @ strain[..., None])[..., 0]
    mean = guess[..., :3].sum(axis=-1) / 3.0
    deviator = guess - mean[..., None] * NORMAL
    length = np.sqrt((deviator**2).sum(axis=-1) + deviator[..., 3] ** 2)
    mises = np.sqrt(1.5) * length
    over = np.maximum(mises - strength - h * plastic, 0.0) / (3 * g + h)
    left = 1.0 - 3 * g * over / np.maximum(mises, 1e-30)
    unit = deviator / np.maximum(length, 1e-30)[..., None]
    flows = over > 0.0
    along = np.where(flows, 3 * g / (3 * g + h) - (1.0 - left), 0.0)
    moduli = (
        k[..., None, None] * np.outer(NORMAL, NORMAL)
        + 2 * (g * left)[..., None, None] * DEVIATOR
        - 2 * (g * along)[..., None, None] * unit[..., :, None] * unit[..., None, :]
    )
    return left[..., None] * deviator + mean[..., None] * NORMAL, plastic + over, moduli


def grid(radii: Array, heights: Array) -> tuple[Array, Indices]:
    """Nodes (2, n) [m] and quadrangles of a section cut along radii and heights [m].

    Node ``i + j len(radii)`` lies at radius ``i`` and height ``j``.
    """
    nr = len(radii)
    r, z = np.meshgrid(radii, heights)
    i, j = np.meshgrid(np.arange(nr - 1), np.arange(len(heights) - 1))
    first = (i + nr * j).ravel()
    quads = np.stack([first, first + 1, first + nr + 1, first + nr], axis=1)
    return np.array([r.ravel(), z.ravel()]), quads


def ring_areas(radii: Array) -> Array:
    """Area [m2] of a flat section that each node on a line along the radius stands for.

    A consistent share: even pressure gives these forces with bilinear elements.
    """
    a, b = radii[:-1], radii[1:]
    areas = np.zeros(len(radii))
    areas[:-1] += np.pi * (b - a) * (2 * a + b) / 3.0
    areas[1:] += np.pi * (b - a) * (a + 2 * b) / 3.0
    return areas
