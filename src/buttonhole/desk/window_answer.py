"""A window of settings as one object with units in the key names, and as a drawing."""

import math
from collections.abc import Iterable
from typing import Any

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper import figure
from buttonhole.weld.spot.robust import ENOUGH, TIE, RobustSetUp
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
        "lower_limit_kA": or_null(found.lower_limit / 1e3),
        "upper_limit_kA": or_null(found.upper_limit / 1e3),
        "robust_current_kA": or_null(found.robust_current / 1e3),
    }


def robust_answer(found: RobustSetUp) -> dict[str, Any]:
    """Everything a robust set-up says, ready for JSON.

    Parameters
    ----------
    found : RobustSetUp
        The set-up with its chances.

    Returns
    -------
    dict
        Current in kA, times in ms, chances from 0 to 1; ``binding`` says what spoils most welds.
    """
    low, high = or_null((found.low / 1e3, found.high / 1e3))
    first = found.binding_interface
    return {
        "welding_current_kA": found.current / 1e3,
        "weld_time_ms": found.time * 1e3,
        "good_weld_probability": found.chance.value,
        "good_weld_interval": [found.chance.low, found.chance.high],
        "good_weld_by_machine_alone": found.known,
        "is_robust": found.is_robust,
        "least_good_weld_probability": ENOUGH,
        "too_small_probability": list(found.too_small),
        "expulsion_probability": found.splash,
        "binding": "expulsion" if first is None else f"interface {first + 1}",
        "least_weld_from_kA": low,
        "splash_from_kA": high,
        "spreads_to_least_weld": or_null([found.spreads_to_low])[0],
        "spreads_to_splash": found.spreads_to_high,
        "weld_times_compared": [
            {"weld_time_ms": time * 1e3, "good_weld_probability": chance}
            for time, chance in zip(found.times, found.chances, strict=True)
        ],
        "alike_within": TIE,
    }


def or_null(values: Iterable[float]) -> list[float | None]:
    """Return numbers for JSON; what is none (``values`` [SI]) becomes null."""
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
