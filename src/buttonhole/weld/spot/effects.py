"""What the condition of a weld does to the arrays of the march, and to what seals the melt in.

The laws are in ``pressing``, ``shunt`` and ``supply``; derived, no source.
"""

import math
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.heat.tables import MaterialTables
from buttonhole.weld.spot import fields as f
from buttonhole.weld.spot.condition import ROOM, SpotCondition
from buttonhole.weld.spot.pressing import PRESSED, face_radius, leaning, narrowed, ovality
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.shunt import FACTOR, path_resistance
from buttonhole.weld.spot.supply import supply_row

Array = NDArray[np.float64]


def pressed_radii(
    stack: StackUp, set_up: SpotSetUp, condition: SpotCondition
) -> tuple[float, float]:
    """Radii [m] that a full weld's caps press in the middle of the stack-up."""
    deep = PRESSED * stack.total_thickness / 2
    first, second = (face_radius(cap) + deep for cap in condition.worn_caps(set_up))
    return first, second


def overlap(stack: StackUp, set_up: SpotSetUp, condition: SpotCondition) -> float:
    """Factor [-] on the radius of the contacts that the two caps press together."""
    apart = condition.apart(set_up, stack.total_thickness)
    return narrowed(*pressed_radii(stack, set_up, condition), apart) if apart > 0.0 else 1.0


def marks_apart(sunk: Array, stack: StackUp, set_up: SpotSetUp, condition: SpotCondition) -> float:
    """How far apart the middles of the two marks lie once the caps have sunk.

    Parameters
    ----------
    sunk : Array
        Depth of caps A and B, (2,) [m].
    stack, set_up, condition
        What was welded, and in what.

    Returns
    -------
    float
        Distance [m].
    """
    apart = condition.misalignment
    if condition.tilt > 0.0:
        apart += stack.total_thickness * math.tan(condition.tilt)
        for cap, depth in zip(condition.worn_caps(set_up), sunk, strict=True):
            apart += leaning(cap, condition.tilt, float(depth))
    return apart


class Found(Protocol):
    """What a march found: radii and nuggets of the interfaces [m], depth of the caps [m]."""

    @property
    def contact_radius(self) -> Array:
        """Radii of what seals melt in, (interfaces,) [m]."""

    @property
    def nugget(self) -> Array:
        """Nugget diameters, (interfaces,) [m]."""

    @property
    def sunk(self) -> Array:
        """Depth of caps A and B, (2,) [m]."""


def sealing_radii(
    found: Found, stack: StackUp, set_up: SpotSetUp, condition: SpotCondition
) -> Array:
    """Radii of what is pressed hard enough to seal melt in, on the worst side.

    That is the short way across the lens. The nugget is as oval as the lens, so that it is short
    there too; what it lacks is added, so that the ring between the two is the one there is.

    Parameters
    ----------
    found : Found
        As if all were pressed alike.
    stack, set_up, condition
        What was welded, and in what.

    Returns
    -------
    Array
        (interfaces,) [m].
    """
    apart = marks_apart(found.sunk, stack, set_up, condition)
    if apart == 0.0:
        return found.contact_radius
    oval = nugget_shape(found.sunk, stack, set_up, condition)[1]
    whole = found.contact_radius / overlap(stack, set_up, condition)
    short = whole - apart / 2.0 + 0.5 * found.nugget * (1.0 - math.sqrt(oval))
    worst: Array = np.minimum(np.maximum(short, 0.0), found.contact_radius)
    return worst


def nugget_shape(
    sunk: Array, stack: StackUp, set_up: SpotSetUp, condition: SpotCondition
) -> tuple[float, float]:
    """How far the nugget lies beside either mark, and how oval it is.

    Parameters
    ----------
    sunk : Array
        Depth of caps A and B, (2,) [m].
    stack, set_up, condition
        What was welded, and in what.

    Returns
    -------
    tuple of float
        Distance [m], and short over long diameter [-].
    """
    apart = marks_apart(sunk, stack, set_up, condition)
    return apart / 2.0, ovality(*pressed_radii(stack, set_up, condition), apart)


def feed_row(
    stack: StackUp, set_up: SpotSetUp, tables: MaterialTables, condition: SpotCondition
) -> Array:
    """What feeds the weld and cools it.

    Parameters
    ----------
    stack, set_up
        What is welded; the caps as they press.
    tables : MaterialTables
        Copper first and last, the sheets between.
    condition : SpotCondition
        What the weld is made in.

    Returns
    -------
    Array
        (FEED,), columns as in ``fields.py`` [SI].
    """
    row, shunt = supply_row(condition.supply), condition.shunt
    water = condition.water_temperature
    row[f.OUTSIDE] = ROOM if water is None else water
    if shunt is not None:
        rho = tables.resistivity[[1, -2], 0]
        outer = (stack.sheets[0].thickness, stack.sheets[-1].thickness)
        contact = 0.5 * (face_radius(set_up.cap_a) + face_radius(set_up.cap_b))
        sheets = ((float(rho[0]), outer[0]), (float(rho[1]), outer[1]))
        row[f.PATH] = path_resistance(sheets, shunt, contact)
        row[f.FACTOR], row[f.NEAR], row[f.FAR] = FACTOR, contact, shunt.distance
    return row
