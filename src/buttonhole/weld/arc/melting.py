"""How fast a current melts a wire, and what two displayed readings teach about one machine.

``feed = alpha I + beta L I^2``: what the arc melts at the end of the wire, and what the current
melts in the free length L between contact tube and arc.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np
from numpy.typing import NDArray

from buttonhole.sources import table
from buttonhole.units import BadInput
from buttonhole.weld.arc.wire import Wire, wire_area

LAW_SPREAD = 0.03  # -, of ln current, what the law itself is off within its range; judged
READING_SPREAD = 0.02  # -, of ln current, a displayed current and feed; judged, no source
ROUNDS = 20  # of the fit; it settles in four or five

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MeltingLaw:
    """Melting of one wire at one diameter.

    ``alpha`` [m/A/s], ``beta`` [1/A2/s]. ``covariance`` [-] of ln alpha and ln beta: variance,
    covariance, variance. ``readings`` counts the displayed readings learned from.
    """

    alpha: float
    beta: float
    covariance: tuple[float, float, float]
    readings: int = 0


@dataclass(frozen=True, slots=True)
class DisplayedReading:
    """What a machine displayed: ``wire_feed_speed`` [m/s], ``free_length`` [m], ``current`` [A]."""

    wire_feed_speed: float
    free_length: float
    current: float


@cache
def melting_law(wire: Wire, diameter: float) -> MeltingLaw:
    """Return the law of a wire before anything is known of the machine.

    Parameters
    ----------
    wire : Wire
        Any listed wire.
    diameter : float
        Of the wire [m].

    Returns
    -------
    MeltingLaw
        Scaled from the diameter of the table: alpha by 1/area, beta by 1/area squared.

    Sources
    -------
    lancaster-physics (steel, aluminium; from memory)
    own-arithmetic (bronze, derived)
    """
    (row,) = table("wire_melting").where("metal", wire.metal.value).rows()
    number = {key: cell for key, cell in row.items() if isinstance(cell, float)}
    ratio = wire_area(number["d_ref [mm]"] * 1e-3) / wire_area(diameter)
    return MeltingLaw(
        alpha=1e-3 * number["alpha [mm/A/s]"] * ratio,
        beta=number["beta [1/A2/s]"] * ratio**2,
        covariance=(number["alpha_spread [-]"] ** 2, 0.0, number["beta_spread [-]"] ** 2),
    )


def melting_current(feed: float, free_length: float, law: MeltingLaw) -> float:
    """Current that melts the wire as fast as it is fed.

    Parameters
    ----------
    feed : float
        Wire feed speed [m/s].
    free_length : float
        Contact tube to arc [m].
    law : MeltingLaw
        Of the wire.

    Returns
    -------
    float
        Current [A].

    Sources
    -------
    lancaster-physics (from memory)
    """
    root = math.sqrt(law.alpha**2 + 4.0 * law.beta * free_length * feed)
    return 2.0 * feed / (law.alpha + root)


def melting_feed(current: float, free_length: float, law: MeltingLaw) -> float:
    """Wire feed speed [m/s] that a current melts.

    Parameters
    ----------
    current : float
        Through the wire [A].
    free_length : float
        Contact tube to arc [m].
    law : MeltingLaw
        Of the wire.

    Sources
    -------
    lancaster-physics (from memory)
    """
    return law.alpha * current + law.beta * free_length * current**2


def _slopes(feed: float, free_length: float, law: MeltingLaw) -> tuple[float, float]:
    """Change of ln current with ln alpha and with ln (beta L) [-]."""
    share = law.alpha * melting_current(feed, free_length, law) / feed
    return -share / (2.0 - share), -(1.0 - share) / (2.0 - share)


def current_spread(feed: float, free_length: float, law: MeltingLaw) -> float:
    """Standard deviation [-] of ln current: constants not known, and the law itself.

    Parameters
    ----------
    feed : float
        Wire feed speed [m/s].
    free_length : float
        Contact tube to arc [m].
    law : MeltingLaw
        Of the wire.
    """
    a, b = _slopes(feed, free_length, law)
    var_a, both, var_b = law.covariance
    constants = a * a * var_a + 2.0 * a * b * both + b * b * var_b
    # once the machine has been read, the law only has to bridge between the readings
    left = LAW_SPREAD / math.sqrt(1.0 + law.readings)
    return math.sqrt(max(constants, 0.0) + left**2)


def length_slope(feed: float, free_length: float, law: MeltingLaw) -> float:
    """Relative change of current per metre of free length [1/m]; negative.

    Parameters
    ----------
    feed : float
        Wire feed speed [m/s].
    free_length : float
        Contact tube to arc [m].
    law : MeltingLaw
        Of the wire.
    """
    return _slopes(feed, free_length, law)[1] / free_length


def learn(law: MeltingLaw, readings: Sequence[DisplayedReading]) -> MeltingLaw:
    """Learn a machine's own law from currents it displayed.

    Two readings at the same feed and two distances, one short and one long, settle both constants;
    readings at one distance settle little but alpha. What is not settled stays as it was believed.

    Parameters
    ----------
    law : MeltingLaw
        As believed before.
    readings : sequence of DisplayedReading
        One or more.

    Returns
    -------
    MeltingLaw
        Most probable constants and what doubt is left.

    Raises
    ------
    BadInput
        A reading is no number above zero, or so far off that it is of another wire or a slip.

    Sources
    -------
    own-arithmetic (least squares with a prior)
    """
    known = law.beta > 0.0
    believed = np.array([law.covariance[0], law.covariance[2]])
    prior = np.array([[believed[0], law.covariance[1]], [law.covariance[1], believed[1]]])
    if not known:
        prior[1, :], prior[:, 1] = 0.0, 0.0
        prior[1, 1] = 1e-12  # nothing melts in the free length: nothing is learned of it
    precision = np.linalg.inv(prior)
    moved = np.zeros(2)
    posterior = np.asarray(precision)
    noise = math.hypot(READING_SPREAD, LAW_SPREAD / math.sqrt(2.0))
    for reading in readings:
        _check(reading, law)
    for _ in range(ROUNDS):
        now = _shifted(law, moved)
        rows = np.array([_slopes(r.wire_feed_speed, r.free_length, now) for r in readings])
        off = np.array([_off(reading, now) for reading in readings])
        posterior = precision + rows.T @ rows / noise**2
        step = np.linalg.solve(posterior, rows.T @ off / noise**2 - precision @ moved)
        moved = moved + step
        if float(np.abs(step).max()) < 1e-10:
            break
    left = np.linalg.inv(posterior)
    covariance = (float(left[0, 0]), float(left[0, 1]), float(left[1, 1]))
    learned = _shifted(law, moved)
    return replace(learned, covariance=covariance, readings=law.readings + len(readings))


def _shifted(law: MeltingLaw, by: Array) -> MeltingLaw:
    return replace(
        law, alpha=law.alpha * math.exp(float(by[0])), beta=law.beta * math.exp(float(by[1]))
    )


def _off(reading: DisplayedReading, law: MeltingLaw) -> float:
    said = melting_current(reading.wire_feed_speed, reading.free_length, law)
    return math.log(reading.current / said)


def _check(reading: DisplayedReading, law: MeltingLaw) -> None:
    for key in ("wire_feed_speed", "free_length", "current"):
        value = getattr(reading, key)
        if not (math.isfinite(value) and value > 0.0):
            raise BadInput(key, f"is {value:g}; a displayed reading must be above zero")
    if abs(_off(reading, law)) > math.log(2.0):
        said = melting_current(reading.wire_feed_speed, reading.free_length, law)
        raise BadInput(
            "current",
            f"{reading.current:.0f} A is far from the {said:.0f} A this wire takes at that feed; "
            "check wire diameter, feed and the unit of the feed",
        )
