"""How hard the hardest place of a weld gets, with what published formulas disagree about.

Interval: the least and the most that the formulas say over the interval of the cooling time and
over what the carbon of a grade varies from heat to heat. It is a reach, no 90 % of measurements.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from statistics import fmean

from buttonhole.joint.hardness_tensile import Converted, hardness_of_tensile
from buttonhole.joint.steel import Family, Steel
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.hardness.formula import (
    AFTER_COOLING,
    OF_MARTENSITE,
    martensite_time,
    maynier,
    yurioka,
)
from buttonhole.weld.metallurgy import (
    AUSTENITIC_HARDNESS,
    RELATIVE_SPREAD,
    UNKNOWN_AS,
)

ARC_TIMES = (1.0, 30.0)  # s, what the formulas were fitted to; from memory
LEAN = 0.08  # wt% carbon below which the formulas part from each other; judged from their values
LEAN_RISE = 60.0  # HV, most that so lean a steel rises over its sheet in an arc weld; judged
CARBON_DOUBT = 0.02  # wt%, of a heat against the typical composition of its grade; judged
FASTEST = 1e-3  # s; no weld cools faster
SOFTEST_BODY = 84.0  # HV, of the softest body sheet (270 MPa); arithmetic
CONVERTED = (250e6, 2180e6)  # Pa, strengths that the conversion covers; iso-18265
OVER_LEAST, MOST_OVER_LEAST = 1.05, 1.2  # -, tensile strength over the least of an open range

SOFTER_THAN_SHEET = "the zone beside the weld comes out no harder than the hardest sheet was"

Content = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class FormulaValue:
    """What one formula says: ``hardness`` [HV] at the best known cooling time."""

    name: str
    hardness: float
    source: str  # key in the bibliography


@dataclass(frozen=True, slots=True)
class Hardening:
    """How hard the heat leaves one steel, ``hardness`` [HV], and by what right that is said."""

    hardness: Estimate
    relation: str  # which relation, in words
    in_range: bool  # inside what the relation was made for
    remark: str  # what it is not made for, or nothing
    formulas: tuple[FormulaValue, ...] = ()


def content_of(steel: Steel) -> Content:
    """Composition that counts [wt%]: the grade's typical one; of the unknown the richest."""
    return UNKNOWN_AS if steel.is_unknown else steel.composition


def heats(steel: Steel) -> tuple[Content, Content, Content]:
    """Composition of a grade as typical, and with as little and as much carbon as heats have.

    Parameters
    ----------
    steel : Steel
        With its typical composition; its standard's most carbon bounds the last.

    Returns
    -------
    tuple of mapping
        [wt%] by element.
    """
    content = content_of(steel)
    carbon = content.get("C", 0.0)
    most = max(carbon, steel.composition_limit.get("C", math.inf))
    low, high = max(0.0, carbon - CARBON_DOUBT), min(carbon + CARBON_DOUBT, most)
    return content, {**content, "C": low}, {**content, "C": high}


def base_hardness(steel: Steel) -> Estimate:
    """Hardness of a sheet that no weld has touched.

    Parameters
    ----------
    steel : Steel
        With the range of tensile strength its standard allows.

    Returns
    -------
    Estimate
        Vickers hardness [HV]; of the unknown steel anything a body is made of.

    Sources
    -------
    iso-18265 (conversion, read to 470 HV as quoted)
    """
    if steel.is_unknown:
        hardest = _converted(steel.tensile_strength, steel).high
        return Estimate(hardest, SOFTEST_BODY, hardest)
    least, most = steel.tensile_range
    least = least or steel.tensile_strength
    value = 0.5 * (least + most) if math.isfinite(most) else OVER_LEAST * least
    most = most if math.isfinite(most) else MOST_OVER_LEAST * least
    low, middle, high = (_converted(one, steel) for one in (least, value, most))
    return Estimate(middle.value, low.low, high.high)


def _converted(strength: float, steel: Steel) -> Converted:
    first, last = CONVERTED
    return hardness_of_tensile(min(max(strength, first), last), steel.family)


def arc_hardening(steel: Steel, cooling: Estimate) -> Hardening:
    """Hardness of the zone beside an arc weld where it cooled from over Ac3.

    Parameters
    ----------
    steel : Steel
        Any listed steel, or the unknown one.
    cooling : Estimate
        Time from 800 to 500 degC, from the solver's field [s].

    Returns
    -------
    Hardening
        Yurioka's value with the reach of the three formulas; quicker than a second the relation of
        spot welds; of lean steel their mean, between the sheet's own hardness and 60 HV more.

    Sources
    -------
    yurioka-1987, duren-1985, suzuki-1985 (from memory)
    """
    if steel.family is Family.STAINLESS:
        return _austenitic()
    if cooling.value < ARC_TIMES[0]:
        return quench_hardening(steel, cooling)
    content = content_of(steel)
    said = tuple(
        FormulaValue(name, formula(content, cooling.value), source)
        for name, (formula, source) in AFTER_COOLING.items()
    )
    if content.get("C", 0.0) < LEAN:
        return _lean(steel, said)
    first, last = ARC_TIMES
    times = [min(max(one, first), last) for one in (cooling.low, cooling.value, cooling.high)]
    reach = [
        formula(heat, time)
        for formula, _source in AFTER_COOLING.values()
        for heat in heats(steel)
        for time in times
    ]
    slow = cooling.value > last
    remark = f"cools slower than the {last:.0f} s the formulas were fitted to" if slow else ""
    value = yurioka(content, min(cooling.value, last))
    found = Estimate(value, min(reach), max(reach))
    return _of_unknown(
        steel, Hardening(found, "arc formulas by cooling time", not slow, remark, said)
    )


