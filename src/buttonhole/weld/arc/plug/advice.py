"""What to look out for in a plug weld, in plain words, and what to do.

Limits without a source beside them are common practice, no source.
"""

import math

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.steel import HARDENED
from buttonhole.sources import table
from buttonhole.weld.arc.pairing import gas_objections, sheet_objections
from buttonhole.weld.arc.plug.alloy_stack import AlloyStack
from buttonhole.weld.arc.plug.joint import PlugJoint, TorchPath
from buttonhole.weld.arc.plug.marks import BackMark, PlugMarks
from buttonhole.weld.arc.plug.simulation import PlugSimulation
from buttonhole.weld.arc.set_up import ArcSetUp, Position

WIRES_IN_HOLE = 8.0  # wire diameters a hole should be wide
GAP_SHARE, LARGEST_GAP = 0.3, 0.5e-3  # - of the drilled sheet, m
STRONG = 980e6  # Pa; above it no arc but by the maker's text for that very joint; our choice
SMALL_HEAD, HIGH_HEAD = 1e-3, 2e-3  # m: head over the hole at least, height at most
MAKER = "G"  # letter of the maker whose hole sizes serve as a general figure


def smallest_hole(thickness: float) -> float:
    """Hole a maker asks for at least, by the thickness of the drilled sheet.

    Parameters
    ----------
    thickness : float
        Of the drilled sheet [m].

    Returns
    -------
    float
        Diameter [m].

    Sources
    -------
    maker-body-manual
    """
    rows = table("plug_hole_sizes").where("maker", MAKER)
    lows, holes = rows.column("t_from [mm]"), rows.column("hole_min [mm]")
    return 1e-3 * float(holes[lows <= thickness * 1e3 + 1e-9][-1])


def warnings_of(
    joint: PlugJoint, set_up: ArcSetUp, found: PlugSimulation, marks: PlugMarks
) -> tuple[str, ...]:
    """Say what to look out for.

    Parameters
    ----------
    joint : PlugJoint
        Sheets, holes, path.
    set_up : ArcSetUp
        What is set.
    found : PlugSimulation
        The march.
    marks : PlugMarks
        What was read off it.

    Returns
    -------
    tuple of str
        One sentence or two each; the gravest first.
    """
    return (
        *(_aluminium(joint) if isinstance(joint.stack, AlloyStack) else _steels(joint, found)),
        *_result(joint, set_up, found, marks),
        *_hole_and_gap(joint, set_up),
        *found.point.warnings,
        *_pairs(joint, set_up),
        *_zinc(joint, brazed=found.metals.brazed),
    )


def _aluminium(joint: PlugJoint) -> list[str]:
    said = [
        "Aluminium: welded only where the maker's procedure names the plug and the wire; bonded "
        "rivets are usual. Degrease, brush with stainless steel, weld soon.",
        "Aluminium gives no warning by colour before it melts, and its back shows no tint: use a "
        "temperature crayon and keep to the maker's limit.",
    ]
    if any(metal.softens_over is not None for metal in joint.metals):
        said.append("The softened ring round the plug does not come back to strength.")
    return said


def _steels(joint: PlugJoint, found: PlugSimulation) -> list[str]:
    said = []
    for number, steel in enumerate(joint.steels, start=1):
        if found.metals.brazed and steel.is_sensitive:
            said.append(
                f"Sheet {number} ({steel.designation}): hot copper runs into strained steel of "
                "high strength and cracks it. Braze it only by the maker's procedure, clamps eased."
            )
        if steel.is_unknown:
            said.append(
                f"Sheet {number}: the steel is not known. Ask the maker; if it is hot-stamped or "
                "of very high strength an arc weakens it beside the weld."
            )
        elif steel.family in HARDENED or steel.tensile_strength >= STRONG:
            said.append(
                f"Sheet {number} ({steel.designation}): an arc softens it beside the weld. Weld it "
                "only if the maker's procedure for this very joint says so."
            )
    return said


