"""What a weld was predicted in and what that costs, as an object with units in the key names."""

import math
from typing import Any

from buttonhole.weld.spot.condition import SpotCondition
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.supply import ElectricSupply


def condition_answer(condition: SpotCondition) -> dict[str, Any]:
    """Everything that was assumed about gun, caps, mains and neighbours.

    Parameters
    ----------
    condition : SpotCondition
        The condition; a normal one is told too.

    Returns
    -------
    dict
        Ready for JSON; what is not there is null.
    """
    shunt = condition.shunt
    return {
        "tilt_deg": math.degrees(condition.tilt),
        "misalignment_mm": condition.misalignment * 1e3,
        "wear_mm": [one * 1e3 for one in condition.wear],
        "shunt": None
        if shunt is None
        else {
            "distance_mm": shunt.distance * 1e3,
            "diameter_mm": None if shunt.diameter is None else shunt.diameter * 1e3,
            "flange_width_mm": shunt.flange_width * 1e3,
        },
        "cap_temperature_degC": list(condition.cap_temperature),
        "water_temperature_degC": condition.water_temperature,
        "supply": None if condition.supply is None else _supply_answer(condition.supply),
    }


def _supply_answer(supply: ElectricSupply) -> dict[str, Any]:
    return {
        "mains_voltage_V": supply.mains_voltage,
        "nominal_voltage_V": supply.nominal_voltage,
        "three_phase": supply.three_phase,
        "lead_length_m": supply.lead_length,
        "lead_area_mm2": supply.lead_area * 1e6,
        "no_load_voltage_V": supply.no_load_voltage,
        "diode_drop_V": supply.diode_drop,
        "loop_resistance_uohm": supply.loop_resistance * 1e6,
        "loop_reactance_uohm": supply.loop_reactance * 1e6,
        "reference_resistance_uohm": supply.reference_resistance * 1e6,
        "regulated": supply.regulated,
    }


def effects_answer(weld: SpotWeld) -> dict[str, Any]:
    """What the condition did to a predicted weld.

    Parameters
    ----------
    weld : SpotWeld
        The prediction.

    Returns
    -------
    dict
        Shares of the current, where the nugget lies, and what each part costs.
    """
    return {
        "current_given": weld.current_given,
        "current_passed": weld.current_passed,
        "nugget_offset_mm": weld.nugget_offset * 1e3,
        "nugget_ovality": weld.nugget_ovality,
        "costs": [
            {
                "name": one.name,
                "diameters_mm": [lost * 1e3 for lost in one.diameters],
                "expulsion_probability": one.expulsion,
            }
            for one in weld.condition_costs
        ],
    }
