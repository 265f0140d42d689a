"""The figures of a predicted arc weld as rows of a page, each with its range and its least."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from buttonhole.web.screen import between
from buttonhole.web.solved import SolvedArc
from buttonhole.weld.estimate import Estimate

if TYPE_CHECKING:  # the compiled kernels are slow to import
    from buttonhole.weld.arc.plug.result import PlugWeld
    from buttonhole.weld.arc.seam.result import SeamWeld

SURE, LIKELY = 0.9, 0.5  # -, chances from which a weld counts as surely or likely fused; our own
HOLE, MAY_FALL = 0.5, 0.15  # -, chances of a hole that are told loudly; as the seam's warnings


@dataclass(frozen=True, slots=True)
class Judged:
    """One figure against what it must reach, and whether it does."""

    name: str
    value: Estimate
    unit: str
    limit: str
    tone: str
    words: str


@dataclass(frozen=True, slots=True)
class Told:
    """One figure with its range."""

    name: str
    value: Estimate
    unit: str


def judged_rows(solved: SolvedArc, makers: float | None) -> list[Judged]:
    """What is fused, against what is wanted; ``makers`` [m] is the least size of a cited page."""
    weld: Any = solved.weld
    return _plug_judged(weld, makers) if solved.is_plug else _seam_judged(weld, solved)


def _plug_judged(weld: "PlugWeld", makers: float | None) -> list[Judged]:
    rows = []
    for one in weld.interfaces:
        wanted = one.wanted_diameter if makers is None else makers
        fused, name, share = one.fused_diameter, "Fused", "5/8"
        if one.wetted_diameter is not None:  # a braze wets and melts nothing
            fused, name, share = one.wetted_diameter, "Wetted", "4/5"
        tone = "yes" if fused.low >= wanted else "wait" if fused.value >= wanted else "no"
        words = {"yes": "fits", "wait": "not sure", "no": "too small"}[tone]
        source = f"{share} of the hole" if makers is None else "the maker's page"
        limit = f"{wanted * 1e3:.1f} mm, {source}"
        rows.append(
            Judged(f"{name}, {between(one.index).lower()}", fused, "mm1", limit, tone, words)
        )
    return rows


def _seam_judged(weld: "SeamWeld", solved: SolvedArc) -> list[Judged]:
    rows = []
    brazed = bool(solved.answer["brazed"])
    for one in weld.sheets:
        if brazed:
            melts = one.penetration.high > 0.0
            tone = "no" if one.penetration.value > 0.0 else "wait" if melts else "yes"
            words = {"yes": "not melted", "wait": "may melt", "no": "melts"}[tone]
            limit = "sheet not melted"
            rows.append(Judged(f"Wetted, {one.name}", one.wetted_width, "mm1", limit, tone, words))
            continue
        chance = one.fused_probability
        tone = "yes" if chance >= SURE else "wait" if chance >= LIKELY else "no"
        words = f"{chance:.0%} that it is"
        limit = "a tenth of the sheet"
        rows.append(Judged(f"Melted, {one.name}", one.penetration, "mm", limit, tone, words))
    return rows


def told_rows(solved: SolvedArc) -> list[Told]:
    """The other figures, those a person can see or measure first."""
    weld: Any = solved.weld
    found = _seam_told(weld) if not solved.is_plug else _plug_told(weld)
    return [Told(name, value, unit) for name, value, unit in found if value is not None]


def _plug_told(weld: "PlugWeld") -> list[tuple[str, Estimate | None, str]]:
    return [
        *((f"Depth into sheet {one.index + 2}", one.penetration, "mm") for one in weld.interfaces),
        ("Zinc ring on the back", weld.zinc_ring_diameter, "mm1"),
        ("Molten through, on the back", weld.back_spot_diameter, "mm1"),
        ("Straw tint on the back", weld.tint_diameter, "mm1"),
        ("Hottest on the back", weld.back_peak, "degC"),
        ("Head", weld.head_diameter, "mm1"),
        ("Head stands over", weld.head_height, "mm1"),
        ("Edge of the hole fused", weld.rim_fusion, "percent"),
        ("Hole burnt back to", weld.burnt_hole_diameter, "mm1"),
        *((f"Heat zone, sheet {n}", one, "mm1") for n, one in enumerate(weld.haz_diameter, 1)),
        ("800 to 500 °C", weld.cooling_t85, "s"),
        ("Peak hardness", weld.peak_hardness, "HV"),
        ("Arc energy", weld.arc_energy, "kJ"),
    ]


def _seam_told(weld: "SeamWeld") -> list[tuple[str, Estimate | None, str]]:
    return [
        ("Throat", weld.throat, "mm"),
        ("Leg on the lower sheet", weld.leg_lower, "mm1"),
        ("Leg on the upper sheet", weld.leg_upper, "mm1"),
        ("Hottest on the back", weld.back_peak, "degC"),
        ("Molten through, on the back", weld.back_melted, "mm1"),
        *((f"Heat zone from the joint, {one.name}", one.haz_edge, "mm1") for one in weld.sheets),
        *((f"Heat zone, its band, {one.name}", one.haz_band, "mm1") for one in weld.sheets),
        *((f"Softened width, {one.name}", one.softened_width, "mm1") for one in weld.sheets),
        *((f"Zinc burnt off, {one.name}", one.zinc_width, "mm1") for one in weld.sheets),
        ("800 to 500 °C", weld.cooling_t85, "s"),
        ("Peak hardness", weld.peak_hardness, "HV"),
    ]


def chances(solved: SolvedArc) -> dict[str, float | None]:
    """Chance that all is fused, in a brazed plug wetted, and of a hole [-]; None: not of it."""
    answer = solved.answer
    hole = answer["hole_probability"] if solved.is_plug else answer["burn_through_probability"]
    return {
        "fused": answer["fusion_probability"],
        "wetted": answer.get("wetting_probability"),
        "hole": float(hole),
    }


def holding_rows(answer: Mapping[str, Any]) -> list[tuple[str, Estimate, str, str]]:
    """What it holds: name, load, unit, and why the weakest link lets go."""
    rows = []
    for one in answer["strength"] or ():
        key, unit = ("load_N", "kN") if "load_N" in one else ("load_N_per_mm", "Nmm")
        low, high = one[key.replace("load_", "load_interval_")]
        factor = 1.0 if unit == "kN" else 1e3
        load = Estimate(factor * one[key], factor * low, factor * high)
        name = f"{one['pull'].replace('_', ' ').capitalize()}, {between(one['interface']).lower()}"
        rows.append((name, load, unit, one["why"]))
    return rows


def set_words(table: Mapping[str, Any]) -> list[tuple[str, str]]:
    """The settings as they are typed, those turned at the machine first."""
    first = ("wire_feed_speed", "arc_voltage", "arc_time", "travel_speed")
    order = [key for key in first if key in table] + [key for key in table if key not in first]
    names = {"contact_tube_distance": "contact tube to work", "wire_feed_speed": "wire feed"}
    return [
        (names.get(key, key.replace("_", " ")).capitalize(), str(table[key]).replace(" deg", "°"))
        for key in order
    ]
