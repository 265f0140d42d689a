"""A predicted seam as one object with units in the key names: for the CLI and the API."""

from typing import Any

from buttonhole.desk.figures import figure_answer, maybe_answer
from buttonhole.desk.metal_answer import metal_answer, metal_warnings
from buttonhole.desk.plug_answer import cautions_answer, point_answer, strength_answer
from buttonhole.desk.weld_file import SeamWeldFile
from buttonhole.weld.arc.dangers import dangers
from buttonhole.weld.arc.machine_map import OperatingPoint
from buttonhole.weld.arc.seam.joint import JointKind
from buttonhole.weld.arc.seam.result import SeamSheetResult, SeamWeld
from buttonhole.weld.arc.strength import Holding, SeamMade, seam_strength
from buttonhole.weld.arc.wire import BRONZE
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.of_arc import ArcMetal, seam_metal
from buttonhole.weld.hardness.zone import strength_left

ARC_EFFICIENCY = 0.8  # -, k of EN 1011-1 for MIG and MAG, from memory
HOLE, ZINC_BOILS, TINT = 0.5, 907.0, 300.0  # -, degC, degC; as for plugs


def seam_answer(
    weld: SeamWeld, described: SeamWeldFile, point: OperatingPoint, speed: float, number: str
) -> dict[str, Any]:
    """Everything one prediction says, ready for JSON; every interval is ``[low, high]`` of 90 %.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    described : SeamWeldFile
        What it was made for.
    point : OperatingPoint
        What the machine's settings come to.
    speed : float
        Of travel [m/s].
    number : str
        Of the process by ISO 4063.

    Returns
    -------
    dict
        Keys with units; lengths in mm. A figure that does not come to pass is null.
    """
    energy = Estimate(*(one / speed for one in (point.arc_power.value, point.arc_power.low,
                                                point.arc_power.high)))  # fmt: skip
    said = dangers(described.coatings, point.current.value)
    brazed = described.set_up.wire.metal in BRONZE
    metal = seam_metal(weld, described.joint, described.coatings)
    held = seam_held(weld, described, metal)
    steels = [one.metal.steel for one in described.joint.sheets]
    names = [one.name for one in weld.sheets]
    metal_said = metal_warnings(steels, metal.soft, metal.zinc, names)
    return {
        "process": "seam",
        "process_number": number,
        "joint": described.joint.kind.value,
        "brazed": brazed,
        "length_mm": described.joint.length * 1e3,
        "travel_speed_mm_per_s": speed * 1e3,
        **point_answer(point),
        **figure_answer("arc_energy", "J_per_mm", energy, 1e-3),
        **figure_answer("heat_input", "J_per_mm", energy, 1e-3 * ARC_EFFICIENCY),
        "heat_computed_J_per_mm": weld.heat_per_length * 1e-3,
        "fusion_probability": None if brazed else weld.fusion_probability,
        "burn_through_probability": weld.burn_through_probability,
        "back_mark": _back_mark(weld),
        **figure_answer("back_peak", "C", weld.back_peak),
        **figure_answer("back_melted_width", "mm", weld.back_melted, 1e3),
        "back_sag_mm": weld.back_sag * 1e3,
        **_shape(weld, brazed=brazed),
        "sheets": [_sheet(one) for one in weld.sheets],
        "metallurgy": _named(metal_answer(metal.peak, steels, metal.soft, metal.zinc), weld),
        "strength": strength_answer(() if held is None else (held,), "N_per_mm"),
        "along": _along(weld),
        "solver_seconds": weld.solver_seconds,
        "warnings": list(dict.fromkeys([*point.warnings, *weld.warnings, *metal_said])),
        "cautions": cautions_answer(said),
        "model_version": weld.model_version,
    }


def _named(answer: dict[str, Any], weld: SeamWeld) -> dict[str, Any]:
    """The metal of each sheet under the name it has elsewhere in the answer."""
    for told, one in zip(answer["sheets"], weld.sheets, strict=True):
        told["name"] = one.name
    return answer


