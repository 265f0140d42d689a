"""Coupons as a machine would give them, drawn by lot: for trying what a coupon would teach.

Derived from the model; the gauge's uncertainties are those of ``coupon.reading``.
"""

import math
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from buttonhole.coupon.reading import CALLIPER_BUTTON, CALLIPER_FACE, READER
from buttonhole.learning.evidence import (
    BACK_UNCERTAINTY,
    SHOWN,
    Evidence,
    Kind,
    back_evidence,
    shown_evidence,
)
from buttonhole.learning.model import Model, Setting, parts_between

Array = NDArray[np.float64]


def drawn_coupon(
    model: Model,
    guess: Array,
    setting: Setting,
    chance: np.random.Generator,
    *,
    scatter_factor: float = 1.0,
    splash: float = 0.0,
    off: Mapping[str, float] | None = None,
) -> tuple[Evidence, ...]:
    """Weld and tear one coupon of a machine that is known exactly.

    Parameters
    ----------
    model : Model
        Unknowns and joints.
    guess : Array
        (unknowns,), what the machine is [-].
    setting : Setting
        What is set.
    chance : numpy.random.Generator
        Where the scatter comes from.
    scatter_factor : float
        The true scatter over the guess's [-].
    splash : float
        Added to the splash score [-].
    off : mapping of str to float, optional
        What else shows is read too; by name, how far the prediction is off [m].

    Returns
    -------
    tuple of Evidence
        What is read, as if by a calliper.
    """
    from scipy.special import ndtr  # slow to load

    z = guess[None, :]
    found, seen = model.figures(z, setting), list[Evidence]()
    scatter = float(model.scatter(z)[0]) * scatter_factor
    if chance.random() < float(ndtr(found.spoil[0] + splash)):
        return (Evidence(Kind.EXPULSION),)
    own, others = setting.joint.surrogate, setting.joint.surrogate.others
    if "back" in others:
        back = float(found.others[0, others.index("back")])
        wide = math.hypot(BACK_UNCERTAINTY, float(own.error[own.place("back")]))
        seen.append(back_evidence(_mark(back + wide * chance.standard_normal())))
    if off is not None:
        seen += _shown(dict(zip(others, found.others[0].tolist(), strict=True)), off, chance)
    for face, (size, melts) in enumerate(zip(found.size[0], found.melts[0], strict=True)):
        scale = setting.joint.scale(face)
        wide = math.hypot(scale * scatter, float(own.error[face]))
        true = float(size) + wide * float(chance.standard_normal())
        if chance.random() > float(melts) or true < scale * model.beliefs.least_button:
            seen.append(Evidence(Kind.NO_BUTTON, face))
            continue
        parted = chance.random() < float(parts_between(true, setting.joint.thinner[face]))
        u = math.hypot(CALLIPER_FACE if parted else CALLIPER_BUTTON, READER)
        read = true + u * float(chance.standard_normal())
        seen.append(Evidence(Kind.MEASURED, face, max(read, 0.1e-3), uncertainty=u))
    return tuple(seen)


def _shown(
    said: Mapping[str, float], off: Mapping[str, float], chance: np.random.Generator
) -> list[Evidence]:
    """What else shows, read with its gauge."""
    seen = []
    for name in said:
        if name in SHOWN:
            wide = math.hypot(SHOWN[name].scatter, SHOWN[name].read)
            read = said[name] + off.get(name, 0.0) + wide * float(chance.standard_normal())
            seen.append(shown_evidence(name, read))
    return seen


def _mark(back: float) -> str:
    """What shows on a back that came to so many degC; drips are told by what falls, not here."""
    return next(word for word, over in _MARKS if back >= over)


# Lower ends [degC], hottest first; as in ``evidence``.
_MARKS = (("bump", 1500.0), ("clear", 907.0), ("faint", 300.0), ("none", -math.inf))
