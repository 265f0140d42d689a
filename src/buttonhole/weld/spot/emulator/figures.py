"""What the nets of the emulator give, as numbers that run smoothly, and as figures of a weld.

A nugget is nothing at all below its onset and may begin as a ring, wide at once. So the nets are
taught how warm the interface becomes, which runs smoothly through the onset, and apart from it the
size of what melted. Scales are judged, no source.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.heat.tables import TOP
from buttonhole.weld.spot.expulsion import BOILED, interface_expulsion, surface_expulsion
from buttonhole.weld.spot.fields import OPENS_AT

Array = NDArray[np.float64]

MM = 1e-3  # m
ROOT = math.sqrt(MM)  # sqrt(m); diameters are counted in millimetres per root of a millimetre
BEND = 2.0  # mm/sqrt(mm), below which the area of a nugget counts
OF_INTERFACE = ("warmth", "size", "contact", "penetration_a", "penetration_b", "centre", "load",
                "limit")  # fmt: skip
OF_WELD = ("sunk_a", "sunk_b", "skin_a", "skin_b", "hottest", "heat", "cooling", "zone")
NUMBERS = OF_INTERFACE + OF_WELD
WARMTH_AT, SIZE_AT, LOAD_AT, LIMIT_AT = (
    NUMBERS.index(name) for name in ("warmth", "size", "load", "limit")
)
SURE = 2e-3  # -, least warmth of what melted, and as much below nothing of what did not
WARMTH = (-0.6, 0.4)  # -, of an interface; colder is as cold, hotter as hot
BREADTH = 0.1  # -, warmth within which the onset is looked at closely
LOADS = (0.05, 20.0)  # -, beyond which a load counts as so much
MELT, PER_MELT = 1500.0, 500.0  # degC, one number of a temperature
BOILING = TOP - 20.0  # degC, from which the hottest place is taken to boil


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures of some welds of one stack-up, or of as many stack-ups as welds."""

    nugget: Array  # (welds, interfaces), m
    contact_radius: Array  # (welds, interfaces), m, of what is pressed hard enough to seal melt in
    penetration: Array  # (welds, interfaces, 2), m
    centre: Array  # (welds, interfaces), 1 where the axis melted, 0 where it stayed solid [-]
    sunk: Array  # (welds, 2), m, caps A and B
    load: Array  # (welds, interfaces), -, most that pressed a ring open over what held it
    diameter_at_limit: Array  # (welds, interfaces), m, nugget when a ring opened; else 0
    skin: Array  # (welds, 2), degC, hottest place of the sheets under caps A and B
    hottest: Array  # (welds,), degC, anywhere
    heat: Array  # (welds,), J
    cooling_t85: Array  # (welds,), s, NaN where nothing comes to 800 degC or it never cools
    haz_diameter: Array  # (welds,), m


def roots(stack: StackUp) -> Array:
    """Root of the mean thickness at each interface [m^0.5], (interfaces,).

    Parameters
    ----------
    stack : StackUp
        The sheets.

    Returns
    -------
    Array
        [m^0.5].
    """
    pairs = [(face.sheet_a.thickness, face.sheet_b.thickness) for face in stack.interfaces]
    found: Array = np.sqrt(np.mean(pairs, axis=1))
    return found


def size_of(nugget: Array, root: Array) -> Array:
    """The number of a nugget's diameter, which grows with the area of a small one.

    Parameters
    ----------
    nugget : Array
        Diameter [m].
    root : Array
        Of the thickness [m^0.5].

    Returns
    -------
    Array
        [-].
    """
    size = nugget / MM / (root / ROOT)
    found: Array = np.sqrt(size**2 + BEND**2) - BEND
    return found


def diameter(size: Array, warmth: Array, root: Array) -> Array:
    """Nugget diameter of its numbers.

    Parameters
    ----------
    size : Array
        As from ``size_of`` [-].
    warmth : Array
        Of the interface; none melts below nothing [-].
    root : Array
        Of the thickness [m^0.5].

    Returns
    -------
    Array
        Diameter [m].
    """
    found = np.sqrt((np.maximum(size, 0.0) + BEND) ** 2 - BEND**2) * MM * (root / ROOT)
    melted: Array = np.where(warmth > 0.0, found, 0.0)
    return melted


