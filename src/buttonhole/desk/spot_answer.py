"""A predicted spot weld as one object with units in the key names: for the CLI and the API."""

from collections.abc import Sequence
from typing import Any

from buttonhole.coupon.criterion import Criterion, minimum_diameter
from buttonhole.coupon.verdict import required_diameter
from buttonhole.desk.condition_answer import condition_answer, effects_answer
from buttonhole.desk.figures import figure_answer, interval_answer, maybe_answer
from buttonhole.desk.metal_answer import metal_answer
from buttonhole.desk.spot_strength import spot_holding_answer
from buttonhole.joint.stack_up import FayingInterface, StackUp, cautions
from buttonhole.weld.hardness.of_spot import SpotMetal
from buttonhole.weld.spot.result import InterfaceWeld, SpotWeld, ThermalCycle
from buttonhole.weld.spot.zones import SheetZones
from buttonhole.weld.strength.of_spot import spot_made


def spot_answer(
    weld: SpotWeld,
    metal: SpotMetal,
    stack: StackUp,
    criterion: Criterion,
    limits: Sequence[Criterion],
) -> dict[str, Any]:
    """Everything one prediction says, ready for JSON; every interval is ``[low, high]`` of 90 %.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.
    metal : SpotMetal
        What its heat leaves of the steel.
    stack : StackUp
        The sheets it was made for.
    criterion : Criterion
        The rule the minimum diameter comes from.
    limits : sequence of Criterion
        Rules whose diameters are listed beside it.

    Returns
    -------
    dict
        Keys with units; lengths in mm.
    """
    interfaces = [_whole_interface_answer(one, stack, criterion, limits) for one in weld.interfaces]
    said = cautions(stack)
    return {
        "process": "spot",
        "interfaces": interfaces,
        "expulsion_probability": weld.expulsion_probability.value,
        "expulsion_interval": interval_answer(weld.expulsion_probability),
        **figure_answer("indentation", "mm", weld.indentation, 1e3),
        **figure_answer("haz_diameter", "mm", weld.haz_diameter, 1e3, interval="haz"),
        **figure_answer("cooling_t85", "s", weld.cooling_t85),
        **figure_answer("heat", "J", weld.heat),
        **figure_answer("peak_hardness", "HV", weld.peak_hardness),
        "metallurgy": metal_answer(
            metal.peak, [one.steel for one in stack.sheets], metal.soft, metal.zinc
        ),
        "sheets": [_sheet_answer(one, stack) for one in weld.sheets],
        **spot_holding_answer(spot_made(weld, metal, stack))[0],
        "hold": _hold_answer(weld),
        "thermal_cycles": [_cycle_answer(one) for one in weld.cycles],
        "condition": condition_answer(weld.condition),
        "condition_effects": effects_answer(weld),
        "solver_seconds": weld.solver_seconds,
        # the model repeats cautions about the sheets among its own
        "warnings": list(dict.fromkeys([*(one.text for one in said), *weld.warnings])),
        "cautions": [
            {"code": one.code, "text": one.text, "rule": one.rule, "source": one.source}
            for one in said
        ],
        "model_version": weld.model_version,
    }


def interface_answer(
    weld: InterfaceWeld, stack: StackUp, criterion: Criterion, limits: Sequence[Criterion]
) -> dict[str, Any]:
    """The size of the weld at one interface beside what it must reach.

    Parameters
    ----------
    weld : InterfaceWeld
        There.
    stack : StackUp
        The sheets.
    criterion : Criterion
        The rule the minimum diameter comes from.
    limits : sequence of Criterion
        Rules whose diameters are listed beside it.

    Returns
    -------
    dict
        Lengths in mm.
    """
    interface = stack.interfaces[weld.index]
    required = required_diameter(criterion, stack, interface)
    return {
        "index": weld.index,
        "sheets": [weld.index + 1, weld.index + 2],
        **figure_answer("nugget_diameter", "mm", weld.nugget_diameter, 1e3, interval="nugget"),
        **figure_answer("button_diameter", "mm", weld.button_diameter, 1e3, interval="button"),
        "minimum_diameter_mm": required.diameter * 1e3,
        "minimum_rule": criterion.key,
        "minimum_name": criterion.name,
        "minimum_source": criterion.source,
        "minimum_mark": criterion.mark,
        "minimum_reason": required.reason,
        "limits": limits_answer(stack, interface, limits),
        "penetration_a_mm": weld.penetration_a * 1e3,
        "penetration_b_mm": weld.penetration_b * 1e3,
        "ring": weld.ring,
        **figure_answer("after_expulsion", "mm", weld.after_expulsion, 1e3),
    }


