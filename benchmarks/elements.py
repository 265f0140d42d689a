"""A half section of a spot weld as elements of a general-purpose finite-element library.

Meshed on the lines of our own cells; what does not change through a weld is integrated once.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg.lapack import dpbsv
from scipy.sparse import csc_matrix, csr_matrix, diags
from scipy.sparse.linalg import splu
from skfem import Basis, BilinearForm, ElementQuad1, LinearForm, MeshQuad

from buttonhole.weld.spot.layout import Layout

Array = NDArray[np.float64]


@BilinearForm
def stiffness(u, v, w):  # type: ignore[no-untyped-def]  # the library's own signature
    """Gradients in rings."""
    return 2.0 * math.pi * w.x[0] * (u.grad[0] * v.grad[0] + u.grad[1] * v.grad[1])


@LinearForm
def volume(v, w):  # type: ignore[no-untyped-def]  # the library's own signature
    """Share of a ring's volume that a node has."""
    return 2.0 * math.pi * w.x[0] * v


@dataclass(slots=True)
class Section:
    """Mesh, cached pattern and element matrices of a half section; SI units."""

    layout: Layout
    nodes: NDArray[np.int64]  # (elements, 4)
    cells: tuple[NDArray[np.int64], NDArray[np.int64]]  # row and column of each element
    part: NDArray[np.int64]  # of each node
    keys: NDArray[np.int64]  # (nodes, 3): part, line along r, line along z
    element: Array  # (elements, 16), stiffness for a conductivity of one
    shares: Array  # (elements, 4), m3
    gather: csr_matrix  # element entries -> entries of the pattern
    pattern: csr_matrix
    places: list[tuple[NDArray[np.int64], ...]]  # entries of each plane's springs: aa, bb, ab, ba
    diagonal: NDArray[np.int64]  # entries of the diagonal
    planes: list[tuple[NDArray[np.int64], NDArray[np.int64] | None]]  # nodes on both sides
    ring: csr_matrix  # (nodes along r, rings), m2 of a ring that a node has
    top: NDArray[np.int64]


def numbered(layout: Layout) -> tuple[NDArray[np.int64], dict[tuple[int, int, int], int]]:
    """Nodes of each element; those on a contact plane are there twice."""
    number: dict[tuple[int, int, int], int] = {}
    elements = []
    for j, i in zip(*np.nonzero(layout.part >= 0), strict=True):
        part = int(layout.part[j, i])
        corners = ((j, i), (j, i + 1), (j + 1, i + 1), (j + 1, i))
        keys = [(part, int(b), int(a)) for b, a in corners]
        elements.append([number.setdefault(key, len(number)) for key in keys])
    return np.array(elements), number


