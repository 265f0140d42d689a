"""How likely metal is thrown out of a spot weld."""

import math

RATIO = 0.80  # -, nugget over contact diameter at which the solid rim gives way every second time
RATIO_SPREAD = 0.035  # -
THINNEST_PRESSURE = 25e6  # Pa, mean pressure on the nugget below which the force no longer seals it
PRESSURE_SPREAD = 0.15  # -, of the logarithm


def interface_expulsion(nugget: float, contact: float, force: float) -> float:
    """Return the probability that an interface throws metal.

    The nugget is sealed by the ring of pressed solid around it and by the force on it. The numbers
    are judged from published schedules, which are sound up to a ratio of 0.72 and down to a pressure
    of 36 MPa; see the notes in the validation page.

    Parameters
    ----------
    nugget : float
        Nugget diameter [m].
    contact : float
        Diameter of the faying contact [m].
    force : float
        Electrode force [N].

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
    by_ring = 1.0 / (1.0 + math.exp(-(nugget / contact - RATIO) / RATIO_SPREAD))
    pressed = force / (math.pi * nugget**2 / 4)
    exponent = math.log(pressed / THINNEST_PRESSURE) / PRESSURE_SPREAD
    by_force = 1.0 / (1.0 + math.exp(min(exponent, 50.0)))
    return 1.0 - (1.0 - by_ring) * (1.0 - by_force)
