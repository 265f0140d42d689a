"""The softened zone: martensite tempered below Ac1 by the heat of the weld.

A sheet that owes its strength to martensite is part ferrite, part martensite. The ferrite stays as
it is. The martensite falls to what the thermal cycle leaves of its hardness as quenched, but only
where that is less than it still has: in a dual-phase sheet the mill has tempered it already, the
more so the softer the grade, and nothing softens until the weld does more than the mill did.
Softest is the place that just did not come to Ac1.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.steel import MULTIPHASE, Family, Steel
from buttonhole.sources import table
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.peak import CARBON_DOUBT, SOFTEST_BODY, base_hardness, content_of
from buttonhole.weld.hardness.tempering import hardness_kept, scaled, tempering_parameter
from buttonhole.weld.metallurgy import STRONG

Array = NDArray[np.float64]

FERRITE = Estimate(150.0, 130.0, 170.0)  # HV, of the ferrite in a dual-phase sheet; from memory
# Martensite of all the carbon of the steel: share times 294 + 884 C / share; yurioka-1987
OF_IRON, OF_CARBON = 294.0, 884.0  # HV, HV/%
TIME_DOUBT = 1.5  # -, the cycle may last so much longer or shorter; judged
HALF = 0.5  # -, of the greatest loss; the zone is told out to there
COLDEST, STEPS = 250.0, 40  # degC, -: where the search for that place begins; numerical
MODELLED = frozenset({Family.DP, Family.MS, Family.PHS})


@dataclass(frozen=True, slots=True)
class Softened:
    """The softest place of one sheet.

    ``softest`` and ``base`` [HV]; ``loss`` [-]: of the sheet's hardness; ``outer_level`` [degC]:
    peak temperature where half of the loss is left. ``known`` is false where the model has no data
    for the steel: then only the interval counts, and ``remark`` says why.
    """

    base: Estimate  # HV
    softest: Estimate  # HV
    loss: Estimate  # -
    outer_level: Estimate  # degC
    parameter: float  # K, of Hollomon and Jaffe there
    known: bool
    remark: str = ""


def tempers(steel: Steel) -> bool:
    """Whether heat below Ac1 can take strength from a sheet.

    Parameters
    ----------
    steel : Steel
        Any steel.

    Returns
    -------
    bool
        True for every steel with martensite in it, for those over 980 MPa, for the unknown one.
    """
    if steel.family is Family.STAINLESS:
        return False
    strong = steel.tensile_strength >= STRONG
    return steel.is_unknown or strong or steel.family in MODELLED | MULTIPHASE


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What the model knows of a sheet: hardness [HV], share of martensite [-], carbon [wt%]."""

    base: Estimate
    share: Estimate
    carbon: Estimate


def _sheet(steel: Steel) -> _Sheet:
    family = steel.family if steel.family in MODELLED else Family.DP
    rows = table("martensite_share").where("family", family.value)
    at = rows.column("Rm [MPa]")
    share = Estimate(
        *(
            float(np.interp(steel.tensile_strength * 1e-6, at, rows.column(f"{name} [-]")))
            for name in ("share", "share_low", "share_high")
        )
    )
    carbon = content_of(steel).get("C", 0.0)
    doubted = Estimate(carbon, max(0.0, carbon - CARBON_DOUBT), carbon + CARBON_DOUBT)
    return _Sheet(base_hardness(steel), share, doubted)


def _mixed(base: float, share: float, carbon: float, ferrite: float, kept: float) -> float:
    """Hardness [HV]: ferrite and what is left of the martensite, never more than before."""
    fresh = share * OF_IRON + OF_CARBON * carbon
    return min(base, (1.0 - share) * ferrite + kept * fresh)


def _of_sheet(sheet: _Sheet, kept: Estimate) -> Estimate:
    """The same with every doubt of its own, the doubts taken as independent."""
    names = ("base", "share", "carbon", "ferrite", "kept")
    doubted = (sheet.base, sheet.share, sheet.carbon, FERRITE, kept)
    middle = {name: one.value for name, one in zip(names, doubted, strict=True)}
    value = _mixed(**middle)
    down = up = 0.0
    for name, one in zip(names, doubted, strict=True):
        moved = [_mixed(**{**middle, name: end}) - value for end in (one.low, one.high)]
        down, up = math.hypot(down, min(*moved, 0.0)), math.hypot(up, max(*moved, 0.0))
    return Estimate(value, max(value - down, 0.0), value + up)


