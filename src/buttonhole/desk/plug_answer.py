"""A predicted plug weld as one object with units in the key names: for the CLI and the API."""

import dataclasses
import math
from typing import Any

from buttonhole.desk.figures import figure_answer, interval_answer
from buttonhole.desk.metal_answer import metal_answer, metal_warnings
from buttonhole.joint.stack_up import Caution
from buttonhole.weld.arc.dangers import dangers
from buttonhole.weld.arc.machine_map import OperatingPoint
from buttonhole.weld.arc.plug.alloy_stack import AlloyStack
from buttonhole.weld.arc.plug.joint import PlugJoint
from buttonhole.weld.arc.plug.result import PlugInterface, PlugWeld
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.strength import Holding, PlugMade, Pull, plug_strength
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.of_arc import ArcMetal, plug_metal
from buttonhole.weld.hardness.zone import strength_left


def plug_answer(weld: PlugWeld, joint: PlugJoint, set_up: ArcSetUp, number: str) -> dict[str, Any]:
    """Everything one prediction says, ready for JSON; every interval is ``[low, high]`` of 90 %.

    Parameters
    ----------
    weld : PlugWeld
        The prediction.
    joint : PlugJoint
        What it was made for.
    set_up : ArcSetUp
        How it is welded.
    number : str
        Of the process by ISO 4063.

    Returns
    -------
    dict
        Keys with units; lengths in mm. A figure that can't come to pass is null.
    """
    said = dangers((one.coating for one in joint.stack.sheets), weld.point.current.value)
    metal = plug_metal(weld, joint)
    steels = joint.steels or (None,) * len(joint.stack.sheets)
    return {
        "process": "plug",
        "process_number": number,
        **point_answer(weld.point),
        **figure_answer("arc_energy", "kJ", weld.arc_energy, 1e-3),
        "interfaces": [_interface(one) for one in weld.interfaces],
        "brazed": weld.brazed,
        "fusion_probability": None if weld.brazed else weld.fusion_probability,
        "wetting_probability": weld.fusion_probability if weld.brazed else None,
        "melting_probability": weld.melting_probability,
        "hole_probability": weld.hole_probability,
        "back_mark": weld.back_mark.value,
        **figure_answer("back_peak", "C", weld.back_peak),
        **figure_answer("back_spot_diameter", "mm", weld.back_spot_diameter, 1e3),
        **figure_answer("back_sag", "mm", weld.back_sag, 1e3),
        **_known("zinc_ring_diameter", "mm", weld.zinc_ring_diameter, 1e3),
        **_known("tint_diameter", "mm", weld.tint_diameter, 1e3),
        **figure_answer("head_diameter", "mm", weld.head_diameter, 1e3),
        **figure_answer("head_height", "mm", weld.head_height, 1e3),
        **figure_answer("rim_fusion", "share", weld.rim_fusion),
        **figure_answer("burnt_hole_diameter", "mm", weld.burnt_hole_diameter, 1e3),
        **_maybe("fill_time", "s", weld.fill_time),
        "fill_probability": weld.fill_probability,
        **_maybe("cooling_t85", "s", weld.cooling_t85),
        **_known("peak_hardness", "HV", weld.peak_hardness, 1.0),
        "sheets": _sheets(weld, joint),
        "metallurgy": metal_answer(metal.peak, steels, metal.soft, metal.zinc),
        "strength": strength_answer(plug_held(weld, joint, set_up, metal), "N"),
        "solver_seconds": weld.solver_seconds,
        "warnings": list(
            dict.fromkeys([*weld.warnings, *metal_warnings(steels, metal.soft, metal.zinc)])
        ),
        "cautions": cautions_answer(said),
        "model_version": weld.model_version,
    }


def _sheets(weld: PlugWeld, joint: PlugJoint) -> list[dict[str, Any]]:
    return [
        {
            "sheet": place + 1,
            **_named(joint, place),
            **figure_answer("haz_diameter", "mm", one, 1e3),
        }
        for place, one in enumerate(weld.haz_diameter)
    ]


def _named(joint: PlugJoint, place: int) -> dict[str, str | None]:
    """Steel or alloy of a sheet; the other one is null."""
    if isinstance(joint.stack, AlloyStack):
        return {"steel": None, "alloy": joint.stack.sheets[place].metal.curves.name}
    return {"steel": joint.stack.sheets[place].steel.designation, "alloy": None}