def numbers_of(found: Figures, warmth: Array, stack: StackUp) -> Array:
    """What the nets are taught of some welds.

    Parameters
    ----------
    found : Figures
        By the solver.
    warmth : Array
        Heat in the hottest place of the interfaces over what half melts it, less one,
        (welds, interfaces) [-].
    stack : StackUp
        Whose welds they are.

    Returns
    -------
    Array
        (welds, interfaces, numbers), NaN where there is nothing to be learned [-].
    """
    root = roots(stack)
    sheets = np.array([sheet.thickness for sheet in stack.sheets])
    melted, opened = found.nugget > 0.0, found.diameter_at_limit > 0.0
    # the plane itself may be a little colder than what melts beside it, and the other way round
    sure = np.where(melted, np.maximum(warmth, SURE), np.minimum(warmth, -SURE))
    depth = np.where(melted[:, :, None], found.penetration, np.nan)
    outer = np.array([sheets[0], sheets[-1]])
    sunk = np.sqrt(found.sunk / outer)
    skin = (found.skin - MELT) / PER_MELT
    of_weld = np.stack(
        [
            sunk[:, 0],
            sunk[:, 1],
            skin[:, 0],
            skin[:, 1],
            (found.hottest - MELT) / PER_MELT,
            np.log(found.heat / 1e3),
            np.log(found.cooling_t85),
            found.haz_diameter / MM / math.sqrt(stack.total_thickness / MM),
        ],
        axis=1,
    )
    of_interface = np.stack(
        [
            np.arcsinh(np.clip(sure, *WARMTH) / BREADTH),
            np.where(melted, size_of(found.nugget, root), np.nan),
            found.contact_radius / MM / (root / ROOT),
            depth[:, :, 0] / sheets[:-1],
            depth[:, :, 1] / sheets[1:],
            np.where(melted, found.centre, np.nan),
            np.where(melted, np.log(np.clip(found.load, *LOADS)), np.nan),
            np.where(opened, found.diameter_at_limit / MM / (root / ROOT), np.nan),
        ],
        axis=2,
    )
    repeated = np.repeat(of_weld[:, None], len(root), axis=1)
    return np.concatenate([of_interface, repeated], axis=2)


def figures_of(numbers: Array, stack: StackUp) -> Figures:
    """Figures of the welds whose numbers the nets gave.

    Parameters
    ----------
    numbers : Array
        (welds, interfaces, numbers) [-].
    stack : StackUp
        Whose welds they are.

    Returns
    -------
    Figures
        In SI units; what is of the whole weld is the mean of the views from its interfaces.
    """
    root = roots(stack)
    sheets = np.array([sheet.thickness for sheet in stack.sheets])
    nugget = diameter(numbers[:, :, SIZE_AT], numbers[:, :, WARMTH_AT], root)
    depth = np.clip(numbers[:, :, 3:5], 0.0, 1.0) * np.stack([sheets[:-1], sheets[1:]], axis=1)
    load = np.where(nugget > 0.0, np.exp(numbers[:, :, LOAD_AT]), 0.0)
    limit = numbers[:, :, LIMIT_AT] * MM * (root / ROOT)
    rest = numbers[:, :, len(OF_INTERFACE) :].mean(axis=1)
    outer = np.array([sheets[0], sheets[-1]])
    return Figures(
        nugget=nugget,
        contact_radius=np.maximum(numbers[:, :, 2], 0.0) * MM * (root / ROOT),
        penetration=np.where(nugget[:, :, None] > 0.0, depth, 0.0),
        centre=numbers[:, :, 5],
        load=load,
        diameter_at_limit=np.where(load >= OPENS_AT, np.maximum(limit, 0.0), 0.0),
        sunk=np.maximum(rest[:, :2], 0.0) ** 2 * outer,
        skin=MELT + PER_MELT * rest[:, 2:4],
        hottest=MELT + PER_MELT * rest[:, 4],
        heat=np.exp(rest[:, 5]) * 1e3,
        cooling_t85=np.exp(rest[:, 6]),
        haz_diameter=np.maximum(rest[:, 7], 0.0) * MM * math.sqrt(stack.total_thickness / MM),
    )


def expulsion_of(found: Figures, stack: StackUp, over: float = 1.0) -> Array:
    """Probability that the welds throw metal, by the solver's own laws.

    Parameters
    ----------
    found : Figures
        Of the welds.
    stack : StackUp
        The sheets.
    over : float
        Factor on the load of every ring [-].

    Returns
    -------
    Array
        Probability (welds,) [-].
    """
    outer = (stack.sheets[0], stack.sheets[-1])
    chances = []
    for load, skin, hottest in zip(found.load, found.skin, found.hottest, strict=True):
        parts = [interface_expulsion(float(one) * over) for one in load]
        for one, sheet in zip(skin, outer, strict=True):
            parts.append(surface_expulsion(float(one), curves(sheet.steel).liquidus))
        anywhere = 1.0 - math.prod(1.0 - part for part in parts)
        chances.append(max(anywhere, BOILED if hottest >= BOILING else 0.0))
    return np.array(chances)


def turned_numbers() -> NDArray[np.int64]:
    """Places of the numbers when the stack-up is looked at from side B.

    Returns
    -------
    ndarray
        (numbers,) [-].
    """
    order = list(NUMBERS)
    for one, other in (
        ("penetration_a", "penetration_b"),
        ("sunk_a", "sunk_b"),
        ("skin_a", "skin_b"),
    ):
        i, j = NUMBERS.index(one), NUMBERS.index(other)
        order[i], order[j] = order[j], order[i]
    return np.array([NUMBERS.index(name) for name in order])
