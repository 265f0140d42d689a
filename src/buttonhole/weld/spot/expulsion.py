"""How likely metal is thrown out of a spot weld, and what is left of it then."""

import math

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.fields import OPENS_AT
from buttonhole.weld.spot.simulation import Simulation

SPREAD = 0.15  # -, of its logarithm; judged, no source
# Of the face over the liquidus when every second weld spits: some sound schedules come near it.
FACE_MARGIN, FACE_SPREAD = 50.0, 40.0  # K; judged, no source
BOILED = 0.95  # -, least probability where metal boils, sealed in or under a cap; judged, no source
# Buttons of one published current sweep fell from 5.22 to 4.81 and 4.50 mm once metal flew.
LEFT, LEFT_LEAST, LEFT_MOST = 0.89, 0.80, 1.0  # -, of the diameter when the ring opened


def _normal(x: float) -> float:
    return 0.5 * math.erfc(-x / math.sqrt(2.0))


def interface_expulsion(load: float) -> float:
    """Return the probability that an interface throws metal.

    Parameters
    ----------
    load : float
        Most that pressed the ring round the nugget open, over what held it [-].

    Returns
    -------
    float
        Probability [-].

    Sources
    -------
    senkara-2004 (form of the force balance, from memory); iso-14373 (upper currents).
    """
    return _normal(math.log(load / OPENS_AT) / SPREAD) if load > 0.0 else 0.0


def surface_expulsion(skin: float, liquidus: float) -> float:
    """Return the probability that metal flies out under a cap.

    Parameters
    ----------
    skin : float
        Hottest place of the sheet's face under the cap [degC].
    liquidus : float
        Of that sheet [degC].

    Returns
    -------
    float
        Probability [-].

    Sources
    -------
    common-practice (a sheet molten through to its face spits and sticks).
    """
    return _normal((skin - liquidus - FACE_MARGIN) / FACE_SPREAD)


def after_expulsion(nugget: float, at_limit: float) -> Estimate:
    """Return the diameter that is left once metal has been thrown out.

    Parameters
    ----------
    nugget : float
        Diameter had all stayed in [m].
    at_limit : float
        Diameter when the ring opened [m], 0 when it is not predicted to.

    Returns
    -------
    Estimate
        Diameter [m].

    Sources
    -------
    dp1180-if-report (table sweep_dp1180_if).
    """
    whole = min(nugget, at_limit) if at_limit > 0.0 else nugget
    return Estimate(LEFT * whole, LEFT_LEAST * whole, LEFT_MOST * whole)


def splash(weld: Simulation, stack: StackUp, over: float = 1.0) -> float:
    """Return the probability that a weld throws metal anywhere.

    Parameters
    ----------
    weld : Simulation
        One march.
    stack : StackUp
        What was welded.
    over : float
        Factor on the load of every ring [-].

    Returns
    -------
    float
        Probability [-].
    """
    safe = 1.0
    for load in weld.load:
        safe *= 1.0 - interface_expulsion(float(load) * over)
    for skin, sheet in zip(weld.skin, (stack.sheets[0], stack.sheets[-1]), strict=True):
        safe *= 1.0 - surface_expulsion(float(skin), curves(sheet.steel).liquidus)
    return max(1.0 - safe, BOILED if weld.boils else 0.0)
