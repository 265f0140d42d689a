"""What a spot weld holds at each interface, and which way it lets go.

The links are those of the published models for tensile shear. Cross tension, peel and torsion have
no such model that was read: they follow from the shear load or from the mechanics of a round bar,
with intervals as wide as that is. The vehicle maker's figure goes before them.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from buttonhole.joint.hardness_tensile import tensile_of_hardness
from buttonhole.weld.arc.load_paths import ring_shear_load
from buttonhole.weld.arc.strength import (
    FORMULA_SPREAD,
    OVER_MINIMUM,
    PEEL_SHARE,
    WELD_SHEAR,
    Holding,
    Link,
    LinkLoad,
    Pull,
    at_least,
)
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.strength.failure import (
    ALL_ROUND,
    PULL_OUT,
    RATIO_OF_STRENGTHS,
    Failure,
    failure,
    interfacial_load,
)
from buttonhole.weld.strength.torsion import torsion_torque

# Load across over load in shear. Ductile: 4 / (pi sqrt(3)), chao-2003 read; its spread judged.
# Hard nuggets break across at much less; from memory, down to where a joint counts as brittle
# (a quarter, jis-z-3140, read).
DUCTILE_SHARE = Estimate(0.735, 0.55, 0.85)
HARD_SHARE = Estimate(0.50, 0.25, 0.735)
HARD_FROM = 0.24  # wt%, carbon equivalent of thin sheet; nishi-1982, from memory
# Factor k of a button's load k S t d over the least strength of its sheet [-]. Soft: 483 welds of
# AISI 1010 give 4.5, 3.7 to 5.2 in 90 % of them (data-in-brief-2025), one sheet whose own strength
# is not stated, so the value is put lower and the low end near the AWS minimum, 1.84; judged.
SOFT_FACTOR = Estimate(3.8, 2.0, 5.2)
STRONG_FACTOR = Estimate(PULL_OUT, (1.0 - FORMULA_SPREAD) * PULL_OUT, OVER_MINIMUM * ALL_ROUND)
SOFT_TO, STRONG_FROM = 400e6, 600e6  # Pa; the strengths either was found at; judged
HARDNESSES = (80.0, 650.0)  # HV that have a tensile strength; iso-18265


@dataclass(frozen=True, slots=True)
class SpotMade:
    """A spot weld as it came out, from side A.

    ``thicknesses`` [m]; ``strengths`` [Pa]: least tensile strength of each sheet where it is
    softest; ``nuggets`` [m]: at each interface; ``nugget_hardness`` [HV]; ``soft_hardness`` [HV]:
    of each sheet where it is softest; ``carbon_equivalents`` [wt%]: of each sheet by the
    convention for spot welds in thin sheet.
    """

    thicknesses: tuple[float, ...]  # m
    strengths: tuple[float, ...]  # Pa
    nuggets: tuple[Estimate, ...]  # m
    nugget_hardness: Estimate  # HV
    soft_hardness: tuple[Estimate, ...]  # HV
    carbon_equivalents: tuple[float, ...]  # wt%


def spot_strength(spot: SpotMade) -> tuple[Holding, ...]:
    """Say what a spot weld holds at each interface, pulled four ways.

    Parameters
    ----------
    spot : SpotMade
        As predicted, or as measured on a section.

    Returns
    -------
    tuple of Holding
        Four for each interface: loads [N], of torsion torques [N m].

    Sources
    -------
    radakovic-2008, pouranvari-2010 (constants from memory); data-in-brief-2025 (soft sheet, read);
    chao-2003 (share across, read); derived (torsion)
    """
    held = []
    for index in range(len(spot.nuggets)):
        shear = _shear(spot, index)
        share = _share_across(spot, index)
        across = tuple(_times(one, share) for one in shear)
        low, high = PEEL_SHARE
        peeled = tuple(_times(one, Estimate(0.5 * (low + high), low, high)) for one in across)
        held += [
            Holding(index, Pull.SHEAR, shear),
            Holding(index, Pull.ACROSS, across),
            Holding(index, Pull.PEEL, peeled),
            Holding(index, Pull.TORSION, _torsion(spot, index)),
        ]
    return tuple(held)


def spot_failure(spot: SpotMade, index: int) -> Failure:
    """How one interface lets go in tensile shear.

    Parameters
    ----------
    spot : SpotMade
        The weld.
    index : int
        Interface from side A, from 0.

    Returns
    -------
    Failure
        Mode, critical diameter, reason.

    Sources
    -------
    as ``failure.failure``: chao-2003, pouranvari-2010, radakovic-2008 (from memory)
    """
    return failure(spot.nuggets[index], _thinner(spot, index), hardness_ratio(spot, index))


def hardness_ratio(spot: SpotMade, index: int) -> Estimate:
    """Hardness of the nugget over that of the softest place beside it.

    Parameters
    ----------
    spot : SpotMade
        The weld.
    index : int
        Interface from side A, from 0.

    Returns
    -------
    Estimate
        [-].
    """
    soft = min(spot.soft_hardness[index : index + 2], key=lambda one: one.value)
    hard = spot.nugget_hardness
    return Estimate(hard.value / soft.value, hard.low / soft.high, hard.high / soft.low)


def _thinner(spot: SpotMade, index: int) -> float:
    return min(spot.thicknesses[index : index + 2])


def _nugget_strength(spot: SpotMade) -> Estimate:
    """Tensile strength of the nugget by its hardness [Pa]."""
    first, last = HARDNESSES
    hard = spot.nugget_hardness
    low, value, high = (
        tensile_of_hardness(min(max(one, first), last)).value
        for one in (hard.low, hard.value, hard.high)
    )
    return Estimate(value, low, high)


def _reach(link: Link, load: Callable[..., float], *doubted: Estimate) -> LinkLoad:
    """A load that grows with each of what is doubted, and what a formula itself may be off."""
    low, value, high = (
        load(*(getattr(one, end) for one in doubted)) for end in ("low", "value", "high")
    )
    return LinkLoad(
        link, Estimate(value, (1.0 - FORMULA_SPREAD) * low, (1.0 + FORMULA_SPREAD) * high)
    )


def _times(one: LinkLoad, share: Estimate) -> LinkLoad:
    load = one.load
    return LinkLoad(
        one.link,
        Estimate(load.value * share.value, load.low * share.low, load.high * share.high),
    )


def _shear(spot: SpotMade, index: int) -> tuple[LinkLoad, ...]:
    nugget = spot.nuggets[index]
    weaker = at_least(min(spot.strengths[index : index + 2]))

    def through(diameter: float, base: float, own: float) -> float:
        """Middle of two models: by the base metal's strength, and by the nugget's own."""
        by_nugget = 0.25 * math.pi * diameter**2 * RATIO_OF_STRENGTHS * own
        return 0.5 * (interfacial_load(base, diameter) + by_nugget)

    links = [_reach(Link.NUGGET, through, nugget, weaker, _nugget_strength(spot))]
    for link, place in ((Link.BUTTON_A, index), (Link.BUTTON_B, index + 1)):
        links.append(_button(link, spot, place, nugget))
    return tuple(links)


def _button(link: Link, spot: SpotMade, place: int, nugget: Estimate) -> LinkLoad:
    strength, thickness = spot.strengths[place], spot.thicknesses[place]
    factor = button_factor(strength)
    low, value, high = (
        getattr(factor, end) * strength * thickness * getattr(nugget, end)
        for end in ("low", "value", "high")
    )
    return LinkLoad(link, Estimate(value, low, high))


def button_factor(strength: float) -> Estimate:
    """Factor k of the load k S t d that pulls a button out, with S the least of the grade.

    From 600 MPa on that of the model that was fitted to high-strength steel; its high end is the
    other model's with the sheet a fifth over its least. Soft sheet holds more over its least, as
    pulled welds of it show. Between 400 and 600 MPa a line.

    Parameters
    ----------
    strength : float
        Least tensile strength of the sheet where it tears [Pa].

    Returns
    -------
    Estimate
        k [-].

    Sources
    -------
    radakovic-2008, pouranvari-2010 (constants from memory); data-in-brief-2025 (fitted);
    aws-c1-1 (low end of soft sheet, read)
    """
    soft, strong = SOFT_FACTOR, STRONG_FACTOR
    share = min(max((strength - SOFT_TO) / (STRONG_FROM - SOFT_TO), 0.0), 1.0)
    return Estimate(
        *(
            (1.0 - share) * getattr(soft, end) + share * getattr(strong, end)
            for end in ("value", "low", "high")
        )
    )


def _share_across(spot: SpotMade, index: int) -> Estimate:
    hard = max(spot.carbon_equivalents[index : index + 2]) > HARD_FROM
    return HARD_SHARE if hard else DUCTILE_SHARE


def _torsion(spot: SpotMade, index: int) -> tuple[LinkLoad, ...]:
    nugget = spot.nuggets[index]

    def twisted(diameter: float, strength: float, share: float) -> float:
        return torsion_torque(diameter, share * strength) if diameter > 0.0 else 0.0

    links = [_reach(Link.NUGGET, twisted, nugget, _nugget_strength(spot), WELD_SHEAR)]
    for link, place in ((Link.BUTTON_A, index), (Link.BUTTON_B, index + 1)):
        thickness = spot.thicknesses[place]

        def wall(diameter: float, strength: float, t: float = thickness) -> float:
            return 0.5 * diameter * ring_shear_load(diameter, t, strength)

        links.append(_reach(link, wall, nugget, at_least(spot.strengths[place])))
    return tuple(links)
