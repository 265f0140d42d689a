"""A lobe as one object with units in the key names, and as a drawing."""

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.rules import listed_rules
from buttonhole.desk.window_answer import least_diameters, or_null, robust_answer, window_answer
from buttonhole.joint.stack_up import StackUp
from buttonhole.paper import figure
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.lobe import (
    DENT,
    ForceLevel,
    LimitCurve,
    LimitKind,
    Lobe,
    lobe,
)
from buttonhole.weld.spot.robust import scatter_for
from buttonhole.weld.spot.set_up import SpotSetUp

MAKER = "The vehicle maker's procedure goes before this lobe. It releases nothing."


def find_lobe(
    stack: StackUp,
    set_up: SpotSetUp,
    criterion: Criterion,
    forces: tuple[float, ...],
    spreads: tuple[float, float],
    *,
    currents: list[float] | None = None,
    times: list[float] | None = None,
    dent: float = DENT,
    progress: Callable[[int, int], None] | None = None,
    condition: SpotCondition = NORMAL,
) -> Lobe:
    """Map current and weld time with the rule in use and those shown beside it.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        All that is not varied.
    criterion : Criterion
        The rule of the lower limit.
    forces : tuple of float
        The set one [N] first.
    spreads : tuple of float
        Standard deviations of the machine's current and force from weld to weld [-].
    currents, times : list of float, optional
        To look at [A], [s]; else around the set ones.
    dent : float
        Deepest indentation over the thickness of the outer sheet [-].
    progress : callable, optional
        Called with (done, of); an exception it raises stops the work.
    condition : SpotCondition
        What the welds are made in.

    Returns
    -------
    Lobe
        With the robust set-up at each force.
    """
    rules = {one.key: least_diameters(stack, one) for one in (criterion, *listed_rules())}
    return lobe(
        stack, set_up, rules, criterion.key, forces,
        currents=currents, times=times, dent=dent, scatter=scatter_for(stack, *spreads),
        progress=progress, condition=condition,
    )  # fmt: skip


def lobe_answer(found: Lobe, criterion: Criterion, force_words: str) -> dict[str, Any]:
    """Everything a lobe says, ready for JSON; what is not reached is null.

    Parameters
    ----------
    found : Lobe
        The lobe.
    criterion : Criterion
        The rule of its lower limit.
    force_words : str
        Why the second force is what it is.

    Returns
    -------
    dict
        Forces in kN, currents in kA, times in ms; limits with what they keep from happening.
    """
    return {
        "minimum_rule": found.rule,
        "minimum_name": criterion.name,
        "minimum_source": criterion.source,
        "indentation_limit": found.dent,
        "second_force": force_words,
        "prevails": MAKER,
        "forces": [_level(level, criterion) for level in found.levels],
    }


def _level(level: ForceLevel, criterion: Criterion) -> dict[str, Any]:
    best = level.widest
    return {
        "electrode_force_kN": level.force / 1e3,
        "window": window_answer(level.window, criterion),
        "limits": [_limit(one) for one in level.limits],
        "usable_from_kA": or_null(level.low / 1e3),
        "usable_to_kA": or_null(level.high / 1e3),
        "width_kA": (level.widths / 1e3).tolist(),
        "widest_at_ms": None
        if level.widths[best] == 0.0
        else float(level.window.times[best]) * 1e3,
        "area_kA_ms": level.area,  # 1 A s is 1 kA ms
        "robust": None if level.robust is None else robust_answer(level.robust),
    }


def _limit(one: LimitCurve) -> dict[str, Any]:
    level = {LimitKind.LEAST_WELD: "diameter_mm"}.get(one.kind, "share")
    value = one.level * 1e3 if one.kind is LimitKind.LEAST_WELD else one.level
    return {
        "kind": one.kind.value,
        "place": _place(one),
        "rule": one.rule or None,
        level: value,
        "from_kA": or_null(one.currents / 1e3),
        "binds": list(one.binds),
    }


def _place(one: LimitCurve) -> str:
    if one.place < 0:
        return "anywhere"
    if one.kind is LimitKind.INDENTATION:
        return f"side {'AB'[one.place]}"
    return f"interface {one.place + 1}"


def lobe_drawing(found: Lobe, criterion: Criterion, setting: str = "") -> str:
    """Draw a lobe, a panel for each force.

    Parameters
    ----------
    found : Lobe
        The lobe.
    criterion : Criterion
        The rule of its lower limit.
    setting : str
        What else is held, in words.

    Returns
    -------
    str
        SVG text.
    """
    first = found.levels[0].window
    ends = (float(first.currents[0]), float(first.currents[-1]))
    return figure.lobe(
        figure.DrawnLobe(
            times=tuple(first.times.tolist()),
            currents=ends,
            forces=tuple(_drawn(level, found.rule, criterion.name) for level in found.levels),
            setting=setting or f"{criterion.name}",
        )
    )


def _drawn(level: ForceLevel, rule: str, name: str) -> figure.DrawnForce:
    drawn: list[figure.DrawnBoundary] = []
    for one in level.limits:
        sort, words = _sort(one, rule, name)
        if sort and not all(math.isnan(current) for current in one.currents):
            currents = tuple(one.currents.tolist())
            twin = next((each for each in drawn if _alike(each.currents, currents)), None)
            if twin is None:
                drawn.append(figure.DrawnBoundary(sort, words, currents))
            elif twin.sort == sort:  # equal sheets and caps: one line for both sides
                drawn[drawn.index(twin)] = replace(twin, name=f"{twin.name}, {words}")
    best, words, point = level.robust, "no usable current", None
    if level.widths.max() > 0.0:
        words = f"widest {level.widths.max() / 1e3:.1f} kA"
        words += f" at {float(level.window.times[level.widest]) * 1e3:.0f} ms"
    if best is not None and best.is_robust:
        point = (best.time, best.current)
    elif best is not None:
        words += "; NO ROBUST WINDOW"
    return figure.DrawnForce(
        level.force, tuple(level.low.tolist()), tuple(level.high.tolist()), tuple(drawn),
        point, words,
    )  # fmt: skip


def _alike(one: tuple[float, ...], other: tuple[float, ...]) -> bool:
    return bool(np.allclose(one, other, rtol=1e-6, equal_nan=True))


def _sort(one: LimitCurve, rule: str, name: str) -> tuple[str, str]:
    """Which line a limit is drawn with and what stands at its end; nothing: not drawn.

    Of the other rules and of expulsion at a single interface the figures stand in the answer; more
    lines would only cross each other. An indentation is drawn where it ends the usable currents.
    """
    if one.kind is LimitKind.LEAST_WELD:
        if one.rule != rule:
            return "", ""
        return "least weld", f"{one.place + 1}-{one.place + 2}: {one.level * 1e3:.2f} mm"
    if one.kind is LimitKind.EXPULSION:
        return ("splash", "splash") if one.place < 0 else ("", "")
    return ("dent", f"dent {'AB'[one.place]}") if any(one.binds) else ("", "")
