"""A cap pressed on two equal sheets, which may lift off each other: one sheet by symmetry.

Finite elements of ``elastic_plastic``. The cap is rigid, or of copper that yields. Where it
touches the sheet it slides freely or sticks fast: the truth lies between. The faying interface is
the mirror plane, so nothing rubs there.
"""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from benchmarks.elastic_plastic import STIFF, Indices, Metal, Press, Rows, grid, ring_areas

Array = NDArray[np.float64]

YOUNG, POISSON = 210e9, 0.3  # Pa, -, steel at room temperature
COPPER_YOUNG, COPPER_POISSON = 117e9, 0.34  # Pa, -, from memory
SHEET_RADIUS = 16e-3  # m, as the weld's own section
FLANK = math.tan(math.radians(30.0))  # - rise of the flank beyond a face
BODY, LENGTH = 6e-3, 10e-3  # m, radius of a copper cap and how long it is to where it is driven


@dataclass(frozen=True, slots=True)
class CapShape:
    """``face`` [m]: its radius, 0 for a dome; ``dome`` [m]: radius of curvature, 0 for flat.

    ``rounded`` [m]: on either side of the face's edge over so much the slope changes.
    """

    face: float = 0.0
    dome: float = 0.0
    rounded: float = 0.1e-3

    def slope(self, r: Array) -> Array:
        """Rise per radius [-] of the surface at radii [m]."""
        curved = r / self.dome if self.dome > 0.0 else np.zeros_like(r)
        if self.face <= 0.0:
            return curved
        beyond = np.clip((r - self.face + self.rounded) / (2 * self.rounded), 0.0, 1.0)
        return (1.0 - beyond) * curved + beyond * FLANK

    def height(self, r: Array) -> Array:
        """Height [m] of the surface over its lowest point at radii [m]."""
        fine = np.linspace(0.0, 2 * SHEET_RADIUS, 6401)
        rise = self.slope(fine)
        heights = np.concatenate([[0.0], np.cumsum(0.5 * (rise[1:] + rise[:-1]) * np.diff(fine))])
        return np.interp(np.abs(r), fine, heights)


