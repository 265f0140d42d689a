"""What the nets of the emulator give, as numbers that run smoothly, and as figures of a weld.

A nugget begins steeply and is nothing at all below its onset. So a net is taught a number that
grows with the area of a small nugget and with the diameter of a large one, and that goes on below
zero by the heat that is missing. Scales are judged, no source.
"""

import math
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp

Array = NDArray[np.float64]

MM = 1e-3  # m
ROOT = math.sqrt(MM)  # sqrt(m); diameters are counted in millimetres per root of a millimetre
BEND = 2.0  # mm/sqrt(mm), below which the area of a nugget counts
MISSING = 9.0  # mm/sqrt(mm) for the whole way from room temperature to the melt
COLDEST = -3.0  # mm/sqrt(mm); colder is as cold
LEAST_CHANCE = 1e-3  # -, of expulsion; less is as little
PER_INTERFACE = ("nugget", "contact", "penetration_a", "penetration_b", "centre")
PER_WELD = ("sunk_a", "sunk_b", "expulsion", "heat", "cooling", "zone")


@dataclass(frozen=True, slots=True)
class Figures:
    """Figures of some welds of one stack-up, or of as many stack-ups as welds."""

    nugget: Array  # (welds, interfaces), m
    contact_radius: Array  # (welds, interfaces), m, of what is pressed hard enough to seal melt in
    penetration: Array  # (welds, interfaces, 2), m
    centre: Array  # (welds, interfaces), 1 where the axis melted, 0 where it stayed solid [-]
    sunk: Array  # (welds, 2), m, caps A and B
    expulsion: Array  # (welds,), probability [-]
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


def signed(nugget: Array, missing: Array, root: Array) -> Array:
    """The smooth number of a nugget.

    Parameters
    ----------
    nugget : Array
        Diameter [m].
    missing : Array
        Share of the way to the melt that is missing [-].
    root : Array
        Of the thickness [m^0.5].

    Returns
    -------
    Array
        [-].
    """
    size = nugget / MM / (root / ROOT)
    grown = np.sqrt(size**2 + BEND**2) - BEND
    found: Array = np.where(nugget > 0.0, grown, np.maximum(-MISSING * missing, COLDEST))
    return found


def diameter(number: Array, root: Array) -> Array:
    """Nugget diameter of a smooth number, the other way round.

    Parameters
    ----------
    number : Array
        As from ``signed`` [-].
    root : Array
        Of the thickness [m^0.5].

    Returns
    -------
    Array
        Diameter [m], nothing below zero.
    """
    size = np.sqrt((np.maximum(number, 0.0) + BEND) ** 2 - BEND**2)
    found: Array = size * MM * (root / ROOT)
    return found


def numbers_of(found: Figures, missing: Array, stack: StackUp) -> Array:
    """What the nets are taught of some welds.

    Parameters
    ----------
    found : Figures
        By the solver.
    missing : Array
        Share of the way to the melt that is missing, (welds, interfaces) [-].
    stack : StackUp
        Whose welds they are.

    Returns
    -------
    Array
        (welds, numbers), NaN where there is nothing to be learned [-].
    """
    root = roots(stack)
    sheets = np.array([sheet.thickness for sheet in stack.sheets])
    columns = []
    for i in range(len(root)):
        columns += [
            signed(found.nugget[:, i], missing[:, i], root[i]),
            found.contact_radius[:, i] / MM / (root[i] / ROOT),
        ]
        melted = found.nugget[:, i] > 0.0
        for side in (0, 1):
            depth = found.penetration[:, i, side] / sheets[i + side]
            columns.append(np.where(melted, depth, np.nan))
        columns.append(np.where(melted, found.centre[:, i], np.nan))
    outer = (sheets[0], sheets[-1])
    columns += [np.sqrt(found.sunk[:, side] / outer[side]) for side in (0, 1)]
    chance = np.clip(found.expulsion, LEAST_CHANCE, 1.0 - LEAST_CHANCE)
    height = stack.total_thickness
    columns += [
        np.log(chance / (1.0 - chance)),
        np.log(found.heat / 1e3),
        np.log(found.cooling_t85),
        found.haz_diameter / MM / math.sqrt(height / MM),
    ]
    return np.stack(columns, axis=1)


def figures_of(numbers: Array, stack: StackUp) -> Figures:
    """Figures of the welds whose numbers the nets gave.

    Parameters
    ----------
    numbers : Array
        (welds, numbers) [-].
    stack : StackUp
        Whose welds they are.

    Returns
    -------
    Figures
        In SI units.
    """
    root = roots(stack)
    count, width = len(root), len(PER_INTERFACE)
    sheets = np.array([sheet.thickness for sheet in stack.sheets])
    each = numbers[:, : count * width].reshape(len(numbers), count, width)
    rest = numbers[:, count * width :]
    nugget = diameter(each[:, :, 0], root)
    depth = np.clip(each[:, :, 2:4], 0.0, 1.0) * np.stack([sheets[:-1], sheets[1:]], axis=1)
    outer = np.array([sheets[0], sheets[-1]])
    return Figures(
        nugget=nugget,
        contact_radius=np.maximum(each[:, :, 1], 0.0) * MM * (root / ROOT),
        penetration=np.where(nugget[:, :, None] > 0.0, depth, 0.0),
        centre=each[:, :, 4],
        sunk=np.maximum(rest[:, :2], 0.0) ** 2 * outer,
        expulsion=np.array([chance_of(float(one)) for one in rest[:, 2]]),
        heat=np.exp(rest[:, 3]) * 1e3,
        cooling_t85=np.exp(rest[:, 4]),
        haz_diameter=np.maximum(rest[:, 5], 0.0) * MM * math.sqrt(stack.total_thickness / MM),
    )


def chance_of(number: float) -> float:
    """Probability of expulsion of its number.

    Parameters
    ----------
    number : float
        Logarithm of the odds [-].

    Returns
    -------
    float
        Probability [-]; the ends of what was taught stand for nothing and for certainty.
    """
    chance = 1.0 / (1.0 + math.exp(-min(max(number, -50.0), 50.0)))
    return min(max((chance - LEAST_CHANCE) / (1.0 - 2.0 * LEAST_CHANCE), 0.0), 1.0)


@cache
def turned_numbers(sheets: int) -> NDArray[np.int64]:
    """Places of the numbers when the stack-up is looked at from side B.

    Parameters
    ----------
    sheets : int
        In the stack-up.

    Returns
    -------
    ndarray
        (numbers,) [-].
    """
    count, width = sheets - 1, len(PER_INTERFACE)
    order: list[int] = []
    for one in reversed(range(count)):
        order += [one * width + place for place in (0, 1, 3, 2, 4)]
    first = count * width
    order += [first + 1, first, *range(first + 2, first + len(PER_WELD))]
    return np.array(order)
