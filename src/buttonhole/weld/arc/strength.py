"""What an arc weld holds, and which way it lets go: the weakest link, and why.

The load has to pass through several links in series: what is fused at the faying interface, the
sheet round it, and in a plug the edge of the hole or the head that lies over it. A small head tears
out through the hole because the only metal in its way is what still lies over the edge: a head
thins towards its own edge, so one hardly wider than the hole has next to nothing there.

Lines between links are drawn with the smallest strengths the standards allow. Intervals are the
links at the ends of all that is doubted at once, so wider than 90 %; no weld has been pulled for
this program. The vehicle maker's figure goes before them.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from buttonhole.weld.arc.load_paths import (
    cap_height_at,
    fused_area_load,
    line_load,
    ring_shear_load,
    sheet_tear_load,
)
from buttonhole.weld.estimate import Estimate

# Shear over tensile strength of weld metal: between von Mises (0.577, derived) and what the
# arc-spot code takes (0.75, aisi-s100, from memory).
WELD_SHEAR = Estimate(0.66, 0.577, 0.75)
# What a formula itself may be off, both ways; engineering judgement, no source.
FORMULA_SPREAD = 0.25  # -
# Deposited and rolled metal is stronger than the least its standard asks; engineering judgement.
OVER_MINIMUM = 1.2  # -
# Interface of an aluminium-bronze brazed fillet on steel: 113 to 278 MPa where it failed there.
BRAZED_INTERFACE = Estimate(195e6, 113e6, 278e6)  # Pa
PEEL_SHARE = (0.3, 0.5)  # -, of the load across, when a flange is peeled; engineering judgement


class Pull(StrEnum):
    """How the joint is pulled."""

    SHEAR = "lap_shear"  # sheets past each other
    ACROSS = "cross_tension"  # sheets apart
    PEEL = "peel"  # one flange bent off the other
    TORSION = "torsion"  # sheets turned on each other


class Link(StrEnum):
    """Where a joint can let go."""

    FAYING = "faying_fusion"
    BASE = "base_pull_out"
    UPPER = "upper_pull_out"
    RIM_OR_HEAD = "rim_or_head_tear_out"
    MIDDLE = "middle_sheet_ring"
    BASE_TEAR = "base_sheet_tear"
    UPPER_TEAR = "upper_sheet_tear"
    THROAT = "throat"
    LOWER_FUSION = "lower_sheet_fusion"
    UPPER_FUSION = "upper_sheet_fusion"
    BRAZED_LOWER = "lower_brazed_face"
    BRAZED_UPPER = "upper_brazed_face"
    BRAZED_FAYING = "brazed_face"
    BRAZED_RIM = "brazed_rim_or_head"
    UPPER_SHEET = "upper_sheet"
    LOWER_SHEET = "lower_sheet"
    NUGGET = "nugget"
    BUTTON_A = "button_of_side_a"
    BUTTON_B = "button_of_side_b"


WHY = {
    Link.FAYING: "Too little is fused between the sheets: it parts there and the sheets look "
    "whole.",
    Link.BASE: "A button pulls out of the sheet below: the usual way of a sound weld.",
    Link.UPPER: "A button pulls out of the upper sheet.",
    Link.RIM_OR_HEAD: "The plug tears out through the hole of the upper sheet: neither the edge of "
    "the hole is fused enough nor lies enough of the head over it. Wash the arc over the rim.",
    Link.MIDDLE: "The middle sheet is held by the ring between the two hole sizes only, and that "
    "gives way.",
    Link.BASE_TEAR: "The sheet below tears beside the weld: the weld is stronger than the sheet.",
    Link.UPPER_TEAR: "The upper sheet tears beside the weld: the weld is stronger than the sheet.",
    Link.THROAT: "The seam is too thin: it tears through its throat.",
    Link.LOWER_FUSION: "Too little of the lower sheet is fused: the seam lifts off it.",
    Link.UPPER_FUSION: "Too little of the upper sheet is fused: the seam comes away from its edge.",
    Link.BRAZED_LOWER: "The brazed face on the lower sheet parts: wet it wider.",
    Link.BRAZED_UPPER: "The brazed face on the upper sheet parts: wet it wider.",
    Link.BRAZED_FAYING: "The braze parts cleanly from the sheet below: wet it all over the hole.",
    Link.BRAZED_RIM: "The braze pulls out through the hole: its edge is not wetted all round and "
    "the head is small.",
    Link.UPPER_SHEET: "The upper sheet tears beside the seam: the seam is stronger than the sheet.",
    Link.LOWER_SHEET: "The lower sheet tears beside the seam: the seam is stronger than the sheet.",
    Link.NUGGET: "It parts through the nugget at the interface: a larger nugget holds more.",
    Link.BUTTON_A: "A button pulls out of the sheet on side A: the usual way of a sound weld.",
    Link.BUTTON_B: "A button pulls out of the sheet on side B: the usual way of a sound weld.",
}


@dataclass(frozen=True, slots=True)
class LinkLoad:
    """One link and the ``load`` it gives way at: [N], of a seam [N/m], of a twist [N m]."""

    link: Link
    load: Estimate

    @property
    def why(self) -> str:
        """What it means when this is the weakest."""
        return WHY[self.link]


@dataclass(frozen=True, slots=True)
class Holding:
    """What one interface holds one way; ``links`` in the order of the load."""

    index: int  # interface from the side that is welded, from 0
    pull: Pull
    links: tuple[LinkLoad, ...]

    @property
    def weakest(self) -> LinkLoad:
        """The link that gives way first."""
        return min(self.links, key=lambda one: one.load.value)

    @property
    def load(self) -> Estimate:
        """What all links together hold, as each of them: at each end the least of them [N]."""
        return Estimate(
            self.weakest.load.value,
            min(one.load.low for one in self.links),
            min(one.load.high for one in self.links),
        )


@dataclass(frozen=True, slots=True)
class PlugMade:
    """A plug as it came out, from the side that is welded.

    ``thicknesses`` and ``hole_diameters`` [m], the latter with one fewer and 0 where not drilled;
    ``strengths`` [Pa]: least tensile strength of each sheet; ``weld_strength`` [Pa]: least of the
    filler; ``fused_diameters`` [m]: at each interface; ``rim_fusion`` [-]: share of the height of
    the first hole's edge; ``head_diameter`` and ``head_height`` [m]; ``brazed``: diameters and edge
    are wetted and not fused.
    """

    thicknesses: tuple[float, ...]  # m
    hole_diameters: tuple[float, ...]  # m
    strengths: tuple[float, ...]  # Pa
    weld_strength: float  # Pa
    fused_diameters: tuple[Estimate, ...]  # m
    rim_fusion: Estimate  # -
    head_diameter: Estimate  # m
    head_height: Estimate  # m
    brazed: bool = False


def at_least(strength: float) -> Estimate:
    """A strength known by the least its standard asks.

    Parameters
    ----------
    strength : float
        That least [Pa].

    Returns
    -------
    Estimate
        It, and up to a fifth more [Pa].

    Sources
    -------
    engineering judgement, no source
    """
    return Estimate(strength, strength, OVER_MINIMUM * strength)


def _link(link: Link, load: Callable[..., float], *doubted: Estimate) -> LinkLoad:
    """Load of a link that grows with each of what is doubted."""
    low, high = load(*(one.low for one in doubted)), load(*(one.high for one in doubted))
    value = load(*(one.value for one in doubted))
    spread = FORMULA_SPREAD
    return LinkLoad(link, Estimate(value, (1.0 - spread) * low, (1.0 + spread) * high))


def plug_strength(plug: PlugMade) -> tuple[Holding, ...]:
    """Say what a plug holds at each interface, in lap shear and in cross tension.

    Parameters
    ----------
    plug : PlugMade
        As predicted, or as measured on a section.

    Returns
    -------
    tuple of Holding
        Two for each interface, loads [N].

    Sources
    -------
    derived (links in series)
    aisi-s100 (sheet tear, from memory)
    ripsch-henkel-2025 (brazed face, read)
    """
    held = []
    for index in range(len(plug.fused_diameters)):
        held.append(Holding(index, Pull.SHEAR, _past(plug, index)))
        held.append(Holding(index, Pull.ACROSS, _apart(plug, index)))
    return tuple(held)


def _past(plug: PlugMade, index: int) -> tuple[LinkLoad, ...]:
    fused, hole = plug.fused_diameters[index], plug.hole_diameters[index]
    weld, sheets = at_least(plug.weld_strength), [at_least(one) for one in plug.strengths]
    above, below = plug.thicknesses[index], plug.thicknesses[index + 1]
    in_upper = Estimate(hole, hole, hole) if hole > 0.0 else fused
    face = _link(
        Link.FAYING, lambda d, s, share: fused_area_load(d, share * s), fused, weld, WELD_SHEAR
    )
    if plug.brazed:
        face = _link(Link.BRAZED_FAYING, fused_area_load, fused, BRAZED_INTERFACE)
    return (
        face,
        _link(Link.BASE_TEAR, lambda d, s: sheet_tear_load(d, below, s), fused, sheets[index + 1]),
        _link(Link.UPPER_TEAR, lambda d, s: sheet_tear_load(d, above, s), in_upper, sheets[index]),
    )


def _apart(plug: PlugMade, index: int) -> tuple[LinkLoad, ...]:
    fused, hole = plug.fused_diameters[index], plug.hole_diameters[index]
    weld, sheets = at_least(plug.weld_strength), [at_least(one) for one in plug.strengths]
    above, below = plug.thicknesses[index], plug.thicknesses[index + 1]
    face = _link(Link.FAYING, fused_area_load, fused, weld)
    if plug.brazed:
        face = _link(Link.BRAZED_FAYING, fused_area_load, fused, BRAZED_INTERFACE)
    links = [
        face,
        _link(Link.BASE, lambda d, s: ring_shear_load(d, below, s), fused, sheets[index + 1]),
    ]
    if hole == 0.0:
        shear = _link(Link.UPPER, lambda d, s: ring_shear_load(d, above, s), fused, sheets[index])
        links.append(shear)
    elif index == 0:
        links.append(_rim_or_head(plug))
    else:
        links.append(_middle_ring(plug, index))
    return tuple(links)


def _rim_or_head(plug: PlugMade) -> LinkLoad:
    """The stronger of the fused edge and the head over it; at best both, as they lie side by side.

    Both shear along the wall of the hole, but the one that is stiffer has gone before the other
    has taken up its load.
    """
    hole, top = plug.hole_diameters[0], plug.thicknesses[0]

    def rim(share: float, strength: float) -> float:
        if plug.brazed:  # the wall is wetted: its face parts, no metal shears
            return math.pi * hole * share * top * strength
        return ring_shear_load(hole, share * top, strength)

    def head(diameter: float, height: float, strength: float) -> float:
        return ring_shear_load(hole, cap_height_at(diameter, height, hole / 2.0), strength)

    def both(share: float, s: float, diameter: float, height: float, weld: float) -> float:
        return max(rim(share, s), head(diameter, height, weld))

    weld = at_least(plug.weld_strength)
    sheet = BRAZED_INTERFACE if plug.brazed else at_least(plug.strengths[0])
    found = _link(
        Link.BRAZED_RIM if plug.brazed else Link.RIM_OR_HEAD,
        both,
        plug.rim_fusion,
        sheet,
        plug.head_diameter,
        plug.head_height,
        weld,
    )
    best = rim(plug.rim_fusion.high, sheet.high) + head(
        plug.head_diameter.high, plug.head_height.high, weld.high
    )
    load = found.load
    return LinkLoad(found.link, Estimate(load.value, load.low, (1.0 + FORMULA_SPREAD) * best))


def _middle_ring(plug: PlugMade, index: int) -> LinkLoad:
    """A drilled sheet below the first is held by the fused ring round its own smaller hole."""
    hole, thickness = plug.hole_diameters[index], plug.thicknesses[index]

    def ring(diameter: float, weld: float, sheet: float) -> float:
        if diameter <= hole:
            return 0.0
        area = fused_area_load(diameter, weld) - fused_area_load(hole, weld)
        return min(area, ring_shear_load(diameter, thickness, sheet))

    weld, sheet = at_least(plug.weld_strength), at_least(plug.strengths[index])
    return _link(Link.MIDDLE, ring, plug.fused_diameters[index - 1], weld, sheet)


@dataclass(frozen=True, slots=True)
class SeamMade:
    """A lap seam as it came out, in its middle.

    ``throat``, ``lower_fused`` and ``upper_fused`` [m]: widths across the seam; ``thicknesses``
    [m]: of the upper and the lower sheet; ``strengths`` [Pa]: least tensile strength of each, the
    softened one where the heat softens it; ``weld_strength`` [Pa]: least of the filler;
    ``brazed`` [-]: whether the widths are wetted and not fused.
    """

    throat: Estimate  # m
    lower_fused: Estimate  # m
    upper_fused: Estimate  # m
    thicknesses: tuple[float, float]  # m
    strengths: tuple[float, float]  # Pa
    weld_strength: float  # Pa
    brazed: bool = False


def seam_strength(seam: SeamMade) -> Holding:
    """Say what a lap seam holds per length when the sheets are pulled past each other.

    Parameters
    ----------
    seam : SeamMade
        As predicted, or as measured on a section.

    Returns
    -------
    Holding
        Loads per length [N/m].

    Sources
    -------
    derived (links in series); ripsch-henkel-2025 (brazed interface, read)
    """
    weld = at_least(seam.weld_strength)

    def sheared(width: float, strength: float, share: float) -> float:
        return line_load(width, share * strength)

    links = [_link(Link.THROAT, sheared, seam.throat, weld, WELD_SHEAR)]
    if seam.brazed:
        links += [
            _link(Link.BRAZED_LOWER, line_load, seam.lower_fused, BRAZED_INTERFACE),
            _link(Link.BRAZED_UPPER, line_load, seam.upper_fused, BRAZED_INTERFACE),
        ]
    else:
        links += [
            _link(Link.LOWER_FUSION, sheared, seam.lower_fused, weld, WELD_SHEAR),
            _link(Link.UPPER_FUSION, sheared, seam.upper_fused, weld, WELD_SHEAR),
        ]
    for link, thickness, strength in zip(
        (Link.UPPER_SHEET, Link.LOWER_SHEET), seam.thicknesses, seam.strengths, strict=True
    ):
        wide = Estimate(thickness, thickness, thickness)
        links.append(_link(link, line_load, wide, at_least(strength)))
    return Holding(0, Pull.SHEAR, tuple(links))
