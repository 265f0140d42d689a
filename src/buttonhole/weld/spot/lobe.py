"""The lobe: every limit of a weld as a curve over the weld time, at two levels of force or more."""

import dataclasses
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

import numpy as np

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.spot.chance import Array, Scatter
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.robust import RobustSetUp, part_of, robust
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import DEFAULT, Resolution
from buttonhole.weld.spot.window import EXPULSION_LIMIT, WeldWindow, crossing, window

CURRENTS, TIMES = 15, 9
CURRENT_REACH, TIME_REACH = (0.55, 1.6), (0.4, 1.6)  # -, of the set ones
DENT = 0.25  # -, of the outer sheet's thickness; common practice, no source, and the user's to set


class LimitKind(StrEnum):
    """What a limit keeps from happening."""

    LEAST_WELD = "least weld"
    EXPULSION = "expulsion"
    INDENTATION = "indentation"


@dataclass(frozen=True, slots=True)
class LimitCurve:
    """The current at which one thing begins, against weld time.

    ``place``: the interface from side A, for the indentation 0 for side A and 1 for side B, -1 for
    the weld as a whole. ``rule``: key of the rule of a least weld. ``level``: diameter [m],
    probability or share of the sheet [-]. ``binds``: at which weld times it is the one that ends
    the usable currents.
    """

    kind: LimitKind
    place: int
    rule: str
    level: float  # SI
    currents: Array  # (times,), A; NaN: not on the map
    binds: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class ForceLevel:
    """The lobe at one electrode force.

    ``low`` and ``high`` [A] bound the usable currents at each weld time, NaN where there are none.
    ``area`` [A s]: of the usable currents over the weld times looked at. ``robust``: None where it
    was not asked for.
    """

    force: float  # N
    window: WeldWindow
    limits: tuple[LimitCurve, ...]
    low: Array  # (times,), A
    high: Array  # (times,), A
    area: float  # A s
    robust: RobustSetUp | None = None

    @property
    def usable(self) -> list[tuple[float, float]] | None:
        """Ends of the usable currents at each weld time [A]; None where there are none at all."""
        if np.isnan(self.low).all():
            return None
        return list(zip(self.low.tolist(), self.high.tolist(), strict=True))

    @property
    def widths(self) -> Array:
        """Usable currents at each weld time [A]; 0 where there are none."""
        return np.nan_to_num(self.high - self.low, nan=0.0)

    @property
    def widest(self) -> int:
        """The number of the weld time with the most room, over the current in its middle."""
        return int(np.argmax(np.nan_to_num(self.widths / (self.high + self.low), nan=-1.0)))


@dataclass(frozen=True, slots=True)
class Lobe:
    """Levels of force, the set one first, and the rule whose diameters bound what is usable."""

    levels: tuple[ForceLevel, ...]
    rule: str
    dent: float  # -


