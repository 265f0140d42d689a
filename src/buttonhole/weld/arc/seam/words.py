"""What a person is told about a predicted seam. Limits: common practice, no source."""

import dataclasses
import math

from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.seam.set_up import SeamSetUp
from buttonhole.weld.arc.seam.simulation import Simulation

UNLIKELY = 0.7  # -, probability of fusion below which it is said
LIKELY_HOLE = 0.15  # -
WIDE_GAP = 0.3  # -, of the upper sheet's thickness
COLD_START = 4e-3  # m
SMALL_THROAT = 0.7  # -, of the thinner sheet


def warnings_of(weld: SeamWeld, joint: SeamJoint, set_up: SeamSetUp, sim: Simulation) -> SeamWeld:
    """Return the weld with what is to be said of it."""
    said = [*_joint(joint), *_fusion(weld, joint, set_up), *_metal(weld, joint, set_up, sim)]
    if weld.burn_through_probability > LIKELY_HOLE:
        said.append(
            f"The pool may fall through ({100 * weld.burn_through_probability:.0f} %): less wire "
            "feed, faster travel, a copper bar behind, or stitches."
        )
    if weld.cold_start > COLD_START and weld.fusion_probability >= UNLIKELY:
        said.append(
            f"The first {weld.cold_start * 1e3:.0f} mm are welded cold: start on a run-on piece, "
            "or start inside the seam and weld back over it."
        )
    if not sim.cooled:
        said.append("The metal is still hot when the computation ends: cooling takes longer.")
    said.append(
        "The maker's procedure and the local code prevail. Weld a coupon, cut it and look before "
        "the car is welded."
    )
    return dataclasses.replace(weld, warnings=tuple(said))


def _joint(joint: SeamJoint) -> list[str]:
    if joint.kind is JointKind.LAP and joint.gap > WIDE_GAP * joint.upper.thickness:
        return [
            f"The gap of {joint.gap * 1e3:.1f} mm is wide for {joint.upper.thickness * 1e3:.1f} mm "
            "sheet: clamp it shut. The figures for an open gap are the least certain ones here."
        ]
    return []


def _fusion(weld: SeamWeld, joint: SeamJoint, set_up: SeamSetUp) -> list[str]:
    said = []
    if set_up.filler is None:
        said += [
            f"The {sheet.name} sheet may not be fused ({100 * sheet.fused_probability:.0f} % that "
            f"it is): {_advice(joint, sheet.name)}"
            for sheet in weld.sheets
            if sheet.fused_probability < UNLIKELY
        ]
        thin = min(sheet.thickness for sheet in joint.sheets)
        tied = joint.kind is JointKind.LAP and weld.throat.value > 0.0
        if joint.kind is JointKind.LAP and weld.throat.value == 0.0:
            said.append("The metal does not tie the two sheets together: point the wire at both.")
        elif tied and weld.throat.value < SMALL_THROAT * thin:
            said.append(
                f"The throat of {weld.throat.value * 1e3:.1f} mm is small for {thin * 1e3:.1f} mm "
                "sheet: close the gap, travel slower or feed more wire."
            )
    if weld.cold_lap > 0.3e-3:
        said.append(
            f"About {weld.cold_lap * 1e3:.1f} mm of the metal lies on sheet that never got hot "
            "enough: it looks welded from above and is not."
        )
    if abs(set_up.torch.travel_angle) > 20.0:
        said.append(
            "Beyond 20 degrees of travel angle the arc is unsteady. What the angle does is not "
            "computed: a rule without a source stands in for it."
        )
    return said


def _advice(joint: SeamJoint, name: str) -> str:
    if joint.kind is JointKind.LAP:
        return "point the wire into the joint, at about 45 degrees, and weld hotter or slower."
    if name == "backing":
        return "open the root by 1 to 1.5 sheet thicknesses, and weld hotter or slower."
    return "point the wire at the middle of the joint, and weld hotter or slower."


def _metal(weld: SeamWeld, joint: SeamJoint, set_up: SeamSetUp, sim: Simulation) -> list[str]:
    said = []
    if set_up.filler is not None:
        said += _brazed(weld, joint, set_up, sim)
    if any(sheet.zinc for sheet in joint.sheets):
        said.append(
            "Zinc burns off beside and behind the seam: the smoke makes ill, so exhaust it and "
            "wear breathing protection; protect the bare metal behind, too."
        )
    if not all(sheet.metal.glows for sheet in joint.sheets):
        said.append(
            "Aluminium gives no warning by colour before it melts: use a temperature crayon and "
            "keep to the maker's limit."
        )
    if any(sheet.metal.softens_over is not None for sheet in joint.sheets):
        said.append("The softened strip beside the seam does not come back to strength.")
    return said


def _brazed(weld: SeamWeld, joint: SeamJoint, set_up: SeamSetUp, sim: Simulation) -> list[str]:
    said = []
    for code, sheet in enumerate(joint.sheets):
        hot = float(sim.peak[sim.part == code].max())
        if hot >= sheet.metal.curves.solidus:
            said.append(
                f"The {weld.sheets[code].name} sheet melts (up to {hot:.0f} °C): a braze must not "
                "melt it. Less wire feed, faster travel, or point more at the other sheet."
            )
        width = weld.sheets[code].wetted_width.value
        if width < sheet.thickness or math.isnan(width):
            said.append(
                f"The {weld.sheets[code].name} sheet is hardly wetted ({width * 1e3:.1f} mm): "
                "point the wire at it, or give more heat."
            )
    return said
