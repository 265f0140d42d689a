"""What the heat of a weld leaves of its steel, as one object for JSON, and said in its warnings."""

import dataclasses
import math
from collections.abc import Sequence
from typing import Any

from buttonhole.desk.figures import figure_answer, maybe_answer
from buttonhole.joint.steel import Steel
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.carbon_equivalent import carbon_equivalents
from buttonhole.weld.hardness.critical_temperature import critical_temperatures
from buttonhole.weld.hardness.liquid_zinc import ZincFlag
from buttonhole.weld.hardness.peak import Hardening, base_hardness
from buttonhole.weld.hardness.zone import SoftZone

SOFT_LINE = 0.05  # -, of the sheet's hardness; a smaller loss is not worth a warning; judged


def metal_answer(
    peak: Hardening | None,
    steels: Sequence[Steel | None],
    soft: Sequence[SoftZone | None],
    zinc: Sequence[ZincFlag],
) -> dict[str, Any]:
    """Say all of it, ready for JSON.

    Parameters
    ----------
    peak : Hardening or None
        Of the hardest place; None without steel.
    steels : sequence of Steel or None
        Of each sheet; None where it is no steel.
    soft : sequence of SoftZone or None
        Of each sheet.
    zinc : sequence of ZincFlag
        Where liquid zinc may crack.

    Returns
    -------
    dict
        Keys with units; lengths in mm.
    """
    return {
        "peak_hardness": None if peak is None else _peak(peak),
        "sheets": [
            _sheet(place, steel, zone)
            for place, (steel, zone) in enumerate(zip(steels, soft, strict=True), start=1)
        ],
        "liquid_zinc": [_zinc(one) for one in zinc],
    }


def metal_warnings(
    steels: Sequence[Steel | None],
    soft: Sequence[SoftZone | None],
    zinc: Sequence[ZincFlag],
    names: Sequence[str] = (),
) -> tuple[str, ...]:
    """What of it a person must read: the gravest zinc flag, and every sheet that softens.

    Parameters
    ----------
    steels : sequence of Steel or None
        Of each sheet.
    soft : sequence of SoftZone or None
        Of each sheet.
    zinc : sequence of ZincFlag
        Where liquid zinc may crack, the gravest first.
    names : sequence of str
        Of the sheets; empty where they are counted from 1.

    Returns
    -------
    tuple of str
        One sentence or two each.
    """
    said = []
    for place, (steel, zone) in enumerate(zip(steels, soft, strict=True)):
        if steel is not None and zone is not None and _worth_saying(zone):
            name = names[place] if names else str(place + 1)
            said.append(_soft_words(name, steel, zone))
    return (*(one.text for one in zinc[:1]), *said)


def _worth_saying(zone: SoftZone) -> bool:
    loss = zone.softened.loss
    return not zone.softened.known or loss.value >= SOFT_LINE


def _soft_words(name: str, steel: Steel, zone: SoftZone) -> str:
    found = zone.softened
    low, high = found.softest.low, found.softest.high
    if not found.known:
        return (
            f"Sheet {name} ({steel.designation}) may soften beside the weld, to {low:.0f} to "
            f"{high:.0f} HV: {found.remark}."
        )
    return (
        f"Sheet {name} ({steel.designation}) softens beside the weld to about "
        f"{found.softest.value:.0f} HV ({low:.0f} to {high:.0f}), {100 * found.loss.value:.0f} % "
        "less than the sheet has: its strength is least there."
    )


def _peak(peak: Hardening) -> dict[str, Any]:
    return {
        "relation": peak.relation,
        "in_range": peak.in_range,
        "remark": peak.remark,
        "formulas": [
            {"name": one.name, "hardness_HV": one.hardness, "source": one.source}
            for one in peak.formulas
        ],
    }


def _sheet(place: int, steel: Steel | None, zone: SoftZone | None) -> dict[str, Any]:
    if steel is None:
        return {"sheet": place, "steel": None}
    return {
        "sheet": place,
        "steel": steel.designation,
        **figure_answer("base_hardness", "HV", base_hardness(steel)),
        **composition_answer(steel),
        **_soft_answer(zone),
    }


def composition_answer(steel: Steel) -> dict[str, Any]:
    """What is worked out from a steel's typical composition alone.

    Parameters
    ----------
    steel : Steel
        Any steel.

    Returns
    -------
    dict
        Carbon equivalents in mass percent and critical temperatures; null for the unknown steel.
    """
    if steel.is_unknown:
        return {"carbon_equivalents": None, "critical_temperatures": None}
    return {
        "carbon_equivalents": [
            {
                "name": one.name,
                "value_percent": one.value,
                "made_for": one.made_for,
                "in_range": one.in_range,
                "source": one.source,
                "status": one.status.value,
            }
            for one in carbon_equivalents(steel.composition)
        ],
        "critical_temperatures": [
            {
                "line": one.line,
                "formula": one.name,
                "temperature_C": one.value,
                "source": one.source,
                "status": one.status.value,
            }
            for one in critical_temperatures(steel.composition)
        ],
    }


def _soft_answer(zone: SoftZone | None) -> dict[str, Any]:
    if zone is None:
        return {
            "softens": False,
            **maybe_answer("softest_hardness", "HV", None),
            **maybe_answer("softening_loss", "share", None),
            **maybe_answer("softest_at", "mm", None),
            **maybe_answer("softened_band", "mm", None),
            "softening_known": True,
            "softening_remark": "",
        }
    found = zone.softened
    softest = figure_answer("softest_hardness", "HV", found.softest)
    loss = figure_answer("softening_loss", "share", found.loss)
    if not found.known:  # then only the interval counts
        softest["softest_hardness_HV"] = loss["softening_loss_share"] = None
    return {
        "softens": not found.known or found.loss.value > 0.0,
        **softest,
        **loss,
        **maybe_answer("softest_at", "mm", zone.at, 1e3),
        **maybe_answer("softened_band", "mm", _told(zone.band), 1e3),
        "softening_known": found.known,
        "softening_remark": found.remark,
    }


def _told(band: Estimate | None) -> Estimate | None:
    return None if band is None or math.isnan(band.value) else band


def _zinc(flag: ZincFlag) -> dict[str, Any]:
    told = dataclasses.asdict(flag)
    return {
        "risk": flag.risk.value,
        "sheet": told["sheet"],
        "place": told["place"],
        "peak_C": told["peak"],
        "reasons": list(flag.reasons),
        "sources": list(flag.sources),
        "text": told["text"],
    }