def softened(
    steel: Steel, cycle: Callable[[float], tuple[Array, Array]], ac1: Estimate
) -> Softened:
    """Find the softest place of a sheet and where half of the loss is left.

    Parameters
    ----------
    steel : Steel
        One that ``tempers``.
    cycle : callable
        Times [s] and temperatures [degC] of the place that came to a peak [degC].
    ac1 : Estimate
        Where austenite begins at the heating rate of the weld [degC].

    Returns
    -------
    Softened
        Hardness [HV] with 90 % intervals from what is doubted: strength of the sheet, share and
        carbon of its martensite, hardness of its ferrite, the tempering curve, Ac1, the pace.

    Sources
    -------
    hollomon-jaffe-1945, yurioka-1987, handbook-memory (from memory); biro-2013 for the idea
    """
    if steel.is_unknown:
        return _not_known(steel)
    parameters = [tempering_parameter(*cycle(level)) for level in (ac1.value, ac1.low, ac1.high)]
    times, hot = cycle(ac1.value)
    slow, fast = (
        tempering_parameter(times * factor, hot) for factor in (TIME_DOUBT, 1.0 / TIME_DOUBT)
    )
    at = parameters[0]
    down = math.hypot(at - min(parameters), at - fast)
    up = math.hypot(max(parameters) - at, slow - at)
    kept, least, most = hardness_kept(at), hardness_kept(at + up), hardness_kept(at - down)
    kept = Estimate(
        kept.value,
        kept.value - math.hypot(kept.value - kept.low, kept.value - least.value),
        kept.value + math.hypot(kept.high - kept.value, most.value - kept.value),
    )
    sheet = _sheet(steel)
    soft = _of_sheet(sheet, kept)
    base = sheet.base
    loss = Estimate(
        1.0 - soft.value / base.value,
        max(0.0, 1.0 - soft.high / base.value),
        max(0.0, 1.0 - soft.low / base.value),
    )
    known = steel.family in MODELLED
    soft = Estimate(soft.value, soft.low, soft.high if known else max(soft.high, base.high))
    level = _outer_level(sheet, cycle, ac1, soft.value)
    return Softened(base, soft, loss, level, at, known, "" if known else _why(steel))


def _outer_level(
    sheet: _Sheet, cycle: Callable[[float], tuple[Array, Array]], ac1: Estimate, softest: float
) -> Estimate:
    """Peak temperature at which half of the loss is left [degC]."""
    wanted = sheet.base.value - HALF * (sheet.base.value - softest)

    def hardness(peak: float) -> float:
        kept = hardness_kept(tempering_parameter(*cycle(peak)))
        return _mixed(
            sheet.base.value, sheet.share.value, sheet.carbon.value, FERRITE.value, kept.value
        )

    low, high = COLDEST, ac1.value
    if sheet.base.value - softest < 1.0:  # nothing to halve
        return ac1
    for _ in range(STEPS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if hardness(middle) > wanted else (low, middle)
    off = 0.5 * (ac1.high - ac1.low)
    return Estimate(high, high - off, min(high + off, ac1.high))


def _not_known(steel: Steel) -> Softened:
    base = base_hardness(steel)
    soft = Estimate(0.5 * (SOFTEST_BODY + base.high), SOFTEST_BODY, base.high)
    nothing = Estimate(math.nan, 0.0, 1.0 - SOFTEST_BODY / base.high)
    level = Estimate(math.nan, math.nan, math.nan)
    remark = "steel not known: it may soften by anything from nothing to two fifths"
    return Softened(base, soft, nothing, level, math.nan, False, remark)


def _why(steel: Steel) -> str:
    if steel.family is Family.CP:
        return (
            "complex-phase steel holds bainite and tempered martensite in shares not known here: "
            "only the interval counts, from a dual-phase steel of its strength to no loss"
        )
    if steel.family is Family.TRIP:
        return (
            "steel with retained austenite: what that does below Ac1 is not in the model; only the "
            "interval counts, from a dual-phase steel of its strength to no loss"
        )
    return "no data for steel of this kind: only the interval counts"


def near(times: Array, temperature: Array) -> Callable[[float], tuple[Array, Array]]:
    """Cycles of places near one whose cycle was computed: its rise scaled to their peak.

    Parameters
    ----------
    times : Array
        (steps,) [s].
    temperature : Array
        (steps,) of the computed place [degC].

    Returns
    -------
    callable
        From a peak [degC] to times [s] and temperatures [degC].
    """
    return lambda peak: (times, scaled(temperature, peak))
