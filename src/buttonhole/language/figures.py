"""Finds figures with their units in a text and writes them as the reader wants them.

Only a number with a unit behind it is touched, never a designation: ``M6``, ``ISO 14175``,
``G 3Si1`` and ``HCT600X+Z100MB`` stay, and so does everything between quotation marks. A figure
keeps its precision: the last digit shown never stands for more than the last digit there was.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from buttonhole.language.display import Display, Units
from buttonhole.units import KINDS

_NUMBER = r"(?:[+\-−]\s?)?\d{1,12}(?:\.\d{1,9})?(?![\d.]*[A-Za-z])(?!\d)"
_JOINED = r"(?:\s?(?:to|bis|and|und|or|oder|–|±|\+|×|x|/|,|\.\.\.|…)\s?)"
# Units whose figures are converted: name in the texts, kind, key in the table of ``units``.
_CONVERTED: Mapping[str, tuple[str, str]] = {
    "mm": ("length", "mm"),
    "cm": ("length", "cm"),
    "kN": ("force", "kN"),
    "daN": ("force", "daN"),
    "N": ("force", "N"),
    "ms": ("time", "ms"),
    "bar": ("pressure", "bar"),
    "l/min": ("flow", "l/min"),
    "m/min": ("speed", "m/min"),
    "mm/s": ("speed", "mm/s"),
    "cm/min": ("speed", "cm/min"),
    "°C": ("temperature", "°C"),
    "degC": ("temperature", "degC"),
    "N m": ("torque", "N m"),
    "Nm": ("torque", "Nm"),
}
# Units whose figures only take the decimal mark of the language.
_KEPT = (
    "kA", "A", "kJ/mm", "kJ", "J/mm", "J", "V", "HV", "%", "s", "min", "h", "mm²", "mm2", "N/mm²",
    "N/mm", "kN/s", "MPa", "GPa", "µm", "um", "g/m²", "kg", "g", "µΩ", "mΩ", "°", "deg", "Hz",
    "K", "K/s", "m/s", "°C/s", "kPa", "Pa", "days", "hours", "ms/mm", "in", "psi", "lbf", "°F",
    "cfh", "in/min", "lbf ft", "kVA", "mol", "ppm", "W", "kW", "t",
)  # fmt: skip
_UNIT = "|".join(re.escape(one) for one in sorted({*_CONVERTED, *_KEPT}, key=len, reverse=True))
_FIGURE = re.compile(
    rf"(?<![\w.,/−\-+])(?P<numbers>(?:±\s?)?{_NUMBER}(?:{_JOINED}{_NUMBER})*)"
    rf"(?P<space>[\s\u00a0\u202f]?)(?P<unit>{_UNIT})(?![\w²³^·*/Ω°]|\.\d)"
    # what stands in brackets behind a figure is of its unit: 4.94 mm (3.10 to 6.69)
    rf"(?P<within> \((?:{_NUMBER})(?:{_JOINED}{_NUMBER})+(?=\)))?"
)
# Other decimals of a sentence: no material number, no part of a name, a date or a version.
_VERSION = "".join(
    rf"(?<!{word} )"
    for word in (
        "program",
        "Programm",
        "version",
        "Fassung",
        "model",
        "Modell",
        "section",
        "Abschnitt",
    )
)
_DECIMAL = re.compile(
    _VERSION + r"(?<![^\s(±×=≈–])(?!\d\.\d{4}(?!\d))(\d+)\.(\d+)(?=[\s),;:√%]|\.?\Z|\.\s)"
)
_QUOTED = re.compile(r"“[^”]*”|\"[^\"]*\"|„[^“]*“")
_ONE = re.compile(r"\d+(?:\.\d+)?")
_SIGNED = re.compile(r"(?P<sign>(?:(?<![\d.])[\-−])?)(?P<digits>\d+(?:\.\d+)?)")
_LONE = re.compile(r"[+\-−±]?\d+\.\d+")
_MATERIAL_NUMBER = re.compile(r"[1-9]\.\d{4}")  # of EN 10027-2: 1.0338 is no figure


@dataclass(frozen=True, slots=True)
class Change:
    """How a figure of one unit is written in another."""

    name: str  # the unit as shown
    factor: float  # new units per old unit [-]
    offset: float = 0.0  # added after the factor, of the new unit [-]
    trimmed: bool = False  # no zeros at the end


@cache
def change_of(unit: str, units: Units) -> Change | None:
    """How a unit is written in the chosen ones; nothing when it stays.

    Parameters
    ----------
    unit : str
        A unit as the core writes it, ``mm`` say.
    units : Units
        The chosen units.

    Returns
    -------
    Change or None
        The change.
    """
    if unit not in _CONVERTED:
        return None
    kind, key = _CONVERTED[unit]
    wanted = getattr(units, kind)
    if wanted == getattr(Units(), kind):
        return None  # the shop's own units stay as they were written
    if kind == "temperature":
        return Change("°F", 1.8, 32.0)
    if unit == "N" and wanted == "daN":
        return None
    factors = KINDS["travel_speed" if kind == "speed" else kind].units
    if wanted.startswith("cycles"):
        mains = 50 if "50" in wanted else 60
        return Change(_cycles_name(mains), float(factors[key] * mains), trimmed=True)
    if wanted == unit:
        return None
    return Change(wanted, float(Fraction(factors[key]) / factors[wanted]))


def _cycles_name(mains: int) -> str:
    return f"cyc ({mains} Hz)"


def shown_figures(text: str, display: Display) -> str:
    """Write the figures of a text in the units and with the decimal mark of the reader.

    Parameters
    ----------
    text : str
        A text with figures as the core writes them: decimal point, unit behind.
    display : Display
        What the reader chose.

    Returns
    -------
    str
        The text; what is no figure with a unit is as it was.
    """
    if display.is_plain or not any(one.isdigit() for one in text):
        return text
    if _LONE.fullmatch(text) and not _MATERIAL_NUMBER.fullmatch(text):
        return decimal_mark(text, display)
    done: list[str] = []
    at = 0
    for quoted in _QUOTED.finditer(text):
        done += [_converted(text[at : quoted.start()], display), quoted[0]]
        at = quoted.end()
    return "".join([*done, _converted(text[at:], display)])


def _converted(text: str, display: Display) -> str:
    said = _FIGURE.sub(lambda match: _written(match, display), text)
    return said if display.language == "en" else _DECIMAL.sub(r"\1,\2", said)


def _written(match: re.Match[str], display: Display) -> str:
    numbers, unit = match["numbers"], match["unit"]
    change = change_of(unit, display.units)
    if change is None:
        name = "°C" if unit == "degC" else unit
        within = listed(decimal_mark(match["within"] or "", display), display)
        return listed(decimal_mark(numbers, display), display) + match["space"] + name + within
    spread = numbers.startswith("±")
    within_brackets = match["within"] or ""
    places = max(_places(one, change) for one in _ONE.findall(numbers + within_brackets))

    def one(found: re.Match[str]) -> str:
        value = float(found["digits"]) * (-1.0 if found["sign"] else 1.0)
        within = spread or found.string[: found.start()].rstrip().endswith("±")
        return _digits(value, change, places, within)

    said = listed(decimal_mark(_SIGNED.sub(one, numbers), display), display)
    behind = listed(decimal_mark(_SIGNED.sub(one, within_brackets), display), display)
    return f"{said} {unit_name(change.name, display)}{behind}"


def _places(digits: str, change: Change) -> int:
    """Decimals that keep the precision of a figure, of a whole number three digits at least."""
    resolution = 10.0 ** -len(digits.partition(".")[2]) * change.factor
    keep = math.ceil(-math.log10(resolution) - 1e-9)
    value = abs(float(digits)) * change.factor
    if change.offset:
        return max(0, len(digits.partition(".")[2]))
    three = 2 - math.floor(math.log10(value)) if value > 0.0 and "." not in digits else 0
    return min(max(0, keep, three), 6)


def _digits(value: float, change: Change, places: int, within: bool) -> str:
    number = value * change.factor + (0.0 if within else change.offset)
    text = f"{number:.{places}f}".replace("-", "−")
    if change.trimmed and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text


def listed(numbers: str, display: Display) -> str:
    """Say the words between the figures of one unit."""
    if display.language != "de":
        return numbers
    return numbers.replace(" to ", " bis ").replace(" and ", " und ").replace(" or ", " oder ")


def unit_name(unit: str, display: Display) -> str:
    """The unit as the language writes it."""
    return unit.replace("cyc", "Per.") if display.language == "de" else unit


def decimal_mark(text: str, display: Display) -> str:
    """Write decimal points as the language does."""
    if display.language == "en":
        return text
    return re.sub(r"(?<=\d)\.(?=\d)", ",", text)


@dataclass(frozen=True, slots=True)
class FieldUnit:
    """The unit beside a field to type in."""

    name: str  # as shown
    unit: str  # as ``units.parse`` reads it
    change: Change | None

    def typed(self, text: str, display: Display) -> str:
        """A bare figure of the field's own unit, as it stands in the field."""
        if self.change is None or not re.fullmatch(r"[+\-−]?\d+(?:[.,]\d+)?", text):
            return decimal_mark(text, display) if _LONE.fullmatch(text) else text
        value = float(text.replace(",", ".").replace("−", "-"))
        number = value * self.change.factor + self.change.offset
        return decimal_mark(f"{number:.4g}", display)


def field_unit(unit: str, display: Display) -> FieldUnit:
    """The unit beside a field: the chosen one in place of the field's own.

    Parameters
    ----------
    unit : str
        The field's own unit.
    display : Display
        What the reader chose.

    Returns
    -------
    FieldUnit
        The unit to show and to read what is typed by.
    """
    change = change_of(unit, display.units)
    if change is None:
        return FieldUnit(unit, unit, None)
    parsed = change.name
    if change.name.startswith("cyc"):
        parsed = "cycles@50Hz" if "50" in change.name else "cycles@60Hz"
    return FieldUnit(unit_name(change.name, display), parsed, change)