def point_answer(point: OperatingPoint) -> dict[str, Any]:
    """What the machine's settings come to.

    Parameters
    ----------
    point : OperatingPoint
        Of any arc set-up.

    Returns
    -------
    dict
        Current, powers, deposition, voltages, state of the arc.
    """
    return {
        **figure_answer("welding_current", "A", point.current),
        **figure_answer("arc_power", "W", point.arc_power),
        **figure_answer("droplet_power", "W", point.droplet_power),
        **figure_answer("deposition", "g_per_s", point.deposition_rate, 1e3),
        "arc_voltage_V": point.voltage,
        "conventional_load_voltage_V": point.load_voltage,
        "arc_state": point.state.value,
    }


def cautions_answer(said: tuple[Caution, ...]) -> list[dict[str, Any]]:
    """Cautions with their rule and source, for JSON."""
    return [dataclasses.asdict(one) for one in said]


def strength_answer(held: tuple[Holding, ...], unit: str) -> list[dict[str, Any]] | None:
    """What holds and which link lets go first, for JSON.

    Parameters
    ----------
    held : tuple of Holding
        None of them where a steel is not known.
    unit : str
        Of the loads: N, or N_per_mm with loads given in N/mm.

    Returns
    -------
    list of dict, or None
        One for each interface and way of pulling; loads in the unit of ``unit`` [SI].
    """
    factor = 1e-3 if unit == "N_per_mm" else 1.0
    answered = [
        {
            "interface": one.index,
            "pull": one.pull.value,
            **_load(one, one.load, unit, factor),
            "weakest": one.weakest.link.value,
            "why": one.weakest.why,
            "links": [
                {"link": each.link.value, **_load(one, each.load, unit, factor)}
                for each in one.links
            ],
        }
        for one in held
    ]
    return answered or None


def _load(one: Holding, load: Estimate, unit: str, factor: float) -> dict[str, Any]:
    """A load, or the torque of a twist."""
    if one.pull is Pull.TORSION:
        return figure_answer("torque", "Nm", load)
    return figure_answer("load", unit, load, factor)


def _interface(one: PlugInterface) -> dict[str, Any]:
    return {
        "index": one.index,
        "sheets": [one.index + 1, one.index + 2],
        **figure_answer("fused_diameter", "mm", one.fused_diameter, 1e3, interval="fused"),
        **_known("wetted_diameter", "mm", one.wetted_diameter, 1e3),
        **figure_answer("penetration", "mm", one.penetration, 1e3),
        "wanted_diameter_mm": one.wanted_diameter * 1e3,
    }


def plug_held(
    weld: PlugWeld, joint: PlugJoint, set_up: ArcSetUp, metal: ArcMetal
) -> tuple[Holding, ...]:
    """Loads of the plug; none where a sheet's strength is not known: no steel, or nobody knows.

    Parameters
    ----------
    weld : PlugWeld
        The prediction.
    joint : PlugJoint
        What it was made for.
    set_up : ArcSetUp
        How it is welded.
    metal : ArcMetal
        What its heat leaves of the steel.

    Returns
    -------
    tuple of Holding
        Two for each interface.
    """
    steels = joint.steels
    if not steels or any(one.is_unknown for one in steels):
        return ()
    return plug_strength(
        PlugMade(
            thicknesses=joint.thicknesses,
            hole_diameters=joint.hole_diameters,
            strengths=tuple(
                strength_left(one.tensile_strength, zone)
                for one, zone in zip(steels, metal.soft, strict=True)
            ),
            weld_strength=set_up.wire.tensile_strength,
            fused_diameters=tuple(
                one.wetted_diameter or one.fused_diameter for one in weld.interfaces
            ),
            rim_fusion=weld.rim_fusion,
            head_diameter=weld.head_diameter,
            head_height=weld.head_height,
            brazed=weld.brazed,
        )
    )


def _known(name: str, unit: str, estimate: Estimate | None, factor: float) -> dict[str, Any]:
    """A figure that some metals do not have: both keys are there, without values."""
    if estimate is None:
        return {f"{name}_{unit}": None, f"{name}_interval_{unit}": None}
    return figure_answer(name, unit, estimate, factor)


def _maybe(name: str, unit: str, estimate: Estimate) -> dict[str, Any]:
    """A figure that does not come to pass in every weld: both keys are there, without values."""
    if not math.isfinite(estimate.value) or estimate.value == 0.0:
        return {f"{name}_{unit}": None, f"{name}_interval_{unit}": None}
    low, high = interval_answer(estimate)
    return {f"{name}_{unit}": estimate.value, f"{name}_interval_{unit}": [low, high]}
