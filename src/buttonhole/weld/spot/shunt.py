"""The way of the current through the last weld, and what it takes from this one.

Two sheets, joined at the last weld, are in series on that way: out in one, back in the other. In a
sheet of thickness ``t`` the potential of a current that enters at one disc and leaves at another
is that of two line sources; two discs of radii ``a`` and ``b`` whose centres are ``s`` apart are
equipotentials of such a pair, so that for a wide sheet, exactly::

    R = rho / (2 pi t) * acosh((s^2 - a^2 - b^2) / (2 a b)),

which far away is ``rho / (pi t) ln(s / a)`` for ``a = b``.

On a flange of width ``w`` with the welds on its middle line, images at every ``w`` to either side
turn ``ln z`` into ``ln sinh(pi z / w)``. Against the wide sheet that adds, in units of
``rho / (pi t)``, ``ln(sinh(y) / y)`` with ``y = pi s / w``; the images of a disc do not move the
mean of its own potential. A disc in the field ``E`` of the other shortens the way by ``(E a)^2``,
half of it for each: ``E`` is ``pi coth(y) / w`` in place of ``1 / s``, which the wide sheet's
formula holds already. Discs are small against the flange: the next term is of the fourth order,
and a long way has the resistance of the strip, ``rho s / (w t)``. The flange is taken as going on
beyond both welds. Sheets of unlike thickness or steel have their own ``rho / t``; sheets between
the outer ones carry no current aside here.

While this weld is made the way gets warm round it: the march adds that from its own temperatures.
The shunt current's own heat is left out. It is largest at the rim of the last weld; see
``own_warming`` for how much that may be.

``FACTOR`` is what a shop learns from a pair of coupons, one weld alone and one beside another: how
much longer the way is than the sheets alone make it (film at the last weld, contacts that spread
the current, how the flange ends). Until it has, 2 is taken, the low end of what is reported. At the
spacings that a published chart gives as needing no correction, 12.7 to 38 mm for sheets of 0.8 to
3.2 mm, the weld then gets 6 % less current on every row: the law's shape is right, and what the
chart takes for nothing is 4 to 11 % of the diameter.
"""

import math
from dataclasses import dataclass

from buttonhole.joint.material import MaterialCurves
from buttonhole.units import BadInput

FACTOR = 2.0  # -, on the resistance of the way; learned by each shop; 2 to 4 from memory
FLANGE_WIDTH = 20e-3  # m, common practice
LAST_WELD = 5.0  # -, of the root of the thinner outer sheet in mm, its diameter when not given
NEAREST = 1.05  # -, of the radii: closer the two contacts are one


@dataclass(frozen=True, slots=True)
class Shunt:
    """The last weld: ``distance`` [m] between centres, ``diameter`` [m], ``flange_width`` [m].

    A diameter left out is five times the root of the thinner outer sheet; the width is infinite on
    a wide panel.

    Raises
    ------
    BadInput
        A distance, diameter or width that can't be.
    """

    distance: float
    diameter: float | None = None
    flange_width: float = FLANGE_WIDTH

    def __post_init__(self) -> None:
        if not 5e-3 <= self.distance <= 1.0:  # also catches NaN
            raise BadInput(
                "shunt_distance",
                f"is {1e3 * self.distance:g} mm; give 5 to 1000 mm from centre to centre, or leave "
                "it out when no weld is near",
            )
        if self.diameter is not None and not 1e-3 <= self.diameter <= 20e-3:
            raise BadInput(
                "shunt_diameter", f"is {1e3 * self.diameter:g} mm; give the last weld's 1 to 20 mm"
            )
        if not self.flange_width >= 8e-3:
            raise BadInput("flange_width", f"is {1e3 * self.flange_width:g} mm; give 8 mm or more")


def sheet_resistance(
    rho: float, thickness: float, distance: float, a: float, b: float, width: float = math.inf
) -> float:
    """Resistance of one sheet between two discs.

    Parameters
    ----------
    rho : float
        Resistivity [ohm m].
    thickness : float
        Of the sheet [m].
    distance : float
        Between the centres of the discs [m].
    a, b : float
        Radii of the discs [m].
    width : float
        Of the flange [m]; infinite for a wide sheet.

    Returns
    -------
    float
        Resistance [ohm]; 0 for discs that touch.

    Sources
    -------
    derived, no source: potential of two line sources and its images, see the module.
    """
    if distance <= NEAREST * (a + b):
        distance = NEAREST * (a + b)
    wide = 0.5 * math.acosh((distance**2 - a * a - b * b) / (2.0 * a * b))
    y = math.pi * distance / width
    if y < 1e-4:
        return rho * wide / (math.pi * thickness)
    field = (math.pi / (width * math.tanh(y))) ** 2 - 1.0 / distance**2
    shorter = 0.5 * field * (a * a + b * b)
    return rho / (math.pi * thickness) * (wide + _log_ratio(y) - shorter)


def _log_ratio(y: float) -> float:
    """Logarithm of sinh(y)/y [-]."""
    return y + math.log1p(-math.exp(-2.0 * y)) - math.log(2.0 * y)


def path_resistance(
    sheets: tuple[tuple[float, float], tuple[float, float]],
    shunt: Shunt,
    contact_radius: float,
    factor: float = FACTOR,
) -> float:
    """Resistance of the way through the last weld with everything at room temperature.

    Parameters
    ----------
    sheets : tuple
        Resistivity [ohm m] and thickness [m] of the outer sheets on side A and B.
    shunt : Shunt
        The last weld, with its diameter.
    contact_radius : float
        Radius of this weld's contact [m].
    factor : float
        What the shop has learned [-].

    Returns
    -------
    float
        Resistance [ohm].
    """
    thinner = min(thickness for _, thickness in sheets)
    last = 0.5 * (shunt.diameter or last_weld_diameter(thinner))
    return factor * math.fsum(
        sheet_resistance(rho, thickness, shunt.distance, contact_radius, last, shunt.flange_width)
        for rho, thickness in sheets
    )


def last_weld_diameter(thickness: float) -> float:
    """Diameter taken for a last weld of which nothing is known.

    Parameters
    ----------
    thickness : float
        Of the thinner outer sheet [m].

    Returns
    -------
    float
        Diameter [m].

    Sources
    -------
    common-practice.
    """
    return LAST_WELD * math.sqrt(1e3 * thickness) * 1e-3


def own_warming(
    current: float, time: float, thickness: float, radius: float, curves: MaterialCurves
) -> float:
    """How much the shunt current warms the sheet at the rim of the last weld, with no heat lost.

    Parameters
    ----------
    current : float
        Through the last weld, rms [A].
    time : float
        For so long [s].
    thickness : float
        Of the sheet [m].
    radius : float
        Of the last weld [m].
    curves : MaterialCurves
        The sheet's properties.

    Returns
    -------
    float
        Rise [K], an upper bound: it falls with the square of the distance from the rim.

    Sources
    -------
    derived, no source: Joule's heat with cold properties, nothing conducted away.
    """
    density = current / (2.0 * math.pi * radius * thickness)
    stored = float(curves.heat_capacity[0]) * curves.density
    return density * density * float(curves.resistivity[0]) * time / stored
