"""Spot or arc: a coupon is compared with its joint by what both were made with."""

from buttonhole.coupon.arc.difference import arc_differences
from buttonhole.coupon.arc.piece import ArcPiece, ArcSettings
from buttonhole.coupon.difference import Difference, ReadBack, Surroundings, differences
from buttonhole.joint.stack_up import StackUp
from buttonhole.units import BadInput
from buttonhole.weld.estimate import Estimate
from buttonhole.weld.spot.set_up import SpotSetUp

Joined = ArcPiece | StackUp  # in this order: a record of sheets alone is of a spot
SetUp = SpotSetUp | ArcSettings
Made = tuple[Joined, SetUp, Surroundings]


def compare(
    joint: Made,
    coupon: Made,
    read_back: ReadBack | None = None,
    *,
    expected_current: Estimate | None = None,
) -> tuple[Difference, ...]:
    """
    Compare a coupon with the joint it stands for.

    Parameters
    ----------
    joint, coupon : tuple of Joined, SetUp, Surroundings
        What is to be welded, and what was.
    read_back : ReadBack, optional
        What the machine showed.
    expected_current : Estimate, optional
        Of an arc, what feed and distance should give [A].

    Returns
    -------
    tuple of Difference
        Red ones first.

    Raises
    ------
    BadInput
        One is welded by spots, the other by an arc.
    """
    stack, set_up, there = joint
    other, other_set_up, here = coupon
    if (
        isinstance(stack, ArcPiece)
        and isinstance(other, ArcPiece)
        and isinstance(set_up, ArcSettings)
        and isinstance(other_set_up, ArcSettings)
    ):
        return arc_differences(
            (stack, set_up, there),
            (other, other_set_up, here),
            read_back,
            expected_current=expected_current,
        )
    if (
        isinstance(stack, StackUp)
        and isinstance(other, StackUp)
        and isinstance(set_up, SpotSetUp)
        and isinstance(other_set_up, SpotSetUp)
    ):
        return differences((stack, set_up, there), (other, other_set_up, here), read_back)
    raise BadInput("coupon", "is of another process than the joint; weld one of the same")
