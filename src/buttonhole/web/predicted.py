"""The weld of a set-up, worked out once: the same input gives the same figures."""

from functools import lru_cache

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp


@lru_cache(maxsize=64)
def predicted(
    stack: StackUp,
    set_up: SpotSetUp,
    points: tuple[Point, ...] = (),
    condition: SpotCondition = NORMAL,
) -> SpotWeld:
    """Predict a weld, or take the one that was predicted for the same input.

    ``points`` are where the thermal cycle is wanted besides the centres of the interfaces.
    """
    # the compiled kernels are slow to import, and most pages need none
    from buttonhole.weld import spot

    return spot.predict(stack, set_up, points=points, condition=condition)
