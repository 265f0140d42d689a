"""Figures of an answer: the unit in the key, the interval beside the value."""

from typing import Any

from buttonhole.weld.estimate import Estimate


def figure_answer(
    name: str, unit: str, estimate: Estimate, factor: float = 1.0, interval: str | None = None
) -> dict[str, Any]:
    """One figure with its unit in the key, and its interval beside it.

    Parameters
    ----------
    name, unit : str
        Words of the key.
    estimate : Estimate
        The figure [SI].
    factor : float
        From SI to the unit [-].
    interval : str, optional
        First word of the interval's key, where it is not the name.

    Returns
    -------
    dict
        Two keys.
    """
    return {
        f"{name}_{unit}": estimate.value * factor,
        f"{interval or name}_interval_{unit}": interval_answer(estimate, factor),
    }


def maybe_answer(
    name: str, unit: str, estimate: Estimate | None, factor: float = 1.0
) -> dict[str, Any]:
    """A figure that does not come to pass in every weld: both keys are there, without values.

    Parameters
    ----------
    name, unit : str
        Words of the key.
    estimate : Estimate or None
        The figure [SI]; None where it did not come to pass.
    factor : float
        From SI to the unit [-].

    Returns
    -------
    dict
        Two keys.
    """
    if estimate is None:
        return {f"{name}_{unit}": None, f"{name}_interval_{unit}": None}
    return figure_answer(name, unit, estimate, factor)


def interval_answer(estimate: Estimate, factor: float = 1.0) -> list[float]:
    """Low and high end of a figure.

    Parameters
    ----------
    estimate : Estimate
        The figure [SI].
    factor : float
        From SI to the unit [-].

    Returns
    -------
    list of float
        Low, high [SI].
    """
    return [estimate.low * factor, estimate.high * factor]
