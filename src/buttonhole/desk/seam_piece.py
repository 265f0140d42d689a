"""A short piece of a seam: what melts in its middle is that of the whole one, and sooner known.

What melts is steady after 12 to 15 mm; how it cools is not, and is not asked of a piece.
"""

import dataclasses

from buttonhole.weld.arc.seam.joint import JointKind, SeamJoint
from buttonhole.weld.arc.set_up import ArcSetUp

PIECE = 16e-3  # m


def piece_of(joint: SeamJoint, set_up: ArcSetUp) -> tuple[SeamJoint, ArcSetUp]:
    """A piece of a seam, welded as fast as the whole one.

    Parameters
    ----------
    joint : SeamJoint
        The whole one.
    set_up : ArcSetUp
        By travel speed, or by the arc time of the whole one.

    Returns
    -------
    tuple
        Joint and set-up, by travel speed.
    """
    from buttonhole.weld.arc.seam.machine import speed_of

    moved = dataclasses.replace(set_up, travel_speed=speed_of(joint, set_up), arc_time=None)
    return dataclasses.replace(joint, length=min(joint.length, PIECE)), moved


def thicknesses_of(joint: SeamJoint) -> tuple[float, ...]:
    """Thicknesses [m] in the order of a prediction's sheets; a sheet that stands for two counts."""
    if joint.kind is JointKind.LAP:
        return joint.lower.thickness, joint.upper.thickness
    right = joint.right or joint.upper
    return joint.lower.thickness, joint.upper.thickness, right.thickness
