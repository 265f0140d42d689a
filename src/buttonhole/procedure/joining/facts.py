"""The facts of a joint that rules turn on. What is not known is the worst, or is asked for."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from buttonhole.joint.coating import ZINC, Coating
from buttonhole.joint.hints import Bounded, Hints, bounds
from buttonhole.joint.steel import Family
from buttonhole.procedure.joining.circumstances import (
    Circumstances,
    JoinedSheet,
    JointToJoin,
    Near,
    Zone,
)

Value = float | str | None  # None: not known

HOT_STAMPED_FROM = 1300e6  # Pa; the trade's line for hot-stamped sheet
EDGE_ROOM = 3e-3  # m between the weld's edge and the sheet's, a vehicle maker's design sheet
AIM = 5.0  # mm^0.5; weld diameter over root of thickness when a set-up is made
NOT_SAID = "not said"


@dataclass(frozen=True, slots=True)
class FactKind:
    """A fact: how people say it, and of which kind of quantity it is (empty: a word)."""

    words: str
    quantity: str = ""
    ask: str = ""  # what to tell when a rule turns on it and nobody knows


FACTS: Mapping[str, FactKind] = {
    "sheets": FactKind("number of sheets", "count"),
    "thinnest": FactKind("thinnest sheet", "length"),
    "thickest": FactKind("thickest sheet", "length"),
    "total": FactKind("thickness of all sheets", "length"),
    "ratio": FactKind("thickest over thinnest sheet", "count"),
    "weakest": FactKind("tensile strength of the weakest sheet, at least", "stress"),
    "strongest": FactKind("tensile strength of the strongest sheet, at least", "stress"),
    "metal": FactKind("metal of the sheets"),
    "hot_stamped": FactKind("a sheet is hot-stamped or of 1300 MPa and more"),
    "stainless": FactKind("a sheet is stainless"),
    "steel_unknown": FactKind("a sheet's steel is not known"),
    "coating_unknown": FactKind("a sheet's coating is not known"),
    "zinc": FactKind("a sheet carries zinc", ask="Which coating do the sheets carry?"),
    "access": FactKind("access", ask="Can the gun's arms reach it from both sides?"),
    "adhesive": FactKind("adhesive", ask="Is there adhesive between the sheets or beside them?"),
    "flange_room": FactKind("flange width less a weld of 5√t and 3 mm on each side", "length"),
    "arm_room": FactKind("reach of the arms less the way from the edge to the weld", "length"),
    "gap": FactKind("gap", "length"),
    "visible": FactKind("the panel is visible"),
    "sectioning": FactKind("a cut where the factory had no seam"),
    "zone": FactKind("zone"),
    "structural": FactKind("the joint carries load"),
    "original": FactKind("joined by the factory by"),
    "original_count": FactKind("welds the factory made", "count"),
    "remaining_flange": FactKind("the flange that stays"),
    "near_airbag": FactKind("a restraint module within 300 mm"),
    "near_fuel": FactKind("a fuel line or tank within 300 mm"),
    "near_high_voltage": FactKind("high-voltage parts within 300 mm"),
    "near_sealer": FactKind("sealer or foam within 100 mm"),
    "near_glass": FactKind("glass within 300 mm"),
    "earlier_repair": FactKind("an earlier repair"),
    "model_year": FactKind("model year", "count"),
    "squeeze": FactKind("a squeeze gun's spot is allowed here"),
}


def facts_of(joint: JointToJoin) -> dict[str, Value]:
    """Return every fact of a joint but ``squeeze``, which the decision itself finds.

    An unknown steel counts as hot-stamped and as the strongest and the weakest there is: whatever
    a rule forbids for some steel is forbidden for it, and nothing is allowed because of it.

    Parameters
    ----------
    joint : JointToJoin
        The joint.

    Returns
    -------
    dict
        By the names of ``FACTS``; SI numbers, words, or None where nobody knows.
    """
    told = joint.circumstances
    return {**_sizes(joint), **_metals(joint), **_around(told), **_near(told)}


def _yes(value: bool) -> str:
    return "yes" if value else "no"


def _sizes(joint: JointToJoin) -> dict[str, Value]:
    thick = [one.thickness for one in joint.sheets]
    told = joint.circumstances
    # rounded to a nanometre: a limit that was met is met
    room = None
    if told.flange_width is not None:
        room = round(told.flange_width - flange_needed(joint), 9)
    arms = None
    if told.arm_reach is not None and told.reach_needed is not None:
        arms = round(told.arm_reach - told.reach_needed, 9)
    return {
        "sheets": float(len(thick)),
        "thinnest": min(thick),
        "thickest": max(thick),
        "total": round(math.fsum(thick), 9),
        "ratio": round(max(thick) / min(thick), 9),
        "flange_room": room,
        "arm_room": arms,
        "gap": joint.gap,
    }


def flange_needed(joint: JointToJoin) -> float:
    """Return the width a flange needs for a spot [m]: 5√t and 3 mm of sheet on each side.

    t is the thinner sheet of the interface that needs the largest weld.

    Sources
    -------
    maker-design-sheet: 3 mm clear from weld edge to sheet edge; twi-faq: 5√t.
    """
    pairs = zip(joint.sheets, joint.sheets[1:], strict=False)
    governing = max(min(a.thickness, b.thickness) for a, b in pairs)
    return AIM * math.sqrt(governing * 1e3) * 1e-3 + 2.0 * EDGE_ROOM


def _metals(joint: JointToJoin) -> dict[str, Value]:
    steels = [one.steel for one in joint.sheets if one.steel is not None]
    aluminium = sum(one.is_aluminium for one in joint.sheets)
    unknown = any(one.is_unknown for one in steels)
    metal = "steel"
    if aluminium:
        metal = "aluminium" if aluminium == len(joint.sheets) else "mixed"
    known = [one.tensile_strength for one in steels if not one.is_unknown]
    coatings = {one.coating for one in joint.sheets if one.steel is not None}
    hot = any(one.family is Family.PHS for one in steels)
    hot = hot or any(one >= HOT_STAMPED_FROM for one in known)
    return {
        "metal": metal,
        "weakest": math.inf if unknown or not known else min(known),
        "strongest": math.inf if unknown else max(known, default=0.0),
        "hot_stamped": _yes(hot or unknown),
        "stainless": _yes(any(one.family is Family.STAINLESS for one in steels)),
        "steel_unknown": _yes(unknown),
        "coating_unknown": _yes(Coating.UNKNOWN in coatings),
        "zinc": _zinc(coatings),
    }


def _zinc(coatings: set[Coating]) -> Value:
    if coatings & (ZINC - {Coating.UNKNOWN}):
        return "yes"
    return None if Coating.UNKNOWN in coatings else "no"


def _around(told: Circumstances) -> dict[str, Value]:
    cosmetic = told.zone is Zone.COSMETIC or (told.zone is None and told.visible)
    original = told.original_joining
    return {
        "access": told.access.value if told.access else None,
        "adhesive": told.adhesive.value if told.adhesive else None,
        "visible": _yes(told.visible),
        "sectioning": _yes(told.sectioning),
        "zone": told.zone.value if told.zone else NOT_SAID,
        # Not said: it carries load, unless it is a visible panel.
        "structural": _yes(not cosmetic),
        "original": original.value if original else NOT_SAID,
        "original_count": None if told.original_count is None else float(told.original_count),
        "remaining_flange": told.remaining_flange.value if told.remaining_flange else NOT_SAID,
        "earlier_repair": _yes(told.earlier_repair),
        "model_year": None if told.model_year is None else float(told.model_year),
    }


def _near(told: Circumstances) -> dict[str, Value]:
    return {f"near_{one.value}": _yes(one in told.near) for one in Near}


def hints(sheet: JoinedSheet) -> tuple[str, ...]:
    """Say what was measured of a steel nobody knows, and what it leaves possible; it names none.

    Parameters
    ----------
    sheet : JoinedSheet
        The sheet.

    Returns
    -------
    tuple of str
        Sentences; empty for a steel that is known and where nothing was measured.
    """
    if sheet.steel is None or not sheet.steel.is_unknown:
        return ()
    found = []
    if sheet.hardness is not None or sheet.magnet is not None:
        left = bounds(
            Hints(thickness=sheet.thickness, magnet=sheet.magnet, hardness=sheet.hardness)
        )
        found.append(_left(sheet, left))
        found.extend(left.notes)
    if sheet.coating is Coating.ALSI:
        found.append("Aluminium-silicon is the coating of hot-stamped parts.")
    return tuple(found)


def _left(sheet: JoinedSheet, left: Bounded) -> str:
    measured = [f"{sheet.hardness:.0f} HV"] if sheet.hardness is not None else []
    if sheet.magnet is not None:
        measured.append(f"magnet: {sheet.magnet.value}")
    low, high = (one / 1e6 for one in left.tensile)
    families = ", ".join(one.value for one in left.families) or "no steel of the book"
    aluminium = " It may be aluminium." if left.aluminium else ""
    return (
        f"Measured {', '.join(measured)}: leaves {families}, tensile strength {low:.0f} to "
        f"{high:.0f} MPa.{aluminium} It stays unknown: a hint names no steel."
    )
