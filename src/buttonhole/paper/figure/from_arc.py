"""From a predicted arc weld to what its drawings show."""

from typing import TYPE_CHECKING

import numpy as np

from buttonhole.joint.coating import ZINC
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper.figure.arc_back import DrawnBack, DrawnRing
from buttonhole.paper.figure.arc_section import DrawnArcSection, DrawnFact, DrawnSpan
from buttonhole.paper.figure.from_weld import sheet_levels
from buttonhole.paper.figure.section import SheetLevels
from buttonhole.weld.estimate import Estimate

if TYPE_CHECKING:  # a page without a prediction need not load the solver
    from buttonhole.weld.arc.metal import ThermalMetal
    from buttonhole.weld.arc.plug.joint import PlugJoint
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.arc.seam.joint import SeamJoint, SeamSheet
    from buttonhole.weld.arc.seam.result import SeamWeld

BACK_LOOKS = {
    "none": "nothing to see",
    "faint": "a tint",
    "clear": "scaled or zinc burnt off, not molten",
    "bump": "a raised mark: molten through and held",
    "drip": "hangs through, near to falling",
    "hole": "a hole",
}
LEAST_SHOWN = 0.05e-3  # m; what is smaller is not drawn


def drawn_plug(weld: "PlugWeld", joint: "PlugJoint") -> DrawnArcSection:
    """Say what the section of a plug shows.

    Parameters
    ----------
    weld : PlugWeld
        The prediction.
    joint : PlugJoint
        What it was made for.

    Returns
    -------
    DrawnArcSection
        To hand to :func:`buttonhole.paper.figure.arc_section.arc_section`.
    """
    field = weld.section
    heights = np.cumsum([one + joint.stack.gap for one in joint.thicknesses[:-1]])
    joined = [(one, one.wetted_diameter or one.fused_diameter) for one in weld.interfaces]
    spans = tuple(
        DrawnSpan(
            f"{'wetted' if weld.brazed else 'fused'} {one.index + 1}-{one.index + 2}",
            wide.value,
            wide.low,
            wide.high,
            float(heights[one.index]),
            one.wanted_diameter,
        )
        for one, wide in joined
    )
    facts = (
        *(_depth(f"depth into sheet {one.index + 2}", one.penetration) for one in weld.interfaces),
        _back(weld.back_peak),
    )
    return DrawnArcSection(
        x_faces=np.concatenate((-field.r_faces[:0:-1], field.r_faces)),
        z_faces=field.z_faces,
        peak=np.concatenate((field.peak_temperature[:, ::-1], field.peak_temperature), axis=1),
        part=np.concatenate((field.part[:, ::-1], field.part), axis=1),
        levels=_plug_levels(joint),
        spans=spans,
        facts=facts,
        has_axis=True,
        zinc=any(one.coating in ZINC for one in joint.stack.sheets),
        brazed=weld.brazed,
    )


def _plug_levels(joint: "PlugJoint") -> tuple[SheetLevels, ...]:
    if isinstance(joint.stack, StackUp):
        return tuple(sheet_levels(one) for one in joint.stack.sheets)
    return tuple(metal_levels(one) for one in joint.metals)


def drawn_seam(weld: "SeamWeld", joint: "SeamJoint", *, brazed: bool) -> DrawnArcSection:
    """Say what the section of a seam shows.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    joint : SeamJoint
        What it was made for.
    brazed : bool
        Whether the wire brazes.

    Returns
    -------
    DrawnArcSection
        To hand to :func:`buttonhole.paper.figure.arc_section.arc_section`.
    """
    field = weld.section
    part = np.where(field.part >= len(joint.sheets), len(joint.sheets), field.part)
    part = np.where(field.part < 0, -1, part)
    facts = [
        _depth(f"{one.name} sheet: wetted", one.wetted_width)
        if brazed
        else _depth(f"{one.name} sheet: melted", one.penetration)
        for one in weld.sheets
    ]
    return DrawnArcSection(
        x_faces=field.y_faces,
        z_faces=(field.z_faces[-1] - field.z_faces)[::-1],
        peak=np.where(part < 0, np.nan, field.peak_temperature)[::-1],
        part=part[::-1].astype(np.int64),
        levels=tuple(seam_levels(one) for one in joint.sheets),
        facts=(*facts, _back(weld.back_peak)),
        zinc=any(one.zinc for one in joint.sheets),
        brazed=brazed,
    )


def _depth(name: str, found: Estimate) -> DrawnFact:
    return DrawnFact(name, found.value, found.low, found.high)


def _back(peak: Estimate) -> DrawnFact:
    return DrawnFact("hottest on the back", peak.value, peak.low, peak.high, is_length=False)


def seam_levels(sheet: "SeamSheet") -> SheetLevels:
    """Give the temperatures that bound the zones of a seam's sheet [degC]."""
    return metal_levels(sheet.metal)


def metal_levels(metal: "ThermalMetal") -> SheetLevels:
    """Give the temperatures that bound the zones of a metal [degC]."""
    curves = metal.curves
    if metal.steel is None:
        return SheetLevels(
            (curves.solidus + curves.liquidus) / 2, None, None, softened=metal.softens_over
        )
    return SheetLevels(
        melted=(curves.solidus + curves.liquidus) / 2,
        ac3=curves.ac3 if np.isfinite(curves.ac3) else None,
        ac1=curves.ac1 if np.isfinite(curves.ac1) else None,
        softened=metal.softens_over,
    )


def plug_back(weld: "PlugWeld") -> DrawnBack:
    """Say what a person sees on the back of a plug.

    Parameters
    ----------
    weld : PlugWeld
        The prediction.

    Returns
    -------
    DrawnBack
        To hand to :func:`buttonhole.paper.figure.arc_back.arc_back`.
    """
    rings = [
        DrawnRing(kind, name, one.value, one.low, one.high)
        for kind, name, one in (
            ("tint", "straw tint", weld.tint_diameter),
            ("zinc", "zinc ring", weld.zinc_ring_diameter),
            ("molten", "molten through", weld.back_spot_diameter),
        )
        if one is not None and one.value > LEAST_SHOWN
    ]
    return DrawnBack(tuple(rings), BACK_LOOKS[weld.back_mark.value])


def seam_back(weld: "SeamWeld", joint: "SeamJoint", mark: str) -> DrawnBack:
    """Say what a person sees on the back of a seam.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    joint : SeamJoint
        What it was made for.
    mark : str
        Class of what shows on the back.

    Returns
    -------
    DrawnBack
        To hand to :func:`buttonhole.paper.figure.arc_back.arc_back`.
    """
    zinc = weld.sheets[0].zinc_width
    found = [("molten", "molten through", weld.back_melted)]
    if zinc is not None:
        found.insert(0, ("zinc", "zinc burnt off", zinc))
    rings = tuple(
        DrawnRing(kind, name, one.value, one.low, one.high)
        for kind, name, one in found
        if one.value > LEAST_SHOWN
    )
    return DrawnBack(rings, BACK_LOOKS[mark], length=joint.length)
