"""Quantities: SI inside, units at the edge.

A quantity that comes in carries its unit in the text; ``parse`` turns it into an SI float and
``show`` writes an SI float for people. Factors are exact rationals, so a decimal text gives the
nearest float there is. Only this module knows the library for units, and asks it only when a unit
is none of the shop's own.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

MAX_TEXT = 60  # characters; no quantity anybody writes is longer
KELVIN_AT_0_DEGC = 273.15  # K, exact by definition


class BadInput(ValueError):
    """A value somebody gave that can't be used; the message says what would be right."""

    def __init__(self, key: str, message: str) -> None:
        super().__init__(f"{key}: {message}" if key else message)
        self.key = key
        self.message = message

    def __reduce__(self) -> tuple[type["BadInput"], tuple[str, ...]]:
        return BadInput, (self.key, self.message)


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity; ``units`` maps the text of a unit to how many SI units it makes."""

    name: str  # with its article, for messages
    example: str
    units: Mapping[str, Fraction]
    si: str  # SI unit in the spelling of the units library
    metric: tuple[str, ...]  # units to show in, small to large
    us: tuple[str, ...]


def _f(text: str) -> Fraction:
    return Fraction(text)


# Exact by definition: inch and foot (NIST SP 811, appendix B.6), pound (same), standard gravity
# 9.80665 m/s2 (SI brochure, 3rd CGPM) and what follows from them.
INCH = _f("0.0254")
FOOT = 12 * INCH
POUND = _f("0.45359237")
GRAVITY = _f("9.80665")
LBF = POUND * GRAVITY
PSI = LBF / INCH**2
MICRO = Fraction(1, 10**6)
MILLI = Fraction(1, 1000)
MINUTE = Fraction(60)
ONE = Fraction(1)

_LENGTH = {
    "m": ONE,
    "cm": _f("0.01"),
    "mm": MILLI,
    "um": MICRO,
    "in": INCH,
    "inch": INCH,
    "inches": INCH,
    '"': INCH,
    "ft": FOOT,
    "thou": INCH / 1000,
    "mil": INCH / 1000,
}
_AREA = {"m2": ONE, "mm2": MILLI**2, "cm2": _f("0.0001")}
_FORCE = {
    "N": ONE,
    "daN": Fraction(10),
    "kN": Fraction(1000),
    "kgf": GRAVITY,
    "lbf": LBF,
    "lb": LBF,
    "lbs": LBF,
    "kip": 1000 * LBF,
}
_PRESSURE = {
    "Pa": ONE,
    "kPa": Fraction(1000),
    "MPa": Fraction(10**6),
    "GPa": Fraction(10**9),
    "N/mm2": Fraction(10**6),
    "bar": Fraction(10**5),
    "mbar": Fraction(100),
    "psi": PSI,
    "ksi": 1000 * PSI,
    "kgf/cm2": GRAVITY * 10**4,
    "kgf/mm2": GRAVITY * 10**6,
}
_SPEED = {
    "m/s": ONE,
    "m/min": 1 / MINUTE,
    "mm/s": MILLI,
    "mm/min": MILLI / MINUTE,
    "cm/min": _f("0.01") / MINUTE,
    "ipm": INCH / MINUTE,
    "in/min": INCH / MINUTE,
    "in/s": INCH,
}
_TIME = {
    "s": ONE,
    "ms": MILLI,
    "us": MICRO,
    "min": MINUTE,
    "h": 60 * MINUTE,
    "d": 24 * 60 * MINUTE,
    "day": 24 * 60 * MINUTE,
    "days": 24 * 60 * MINUTE,
}
_RESISTANCE = {
    **dict.fromkeys(("ohm", "Ω"), ONE),
    **dict.fromkeys(("mohm", "mΩ"), MILLI),
    **dict.fromkeys(("uohm", "uΩ"), MICRO),
}
_TORQUE = {
    **dict.fromkeys(("Nm", "N m", "N*m"), ONE),
    **dict.fromkeys(("lbf ft", "ft lbf", "lbf*ft", "ft*lbf"), LBF * FOOT),
    **dict.fromkeys(("lbf in", "in lbf", "lbf*in", "in*lbf"), LBF * INCH),
    **dict.fromkeys(("kgf m", "kgf*m"), GRAVITY),
}
_FLOW = {
    "m3/s": ONE,
    "m3/h": Fraction(1, 3600),
    **dict.fromkeys(("l/min", "L/min"), MILLI / MINUTE),
    **dict.fromkeys(("cfh", "ft3/h"), FOOT**3 / 3600),
}
_ENERGY = {"J": ONE, "kJ": Fraction(1000), "MJ": Fraction(10**6), "Wh": Fraction(3600)}
_TEMPERATURE = {"degC": ONE, "°C": ONE, "degF": _f("5/9"), "°F": _f("5/9"), "K": ONE}
# What is taken off the number before the factor applies.
_OFFSET = {"degF": Fraction(32), "°F": Fraction(32), "K": _f("273.15")}
# A degree by definition is pi/180 rad: no rational, so the float nearest to it.
_ANGLE = {"rad": ONE, **dict.fromkeys(("deg", "°"), Fraction(math.pi / 180))}

KINDS: Mapping[str, Kind] = {
    "length": Kind("a length", "0.8 mm", _LENGTH, "m", ("mm",), ("in",)),
    "area": Kind("an area", "2.5 mm2", _AREA, "m**2", ("mm2",), ("mm2",)),
    "force": Kind("a force", "2.2 kN", _FORCE, "N", ("kN",), ("lbf",)),
    "current": Kind(
        "a current",
        "8.5 kA",
        {"A": ONE, "kA": Fraction(1000), "mA": MILLI},
        "A",
        ("A", "kA"),
        ("A", "kA"),
    ),
    "time": Kind("a time", "160 ms", _TIME, "s", ("ms", "s", "min"), ("ms", "s", "min")),
    "voltage": Kind(
        "a voltage", "1.2 V", {"V": ONE, "mV": MILLI, "kV": Fraction(1000)}, "V", ("V",), ("V",)
    ),
    "temperature": Kind("a temperature", "20 degC", _TEMPERATURE, "K", ("°C",), ("°F",)),
    "speed": Kind("a speed", "4 m/min", _SPEED, "m/s", ("m/min",), ("ipm",)),
    "travel_speed": Kind("a speed", "6 mm/s", _SPEED, "m/s", ("mm/s",), ("ipm",)),
    "pressure": Kind("a pressure", "6 bar", _PRESSURE, "Pa", ("bar",), ("psi",)),
    "stress": Kind("a stress", "270 MPa", _PRESSURE, "Pa", ("MPa",), ("ksi",)),
    "flow": Kind("a flow", "12 l/min", _FLOW, "m**3/s", ("l/min",), ("cfh",)),
    "resistance": Kind(
        "a resistance", "100 uohm", _RESISTANCE, "ohm", ("uΩ", "mΩ", "Ω"), ("uΩ", "mΩ", "Ω")
    ),
    "angle": Kind("an angle", "15 deg", _ANGLE, "rad", ("°",), ("°",)),
    "frequency": Kind(
        "a frequency", "50 Hz", {"Hz": ONE, "kHz": Fraction(1000)}, "Hz", ("Hz",), ("Hz",)
    ),
    "energy": Kind("an energy", "1.2 kJ", _ENERGY, "J", ("J", "kJ", "MJ"), ("J", "kJ", "MJ")),
    "mass": Kind(
        "a mass",
        "1.5 kg",
        {"kg": ONE, "g": MILLI, "mg": MICRO, "lb": POUND, "lbm": POUND, "lbs": POUND},
        "kg",
        ("kg",),
        ("lb",),
    ),
    "torque": Kind("a torque", "12 Nm", _TORQUE, "N*m", ("Nm",), ("lbf ft",)),
}

_NUMBER = r"[+-]?(?:[0-9]{1,30}(?:[.,][0-9]{0,30})?|[.,][0-9]{1,30})(?:[eE][+-]?[0-9]{1,3})?"
_QUANTITY = re.compile(rf"(?P<number>{_NUMBER})\s*(?P<unit>\S(?:.*\S)?)?", re.DOTALL)
_INCHES = re.compile(
    r"(?:(?P<whole>[0-9]{1,4})(?:\s*-\s*|\s+))?(?P<top>[0-9]{1,4})/(?P<bottom>[0-9]{1,4})"
    r'\s*(?P<unit>in|inch|inches|")'
)
_CYCLES = re.compile(r"(?:cycles?|cyc)\s*(?:(?:@|at)\s*(?P<mains>[0-9.]+)\s*Hz)?", re.IGNORECASE)
_MANY_DIGITS = re.compile(r"[0-9]{31}")
_COMPOUND = re.compile(r"[A-Za-z]{1,12}(?:(?:\^|\*\*)?-?[1-4])?")
MAINS = ("50", "60")  # Hz


def parse(text: str, kind: str, key: str = "") -> float:
    """Turn the text of a quantity into its SI value.

    Parameters
    ----------
    text : str
        Number and unit, e.g. ``"0.8 mm"``, ``"2,2 kN"``, ``"3/16 in"``, ``"10 cycles@60Hz"``.
    kind : str
        One of ``KINDS``.
    key : str
        Name of the value in the error message.

    Returns
    -------
    float
        The value [SI]; a temperature is in degC.

    Raises
    ------
    BadInput
        No unit, an unknown one or one of another kind, no finite number, or a text too long.

    Examples
    --------
    >>> parse("0.8 mm", "length")
    0.0008
    >>> round(parse("10 cycles@60Hz", "time"), 6)
    0.166667

    Sources
    -------
    si-brochure, nist-sp-811.
    """
    wanted = _kind(kind)
    cleaned = _cleaned(text, wanted, key)
    inches = _INCHES.fullmatch(cleaned) if kind == "length" else None
    if inches is not None:
        return _inches(inches, wanted, key)
    match = _QUANTITY.fullmatch(cleaned)
    if match is None or _MANY_DIGITS.search(cleaned):
        raise BadInput(key, f"is {_quoted(text)}; give a number and its unit, {_such(wanted)}")
    number, unit = _number(match["number"], wanted, key), match["unit"]
    if unit is None:
        raise BadInput(key, f"is {_quoted(text)}; give the unit, {_such(wanted)}")
    cycles = _CYCLES.fullmatch(unit)
    if cycles is not None:
        return _finite(_cycles(number, cycles["mains"], wanted, key), number, wanted, key)
    unit = unit.replace("µ", "u").replace("μ", "u").replace("·", "*").replace("²", "2")
    unit = unit.replace("³", "3").replace("deg C", "degC").replace("deg F", "degF")
    factor = wanted.units.get(unit)
    if factor is None:
        factor = _factor_of_other(unit, wanted, text, key)
    if unit in _OFFSET and kind == "temperature":
        number -= _OFFSET[unit]
    return _finite(number * factor, number, wanted, key)


def _kind(kind: str) -> Kind:
    try:
        return KINDS[kind]
    except KeyError:
        raise ValueError(f"no kind of quantity {kind!r}; there are {', '.join(KINDS)}") from None


def _cleaned(text: str, wanted: Kind, key: str) -> str:
    if not isinstance(text, str):
        raise BadInput(key, f"is no text; give a number and its unit in quotes, {_such(wanted)}")
    if len(text) > MAX_TEXT:
        raise BadInput(key, f"is {len(text)} characters long; give a quantity, {_such(wanted)}")
    return text.replace("\u2212", "-").replace("\u00a0", " ").replace("\u202f", " ").strip()


def _such(wanted: Kind) -> str:
    return f'e.g. "{wanted.example}"'


def _quoted(text: str) -> str:
    shown = "".join(letter if letter.isprintable() else "?" for letter in text)
    return f'"{shown}"' if len(shown) <= 40 else f'"{shown[:37]}..."'


def _number(text: str, wanted: Kind, key: str) -> Fraction:
    """Exact value of a decimal text; a comma may stand for the point."""
    mantissa = text.lower().partition("e")[0]
    if "," in mantissa and "e" not in text.lower() and len(mantissa.partition(",")[2]) == 3:
        plain, point = text.replace(",", ""), text.replace(",", ".")
        raise BadInput(
            key, f"is {_quoted(text)}, which may be {plain} or {point}; write it without the comma"
        )
    try:
        return Fraction(text.replace(",", "."))
    except ValueError:
        raise BadInput(key, f"is {_quoted(text)}; give a number, {_such(wanted)}") from None


def _inches(match: re.Match[str], wanted: Kind, key: str) -> float:
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise BadInput(key, f"is {_quoted(match[0])}; nothing divides by 0, give {_such(wanted)}")
    return float((int(match["whole"] or 0) + Fraction(top, bottom)) * INCH)


def _cycles(number: Fraction, mains: str | None, wanted: Kind, key: str) -> Fraction:
    """Return the time of a number of mains cycles [s]."""
    if wanted is not KINDS["time"]:
        raise BadInput(key, f"is a number of cycles, a time; give {wanted.name}, {_such(wanted)}")
    if mains not in MAINS:
        raise BadInput(
            key,
            'is in cycles; say of which mains frequency, e.g. "10 cycles@50Hz" or '
            '"10 cycles@60Hz", or give the time in ms',
        )
    return number / int(mains)


def _finite(value: Fraction, number: Fraction, wanted: Kind, key: str) -> float:
    try:
        result = float(value)
    except OverflowError:
        result = math.inf
    if math.isinf(result) or (result == 0.0 and number != 0 and value != 0):
        raise BadInput(
            key,
            f"is beyond any {wanted.name.split()[1]} there is; give a usual one, {_such(wanted)}",
        )
    return result


def _factor_of_other(unit: str, wanted: Kind, text: str, key: str) -> Fraction:
    """Factor of a unit that isn't in the kind's own list, or the reason why there is none."""
    for other in KINDS.values():
        if unit in other.units:
            raise BadInput(
                key, f"is {_quoted(text)}, {other.name}; give {wanted.name}, {_such(wanted)}"
            )
    near = [name for name in wanted.units if name.casefold() == unit.casefold()]
    if near:
        raise BadInput(
            key,
            f"is {_quoted(text)}; write the unit {near[0]} with its own small and capital letters, "
            f"{_such(wanted)}",
        )
    factor = _library_factor(unit, wanted.si)
    if factor is None:
        raise BadInput(
            key,
            f"is {_quoted(text)}; {_quoted(unit)} is no unit of {wanted.name}, "
            f"use one of: {', '.join(list(wanted.units)[:7])}, {_such(wanted)}",
        )
    return factor


def _library_factor(unit: str, si: str) -> Fraction | None:
    """Ask the units library; it sees only names, powers up to 4, products and quotients."""
    parts = re.split(r"\s*[*/ ]\s*(?!\*)", unit.replace("**", "^"))
    if len(parts) > 4 or not all(_COMPOUND.fullmatch(part) for part in parts):
        return None
    if len(parts) == 1 and si == "K":
        return None  # scales with another zero are in the list or nowhere
    try:
        quantity = _registry().Quantity(1.0, unit.replace("^", "**"))
        factor = float(quantity.to(si).magnitude)
    except Exception:  # the library raises many kinds for what is no unit
        return None
    return Fraction(factor) if math.isfinite(factor) and factor > 0.0 else None


@cache
def _registry() -> "pint.UnitRegistry[float]":
    import pint  # slow to load and rarely needed

    return pint.UnitRegistry()


def show(value: float, kind: str, system: str = "metric", digits: int = 3) -> str:
    """Write an SI value for people, in a unit of the shop and with sensible digits.

    Parameters
    ----------
    value : float
        The value [SI]; a temperature in degC.
    kind : str
        One of ``KINDS``.
    system : str
        "metric" or "us".
    digits : int
        Significant digits; a whole number keeps all of its own.

    Returns
    -------
    str
        E.g. ``"0.8 mm"``; "not known" for a value that is no finite number.

    Examples
    --------
    >>> show(0.0008, "length"), show(2200.0, "force", "us")
    ('0.8 mm', '495 lbf')
    """
    shown_kind = _kind(kind)
    if system not in ("metric", "us"):
        raise ValueError(f"no system of units {system!r}; there are metric and us")
    if not math.isfinite(value):
        return "not known"
    units = shown_kind.metric if system == "metric" else shown_kind.us
    if kind == "temperature":
        number = value if system == "metric" else value * 1.8 + 32.0
        return f"{round(number)} {units[0]}"
    chosen = units[0]
    for unit in units[1:]:  # the largest in which it is at least one
        if abs(value) >= shown_kind.units[unit] * (1 - Fraction(1, 10**9)):
            chosen = unit
    number = value / float(shown_kind.units[chosen])
    return f"{_sensible(number, digits)} {chosen.replace('u', 'µ') if 'Ω' in chosen else chosen}"


def _sensible(number: float, digits: int) -> str:
    """Write a number with so many significant digits, no exponent and no trailing zeros."""
    if number == 0.0:
        return "0"
    places = digits - 1 - math.floor(math.log10(abs(number)))
    if places <= 0:
        return f"{number:.0f}"
    text = f"{number:.{min(places, 12)}f}"
    trimmed = text.rstrip("0").rstrip(".")
    return "0" if trimmed in ("-0", "") else trimmed


def cycles(seconds: float, mains_frequency: float) -> float:
    """Return a time as a number of mains cycles [-].

    Parameters
    ----------
    seconds : float
        Time [s].
    mains_frequency : float
        Frequency of the mains [Hz].

    Returns
    -------
    float
        Number of cycles [-].
    """
    return seconds * mains_frequency


def degC_to_K(temperature: float) -> float:
    """Return a temperature [degC] in [K]."""
    return temperature + KELVIN_AT_0_DEGC


def K_to_degC(temperature: float) -> float:
    """Return a temperature [K] in [degC]."""
    return temperature - KELVIN_AT_0_DEGC
