"""Ways for a load through one arc weld, one formula each; the weakest of them lets go first.

Every formula is exactly what it says, with no safety factor; ``strength`` puts them together and
says how far they are to be believed. They are guide values for making a procedure: no plug has been
pulled for this program, and the vehicle maker's figure goes before them.
"""

import math

from buttonhole.units import BadInput

YOUNG = 203e9  # Pa, steel, as the arc-spot code takes it (from memory)
SHEET_SHEAR = 0.6  # -, shear over tensile strength of sheet, derived (von Mises 0.577, rounded up)
# Sheet tear of the arc-spot code (AISI S100 E2.2, from memory)
THIN_LIMIT, THICK_LIMIT = 0.815, 1.397  # -, of sqrt(E / Fu) for d / t
THIN_FACTOR, THICK_FACTOR, BETWEEN, BETWEEN_SLOPE = 2.20, 1.40, 0.280, 5.59  # -


def _at_least_zero(**values: float) -> None:
    for name, value in values.items():
        if not (value >= 0.0 and math.isfinite(value)):  # also catches NaN
            raise BadInput(name, f"is {value:g}; give zero or more")


def fused_area_load(fused_diameter: float, strength: float) -> float:
    """Load at which a round fused area gives way as a whole.

    Parameters
    ----------
    fused_diameter : float
        At the faying interface [m]; 0 where nothing fused.
    strength : float
        Of the weld metal in the direction of the load: tensile when the sheets are pulled apart,
        shear when they are pulled past each other [Pa].

    Returns
    -------
    float
        Load [N].

    Raises
    ------
    BadInput
        A value is below zero.

    Sources
    -------
    derived (area times strength).

    Examples
    --------
    >>> round(fused_area_load(6e-3, 450e6))
    12723
    """
    _at_least_zero(fused_diameter=fused_diameter, strength=strength)
    return math.pi / 4.0 * fused_diameter**2 * strength


def ring_shear_load(diameter: float, height: float, tensile_strength: float) -> float:
    """Load that shears a wall of metal round a circle: pull-out, tear-out, a head's flange.

    Parameters
    ----------
    diameter : float
        Of the circle [m].
    height : float
        Of the wall that must shear [m].
    tensile_strength : float
        Of its metal [Pa].

    Returns
    -------
    float
        Load [N].

    Raises
    ------
    BadInput
        A value is below zero.

    Sources
    -------
    derived (surface of the wall times 0.6 of the tensile strength).

    Examples
    --------
    >>> round(ring_shear_load(6e-3, 1.5e-3, 300e6))
    5089
    """
    _at_least_zero(diameter=diameter, height=height, tensile_strength=tensile_strength)
    return math.pi * diameter * height * SHEET_SHEAR * tensile_strength


def cap_height_at(cap_diameter: float, cap_height: float, radius: float) -> float:
    """How thick a head still is over the edge of its hole.

    The head is taken as a piece of a sphere on a flat foot.

    Parameters
    ----------
    cap_diameter : float
        Of the foot [m].
    cap_height : float
        In the middle [m].
    radius : float
        Where it is asked [m].

    Returns
    -------
    float
        Thickness [m]; 0 outside the head.

    Raises
    ------
    BadInput
        A value is below zero.

    Sources
    -------
    derived (circle through the edge and the top).

    Examples
    --------
    >>> round(1e3 * cap_height_at(10e-3, 1.2e-3, 4e-3), 2)
    0.45
    """
    _at_least_zero(cap_diameter=cap_diameter, cap_height=cap_height, radius=radius)
    foot = cap_diameter / 2.0
    if radius >= foot or cap_height == 0.0:
        return 0.0
    sphere = (foot**2 + cap_height**2) / (2.0 * cap_height)
    # written so that a flat cap does not lose its digits
    drop = radius**2 / (sphere + math.sqrt(sphere**2 - radius**2))
    return max(cap_height - drop, 0.0)


def sheet_tear_load(diameter: float, thickness: float, tensile_strength: float) -> float:
    """Load along the sheet at which it tears beside a round weld.

    Parameters
    ----------
    diameter : float
        Mean diameter of the weld in the thickness of the sheet [m].
    thickness : float
        Of the sheet [m].
    tensile_strength : float
        Of the sheet [Pa].

    Returns
    -------
    float
        Nominal load [N]; no resistance factor is taken off.

    Raises
    ------
    BadInput
        A value is below zero, or thickness or strength is zero.

    Sources
    -------
    aisi-s100 (E2.2, from memory).

    Examples
    --------
    >>> round(sheet_tear_load(7.2e-3, 0.8e-3, 270e6))
    3421
    """
    _at_least_zero(diameter=diameter, thickness=thickness, tensile_strength=tensile_strength)
    if thickness == 0.0 or tensile_strength == 0.0:
        raise BadInput("thickness", "and tensile strength must be above zero")
    slender, root = diameter / thickness, math.sqrt(YOUNG / tensile_strength)
    if slender <= THIN_LIMIT * root:
        factor = THIN_FACTOR
    elif slender >= THICK_LIMIT * root:
        factor = THICK_FACTOR
    else:
        factor = BETWEEN * (1.0 + BETWEEN_SLOPE * root / slender)
    return factor * thickness * diameter * tensile_strength


def line_load(width: float, strength: float) -> float:
    """Load per length that a strip of metal carries.

    Parameters
    ----------
    width : float
        Of the strip across the seam: throat, fused width, thickness of a sheet [m].
    strength : float
        Of its metal in the direction of the load [Pa].

    Returns
    -------
    float
        Load per length [N/m].

    Raises
    ------
    BadInput
        A value is below zero.

    Sources
    -------
    derived (width times strength).
    """
    _at_least_zero(width=width, strength=strength)
    return width * strength
