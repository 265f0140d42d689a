"""The steel book as answers, the same for the command line, the API and the pages."""

import math
from typing import Any

import numpy as np

from buttonhole.joint.aluminium_book import AluminiumEntry, aluminium_book, find_aluminium
from buttonhole.joint.coating_name import CoatingName
from buttonhole.joint.designation import Designation, read_designation
from buttonhole.joint.hardness_tensile import hardness_of_tensile
from buttonhole.joint.hints import SETTLES, Hints, bounds, composition_span
from buttonhole.joint.property_band import PropertyBand, property_bands
from buttonhole.joint.steel import Family, Steel, find_steel
from buttonhole.joint.steel_book import Entry, Relative, book, entry, relatives
from buttonhole.sources import Status, bibliography
from buttonhole.units import BadInput
from buttonhole.weld.hardness.carbon_equivalent import carbon_equivalent

MPA, MM, UM, PERCENT = 1e6, 1e-3, 1e-6, 1e-2
G_PER_M2 = 1e-3  # kg/m2
SHOWN = {  # unit of an answer: its key's ending, and how many of it are one SI unit
    "W/m/K": ("W_per_m_K", 1.0),
    "J/kg/K": ("J_per_kg_K", 1.0),
    "ohm m": ("uohm_cm", 1e8),
    "Pa": ("MPa", 1e-6),
}
COUNTED = ("C", "Mn", "Cr", "Mo", "V", "Ni", "Cu")  # what the carbon equivalent of the IIW takes in


def list_answer(standard: str = "", family: str = "") -> dict[str, Any]:
    """List the book.

    Parameters
    ----------
    standard, family : str
        Only these; "" for all.

    Returns
    -------
    dict
        ``steels``, each with designation, standard, kind and strengths; ``aluminium`` alloys.

    Raises
    ------
    BadInput
        No such standard or family; the message lists them.
    """
    standards = sorted({one.system for one in book()})
    if standard and standard not in standards:
        raise BadInput("standard", f"{standard[:40]!r} is none of: {', '.join(standards)}")
    families = [one.value for one in Family if one is not Family.UNKNOWN]
    if family and family not in families:
        raise BadInput("family", f"{family[:40]!r} is none of: {', '.join(families)}")
    kept = [
        one
        for one in book()
        if standard in ("", one.system) and family in ("", one.steel.family.value)
    ]
    return {
        "steels": [_short(one) for one in kept],
        "standards": standards,
        "families": families,
        "aluminium": [aluminium_answer(one) for one in aluminium_book().values()],
    }


def _short(one: Entry) -> dict[str, Any]:
    return {
        "designation": one.steel.designation,
        "standard": one.system,
        "material_number": one.number or None,
        "kind": one.kind,
        "family": one.steel.family.value,
        "yield_range_MPa": _range(one.steel.yield_range, MPA),
        "tensile_range_MPa": _range(one.steel.tensile_range, MPA),
        "verified": one.verified,
        "status": one.steel.status.value,
    }


def _range(pair: tuple[float, float], unit: float) -> list[float | None]:
    """Lowest and highest; null where there is no limit."""
    low, high = pair
    return [low / unit if low > 0.0 else None, high / unit if math.isfinite(high) else None]


def found_answer(text: str) -> dict[str, Any]:
    """Say what a designation means, as printed.

    Parameters
    ----------
    text : str
        With or without a standard before it and a coating behind it.

    Returns
    -------
    dict
        ``steel`` or ``aluminium`` (all the book says of it), ``coating`` and ``surface``.

    Raises
    ------
    BadInput
        It is not understood, or stands for several; nothing is guessed.
    """
    alloy = find_aluminium(text)
    if alloy is not None:
        return {
            "text": text,
            "steel": None,
            "aluminium": aluminium_answer(alloy),
            "unknown": False,
            "coating": None,
            "surface": [],
        }
    found = read_designation(text)
    return {
        "text": text,
        "aluminium": None,
        "steel": None if found.steel.is_unknown else steel_answer(found.steel),
        "unknown": found.steel.is_unknown,
        "coating": coating_answer(found.coating) if found.coating else _no_coating(found),
        "surface": list(found.surface),
    }


def aluminium_answer(alloy: AluminiumEntry) -> dict[str, Any]:
    """Say what the book holds of an aluminium alloy."""
    return {
        "designation": alloy.designation,
        "chemical": alloy.chemical,
        "temper": alloy.temper,
        "yield_range_MPa": _range(alloy.yield_range, MPA),
        "tensile_range_MPa": _range(alloy.tensile_range, MPA),
        "elongation_percent": alloy.elongation / PERCENT,
        "composition_limits_percent": dict(alloy.composition_limit),
        "thickness_usual_mm": _range(alloy.usual, MM),
        "places": list(alloy.places),
        "source": alloy.source,
        "source_text": str(bibliography()[alloy.source]),
        "status": alloy.status.value,
        "verified": alloy.status is Status.READ,
        "notes": [
            "No steel: in a weld file give it as the alloy of a seam. Aluminium and steel are "
            "never fused together.",
            "Unverified: from memory, no copy of the standard was at hand.",
        ],
    }


def _no_coating(found: Designation) -> dict[str, Any] | None:
    return {"coating": "bare", "meaning": "said to be uncoated"} if found.uncoated else None