def quench_hardening(steel: Steel, cooling: Estimate) -> Hardening:
    """Hardness of the nugget and of what austenitised beside it in a spot weld.

    A spot weld cools within some hundredths of a second, far outside what the formulas for arc
    welds were fitted to. All that was austenite is martensite then, and the hardness of martensite
    depends on its carbon alone. Only steel too lean to harden even so quickly is part bainite.

    Parameters
    ----------
    steel : Steel
        Any listed steel, or the unknown one.
    cooling : Estimate
        Time from 800 to 500 degC, from the solver's field [s].

    Returns
    -------
    Hardening
        Middle and reach of four relations for martensite; where the steel does not harden fully
        down to what the arc formulas say at their quickest.

    Sources
    -------
    grange-1977 (carbon alone, read); maynier-1978 (read as quoted); yurioka-1987, duren-1985,
    suzuki-1985 (from memory)
    """
    if steel.family is Family.STAINLESS:
        return _austenitic()
    content = content_of(steel)
    time = max(cooling.value, FASTEST)
    said = tuple(_martensites(content, time))
    every = [one.hardness for heat in heats(steel) for one in _martensites(heat, time)]
    value, low, high = fmean(one.hardness for one in said), min(every), max(every)
    critical = martensite_time(content)
    remark = (
        f"cools in {cooling.value:.2g} s, quicker than the {ARC_TIMES[0]:.0f} s the arc formulas "
        "begin at: they do not hold here, martensite does by its carbon"
    )
    full, relation = time <= critical, "martensite by carbon"
    if not full:
        relation = "between martensite by carbon and the arc formulas at their quickest"
        # partly bainite: between what the formulas say at their quickest and all martensite
        within = [min(yurioka(content, time), value)]
        within += [min(f(content, ARC_TIMES[0]), value) for f, _s in AFTER_COOLING.values()]
        low, value = max(min(within), base_hardness(steel).low), within[0]
        low = min(low, value)
        remark += (
            f"; but so lean a steel hardens fully only within {critical:.2g} s, so it is partly "
            "softer and not well known"
        )
    found = Hardening(Estimate(value, low, high), relation, full, remark, said)
    return _of_unknown(steel, found)


def hardest(
    sheets: Iterable[tuple[Steel, bool]],
    cooling: Estimate | None,
    relation: Callable[[Steel, Estimate], Hardening],
) -> Hardening:
    """The hardest place of a whole weld.

    Parameters
    ----------
    sheets : iterable of (Steel, bool)
        Each steel with whether some of it was austenite and cooled again.
    cooling : Estimate or None
        Time from 800 to 500 degC [s]; None or 0 where nothing came so hot.
    relation : callable
        ``arc_hardening`` or ``quench_hardening``.

    Returns
    -------
    Hardening
        The highest value, and the highest of the low and of the high ends [HV].
    """
    listed = list(sheets)
    hot = cooling is not None and cooling.value > 0.0
    made = [relation(steel, cooling) for steel, heated in listed if heated and cooling and hot]
    kept = [Hardening(base_hardness(steel), "sheet as delivered", True, "") for steel, _h in listed]
    found = [*made, *kept]
    top = max(found, key=lambda one: one.hardness.value)  # of equals what the heat made
    formulas = max(made, key=lambda one: one.hardness.value).formulas if made else ()
    whole = Estimate(
        top.hardness.value,
        max(one.hardness.low for one in found),
        max(one.hardness.high for one in found),
    )
    return Hardening(
        Estimate(whole.value, min(whole.low, whole.value), whole.high),
        top.relation,
        top.in_range,
        SOFTER_THAN_SHEET if made and top in kept else top.remark,
        formulas,
    )


def _martensites(content: Content, time: float) -> list[FormulaValue]:
    found = [
        FormulaValue(name, of(content), source) for name, (of, source) in OF_MARTENSITE.items()
    ]
    return [*found, FormulaValue("Maynier", maynier(content, 300.0 / time)[0], "maynier-1978")]


def _lean(steel: Steel, said: tuple[FormulaValue, ...]) -> Hardening:
    base = base_hardness(steel)
    middle = fmean(one.hardness for one in said)
    value = min(max(middle, base.value), base.value + LEAN_RISE)
    return Hardening(
        Estimate(value, base.low, base.high + LEAN_RISE),
        "sheet and up to 60 HV more",
        False,
        f"has less than {LEAN:g} % carbon, where the formulas part from each other",
        said,
    )


def _austenitic() -> Hardening:
    value = AUSTENITIC_HARDNESS
    reach = Estimate(value, value * (1.0 - RELATIVE_SPREAD), value * (1.0 + RELATIVE_SPREAD))
    return Hardening(reach, "austenitic weld metal", True, "does not harden by cooling")


def _of_unknown(steel: Steel, found: Hardening) -> Hardening:
    """A steel that nobody knows may as well be the softest one."""
    if not steel.is_unknown:
        return found
    reach = Estimate(found.hardness.value, SOFTEST_BODY, found.hardness.high)
    remark = "steel not known: counted as the one that hardens most"
    return Hardening(reach, found.relation, False, remark, found.formulas)