@dataclass(slots=True)
class CapOnSheet:
    """Rows of a contact: cap on ``top``, mirror plane under ``bottom``, in this order.

    With ``above`` the cap is a body whose nodes lie over those of the sheet, and ``driven`` moves.
    """

    shape: CapShape | None  # None: no cap, what presses is applied to the nodes
    top: Indices
    bottom: Indices
    areas: tuple[Array, Array]  # m2, of the nodes of either
    thickness: float  # m
    sticks: bool = False
    above: Indices | None = None
    driven: Indices | None = None
    drive: tuple[Array, float] | None = None  # areas [m2] and height [m] of the driven nodes
    stuck_at: Array = field(init=False)

    def __post_init__(self) -> None:
        """Nothing touches yet."""
        self.stuck_at = np.zeros(0)

    @property
    def count(self) -> int:
        """Rows at the cap, which come first."""
        if self.above is not None:
            return len(self.above)
        return 0 if self.shape is None else len(self.top)

    def rows(self, nodes: Array, approach: float) -> Rows:
        """Gaps [m] at the cap, at the mirror, of sticking nodes and of a driven cap."""
        d = 2 * nodes.shape[1]
        if self.above is None and self.shape is None:
            gap, slopes = np.zeros(0), np.zeros((0, 3))
            unknowns = np.zeros((0, 3), dtype=np.int64)
        elif self.above is None:
            r, z = nodes[:, self.top]
            slope = self.shape.slope(r)
            upright = 1.0 / np.sqrt(1.0 + slope**2)
            gap = (self.thickness + self.shape.height(r) - approach - z) * upright
            slopes = np.stack([slope * upright, -upright, -upright], axis=1)
            unknowns = _unknowns(2 * self.top, 2 * self.top + 1, d)
        else:
            m = len(self.above)
            gap = nodes[1, self.above] - nodes[1, self.top[:m]]
            slopes = np.tile([1.0, -1.0, 0.0], (m, 1))
            unknowns = _unknowns(2 * self.above + 1, 2 * self.top[:m] + 1, d)
        floor = (
            nodes[1, self.bottom], _unknowns(2 * self.bottom, 2 * self.bottom + 1, d),
            np.tile([0.0, 1.0, 0.0], (len(self.bottom), 1)), self.areas[1],
        )  # fmt: skip
        blocks = [(gap, unknowns, slopes, self.areas[0][: len(gap)]), floor]
        other = [np.full(len(gap) + len(self.bottom), -1)]
        both = [np.zeros(len(gap) + len(self.bottom), dtype=bool)]
        if self.sticks:
            aside, block = self._aside(nodes, len(gap), d)
            blocks.append((aside, *block, self.areas[0][: len(gap)]))
            other.append(np.arange(len(gap)))
            both.append(np.ones(len(gap), dtype=bool))
        if self.driven is not None:
            areas, height = self.drive
            blocks.append((
                nodes[1, self.driven] - height + approach,
                _unknowns(2 * self.driven, 2 * self.driven + 1, d),
                np.tile([0.0, 1.0, 1.0], (len(self.driven), 1)), areas,
            ))  # fmt: skip
            other.append(np.full(len(self.driven), -1))
            both.append(np.ones(len(self.driven), dtype=bool))
        return Rows(
            *(np.concatenate([block[i] for block in blocks]) for i in range(4)),
            np.concatenate(both), np.concatenate(other),
        )  # fmt: skip

    def _slid(self, nodes: Array) -> Array:
        """Radius [m] of the sheet's nodes under the cap, counted from the cap's if that moves."""
        if self.above is None:
            return nodes[0, self.top]
        return nodes[0, self.top[: len(self.above)]] - nodes[0, self.above]

    def _aside(self, nodes: Array, count: int, d: int) -> tuple[Array, tuple[Indices, Array]]:
        """How far [m] sticking nodes have slid from where they first touched."""
        if len(self.stuck_at) == 0:
            self.stuck_at = self._slid(nodes)
        top = self.top[:count]
        against = 2 * top + 1 if self.above is None else 2 * self.above
        pull = 0.0 if self.above is None else -1.0
        slopes = np.tile([1.0, pull, 0.0], (count, 1))
        return self._slid(nodes) - self.stuck_at, (_unknowns(2 * top, against, d), slopes)

    def settle(self, nodes: Array, rows: Rows) -> None:
        """Nodes that touch stay stuck; the others would stick where they now are."""
        if self.sticks:
            touching = rows.gap[: len(self.stuck_at)] < 0.0
            self.stuck_at = np.where(touching, self.stuck_at, self._slid(nodes))


def _unknowns(a: Indices, b: Indices, d: int) -> Indices:
    return np.stack([a, b, np.full(len(a), d)], axis=1)


def radii(fine: float, cell: float) -> Array:
    """Radii [m] of the nodes: even out to ``fine`` [m], then growing to the sheet's edge."""
    even = np.linspace(0.0, fine, round(fine / cell) + 1)
    far, step = [], cell
    while even[-1] + sum(far) < SHEET_RADIUS:
        step *= 1.25
        far.append(step)
    return np.concatenate([even, even[-1] + np.cumsum(far)])


def sheet(
    thickness: float,
    cap: CapShape,
    fine: float,
    layers: int,
    sticks: bool = False,
    copper: float | None = None,
) -> Press:
    """A cap on an elastic sheet of ``thickness`` [m]; give it its metal afterwards.

    ``fine`` [m]: radius out to which cells are as wide as a layer is thick. ``copper`` [Pa]: the
    strength of a cap that gives way.
    """
    r, z = radii(fine, thickness / layers), np.linspace(0.0, thickness, layers + 1)
    return block(r, z, cap, sticks, copper)


def block(
    r: Array, z: Array, cap: CapShape | None, sticks: bool = False, copper: float | None = None
) -> Press:
    """A cap, or none, over rings cut at radii and heights [m] that lie on a mirror plane."""
    nodes, quads = grid(r, z)
    n, count, thickness = len(r), nodes.shape[1], float(z[-1])
    bottom = np.arange(n)
    top = bottom + n * (len(z) - 1)
    contact = CapOnSheet(cap, top, bottom, (ring_areas(r), ring_areas(r)), thickness, sticks)
    if copper is not None and cap is not None:
        more, extra = _cap_body(r, z[-1] - z[-2], cap, thickness)
        inner = int((r < BODY + 1e-9).sum())
        nodes = np.concatenate([nodes, more], axis=1)
        quads = np.concatenate([quads, extra + count])
        contact.above = count + np.arange(inner)
        contact.driven = nodes.shape[1] - inner + np.arange(inner)
        contact.drive = (ring_areas(r[:inner]), float(more[1].max()))
    fixed = 2 * np.flatnonzero(nodes[0] < 1e-12)
    press = Press(nodes, quads, None, contact, fixed, STIFF * YOUNG / float(z[-1] - z[-2]))
    give_metal(press, 1e30, copper=copper)
    return press