def lobe(
    stack: StackUp,
    set_up: SpotSetUp,
    rules: Mapping[str, Sequence[float]],
    rule: str,
    forces: Sequence[float],
    *,
    currents: Sequence[float] | None = None,
    times: Sequence[float] | None = None,
    dent: float = DENT,
    scatter: Scatter | None = None,
    progress: Callable[[int, int], None] | None = None,
    resolution: Resolution = DEFAULT,
    condition: SpotCondition = NORMAL,
) -> Lobe:
    """Map current and weld time at each force.

    Parameters
    ----------
    stack, set_up : StackUp, SpotSetUp
        The sheets; all that is not varied.
    rules, rule : mapping of str to sequence of float, str
        Least nugget diameters of each rule [m]; the rule that bounds the usable currents.
    forces : sequence of float
        [N], the set one first.
    currents, times : sequence of float, optional
        Of the longest pulse [A], [s]; else 15 and 9 around the set ones.
    dent, scatter : float, Scatter
        Deepest indentation over the outer sheet [-]; given, robust set-ups are looked for.
    progress, resolution, condition : callable, Resolution, SpotCondition
        Called with (done, of), may raise to stop the work; of the solver; what they are made in.

    Returns
    -------
    Lobe
        Limits in [A].

    Raises
    ------
    BadInput
        A set-up on the map can't be computed.
    """
    over, at = _around(set_up, currents, times)
    parts = len(forces) * (1 if scatter is None else 2)
    compute, levels = partial(window, condition=condition), []
    for part, force in zip(range(0, parts, parts // len(forces)), forces, strict=True):
        at_force = dataclasses.replace(set_up, electrode_force=force)
        mapped = compute(
            stack, at_force, rules[rule], currents=over, times=at,
            progress=part_of(progress, part, parts), resolution=resolution,
        )  # fmt: skip
        level = _level(stack, force, mapped, rules, rule, dent)
        if scatter is not None:
            best = robust(
                stack, at_force, mapped, scatter, limits=level.usable, compute=compute,
                progress=part_of(progress, part + 1, parts),
            )  # fmt: skip
            level = dataclasses.replace(level, robust=best)
        levels.append(level)
    return Lobe(tuple(levels), rule, dent)


def _around(
    set_up: SpotSetUp, currents: Sequence[float] | None, times: Sequence[float] | None
) -> tuple[list[float], list[float]]:
    """Currents [A] and times [s] of the map: those given, else around the set ones."""
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    over = main.current * np.linspace(*CURRENT_REACH, CURRENTS) if currents is None else currents
    at = main.time * np.linspace(*TIME_REACH, TIMES) if times is None else times
    return [float(one) for one in over], [float(one) for one in at]


def _level(
    stack: StackUp,
    force: float,
    mapped: WeldWindow,
    rules: Mapping[str, Sequence[float]],
    rule: str,
    dent: float,
) -> ForceLevel:
    least = [
        _curve(mapped, LimitKind.LEAST_WELD, at, key, diameter, mapped.nugget[at])
        for key, diameters in rules.items()
        for at, diameter in enumerate(diameters)
    ]
    thrown = [_curve(mapped, LimitKind.EXPULSION, -1, "", EXPULSION_LIMIT, mapped.expulsion)]
    if mapped.thrown is not None and len(mapped.thrown) > 1:
        thrown += [
            _curve(mapped, LimitKind.EXPULSION, at, "", EXPULSION_LIMIT, chance)
            for at, chance in enumerate(mapped.thrown)
        ]
    dents = []
    if mapped.sunk is not None:
        outer = (stack.sheets[0].thickness, stack.sheets[-1].thickness)
        dents = [
            _curve(mapped, LimitKind.INDENTATION, side, "", dent, mapped.sunk[side] / thickness)
            for side, thickness in enumerate(outer)
        ]
    begins = np.array([one.currents for one in least if one.rule == rule])
    low = np.where(np.isnan(begins).any(axis=0), np.nan, np.nan_to_num(begins).max(axis=0))
    ends = np.array([one.currents for one in (*thrown[:1], *dents)])
    last = float(mapped.currents[-1])
    high = np.where(np.isnan(ends), last, ends).min(axis=0)
    none = np.isnan(low) | (low >= high)
    low, high = np.where(none, np.nan, low), np.where(none, np.nan, high)
    limits = tuple(_binding(one, rule, low, high) for one in (*least, *thrown, *dents))
    room = np.nan_to_num(high - low, nan=0.0)
    area = float(np.trapezoid(room, mapped.times)) if len(mapped.times) > 1 else 0.0
    return ForceLevel(force, mapped, limits, low, high, area)


def _curve(
    mapped: WeldWindow, kind: LimitKind, place: int, rule: str, level: float, values: Array
) -> LimitCurve:
    """Where rows of values (times, currents) first come to a level."""
    found = np.array([crossing(mapped.currents, row, level) for row in values])
    return LimitCurve(kind, place, rule, float(level), found, (False,) * len(found))


def _binding(one: LimitCurve, rule: str, low: Array, high: Array) -> LimitCurve:
    """Say at which weld times this is the limit that is met first."""
    if one.kind is LimitKind.LEAST_WELD:
        if one.rule != rule:
            return one
        end = low
    else:
        end = high
    met = tuple(
        not math.isnan(bound) and math.isclose(current, bound, rel_tol=1e-9)
        for current, bound in zip(one.currents, end, strict=True)
    )
    return dataclasses.replace(one, binds=met)
