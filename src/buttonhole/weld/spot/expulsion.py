"""How likely metal is thrown out of a spot weld."""

import math

RING = 1.02  # -, width of the solid ring over mean sheet thickness at which it fails half the time
RING_SPREAD = 0.08  # -
THINNEST_PRESSURE = 20e6  # Pa, mean pressure on the nugget below which the force no longer seals it
PRESSURE_SPREAD = 0.15  # -, of the logarithm
BOILED = 0.95  # -, least probability where metal boils, sealed in or under a cap; judged, no source


def interface_expulsion(nugget: float, contact: float, force: float, thickness: float) -> float:
    """Return the probability that an interface throws metal.

    The nugget is sealed by the ring of pressed solid around it and by the force on it. The ring's
    strength goes with its width over the thickness of the sheets. The numbers are judged from
    published schedules, which are sound with rings of 1.2 thicknesses and more (short welds) or 1.0
    (long ones) and down to 31 MPa, and from one current sweep on unlike sheets.

    Parameters
    ----------
    nugget : float
        Nugget diameter [m].
    contact : float
        Diameter of the faying contact [m].
    force : float
        Electrode force [N].
    thickness : float
        Mean of the two sheets [m].

    Returns
    -------
    float
        Probability [-].

    Sources
    -------
    senkara-2004 (form of the force balance, from memory).
    """
    if nugget <= 0.0 or contact <= 0.0:
        return 0.0
    ring = 0.5 * (contact - nugget) / thickness
    by_ring = 1.0 / (1.0 + math.exp(min((ring - RING) / RING_SPREAD, 50.0)))
    pressed = force / (math.pi * nugget**2 / 4)
    exponent = math.log(pressed / THINNEST_PRESSURE) / PRESSURE_SPREAD
    by_force = 1.0 / (1.0 + math.exp(min(exponent, 50.0)))
    return 1.0 - (1.0 - by_ring) * (1.0 - by_force)
