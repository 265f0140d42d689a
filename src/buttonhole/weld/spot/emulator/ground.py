"""What the emulator was taught, and the words for what lies outside of it.

The limits are those of the teaching, kept with the nets; the slack is numerical, no source.
"""

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from buttonhole.joint.stack_up import StackUp
from buttonhole.joint.steel import UNKNOWN_STEEL, steels
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.emulator.inputs import Views, reference_current
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

SLACK = 1e-6  # -, of a limit
Ground = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Within:
    """One input against what was taught of it; ``factor`` turns [SI] into ``unit``."""

    name: str
    value: float  # SI
    limits: tuple[float, float]  # SI
    unit: str
    factor: float  # -, from SI

    @property
    def holds(self) -> bool:
        """The value lies between its limits."""
        low, high = self.limits
        room = SLACK * max(abs(low), abs(high))
        return low - room <= self.value <= high + room

    @property
    def words(self) -> str:
        """Say what was found and what was taught."""
        value, low, high = (self.factor * one for one in (self.value, *self.limits))
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.name} is {value:.3g}{unit}, taught were {low:.3g} to {high:.3g}{unit}"


def why_outside(stack: StackUp, set_up: SpotSetUp, views: Views, ground: Ground) -> str:
    """Why a weld is not of the kind that was taught; nothing when it is.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    views : Views
        The same as numbers.
    ground : dict
        Limits of the teaching [SI].

    Returns
    -------
    str
        For people; the first input that is outside.
    """
    if said := why_not_of_one_pulse(set_up):
        return said
    listed = {steel.designation for steel in (*steels(), UNKNOWN_STEEL)}
    for sheet in stack.sheets:
        if sheet.steel.designation not in listed:
            return f"the steel {sheet.steel.designation} was not taught"
    for one in _all(stack, set_up, views, ground):
        if not one.holds:
            return one.words
    return ""


def why_not_normal(condition: SpotCondition) -> str:
    """Why gun, mains or neighbours are not of the kind that was taught; nothing when they are."""
    for field in dataclasses.fields(SpotCondition):
        if field.name != "wear" and getattr(condition, field.name) != getattr(NORMAL, field.name):
            return (
                f"the {field.name.replace('_', ' ')} is not the usual one, and no other was taught"
            )
    return ""


def why_not_of_one_pulse(set_up: SpotSetUp) -> str:
    """Why a set-up is not one pulse with an up-slope at most; nothing when it is."""
    if len(set_up.pulses) != 1:
        return f"{len(set_up.pulses)} pulses are set, taught was one"
    if set_up.pulses[0].down_slope > 0.0:
        return "the current has a down-slope, taught was none"
    return ""


def _all(stack: StackUp, set_up: SpotSetUp, views: Views, ground: Ground) -> Iterator[Within]:
    yield from _of_sheets(stack, ground)
    pulse = set_up.pulses[0]
    mean = stack.total_thickness / len(stack.sheets)
    yield time_within(pulse.time, ground)
    yield Within("the electrode force", set_up.electrode_force, _both(ground, "force", mean),
                 "kN", 1e-3)  # fmt: skip
    for side, cap, sheet in (
        ("A", set_up.cap_a, stack.sheets[0]),
        ("B", set_up.cap_b, stack.sheets[-1]),
    ):
        yield from _of_cap(f"on side {side}", cap, sheet.thickness, ground)
    yield current_within(views, pulse.current, pulse.time, ground)
    yield Within("the hold time", set_up.hold_time, ground["hold"], "ms", 1e3)
    share = pulse.up_slope / pulse.time
    yield Within("the up-slope over the weld time", share, (0.0, ground["slope"]), "%", 100.0)


def _of_sheets(stack: StackUp, ground: Ground) -> Iterator[Within]:
    taught, most = ground["thickness"], ground["most_total"]
    for number, sheet in enumerate(stack.sheets, start=1):
        yield Within(f"the thickness of sheet {number}", sheet.thickness, taught, "mm", 1e3)
    unlike = (1.0, ground["unlike"][1])
    yield Within("the thickest over the thinnest sheet", stack.thickness_ratio, unlike, "", 1.0)
    yield Within("the thickness of all sheets", stack.total_thickness, (0.0, most), "mm", 1e3)
    yield Within("the gap", stack.gap, (0.0, ground["gap"]), "mm", 1e3)


def _of_cap(where: str, cap: ElectrodeCap, thickness: float, ground: Ground) -> Iterator[Within]:
    if cap.face_diameter is not None:
        root = math.sqrt(thickness * 1e3) * 1e-3
        limits = _both(ground, "face", root)
        yield Within(f"the electrode face {where}", cap.face_diameter, limits, "mm", 1e3)
    if cap.radius is not None:
        yield Within(f"the electrode radius {where}", cap.radius, ground["radius"], "mm", 1e3)
    yield Within(f"the electrode body {where}", cap.body_diameter, ground["body"], "mm", 1e3)


def time_within(time: float, ground: Ground) -> Within:
    """The weld time against what was taught of it.

    Parameters
    ----------
    time : float
        Of the pulse [s].
    ground : dict
        Limits of the teaching [SI].

    Returns
    -------
    Within
        In [s].
    """
    return Within("the weld time", time, ground["time"], "ms", 1e3)


def current_within(views: Views, current: float, time: float, ground: Ground) -> Within:
    """The current against what was taught of it for this joint and weld time.

    Parameters
    ----------
    views : Views
        The weld as numbers.
    current, time : float
        Of the pulse [A], [s].
    ground : dict
        Limits of the teaching [SI].

    Returns
    -------
    Within
        In [A].
    """
    limits = _both(ground, "current", float(reference_current(views, time)))
    return Within("the welding current", current, limits, "kA", 1e-3)


def _both(ground: Ground, name: str, over: float) -> tuple[float, float]:
    """Limits of an input that was taught over a scale and within ends of its own [SI]."""
    low, high = ground[name]
    scaled_low, scaled_high = ground[f"{name}_over"]
    return min(max(low, scaled_low * over), high), max(min(high, scaled_high * over), low)
