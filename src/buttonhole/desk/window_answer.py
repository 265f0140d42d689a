"""A window of settings as one object with units in the key names, and as a drawing."""

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper import figure
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.window import EXPULSION_LIMIT, WeldWindow


def least_diameters(stack: StackUp, criterion: Criterion) -> tuple[float, ...]:
    """The diameter a rule asks for at each faying interface.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    criterion : Criterion
        The rule.

    Returns
    -------
    tuple of float
        From side A [m].
    """
    return tuple(required_diameter(criterion, stack, one).diameter for one in stack.interfaces)


def window_answer(found: WeldWindow, criterion: Criterion) -> dict[str, Any]:
    """Everything a window says, ready for JSON; what is not reached is null.

    Parameters
    ----------
    found : WeldWindow
        The window.
    criterion : Criterion
        The rule of its lower limit.

    Returns
    -------
    dict
        Currents in kA, times in ms, diameters in mm; nugget by interface, time and current.
    """
    return {
        "currents_kA": (found.currents / 1e3).tolist(),
        "times_ms": (found.times * 1e3).tolist(),
        "nugget_diameter_mm": (found.nugget * 1e3).tolist(),
        "expulsion_probability": found.expulsion.tolist(),
        "minimum_diameter_mm": [one * 1e3 for one in found.minimum_diameters],
        "minimum_rule": criterion.key,
        "expulsion_limit": EXPULSION_LIMIT,
        "lower_limit_kA": _or_null(found.lower_limit / 1e3),
        "upper_limit_kA": _or_null(found.upper_limit / 1e3),
        "robust_current_kA": _or_null(found.robust_current / 1e3),
    }


def _or_null(values: Iterable[float]) -> list[float | None]:
    return [None if math.isnan(one) else float(one) for one in values]


def window_drawing(
    found: WeldWindow, set_up: SpotSetUp, criterion: Criterion, time: int = 0
) -> str:
    """Draw nugget against current at one of the times.

    Parameters
    ----------
    found : WeldWindow
        The window.
    set_up : SpotSetUp
        What was held.
    criterion : Criterion
        The rule of its lower limit.
    time : int
        Which of the times [-].

    Returns
    -------
    str
        SVG text.
    """
    low, high = (float(one[time]) for one in (found.lower_limit, found.upper_limit))
    robust = float(found.robust_current[time])
    top = float(found.currents[-1]) if math.isnan(high) else high
    curves = tuple(
        figure.DrawnCurve(
            diameters=tuple(float(one) for one in row[time]),
            limits=(figure.DrawnLimit(least, criterion.name),),
        )
        for row, least in zip(found.nugget, found.minimum_diameters, strict=True)
    )
    force = set_up.electrode_force / 1e3
    drawn = figure.DrawnWindow(
        currents=tuple(float(one) for one in found.currents),
        curves=curves,
        usable=None if math.isnan(low) or low >= top else (low, top),
        expulsion_current=None if math.isnan(high) else high,
        chosen_current=None if math.isnan(robust) else robust,
        chosen_diameters=()
        if math.isnan(robust)
        else tuple(float(np.interp(robust, found.currents, row[time])) for row in found.nugget),
        setting=f"{found.times[time] * 1e3:.4g} ms, {force:.3g} kN",
    )
    return figure.window(drawn)
