"""Where the softened zone of a sheet lies and how wide it is, from the peaks of the field."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.hardness.softened import Softened

OWN_SPREAD = 0.15  # -, of a width, one standard deviation of the field itself; judged, no source


@dataclass(frozen=True, slots=True)
class SoftZone:
    """The softened zone of one sheet.

    ``at`` [m]: the softest place, from the axis of a spot or plug, from the joint of a seam;
    ``band`` [m]: from there out to where half of the loss is left.
    """

    softened: Softened
    at: Estimate | None  # m; None where nothing came to Ac1
    band: Estimate | None  # m; None where nothing softens or nobody knows


def strength_left(tensile_strength: float, zone: SoftZone | None) -> float:
    """Tensile strength where a sheet is softest.

    Parameters
    ----------
    tensile_strength : float
        Of the sheet as delivered [Pa].
    zone : SoftZone or None
        None where nothing softens.

    Returns
    -------
    float
        Less by the share of the hardness that is lost [Pa]; where that is not known, by half of
        the most it may be.

    Sources
    -------
    common practice, no source (strength goes with hardness)
    """
    if zone is None:
        return tensile_strength
    loss = zone.softened.loss
    lost = loss.value if zone.softened.known else 0.5 * loss.high
    return tensile_strength * (1.0 - lost)


def soft_zone(
    softened: Softened, ac1: Estimate, edge: Callable[[float], float], off: float
) -> SoftZone:
    """Place the softened zone of a sheet.

    Parameters
    ----------
    softened : Softened
        How soft it gets.
    ac1 : Estimate
        Where austenite begins at the heating rate of the weld [degC].
    edge : callable
        From a peak temperature [degC] to how far out the sheet came to it [m]; 0: nowhere.
    off : float
        How far a place of the field may be off, half a 90 % interval [m].

    Returns
    -------
    SoftZone
        Lengths [m] with 90 % intervals.
    """
    place = edge(ac1.value)
    if place <= 0.0:
        return SoftZone(softened, None, None)
    near, far = edge(ac1.high), edge(ac1.low)
    at = Estimate(
        place,
        max(0.0, place - math.hypot(place - near, off)),
        place + math.hypot(far - place, off),
    )
    level = softened.outer_level
    if math.isnan(level.value):
        return SoftZone(softened, at, None)
    band = max(edge(level.value) - place, 0.0)
    narrow = max(edge(level.high) - place, 0.0)
    wide = max(edge(level.low) - place, 0.0)
    own = Z90 * OWN_SPREAD * band
    reach = Estimate(
        band,
        max(0.0, band - math.hypot(band - narrow, own)),
        band + math.hypot(wide - band, own),
    )
    return SoftZone(softened, at, reach)
