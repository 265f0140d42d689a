"""Wire electrodes by the designation printed on the spool."""

import difflib
import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from buttonhole.sources import Status, table
from buttonhole.units import BadInput

# m; the wires the trade uses on sheet, common practice. Between them there is none to buy.
MIN_DIAMETER, MAX_DIAMETER = 0.5e-3, 1.7e-3


class WireMetal(StrEnum):
    """What a wire is made of."""

    STEEL = "steel"
    CUSI = "CuSi"  # silicon bronze, for arc brazing
    CUAL = "CuAl"  # aluminium bronze, for arc brazing
    ALUMINIUM = "Al"


BRONZE = frozenset({WireMetal.CUSI, WireMetal.CUAL})


@dataclass(frozen=True, slots=True)
class Wire:
    """A solid wire electrode.

    ``density`` [kg/m3]; ``solidus`` and ``liquidus`` [degC]; ``tensile_strength`` [Pa] is the least
    its standard asks of the metal it leaves.
    """

    designation: str
    standard: str
    metal: WireMetal
    trade_name: str
    density: float
    solidus: float
    liquidus: float
    tensile_strength: float
    source: str  # key in the bibliography
    status: Status


def wire_area(diameter: float) -> float:
    """Cross-section of a wire.

    Parameters
    ----------
    diameter : float
        Of the wire [m].

    Returns
    -------
    float
        Area [m2].

    Raises
    ------
    BadInput
        No wire of that diameter is used on sheet.
    """
    if not MIN_DIAMETER <= diameter <= MAX_DIAMETER:  # also catches NaN
        raise BadInput(
            "wire_diameter",
            f"is {diameter * 1e3:g} mm; wires for sheet are {MIN_DIAMETER * 1e3:g} to "
            f"{MAX_DIAMETER * 1e3:g} mm thick",
        )
    return math.pi / 4.0 * diameter**2


def find_wire(text: str) -> Wire:
    """Return the wire of a designation; case, spaces and hyphens do not count.

    Parameters
    ----------
    text : str
        As printed on the spool by ISO 14341, ISO 24373 or ISO 18273, or a listed other name.

    Returns
    -------
    Wire
        Exactly that wire.

    Raises
    ------
    BadInput
        It is not listed; the message names what comes near.

    Sources
    -------
    iso-14341, iso-24373, iso-18273 (from memory).
    """
    wanted = _normal(text)
    found = _names().get(wanted)
    if found is not None:
        return _wires()[found]
    near = difflib.get_close_matches(wanted, list(_names()), n=3, cutoff=0.5)
    listed = ", ".join(_wires())
    also = f"perhaps {', '.join(sorted({_names()[name] for name in near}))}? " if near else ""
    raise BadInput(
        "wire",
        f"{text.strip()[:40]!r} is not listed; {also}give the designation on the spool: {listed}",
    )


def wires() -> tuple[Wire, ...]:
    """Return every listed wire."""
    return tuple(_wires().values())


def _normal(text: str) -> str:
    return "".join(text.split()).replace("-", "").upper()


@cache
def _wires() -> Mapping[str, Wire]:
    found = table("wire_designations")
    made = {}
    for row, status in zip(found.rows(), found.row_status(), strict=True):
        made[str(row["designation"])] = Wire(
            designation=str(row["designation"]),
            standard=str(row["standard"]),
            metal=WireMetal(str(row["metal"])),
            trade_name=str(row["trade_name"] or ""),
            density=_number(row["density [kg/m3]"]),
            solidus=_number(row["solidus [degC]"]),
            liquidus=_number(row["liquidus [degC]"]),
            tensile_strength=1e6 * _number(row["Rm_min [MPa]"]),
            source=str(row["source"]),
            status=status,
        )
    return MappingProxyType(made)


def _number(cell: float | str | None) -> float:
    if not isinstance(cell, float):
        raise TypeError(f"a number is wanted, not {cell!r}")
    return cell


@cache
def _names() -> Mapping[str, str]:
    names = {_normal(name): name for name in _wires()}
    listed = table("wire_aliases")
    for alias, name in zip(listed.text("alias"), listed.text("designation"), strict=True):
        if names.setdefault(_normal(alias), name) != name:
            raise ValueError(f"wire_aliases: {alias!r} stands for two wires")
    return MappingProxyType(names)
