"""How a spot weld lets go in tensile shear: through its nugget, or with a button.

Three published models say from which diameter on a button pulls out. All their constants are from
memory and they differ by a factor of two, so what they say is a guide with an interval, never a
line to pass or fail by.
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from statistics import median

from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.strength.least import above_zero

CHAO, CHAO_POWER = 3.41, 4.0 / 3.0  # mm^(-1/3), -; chao-2003, from memory
RATIO_OF_STRENGTHS, POROSITY = 0.5, 1.0  # -, f and P of pouranvari-2010, from memory
PULL_OUT, INTERFACIAL = 2.2, 0.6  # -, of radakovic-2008, from memory
ALL_ROUND = math.pi  # -, of pouranvari-2010, from memory
FAIR = 0.9  # -, of the pull-out load; interfacial loads were over it; radakovic-2008, read


class FailureMode(StrEnum):
    """Where a spot weld parts in tensile shear."""

    INTERFACIAL = "interfacial"
    PARTIAL = "partial"  # the models disagree: part button, part nugget, or either
    PULL_OUT = "pull-out"


@dataclass(frozen=True, slots=True)
class CriticalDiameter:
    """From which nugget diameter a button pulls out [m], by each model and over all of them."""

    by_model: tuple[tuple[str, float, str], ...]  # m; name before it, key in the bibliography after
    estimate: Estimate  # m; value: the middle model


@dataclass(frozen=True, slots=True)
class Failure:
    """How a weld lets go; ``sure`` where the whole interval of its diameter says the same."""

    mode: FailureMode
    sure: bool
    critical: CriticalDiameter
    reason: str


def critical_chao(thickness: float) -> float:
    """Critical nugget diameter by fracture against collapse.

    Parameters
    ----------
    thickness : float
        Of the thinner sheet [m].

    Returns
    -------
    float
        3.41 t^(4/3) with t in mm, as diameter [m].

    Sources
    -------
    chao-2003 (form read in the abstract, constant from memory)
    """
    above_zero(thickness=thickness)
    return 1e-3 * CHAO * math.pow(1e3 * thickness, CHAO_POWER)


def critical_pouranvari(thickness: float, hardness_ratio: float) -> float:
    """Critical nugget diameter by the hardness of the nugget over that of the place of failure.

    Parameters
    ----------
    thickness : float
        Of the thinner sheet [m].
    hardness_ratio : float
        Nugget over where a button would tear, the softest place [-].

    Returns
    -------
    float
        4 t / (P f) over the ratio, so 8 t over it [m].

    Sources
    -------
    pouranvari-2010 (dependence read in the abstract, constants from memory)
    """
    above_zero(thickness=thickness, hardness_ratio=hardness_ratio)
    return 4.0 * thickness / (POROSITY * RATIO_OF_STRENGTHS) / hardness_ratio


def critical_radakovic(thickness: float) -> float:
    """Critical nugget diameter at which pull-out and interfacial load are alike.

    Parameters
    ----------
    thickness : float
        Of the thinner sheet [m].

    Returns
    -------
    float
        2.2 / 0.6 t [m].

    Sources
    -------
    radakovic-2008 (proportions read in the abstract, constants from memory)
    """
    above_zero(thickness=thickness)
    return PULL_OUT / INTERFACIAL * thickness


def critical_diameter(thickness: float, hardness_ratio: Estimate) -> CriticalDiameter:
    """Critical nugget diameter by all three models.

    Parameters
    ----------
    thickness : float
        Of the thinner sheet [m].
    hardness_ratio : Estimate
        Nugget over the softest place beside it [-].

    Returns
    -------
    CriticalDiameter
        The middle model with the reach of all of them and of the ratio [m].

    Raises
    ------
    BadInput
        A value is not above zero.

    Sources
    -------
    chao-2003, pouranvari-2010, radakovic-2008 (constants from memory)
    """
    by_ratio = [
        critical_pouranvari(thickness, one)
        for one in (hardness_ratio.value, hardness_ratio.low, hardness_ratio.high)
    ]
    chao, radakovic = critical_chao(thickness), critical_radakovic(thickness)
    models = (
        ("toughness against collapse", chao, "chao-2003"),
        ("hardness ratio", by_ratio[0], "pouranvari-2010"),
        ("equal loads", radakovic, "radakovic-2008"),
    )
    every = (chao, radakovic, *by_ratio)
    middle = median(value for _name, value, _source in models)
    return CriticalDiameter(models, Estimate(middle, min(every), max(every)))


def failure(nugget: Estimate, thickness: float, hardness_ratio: Estimate) -> Failure:
    """Say how a spot weld lets go in tensile shear.

    Parameters
    ----------
    nugget : Estimate
        Diameter at the interface [m].
    thickness : float
        Of the thinner sheet [m].
    hardness_ratio : Estimate
        Nugget over the softest place beside it [-].

    Returns
    -------
    Failure
        Pull-out where all models say so, interfacial where none does, partial between.

    Raises
    ------
    BadInput
        A value is not above zero.

    Sources
    -------
    chao-2003, pouranvari-2010, radakovic-2008 (constants from memory)
    """
    critical = critical_diameter(thickness, hardness_ratio)
    mode = _mode(nugget.value, critical.estimate)
    sure = all(_mode(one, critical.estimate) is mode for one in (nugget.low, nugget.high))
    said = 1e3 * critical.estimate.value, 1e3 * critical.estimate.low, 1e3 * critical.estimate.high
    words = {
        FailureMode.PULL_OUT: "over what every model asks for: a button",
        FailureMode.INTERFACIAL: "under what any model asks for: through the nugget",
        FailureMode.PARTIAL: "between the models: a button, a part of one, or through the nugget",
    }
    reason = (
        f"{1e3 * nugget.value:.1f} mm is {words[mode]} (critical diameter about {said[0]:.1f} mm, "
        f"{said[1]:.1f} to {said[2]:.1f} by model, at a hardness ratio of "
        f"{hardness_ratio.value:.1f}; constants from memory)"
    )
    return Failure(mode, sure, critical, reason)


def _mode(diameter: float, critical: Estimate) -> FailureMode:
    if diameter < critical.low:
        return FailureMode.INTERFACIAL
    return FailureMode.PULL_OUT if diameter >= critical.high else FailureMode.PARTIAL


def pull_out_load(strength: float, thickness: float, diameter: float) -> float:
    """Tensile-shear load that pulls a button out.

    Parameters
    ----------
    strength : float
        Tensile, of the sheet where it tears [Pa].
    thickness : float
        Of that sheet [m].
    diameter : float
        Of the nugget [m].

    Returns
    -------
    float
        2.2 S t d [N].

    Sources
    -------
    radakovic-2008 (proportions read in the abstract, constant from memory)
    """
    return _product(PULL_OUT, strength, thickness, diameter)


def pull_out_load_all_round(strength: float, thickness: float, diameter: float) -> float:
    """The same where the whole rim of the button carries: pi S t d [N].

    Parameters
    ----------
    strength : float
        Tensile, of the sheet where it tears [Pa].
    thickness : float
        Of that sheet [m].
    diameter : float
        Of the nugget [m].

    Returns
    -------
    float
        Load [N].

    Sources
    -------
    pouranvari-2010 (from memory)
    """
    return _product(ALL_ROUND, strength, thickness, diameter)


def interfacial_load(strength: float, diameter: float) -> float:
    """Tensile-shear load that shears a nugget through.

    Parameters
    ----------
    strength : float
        Tensile, of the base metal [Pa].
    diameter : float
        Of the nugget [m].

    Returns
    -------
    float
        0.6 S d^2 [N].

    Sources
    -------
    radakovic-2008 (constant from memory)
    """
    return _product(INTERFACIAL, strength, diameter, diameter)


def _product(*factors: float) -> float:
    for one in factors:
        if not (one >= 0.0 and math.isfinite(one)):  # also catches NaN
            raise BadInput("load", f"can't be worked out with {one:g}; give zero or more")
    return math.prod(factors)


def interfacial_is_weak(interfacial: float, pull_out: float) -> bool:
    """Whether a weld that broke through its nugget held too little for that.

    An interfacial fracture is not weak by itself: in published tests it held over 90 % of what a
    button holds.

    Parameters
    ----------
    interfacial : float
        What it held, or is predicted to [N].
    pull_out : float
        What a button of that diameter holds [N].

    Returns
    -------
    bool
        It is under 90 % of it.

    Raises
    ------
    BadInput
        A load is not above zero.

    Sources
    -------
    radakovic-2008 (read in the abstract)
    """
    above_zero(interfacial=interfacial, pull_out=pull_out)
    return interfacial < FAIR * pull_out * (1.0 - 1e-12)