def _result(
    joint: PlugJoint, set_up: ArcSetUp, found: PlugSimulation, marks: PlugMarks
) -> list[str]:
    said = _brazed(found, marks) if found.metals.brazed else _unfused(marks)
    if marks.back_mark in (BackMark.HOLE, BackMark.DRIP):
        word = "falls through" if marks.back_mark is BackMark.HOLE else "hangs through"
        said.append(f"The pool {word} on the back. Less time or power, or a bar behind the weld.")
    if math.isinf(marks.fill_time):
        said.append(
            f"The hole is not full after {set_up.arc_time:g} s. Weld longer in one go; do not "
            "come back to a cold crater."
        )
    elif marks.head_diameter < joint.hole_diameters[0] + SMALL_HEAD:
        said.append(
            "The head is hardly wider than the hole: it may pull out through the sheet. Wash the "
            "arc over the rim before you stop."
        )
    if marks.head_height > HIGH_HEAD:
        said.append(
            f"The head stands {marks.head_height * 1e3:.1f} mm high: cold metal on top. Stop "
            "earlier or feed less wire."
        )
    return said


def _unfused(marks: PlugMarks) -> list[str]:
    return [
        f"Sheet {number + 1} does not fuse: the plug lies on it and lifts off. Begin in "
        "the middle, hold the contact tube nearer, or give more power."
        for number, fused in enumerate(marks.fused_diameter, start=1)
        if fused <= 0.0
    ]


def _brazed(found: PlugSimulation, marks: PlugMarks) -> list[str]:
    said = []
    for number, metal in enumerate(found.metals.sheets, start=1):
        hot = marks.hottest[number - 1]
        if hot >= metal.curves.solidus:
            said.append(
                f"Sheet {number} melts (up to {hot:.0f} °C): a braze must not melt it. Less wire "
                "feed or less time."
            )
    for number, wetted in enumerate(marks.wetted_diameter, start=2):
        if wetted <= 0.0:
            said.append(
                f"Sheet {number} is not wetted: the braze lies on it as a ball and lifts off. "
                "Clean it bright, begin in the middle, give more power."
            )
    return said


def _hole_and_gap(joint: PlugJoint, set_up: ArcSetUp) -> list[str]:
    said, top, hole = [], joint.stack.sheets[0], joint.hole_diameters[0]
    if hole == 0.0:
        return [
            "No hole in the first sheet: an arc spot, which has to burn through it. What it needs "
            "of heat depends on the sheets' fit more than anything else here.",
            *_gap_and_hand(joint, set_up),
        ]
    least = smallest_hole(top.thickness)
    if hole < least - 1e-6:
        said.append(
            f"A hole of {hole * 1e3:g} mm is small for {top.thickness * 1e3:g} mm sheet: one maker "
            f"asks for more than {least * 1e3:g} mm. The hole is full before the sheet below melts."
        )
    if hole < WIRES_IN_HOLE * set_up.wire_diameter:
        said.append(
            f"A hole of {hole * 1e3:g} mm is narrow for {set_up.wire_diameter * 1e3:g} mm wire: "
            "the arc catches the edge."
        )
    return said + _gap_and_hand(joint, set_up)


def _gap_and_hand(joint: PlugJoint, set_up: ArcSetUp) -> list[str]:
    said, top, gap = [], joint.stack.sheets[0], joint.stack.gap
    if gap > min(GAP_SHARE * top.thickness, LARGEST_GAP):
        said.append(
            f"A gap of {gap * 1e3:g} mm takes metal and heat: the arc burns the edge of the hole "
            "back and the sheet below stays cold. Clamp the sheets together beside the hole. How "
            "much of the arc jumps to the edge is an assumption here."
        )
    if joint.path is TorchPath.RIM:
        said.append(
            "Welded along the rim alone, the middle stays cold under a full-looking head. Begin "
            "in the middle."
        )
    if set_up.position is not Position.PA:
        said.append(
            f"Position {set_up.position.value}: the figures are those of a flat weld; the pool "
            "sags here and less power and time are usual."
        )
    return said


def _pairs(joint: PlugJoint, set_up: ArcSetUp) -> list[str]:
    objections = gas_objections(set_up.wire, set_up.gas)
    if joint.steels:
        objections = (*objections, *sheet_objections(set_up.wire, joint.steels))
    return [one.text for one in objections]


def _zinc(joint: PlugJoint, *, brazed: bool) -> list[str]:
    coatings = {sheet.coating for sheet in joint.stack.sheets}
    if not coatings & (ZINC | {Coating.PRIMER, Coating.UNKNOWN}):
        return []
    if brazed:
        return [
            "Zinc burns off round the braze and behind it: pores, and fume that makes you ill. "
            "Extraction on, breathing protection; protect the bare metal afterwards."
        ]
    return [
        "Zinc or primer boils where the arc burns: pores, spatter, and fume that makes you ill. "
        "Bare the spot under the hole; extraction on and breathing protection."
    ]
