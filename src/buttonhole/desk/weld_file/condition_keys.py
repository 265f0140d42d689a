"""The table ``[condition]`` of a weld file, gun, caps, mains and last weld, and the way back."""

import math
from functools import partial
from typing import Annotated

from pydantic import BeforeValidator, Field

from buttonhole.desk.weld_file.entry import Entry, si
from buttonhole.desk.weld_file.values import choice
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.spot.condition import NORMAL, WATER, SpotCondition
from buttonhole.weld.spot.set_up import CurrentType
from buttonhole.weld.spot.shunt import FLANGE_WIDTH, Shunt
from buttonhole.weld.spot.supply import ElectricSupply
from buttonhole.weld.spot.wear import face_growth

COOLING = ("water", "air")
PHASES = ("three-phase", "single-phase")
CONTROL = ("regulated", "unregulated")

# The widest a key may be; the condition itself refuses what doesn't go together.
Tilt = Annotated[float, si("angle", "2 deg", 0.0, math.radians(10.0), "0 to 10 deg")]
Aside = Annotated[float, si("length", "0.5 mm", 0.0, 4e-3, "0 to 4 mm")]
Wear = Annotated[float, si("length", "0.4 mm", 0.0, 6e-3, "0 to 6 mm")]
Distance = Annotated[float, si("length", "20 mm", 5e-3, 1.0, "5 to 1000 mm")]
Diameter = Annotated[float, si("length", "5 mm", 1e-3, 20e-3, "1 to 20 mm")]
Width = Annotated[float, si("length", "20 mm", 8e-3, 10.0, "8 mm to 10 m")]
Warm = Annotated[float, si("temperature", "80 degC", 20.0, 400.0, "20 to 400 degC")]
Water = Annotated[float, si("temperature", "25 degC", 0.0, 60.0, "0 to 60 degC")]
Mains = Annotated[float, si("voltage", "385 V", 50.0, 1000.0, "50 to 1000 V")]
Nominal = Annotated[float, si("voltage", "400 V", 100.0, 1000.0, "100 to 1000 V")]
Lead = Annotated[float, si("length", "25 m", 0.0, 200.0, "0 to 200 m")]
Area = Annotated[float, si("area", "2.5 mm2", 0.5e-6, 240e-6, "0.5 to 240 mm2")]
NoLoad = Annotated[float, si("voltage", "9 V", 1.0, 60.0, "1 to 60 V")]
Diodes = Annotated[float, si("voltage", "1.1 V", 0.0, 5.0, "0 to 5 V")]
Loop = Annotated[float, si("resistance", "300 uohm", 1e-6, 10e-3, "1 to 10000 uohm")]
Reactance = Annotated[float, si("resistance", "200 uohm", 0.0, 10e-3, "0 to 10000 uohm")]
Reference = Annotated[float, si("resistance", "120 uohm", 10e-6, 1e-3, "10 to 1000 uohm")]


def _word(*allowed: str) -> BeforeValidator:
    return BeforeValidator(partial(choice, allowed=allowed))


class ConditionEntry(Entry):
    """Keys of the table; what is left out is as in a normal weld."""

    tilt: Tilt = 0.0
    misalignment: Aside = 0.0
    wear: Wear | None = None
    wear_b: Wear | None = None
    welds_since_dressing: Annotated[int, Field(ge=0, le=20_000)] | None = None
    shunt_distance: Distance | None = None
    shunt_diameter: Diameter | None = None
    flange_width: Width | None = None
    cap_temperature: Warm | None = None
    cap_temperature_b: Warm | None = None
    cooling: Annotated[str, _word(*COOLING)] = COOLING[0]
    water_temperature: Water | None = None
    mains_voltage: Mains | None = None
    nominal_voltage: Nominal | None = None
    mains: Annotated[str, _word(*PHASES)] | None = None
    lead_length: Lead | None = None
    lead_area: Area | None = None
    no_load_voltage: NoLoad | None = None
    diode_drop: Diodes | None = None
    loop_resistance: Loop | None = None
    loop_reactance: Reactance | None = None
    reference_resistance: Reference | None = None
    current_control: Annotated[str, _word(*CONTROL)] | None = None


CONDITION_HINTS = {
    "condition": "give the table [condition] with what differs from a normal weld, or leave it out",
    "welds_since_dressing": "give a whole number of welds, 0 to 20000, without a unit",
}
_SUPPLY = (
    "mains_voltage", "nominal_voltage", "lead_length", "lead_area", "no_load_voltage",
    "diode_drop", "loop_resistance", "loop_reactance", "reference_resistance",
)  # fmt: skip


def condition_from(
    entry: ConditionEntry | None, stack: StackUp, current_type: CurrentType
) -> SpotCondition:
    """Turn the keys into a condition.

    Parameters
    ----------
    entry : ConditionEntry or None
        As read; None without the table.
    stack : StackUp
        The sheets; coatings on the outside say how fast caps wear.
    current_type : CurrentType
        Alternating current has no diodes to lose voltage in.

    Returns
    -------
    SpotCondition
        In SI units.

    Raises
    ------
    BadInput
        Keys that don't go together.
    """
    if entry is None:
        return NORMAL
    try:
        return SpotCondition(
            tilt=entry.tilt,
            misalignment=entry.misalignment,
            wear=_wear(entry, stack),
            shunt=_shunt(entry),
            cap_temperature=_pair(entry.cap_temperature, entry.cap_temperature_b, 20.0),
            water_temperature=_water(entry),
            supply=_supply(entry, current_type),
        )
    except BadInput as bad:
        raise BadInput(f"condition {bad.key}", bad.message) from bad


