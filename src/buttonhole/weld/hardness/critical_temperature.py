"""Where steel turns: Ac1 and Ac3 while heated slowly, Ms while quenched, by published formulas.

What the solvers draw zones with, raised by the heating rate, stands in ``weld.metallurgy``.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from buttonhole.sources import Status, table
from buttonhole.units import BadInput

# Elements of the short form of Andrews' Ac3; the others stand in the bracket often left out
SHORT = frozenset({"Fe", "sqrt(C)", "Ni", "Si", "V", "Mo", "W"})
EXPONENT, DEPTH = 0.96, 600.0  # -, K: van Bohemen's term in carbon
LINES = ("Ac1", "Ac3", "Ms")


@dataclass(frozen=True, slots=True)
class CriticalTemperature:
    """One line by one formula: ``value`` [degC]."""

    line: str
    name: str  # of the formula
    value: float
    source: str  # key in the bibliography
    status: Status


def andrews(composition: Mapping[str, float], line: str, *, short: bool = False) -> float:
    """Ac1 or Ac3 by Andrews.

    Parameters
    ----------
    composition : mapping of str to float
        Content by element [wt%].
    line : str
        "Ac1" or "Ac3".
    short : bool
        Ac3 without the bracket of Mn, Cr, Cu, P, Al, Ti: off by 20 to 50 K for multiphase steel.

    Returns
    -------
    float
        At slow heating [degC].

    Raises
    ------
    BadInput
        No such line.

    Sources
    -------
    andrews-1965 (from memory; ferrite formers raise Ac3, some copies print the signs otherwise)
    """
    if line not in ("Ac1", "Ac3"):
        raise BadInput("line", f"{line!r} is not one of Andrews' lines on heating: Ac1, Ac3")
    slopes = table("andrews_1965")
    content = {**composition, "Fe": 1.0, "sqrt(C)": math.sqrt(composition.get("C", 0.0))}
    return float(
        sum(
            slope * content.get(element, 0.0)
            for element, slope in zip(
                slopes.text("element"), slopes.column(f"{line} [degC/%]"), strict=True
            )
            if not short or line == "Ac1" or element in SHORT
        )
    )


def linear(composition: Mapping[str, float], line: str, name: str) -> float:
    """One of the other formulas.

    Parameters
    ----------
    composition : mapping of str to float
        Content by element [wt%].
    line : str
        "Ac1", "Ac3" or "Ms".
    name : str
        "Yurioka" (Ac1, Ac3), "Hougardy" (Ac1), "Andrews" (Ms) or "van Bohemen" (Ms).

    Returns
    -------
    float
        [degC].

    Raises
    ------
    BadInput
        The formula has no such line.

    Sources
    -------
    yurioka-kasuya, hougardy-1984 (from memory); andrews-1965, van-bohemen-2012 (read)
    """
    rows = table("critical_temperature_formulas").where("name", name).where("line", line).rows()
    if not rows:
        raise BadInput("line", f"{line!r} by {name!r} is not listed")
    total = 0.0
    for header, value in rows[0].items():
        if not isinstance(value, float):
            continue
        element = header.removesuffix(" [degC/%]")
        total += value if header.startswith("constant") else value * composition.get(element, 0.0)
    if name == "van Bohemen":
        total -= DEPTH * (1.0 - math.exp(-EXPONENT * composition.get("C", 0.0)))
    return total


def critical_temperatures(composition: Mapping[str, float]) -> tuple[CriticalTemperature, ...]:
    """Work out every line by every formula.

    Parameters
    ----------
    composition : mapping of str to float
        Content by element [wt%].

    Returns
    -------
    tuple of CriticalTemperature
        Andrews first.
    """
    first = table("andrews_1965")
    source, status = first.provenance.source, first.status
    found = [
        CriticalTemperature(line, "Andrews", andrews(composition, line), source, status)
        for line in ("Ac1", "Ac3")
    ]
    listed = table("critical_temperature_formulas")
    for name, line, key, state in zip(
        listed.text("name"), listed.text("line"), listed.text("source"), listed.row_status(),
        strict=True,
    ):  # fmt: skip
        found.append(CriticalTemperature(line, name, linear(composition, line, name), key, state))
    return tuple(sorted(found, key=lambda one: LINES.index(one.line)))
