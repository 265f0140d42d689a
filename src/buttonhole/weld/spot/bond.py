"""The corona: where the faying faces joined round the nugget without melting.

A ring counts as joined where both have come to pass: the asperities were flattened until a share of
the face is in true contact, and atoms have moved across it farther than the film of oxide and oil
is thick. Both grow with temperature, time and, the first one, pressure. The thresholds are judged,
no source, and wide; the laws are in ``watch``.

It is a weak bond and no weld: nothing of it is counted into the nugget or the button.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.spot.edge import edge_radius
from buttonhole.weld.spot.simulation import Simulation

Array = NDArray[np.float64]

Pairs = list[tuple[Simulation, Simulation]]

SHARE = Estimate(0.2, 0.1, 0.5)  # - of the face in true contact, that a bond is seen; judged
REACH = Estimate(5e-9, 2e-9, 12e-9)  # m across the faces; natural oxide and what oil leaves; judged
OWN_SPREAD = 0.3  # - of the width, standard deviation of the law itself; judged, no source


@dataclass(frozen=True, slots=True)
class Corona:
    """Solid-state bond round the nugget of one faying interface; no part of the nugget."""

    inner_diameter: float  # m, edge of what melted; 0 where nothing did
    outer_diameter: Estimate  # m
    area: Estimate  # m2, of the ring alone
    contact_diameter: float  # m, widest contact of the faying faces


def bonded_radius(weld: Simulation, index: int, share: float, reach: float) -> float:
    """Radius to which the faces of an interface joined, molten or not.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    index : int
        Which interface.
    share : float
        Least share of the face in true contact [-].
    reach : float
        Least way of the atoms across it [m].

    Returns
    -------
    float
        [m]; 0 where nothing joined; never beyond the contact.
    """
    faces = weld.faces
    closed = np.log(np.maximum(faces.closed[index], 1e-12) / share)
    moved = np.log(np.maximum(faces.reach[index], 1e-30) / reach)
    found = edge_radius(weld.layout.r_faces, np.minimum(closed, moved), 0.0)
    return min(found, float(faces.contact_radius[index]))


def corona_width(weld: Simulation, index: int, melted: float, share: float, reach: float) -> float:
    """Width of the corona.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    index : int
        Which interface.
    melted : float
        Temperature from which its faces count as molten [degC].
    share, reach : float
        Thresholds, as in :func:`bonded_radius` [-], [m].

    Returns
    -------
    float
        [m], from the edge of what melted.
    """
    inner = edge_radius(weld.layout.r_faces, weld.faces.hottest[index], melted)
    return max(0.0, bonded_radius(weld, index, share, reach) - inner)


def _width(
    weld: Simulation, doubted: Pairs, index: int, melted: float, *, coated: bool
) -> Estimate:
    """Width of the corona [m]; thresholds, doubts and the law itself spread it."""
    width, wide, thin = (
        corona_width(weld, index, melted, share, reach)
        for share, reach in (
            (SHARE.value, REACH.value),
            (SHARE.low, REACH.low),
            (SHARE.high, REACH.high),
        )
    )
    spread = math.hypot(
        OWN_SPREAD * width,
        *(
            corona_width(moved, index, melted, SHARE.value, REACH.value)
            - corona_width(base, index, melted, SHARE.value, REACH.value)
            for base, moved in doubted
        ),
    )
    least = 0.0 if coated else max(0.0, width - math.hypot(width - thin, Z90 * spread))
    most = width + math.hypot(wide - width, Z90 * spread)
    return Estimate(width, least, most)


def corona(
    weld: Simulation,
    doubted: Pairs,
    index: int,
    melted: float,
    nugget: Estimate,
    *,
    coated: bool,
) -> Corona:
    """Measure the corona of one interface.

    Parameters
    ----------
    weld : Simulation
        What was marched.
    doubted : list of pairs of Simulation
        As believed, and with one doubted number moved by a standard deviation.
    index : int
        Which interface.
    melted : float
        Temperature from which its faces count as molten [degC].
    nugget : Estimate
        Its nugget diameter [m].
    coated : bool
        A coating lies between the faces; what it leaves may keep them from joining at all.

    Returns
    -------
    Corona
        SI, with 90 % intervals.
    """
    width = _width(weld, doubted, index, melted, coated=coated)
    inner = edge_radius(weld.layout.r_faces, weld.faces.hottest[index], melted)
    contact = float(weld.faces.contact_radius[index])
    most = max(width.value, min(width.high, contact - inner))
    outer = 2.0 * (inner + width.value)
    down = math.hypot(2.0 * (width.value - width.low), nugget.value - nugget.low)
    up = math.hypot(2.0 * (most - width.value), nugget.high - nugget.value)
    areas = (math.pi * w * (2.0 * inner + w) for w in (width.value, width.low, most))
    return Corona(
        inner_diameter=2.0 * inner,
        outer_diameter=Estimate(outer, max(0.0, outer - down), outer + up),
        area=Estimate(*areas),
        contact_diameter=2.0 * contact,
    )