def _pair(first: float | None, second: float | None, normal: float) -> tuple[float, float]:
    """Caps A and B; the second is as the first unless it is given."""
    a = normal if first is None else first
    return a, a if second is None else second


def _wear(entry: ConditionEntry, stack: StackUp) -> tuple[float, float]:
    if entry.welds_since_dressing is None:
        return _pair(entry.wear, entry.wear_b, 0.0)
    if entry.wear is not None or entry.wear_b is not None:
        raise BadInput(
            "welds_since_dressing",
            "is given beside wear; give the growth you measured, or the number of welds",
        )
    a, b = (
        face_growth(entry.welds_since_dressing, stack.sheets[outer].coating).value
        for outer in (0, -1)
    )
    return a, b


def _shunt(entry: ConditionEntry) -> Shunt | None:
    if entry.shunt_distance is not None:
        width = FLANGE_WIDTH if entry.flange_width is None else entry.flange_width
        return Shunt(entry.shunt_distance, entry.shunt_diameter, width)
    for key in ("shunt_diameter", "flange_width"):
        if getattr(entry, key) is not None:
            raise BadInput(key, "is given without a last weld; give shunt_distance with it")
    return None


def _water(entry: ConditionEntry) -> float | None:
    if entry.cooling == COOLING[0]:
        return WATER if entry.water_temperature is None else entry.water_temperature
    if entry.water_temperature is not None:
        raise BadInput(
            "water_temperature", 'is given beside cooling = "air"; leave one of the two out'
        )
    return None


def _supply(entry: ConditionEntry, current_type: CurrentType) -> ElectricSupply | None:
    given = {key: getattr(entry, key) for key in _SUPPLY if getattr(entry, key) is not None}
    if not given and entry.mains is None and entry.current_control is None:
        return None
    if entry.lead_area is not None and entry.lead_length is None:
        raise BadInput("lead_area", "is given without a length; give lead_length with it")
    if current_type is not CurrentType.MFDC:
        given.setdefault("diode_drop", 0.0)
    if entry.mains_voltage is not None and entry.nominal_voltage is None:
        given["nominal_voltage"] = nearest_nominal(entry.mains_voltage)
    return ElectricSupply(
        **given,
        three_phase=entry.mains != PHASES[1],
        regulated=entry.current_control != CONTROL[1],
    )


NOMINALS = (208.0, 230.0, 400.0, 480.0)  # V, common practice


def nearest_nominal(voltage: float) -> float:
    """The mains a gun was made for [V] when only the ``voltage`` [V] at the outlet is known."""
    return min(NOMINALS, key=lambda nominal: abs(math.log(voltage / nominal)))


Keys = dict[str, tuple[float, str] | str]


def condition_keys(condition: SpotCondition) -> Keys:
    """The keys that give a condition again, with value and kind of quantity, or a word.

    Parameters
    ----------
    condition : SpotCondition
        The condition.

    Returns
    -------
    dict
        Only what differs from a normal weld; empty for one.
    """
    keys: Keys = {}
    if condition.tilt:
        keys["tilt"] = (condition.tilt, "angle")
    if condition.misalignment:
        keys["misalignment"] = (condition.misalignment, "length")
    if any(condition.wear):
        keys["wear"], keys["wear_b"] = ((grown, "length") for grown in condition.wear)
    keys |= _shunt_keys(condition.shunt)
    if condition.cap_temperature != NORMAL.cap_temperature:
        warm = ((one, "temperature") for one in condition.cap_temperature)
        keys["cap_temperature"], keys["cap_temperature_b"] = warm
    if condition.water_temperature is None:
        keys["cooling"] = COOLING[1]
    elif condition.water_temperature != WATER:
        keys["water_temperature"] = (condition.water_temperature, "temperature")
    return keys | _supply_keys(condition.supply)


def _shunt_keys(shunt: Shunt | None) -> Keys:
    if shunt is None:
        return {}
    keys: Keys = {"shunt_distance": (shunt.distance, "length")}
    if shunt.diameter is not None:
        keys["shunt_diameter"] = (shunt.diameter, "length")
    return keys | {"flange_width": (shunt.flange_width, "length")}


def _supply_keys(supply: ElectricSupply | None) -> Keys:
    if supply is None:
        return {}
    kinds = {"lead_length": "length", "lead_area": "area"}
    keys: Keys = {}
    for key in _SUPPLY:
        kind = kinds.get(key, "voltage" if key.endswith(("voltage", "drop")) else "resistance")
        keys[key] = (getattr(supply, key), kind)
    keys["mains"] = PHASES[0] if supply.three_phase else PHASES[1]
    keys["current_control"] = CONTROL[0] if supply.regulated else CONTROL[1]
    return keys
