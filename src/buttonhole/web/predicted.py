"""The weld of a set-up, worked out once: the same input gives the same figures."""

from functools import lru_cache
from typing import TYPE_CHECKING

from buttonhole.desk.spot_weld import predict_spot
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp

if TYPE_CHECKING:
    from buttonhole.weld.hardness.of_spot import SpotMetal


def predicted(
    stack: StackUp,
    set_up: SpotSetUp,
    points: tuple[Point, ...] = (),
    condition: SpotCondition = NORMAL,
) -> SpotWeld:
    """Predict a weld, or take the one that was predicted for the same input.

    ``points`` are where the thermal cycle is wanted besides the centres of the interfaces.
    """
    return predicted_metal(stack, set_up, points, condition)[0]


@lru_cache(maxsize=64)
def predicted_metal(
    stack: StackUp,
    set_up: SpotSetUp,
    points: tuple[Point, ...] = (),
    condition: SpotCondition = NORMAL,
) -> "tuple[SpotWeld, SpotMetal]":
    """The same with what the heat leaves of the steel."""
    return predict_spot(stack, set_up, points=points, condition=condition)
