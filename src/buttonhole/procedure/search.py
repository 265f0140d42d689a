"""Looks through forces, caps, weld times and currents for what most likely gives a good weld."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from buttonhole.coupon.reading import CALLIPER_BUTTON, READER
from buttonhole.coupon.uncertainty import EXPANDED, combined
from buttonhole.coupon.verdict import Required
from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.choice import Option
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.schedule import SQUEEZE, Schedule, hold_time
from buttonhole.weld.spot import COARSE, DEFAULT, Resolution, WeldWindow
from buttonhole.weld.spot.robust import TIE, RobustSetUp, part_of, robust, scatter_for
from buttonhole.weld.spot.set_up import CurrentType, Pulse, SpotSetUp

Compute = Callable[..., WeldWindow]
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Task:
    """What is the same for all options; ``times`` [s] and ``currents`` [A] to try."""

    stack: StackUp
    machine: SpotMachine
    schedule: Schedule
    needed: tuple[Required, ...]
    times: tuple[float, ...]
    currents: tuple[float, ...]
    current_type: CurrentType

    @property
    def required(self) -> tuple[float, ...]:
        """Smallest acceptable diameter by interface [m]."""
        return tuple(each.diameter for each in self.needed)

    @property
    def aims(self) -> tuple[float, ...]:
        """The same with the guard band of a calliper reading [m]."""
        guard = EXPANDED.factor * combined((CALLIPER_BUTTON, READER))
        return tuple(d + guard for d in self.required)

    def start(self, option: Option) -> SpotSetUp:
        """Return the set-up the window is computed around."""
        return SpotSetUp(
            pulses=(Pulse(self.currents[len(self.currents) // 2], self.times[0]),),
            current_type=self.current_type,
            electrode_force=option.force,
            cap_a=option.cap_a,
            cap_b=option.cap_b,
            squeeze_time=SQUEEZE,
            hold_time=round(hold_time(self.schedule.thickness), 2),
        )


def search(
    task: Task, choices: Sequence[Option], compute: Compute, progress: Progress | None
) -> "Tried":
    """Take the plain option if it leaves room; else look at the others and take the best.

    Parameters
    ----------
    task : Task
        What is the same for all of them.
    choices : sequence of Option
        The plain one first.
    compute : callable
        Computes a window.
    progress : callable, optional
        Called with (done, of).

    Returns
    -------
    Tried
        The one to propose; it may have no window.
    """
    parts = len(choices) + 3  # the last two: what the scatter leaves of the plain and of the best

    def attempt(option: Option, part: int, resolution: Resolution) -> Tried:
        start = task.start(option)
        found = compute(
            task.stack,
            start,
            task.required,
            currents=task.currents,
            times=task.times,
            progress=part_of(progress, part, parts),
            resolution=resolution,
        )
        spans = tuple(_span(found, t, task.required, task.aims) for t in range(len(task.times)))
        return Tried(option, start, found, spans)

    plain = attempt(choices[0], 0, DEFAULT)
    if plain.roomy(task.machine.current_spread) or len(choices) == 1:
        return _settled(plain, task, compute, part_of(progress, 1, parts))
    # A coarse solution is good enough to rank options; what is proposed is solved in full.
    rough = [attempt(option, part, COARSE) for part, option in enumerate(choices[1:], start=1)]
    best = max(rough, key=lambda each: each.worth)
    if best.worth <= plain.worth:
        return _settled(plain, task, compute, part_of(progress, parts - 2, parts))
    fine = attempt(best.option, len(choices), DEFAULT)
    first = _settled(plain, task, compute, part_of(progress, parts - 2, parts))
    other = _settled(fine, task, compute, part_of(progress, parts - 1, parts))
    return other if other.better_than(first) else first


def _settled(tried: "Tried", task: Task, compute: Compute, progress: Progress | None) -> "Tried":
    """Find weld time and current by their chance on this machine, where there is a window."""
    if not tried.has_window:
        return tried
    guarded = any(span.worth[1] for span in tried.spans)
    limits = [
        (span.low, span.high) if span.worth[:2] == (True, guarded) else (math.nan, math.nan)
        for span in tried.spans
    ]
    scatter = scatter_for(task.stack, task.machine.current_spread, task.machine.force_spread)
    found = robust(
        task.stack, tried.start, tried.window, scatter,
        limits=limits, progress=progress, compute=compute,
    )  # fmt: skip
    return replace(tried, robust=found)


@dataclass(frozen=True, slots=True)
class Tried:
    """An option with its predicted window at each weld time."""

    option: Option
    start: SpotSetUp
    window: WeldWindow
    spans: tuple["Span", ...]

    robust: RobustSetUp | None = None

    @property
    def best(self) -> int:
        """Which weld time: that of the robust set-up, before there is one the widest window."""
        if self.robust is not None:
            return int(np.argmin(np.abs(self.window.times - self.robust.time)))
        return max(range(len(self.spans)), key=lambda i: self.spans[i].worth)

    @property
    def worth(self) -> tuple[bool, bool, float]:
        """To rank options by, before their chances are known [-]."""
        return self.spans[self.best].worth

    @property
    def has_window(self) -> bool:
        """Some current does."""
        return self.worth[0]

    def better_than(self, plain: "Tried") -> bool:
        """Whether it does where the plain one does not, or surely has the greater chance."""
        if self.robust is None or plain.robust is None:
            return self.robust is not None
        if self.worth[1] != plain.worth[1]:
            return self.worth[1]
        return self.robust.chance.value > plain.robust.chance.value + TIE

    def roomy(self, spread: float) -> bool:
        """Whether the guard band is reached and both ends are twice the ``spread`` [-] away."""
        there, guarded, ratio = self.worth
        return there and guarded and ratio >= 2.0 * spread


@dataclass(frozen=True, slots=True)
class Span:
    """Currents [A] that do at one weld time; NaN: none does."""

    low: float  # A
    high: float  # A
    splashes: bool
    guarded: bool  # the low end reaches the guard band as well

    @property
    def ratio(self) -> float:
        """Half width over the middle [-]; NaN where there is no window."""
        return (self.high - self.low) / (self.high + self.low)

    @property
    def worth(self) -> tuple[bool, bool, float]:
        """Whether there is a window, whether it reaches the guard band, how wide it is [-]."""
        there = not math.isnan(self.low)
        return there, there and self.guarded, self.ratio if there else 0.0


def _reached(window: WeldWindow, t: int, diameters: Sequence[float], high: float) -> float:
    """Return the lowest current from which every nugget stays as large as asked, up to high [A]."""
    fine = np.linspace(window.currents[0], high, 400)
    enough = np.ones(len(fine), dtype=bool)
    for row, diameter in zip(window.nugget, diameters, strict=True):
        enough &= np.interp(fine, window.currents, row[t]) >= diameter
    short = np.flatnonzero(~enough)
    if len(short) == 0:
        return float(fine[0])
    after = int(short[-1]) + 1
    return float(fine[after]) if after < len(fine) else math.nan


def _span(window: WeldWindow, t: int, required: Sequence[float], aims: Sequence[float]) -> Span:
    splash = float(window.upper_limit[t])
    high = float(window.currents[-1]) if math.isnan(splash) else splash
    low = _reached(window, t, aims, high)
    if not math.isnan(low):
        return Span(low, high, not math.isnan(splash), guarded=True)
    return Span(_reached(window, t, required, high), high, not math.isnan(splash), guarded=False)