def _whole_interface_answer(
    weld: InterfaceWeld, stack: StackUp, criterion: Criterion, limits: Sequence[Criterion]
) -> dict[str, Any]:
    return {
        **interface_answer(weld, stack, criterion, limits),
        **_melting_answer(weld),
        **maybe_answer("cooling_t85", "s", weld.cooling_t85),
        **_corona_answer(weld),
        **maybe_answer("sheet_separation", "mm", weld.sheet_separation, 1e3),
    }


def _melting_answer(weld: InterfaceWeld) -> dict[str, Any]:
    found = weld.melting
    return {
        "began_as_ring": found is not None and found.began_as_ring,
        **maybe_answer("melting_began", "s", None if found is None else found.began),
        **maybe_answer("centre_melted", "s", None if found is None else found.centre_melted),
        **maybe_answer("solid_after_current", "s", None if found is None else found.solid_after),
    }


def _corona_answer(weld: InterfaceWeld) -> dict[str, Any]:
    """The solid-state bond round the nugget; no other figure counts any of it."""
    found = weld.corona
    return {
        "corona_inner_diameter_mm": None if found is None else found.inner_diameter * 1e3,
        **maybe_answer(
            "corona_outer_diameter", "mm", None if found is None else found.outer_diameter, 1e3
        ),
        **maybe_answer("corona_area", "mm2", None if found is None else found.area, 1e6),
        "contact_diameter_mm": None if found is None else found.contact_diameter * 1e3,
    }


def _sheet_answer(zones: SheetZones, stack: StackUp) -> dict[str, Any]:
    return {
        "sheet": zones.sheet,
        "steel": stack.sheets[zones.sheet - 1].steel.designation,
        "heating_rate_K_per_s": zones.heating_rate,
        **maybe_answer("ac1", "degC", zones.ac1),
        **maybe_answer("ac3", "degC", zones.ac3),
        **figure_answer("haz_diameter", "mm", zones.haz_diameter, 1e3),
        **maybe_answer("austenitised_diameter", "mm", zones.austenitised_diameter, 1e3),
        **maybe_answer("softened_diameter", "mm", zones.softened_diameter, 1e3),
        **maybe_answer("indentation", "mm", zones.indentation, 1e3),
    }


def _hold_answer(weld: SpotWeld) -> dict[str, Any] | None:
    found = weld.hold
    if found is None:
        return None
    return {
        "hold_time_s": weld.release - weld.current_off,
        **figure_answer("temperature_at_release", "degC", found.temperature_at_release),
        **maybe_answer("cooling_t85_without_hold", "s", found.cooling_t85_without_hold),
        "solid_before_release": found.solid_before_release,
    }


def _cycle_answer(cycle: ThermalCycle) -> dict[str, Any]:
    return {
        "radius_mm": cycle.point.radius * 1e3,
        "depth_mm": cycle.point.depth * 1e3,
        "interface": cycle.interface,
        **figure_answer("peak_temperature", "degC", cycle.peak),
        **maybe_answer("cooling_t85", "s", cycle.cooling_t85),
        **maybe_answer("heating_rate", "K_per_s", cycle.heating_rate),
        "time_s": cycle.time,
        "temperature_degC": cycle.temperature,
    }


def limits_answer(
    stack: StackUp, interface: FayingInterface, rules: Sequence[Criterion]
) -> list[dict[str, Any]]:
    """The diameters several rules ask for at one interface.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    interface : FayingInterface
        Where.
    rules : sequence of Criterion
        Which rules.

    Returns
    -------
    list of dict
        Key, name and source of each rule with its diameter in mm.
    """
    return [
        {
            "rule": one.key,
            "name": one.name,
            "diameter_mm": minimum_diameter(one, stack, interface) * 1e3,
            "source": one.source,
            "status": one.status.value,
        }
        for one in rules
    ]