def _cap_body(r: Array, cell: float, cap: CapShape, thickness: float) -> tuple[Array, Indices]:
    """Nodes and quadrangles of a copper cap over a sheet: its face curved, its far end even."""
    heights, step = [0.0], cell
    while heights[-1] < LENGTH:
        heights.append(heights[-1] + step)
        step = min(step * 1.25, 1e-3)
    nodes, quads = grid(r[r < BODY + 1e-9], np.array(heights))
    nodes[1] += thickness + (1.0 - nodes[1] / heights[-1]) * cap.height(nodes[0])
    return nodes, quads


def give_metal(
    press: Press,
    strength: float | Array,
    young: float | Array = YOUNG,
    swelling: float | Array = 0.0,
    copper: float | None = None,
) -> None:
    """Make the sheet of steel of given strength and stiffness [Pa], one value or one an element.

    It never gets easier to compress. A thousandth of the stiffness is left as hardening: the
    tangent is then never singular.
    """
    above = press.contact.above
    body = len(press.quads) if above is None else int((press.quads[:, 0] < above[0]).sum())
    count = len(press.quads)

    def filled(of_sheet: float | Array, of_copper: float) -> Array:
        values = np.full(count, of_copper, dtype=np.float64)
        values[:body] = of_sheet
        return values

    shear = np.asarray(young) / (2 + 2 * POISSON)
    copper_shear = COPPER_YOUNG / (2 + 2 * COPPER_POISSON)
    press.metal = Metal(
        filled(shear, copper_shear),
        filled(YOUNG / (3 - 6 * POISSON), COPPER_YOUNG / (3 - 6 * COPPER_POISSON)),
        filled(strength, copper or 0.0),
        filled(1e-3 * shear, 1e-3 * copper_shear),
        filled(swelling, 0.0),
    )


@dataclass(frozen=True, slots=True)
class Pressed:
    """What is seen at one force; SI units."""

    force: float  # N
    approach: float  # m, of the cap
    cap_radius: float  # m, out to which the cap touches
    faying_radius: float  # m, out to which the sheets touch
    cap_pressure: tuple[Array, Array]  # radius [m], pressure [Pa]
    faying_pressure: tuple[Array, Array]
    apart: Array  # m, between the sheets, at the radii of the faying pressure
    thickness: Array  # m, of one sheet at these radii


def seen(press: Press) -> Pressed:
    """Measure a pressed sheet."""
    contact = press.contact
    caps = contact.count
    r_top, r_low = press.nodes[0, contact.top], press.nodes[0, contact.bottom]
    on_cap, on_floor = press.pressing[:caps], press.pressing[caps : caps + len(r_low)]
    if contact.above is None:
        # the vertical part of what presses along the normal
        on_cap = on_cap * -press.rows.slopes[:caps, 1]
    low, high = press.nodes[1, contact.bottom], press.nodes[1, contact.top]
    return Pressed(
        force=float(on_floor.sum()),
        approach=press.approach,
        cap_radius=_edge(r_top[:caps], on_cap),
        faying_radius=_edge(r_low, on_floor),
        cap_pressure=(r_top[:caps], on_cap / ring_areas(r_top)[:caps]),
        faying_pressure=(r_low, on_floor / ring_areas(r_low)),
        apart=2.0 * np.maximum(low, 0.0),
        thickness=np.interp(r_low, r_top, high) - low,
    )


def _edge(r: Array, pressing: Array) -> float:
    """Radius [m] half way from the last node that bears to the next.

    A sheet's far rim may come down on the other one again: less than a hundredth of the highest
    pressure is no part of the contact.
    """
    pressure = pressing / ring_areas(r)[: len(pressing)]
    if not len(pressure) or pressure.max() <= 0.0:
        return 0.0
    bearing = np.flatnonzero(pressure > 0.01 * pressure.max())
    last = int(bearing[-1])
    return float(0.5 * (r[last] + r[min(last + 1, len(r) - 1)]))