def section(layout: Layout) -> Section:
    """Mesh a layout and integrate once what does not change."""
    nodes, number = numbered(layout)
    r, z = layout.r_faces, layout.z_faces
    keys = np.array(list(number))
    mesh = MeshQuad(np.array([r[keys[:, 2]], z[keys[:, 1]]]), nodes.T)
    basis = Basis(mesh, ElementQuad1(), intorder=3)
    blocks = stiffness.coo_data(basis)
    element = blocks.data.reshape(16, -1).T.copy()
    loads = volume.coo_data(basis)
    shares = loads.data.reshape(4, -1).T.copy()
    row, column = blocks.indices
    n = len(number)
    diagonal = np.arange(n)
    planes, pairs = [], []
    for q, j in enumerate(layout.contact_rows):
        parts = (q, q + 1)
        along = range(len(r))
        both = [i for i in along if all((p, int(j), i) in number for p in parts)]
        if j == layout.part.shape[0]:  # the mirror
            planes.append(
                (np.array([number[q, int(j), i] for i in along if (q, int(j), i) in number]), None)
            )
            continue
        a, b = (np.array([number[p, int(j), i] for i in both]) for p in parts)
        planes.append((a, b))
        pairs.append((a, b))
    rows = np.concatenate([row, diagonal, *(np.concatenate(p) for p in pairs)])
    columns = np.concatenate([column, diagonal, *(np.concatenate(p[::-1]) for p in pairs)])
    pattern = csr_matrix((np.ones(len(rows)), (rows, columns)), shape=(n, n))
    pattern.sum_duplicates()
    found = csr_matrix((np.arange(pattern.nnz) + 1, pattern.indices, pattern.indptr), shape=(n, n))

    def entry(rows: NDArray[np.int64], columns: NDArray[np.int64]) -> NDArray[np.int64]:
        return np.asarray(found[rows, columns]).ravel().astype(np.int64) - 1

    place = entry(row, column)
    places = [
        (entry(a, a),) if b is None else (entry(a, a), entry(b, b), entry(a, b), entry(b, a))
        for a, b in planes
    ]
    # coo entries run over the elements fastest
    gather = csr_matrix(
        (np.ones(len(place)), (place, np.arange(len(place)))), shape=(pattern.nnz, len(place))
    )
    a, b = r[:-1], r[1:]
    inner = 2.0 * math.pi * (b - a) * (2.0 * a + b) / 6.0
    outer = 2.0 * math.pi * (b - a) * (a + 2.0 * b) / 6.0
    ring = csr_matrix(diags([inner, outer], [0, -1], shape=(len(r), len(r) - 1)))
    top = np.array([number[0, 0, i] for i in range(len(r)) if (0, 0, i) in number])
    cells = tuple(np.nonzero(layout.part >= 0))
    return Section(
        layout, nodes, cells, keys[:, 0], keys[:, [0, 2, 1]], element, shares, gather, pattern,
        places, entry(diagonal, diagonal), planes, ring, top,
    )  # fmt: skip


class Band:
    """A symmetric matrix of the pattern, some nodes left out, solved as LAPACK solves a band.

    Nodes are numbered column by column, so the band is as wide as a column is high.
    """

    def __init__(self, section: Section, free: NDArray[np.int64]) -> None:
        part, along, down = section.keys[free].T
        order = free[np.lexsort((part, down, along))]
        rank = np.full(len(section.part), -1)
        rank[order] = np.arange(len(order))
        pattern = section.pattern
        row = np.repeat(np.arange(pattern.shape[0]), np.diff(pattern.indptr))
        i, j = rank[row], rank[pattern.indices]
        kept = np.flatnonzero((i >= 0) & (j >= i))
        width = int((j[kept] - i[kept]).max())
        self.order, self.entries = order, kept
        self.shape = (width + 1, len(order))
        self.where = (width + i[kept] - j[kept]) + (width + 1) * j[kept]

    def solve(self, entries: Array, right: Array) -> Array:
        """Solution at the free nodes in their order for entries of the pattern."""
        band = np.zeros(self.shape[0] * self.shape[1])
        band[self.where] = entries[self.entries]
        _, x, failed = dpbsv(
            band.reshape(self.shape, order="F"), right[self.order], overwrite_ab=1, overwrite_b=1
        )
        if failed:
            raise ArithmeticError(f"the band is not positive at {failed}")
        solution: Array = x
        return solution


class Sparse:
    """The same by a sparse factorisation, as for a mesh that is no grid."""

    def __init__(self, section: Section, free: NDArray[np.int64]) -> None:
        pattern = section.pattern
        n = pattern.shape[0]
        rank = np.full(n, -1)
        rank[free] = np.arange(len(free))
        numbers = np.arange(1, pattern.nnz + 1)
        inner = csc_matrix(
            csr_matrix((numbers, pattern.indices, pattern.indptr), shape=(n, n))[free][:, free]
        )
        self.order, self.entries = free, inner.data - 1
        self.inner = csc_matrix((np.ones(inner.nnz), inner.indices, inner.indptr), inner.shape)

    def solve(self, entries: Array, right: Array) -> Array:
        """Solution at the free nodes in their order for entries of the pattern."""
        self.inner.data = entries[self.entries]
        factors = splu(
            self.inner,
            permc_spec="MMD_AT_PLUS_A",
            diag_pivot_thresh=0.0,
            options={"SymmetricMode": True},
        )
        solution: Array = factors.solve(right[self.order])
        return solution
