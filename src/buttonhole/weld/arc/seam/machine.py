"""From what is set on the machine to what the seam's solver takes, and to a prediction."""

import math
from collections.abc import Sequence

from buttonhole.units import BadInput
from buttonhole.weld.arc.machine_map import ON_A_SEAM, OperatingPoint, operating_point
from buttonhole.weld.arc.melting import MeltingLaw
from buttonhole.weld.arc.nonferrous import braze_filler
from buttonhole.weld.arc.seam.constants import SEAM, SeamConstants
from buttonhole.weld.arc.seam.ensemble import MEMBERS
from buttonhole.weld.arc.seam.joint import SeamJoint
from buttonhole.weld.arc.seam.layout import DEFAULT, PREVIEW, Resolution
from buttonhole.weld.arc.seam.prediction import predict
from buttonhole.weld.arc.seam.result import SeamWeld
from buttonhole.weld.arc.seam.set_up import (
    ArcHeat,
    Hand,
    Run,
    SeamSetUp,
    Torch,
    continuous,
)
from buttonhole.weld.arc.set_up import ArcSetUp
from buttonhole.weld.arc.wire import BRONZE


def heat_of(point: OperatingPoint) -> ArcHeat:
    """Heat and metal of an operating point, as they reach an open seam."""
    split = point.heat_split(ON_A_SEAM.value)
    return ArcHeat(split.arc, split.droplets, point.fill_rate, point.current.value)


def speed_of(joint: SeamJoint, set_up: ArcSetUp) -> float:
    """Travel speed [m/s], from itself or from the arc time over the joint's length.

    Raises
    ------
    BadInput
        Neither is given.
    """
    if set_up.travel_speed is not None:
        return set_up.travel_speed
    if set_up.arc_time is not None:
        return joint.length / set_up.arc_time
    raise BadInput("travel_speed", "is not given; give it, or the arc_time the whole seam took")


def seam_set_up(
    joint: SeamJoint,
    set_up: ArcSetUp,
    runs: Sequence[Run] | None = None,
    hand: Hand | None = None,
    law: MeltingLaw | None = None,
) -> SeamSetUp:
    """Turn a machine's set-up into a seam's.

    Parameters
    ----------
    joint : SeamJoint
        What is welded.
    set_up : ArcSetUp
        What is set, and how the torch is held.
    runs : sequence of Run, optional
        Stitches or parts in their order; without them the joint is welded in one go.
    hand : Hand, optional
        How far this hand strays.
    law : MeltingLaw, optional
        This machine's own.

    Returns
    -------
    SeamSetUp
        With a filler of its own where a copper wire brazes.
    """
    point = operating_point(set_up, law)
    return SeamSetUp(
        heat=heat_of(point),
        torch=Torch(
            math.degrees(set_up.work_angle), math.degrees(set_up.travel_angle), set_up.aim_offset
        ),
        runs=tuple(runs) if runs else continuous(joint.length, speed_of(joint, set_up)),
        hand=hand or Hand(),
        filler=braze_filler(set_up.wire) if set_up.wire.metal in BRONZE else None,
    )


def predict_set_up(
    joint: SeamJoint,
    set_up: ArcSetUp,
    runs: Sequence[Run] | None = None,
    hand: Hand | None = None,
    law: MeltingLaw | None = None,
    resolution: Resolution = DEFAULT,
    constants: SeamConstants = SEAM,
    count: int = MEMBERS,
) -> SeamWeld:
    """Predict the seam that a machine's set-up makes; ``seam_set_up`` says what is what."""
    return predict(
        joint, seam_set_up(joint, set_up, runs, hand, law), resolution=resolution,
        constants=constants, count=count,
    )  # fmt: skip


def preview_set_up(
    joint: SeamJoint,
    set_up: ArcSetUp,
    runs: Sequence[Run] | None = None,
    law: MeltingLaw | None = None,
    count: int = 0,
) -> SeamWeld:
    """Predict a seam on coarse cells, for searches and comparisons of many.

    Parameters
    ----------
    joint : SeamJoint
        What is welded.
    set_up : ArcSetUp
        What is set, and how the torch is held.
    runs : sequence of Run, optional
        Stitches or parts in their order.
    law : MeltingLaw, optional
        This machine's own.
    count : int
        Other seams welded for probabilities and intervals; 0 takes 0.2 s of one core for 40 mm
        and leaves a probability at 0 or 1, every dozen takes another 0.4 s.

    Returns
    -------
    SeamWeld
        As from ``predict_set_up``. Differences between two previews are surer than their figures:
        zones are good to a few per cent, melted depths to a cell.
    """
    return predict_set_up(joint, set_up, runs, None, law, PREVIEW, count=count)