def coating_answer(found: CoatingName) -> dict[str, Any]:
    """Say what a coating's name means."""
    return {
        "name": found.text,
        "standard": found.system,
        "coating": found.coating.value,
        "meaning": found.meaning,
        "mass_per_side_g_per_m2": _known(found.mass, G_PER_M2),
        "thickness_per_side_um": _known(found.thickness, UM),
        "thickness_interval_um": _known(found.thickness_range, UM),
        "holds_zinc": found.holds_zinc,
        "surface": list(found.surface),
        "source": found.source,
        "status": found.status.value,
        "hints": list(found.hints),
    }


def _known(pair: tuple[float, float], unit: float) -> list[float] | None:
    """Both figures; null for a name that gives none."""
    return None if any(math.isnan(one) for one in pair) else [one / unit for one in pair]


def steel_answer(steel: Steel) -> dict[str, Any]:
    """Say all that the book holds of a listed steel."""
    one = entry(steel)
    hardness = hardness_of_tensile(steel.tensile_strength, steel.family)
    return {
        **_short(one),
        "names": list(one.names),
        "source": steel.source,
        "source_text": str(bibliography()[steel.source]),
        "elongation_percent": None if math.isnan(one.elongation) else one.elongation / PERCENT,
        "elongation_test_piece": one.gauge or None,
        "elongation_status": one.elongation_status.value,
        "composition_limits_percent": dict(steel.composition_limit),
        "composition_limits_status": one.composition_status and one.composition_status.value,
        "composition_typical_percent": dict(steel.composition),
        "composition_typical_status": "common-practice",
        "carbon_equivalent_IIW_interval_percent": list(_equivalent_span(one) or ()) or None,
        "hardness_HV": hardness.value,
        "hardness_interval_HV": [hardness.low, hardness.high],
        "hardness_status": "derived",
        "sensitive_to_heat": steel.is_sensitive,
        "curves_of": one.like or steel.designation,
        "thickness_made_mm": _range(one.habit.made, MM),
        "thickness_usual_mm": _range(one.habit.usual, MM),
        "places": list(one.habit.places),
        "habit_status": "common-practice",
        "relatives": [_relative(other) for other in relatives(steel)],
        "sources_differ": list(one.conflicts),
        "notes": list(one.notes),
    }


def _relative(other: Relative) -> dict[str, Any]:
    return {
        "designation": other.steel.designation,
        "standard": entry(other.steel).system,
        "kinship": other.kinship.value,
        "status": other.status.value,
        "source": other.source,
    }


def _equivalent_span(one: Entry) -> tuple[float, float] | None:
    """Carbon equivalent of the leanest and of the richest cast [wt%]; none for stainless steel."""
    if one.steel.family is Family.STAINLESS:
        return None
    spans = {element: composition_span(one, element) for element in COUNTED}
    low, high = (
        carbon_equivalent({element: span[end] for element, span in spans.items()}, "CE_IIW")
        for end in (0, 1)
    )
    return low, high


def curves_answer(text: str, temperatures: list[float] | None = None) -> dict[str, Any]:
    """Give the property curves of a steel with their bands.

    Parameters
    ----------
    text : str
        Designation, or "unknown".
    temperatures : list of float, optional
        Rising [degC]; every 20 degC up to 1600 if not given.

    Returns
    -------
    dict
        ``curves`` by property, each with value, band, source, status and uncertainty.

    Raises
    ------
    BadInput
        No such steel, or a temperature outside the curves.
    """
    steel = find_steel(text)
    hot = None if temperatures is None else np.array(temperatures, dtype=float)
    return {
        "designation": steel.designation,
        "curves": {
            one.quantity.replace(" ", "_"): _curve(one) for one in property_bands(steel, hot)
        },
    }


def _curve(one: PropertyBand) -> dict[str, Any]:
    ending, factor = SHOWN[one.unit]
    return {
        "temperature_C": one.temperature.tolist(),
        f"value_{ending}": (factor * one.value).tolist(),
        f"low_{ending}": (factor * one.low).tolist(),
        f"high_{ending}": (factor * one.high).tolist(),
        "table": one.table,
        "source": one.source,
        "source_text": str(bibliography()[one.source]),
        "status": one.status.value,
        "made_by": one.rule,
        "uncertainty": one.uncertainty,
    }


def unknown_answer(hints: Hints) -> dict[str, Any]:
    """Say what an unknown sheet may be, by what was found on it; never one grade.

    Parameters
    ----------
    hints : Hints
        What was found.

    Returns
    -------
    dict
        ``steel`` (always "unknown"), ``possible``, ``usual``, ranges, and what would settle it.
    """
    found = bounds(hints)
    spans = [span for one in found.possible if (span := _equivalent_span(one)) is not None]
    return {
        "steel": found.steel.designation,
        "rule": "counts as unknown for every rule: the strictest",
        "possible": [one.steel.designation for one in found.possible],
        "usual": [one.steel.designation for one in found.usual],
        "possible_count": len(found.possible),
        "may_be_aluminium": found.aluminium,
        "families": [one.value for one in found.families],
        "tensile_interval_MPa": [end / MPA for end in found.tensile] if found.possible else None,
        "carbon_interval_percent": list(found.carbon) if found.possible else None,
        "carbon_equivalent_IIW_interval_percent": (
            [min(low for low, _ in spans), max(high for _, high in spans)] if spans else None
        ),
        "coatings_that_look_so": list(found.coatings),
        "taken_out": [{"by": name, "steels": count} for name, count in found.dropped],
        "notes": list(found.notes),
        "would_settle": list(SETTLES),
    }
