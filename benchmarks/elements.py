"""A half section of a spot weld as elements of a general-purpose finite-element library.

Meshed on the lines of our own cells; what does not change through a weld is integrated once.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_matrix, diags
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
    element: Array  # (elements, 16), stiffness for a conductivity of one
    shares: Array  # (elements, 4), m3
    gather: csr_matrix  # element entries -> entries of the pattern
    pattern: csr_matrix
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
    place = np.asarray(found[row, column]).ravel() - 1
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
        layout, nodes, cells, keys[:, 0], element, shares, gather, pattern, planes, ring, top
    )