def _along(weld: SeamWeld) -> dict[str, Any]:
    """The seam against the way along it."""
    return {
        "x_mm": weld.along.x * 1e3,
        "penetration_mm": weld.along.penetration * 1e3,
        "haz_edge_mm": weld.along.haz_edge * 1e3,
        "cooling_t85_s": weld.along.cooling_t85,
        "back_peak_C": weld.along.back_peak,
    }


def _shape(weld: SeamWeld, *, brazed: bool) -> dict[str, Any]:
    """Size of the seam in its middle, its start, how it cools."""
    return {
        **figure_answer("leg_lower", "mm", weld.leg_lower, 1e3),
        **figure_answer("leg_upper", "mm", weld.leg_upper, 1e3),
        **figure_answer("throat", "mm", weld.throat, 1e3),
        "crown_mm": weld.crown * 1e3,
        "cold_lap_mm": weld.cold_lap * 1e3,
        "cold_start_mm": None if brazed else weld.cold_start * 1e3,
        **maybe_answer("cooling_t85", "s", weld.cooling_t85),
        # EN 1011-2, of a seam without ends: for reference only, up to 3.5 times too long here
        "long_seam_t85_s": None if weld.long_seam is None else weld.long_seam.governing,
        **maybe_answer("peak_hardness", "HV", weld.peak_hardness),
    }


def _sheet(one: SeamSheetResult) -> dict[str, Any]:
    return {
        "name": one.name,
        **figure_answer("penetration", "mm", one.penetration, 1e3),
        **figure_answer("fused_width", "mm", one.fused_width, 1e3),
        "fused_probability": one.fused_probability,
        "melting_probability": one.melting_probability,
        **figure_answer("haz_width", "mm", one.haz_edge, 1e3),
        **figure_answer("haz_band", "mm", one.haz_band, 1e3),
        **figure_answer("wetted_width", "mm", one.wetted_width, 1e3),
        **maybe_answer("softened_width", "mm", one.softened_width, 1e3),
        **maybe_answer("zinc_width", "mm", one.zinc_width, 1e3),
    }


def _back_mark(weld: SeamWeld) -> str:
    """The class a plug's back would get."""
    if weld.burn_through_probability >= HOLE:
        return "hole"
    if weld.back_melted.value > 0.0:
        return "bump"
    if weld.back_peak.value >= ZINC_BOILS:
        return "clear"
    return "faint" if weld.back_peak.value >= TINT else "none"


def seam_held(weld: SeamWeld, described: SeamWeldFile, metal: ArcMetal) -> Holding | None:
    """What a lap holds; None for a butt, and where a strength is not known.

    Parameters
    ----------
    weld : SeamWeld
        The prediction.
    described : SeamWeldFile
        What it was made for.
    metal : ArcMetal
        What its heat leaves of the steel.

    Returns
    -------
    Holding or None
        Loads per length.
    """
    joint = described.joint
    steels = [one.metal.steel for one in (joint.upper, joint.lower)]
    known = [one for one in steels if one is not None and not one.is_unknown]
    if joint.kind is not JointKind.LAP or len(known) < 2:
        return None
    lower, upper = weld.sheets[0], weld.sheets[1]
    upper_strength, lower_strength = (
        strength_left(steel.tensile_strength, zone)
        for steel, zone in zip(known, (metal.soft[1], metal.soft[0]), strict=True)
    )
    brazed = described.set_up.wire.metal in BRONZE
    return seam_strength(
        SeamMade(
            throat=weld.throat,
            lower_fused=lower.wetted_width if brazed else lower.fused_width,
            # the upper sheet is joined by its edge, of which what got hot enough is wetted
            upper_fused=upper.wetted_width,
            thicknesses=(joint.upper.thickness, joint.lower.thickness),
            strengths=(upper_strength, lower_strength),
            weld_strength=described.set_up.wire.tensile_strength,
            brazed=brazed,
        )
    )
