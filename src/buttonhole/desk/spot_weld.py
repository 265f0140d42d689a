"""Predict a spot weld with what its heat leaves of the steel, for screens, verbs and record."""

import dataclasses
from typing import TYPE_CHECKING

from buttonhole.desk.metal_answer import metal_warnings
from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.cycle import Point
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp

if TYPE_CHECKING:
    from buttonhole.weld.hardness.of_spot import SpotMetal


def predict_spot(
    stack: StackUp,
    set_up: SpotSetUp,
    *,
    points: tuple[Point, ...] = (),
    condition: SpotCondition = NORMAL,
) -> "tuple[SpotWeld, SpotMetal]":
    """Predict a spot weld and what its heat leaves of the steel.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    points : tuple of Point
        Where the thermal cycle is wanted, besides the centres of the interfaces.
    condition : SpotCondition
        What the weld is made in.

    Returns
    -------
    tuple of SpotWeld and SpotMetal
        The weld with its hardest place and its warnings as the metal has them.

    Raises
    ------
    BadInput
        The set-up can't be computed.
    """
    # the compiled kernels are slow to import, and most steps need none
    from buttonhole.weld import spot
    from buttonhole.weld.hardness.of_spot import spot_metal

    weld = spot.predict(stack, set_up, points=points, condition=condition)
    metal = spot_metal(weld, stack, set_up)
    said = metal_warnings([one.steel for one in stack.sheets], metal.soft, metal.zinc)
    whole = dataclasses.replace(
        weld,
        peak_hardness=metal.peak.hardness,
        warnings=tuple(dict.fromkeys((*weld.warnings, *said))),
    )
    return whole, metal
