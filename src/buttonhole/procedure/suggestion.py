"""What other ways to weld would bring, predicted beside the plain set-up; shown only if they help.

A suggestion changes nothing and overrules nobody: the vehicle maker's procedure prevails. All ways
are ranked on the coarse grid, like with like; the figures that are shown are solved in full.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from buttonhole.joint.material import curves
from buttonhole.joint.stack_up import StackUp, governing_steel
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.saying import mm, share
from buttonhole.procedure.temper import (
    centre_at,
    faying_centres,
    fitted_temper,
    temper_gain,
    tempering,
)
from buttonhole.procedure.variant import Variant, variants
from buttonhole.weld.metallurgy import martensite_hardness
from buttonhole.weld.spot import COARSE, DEFAULT, SolverFailed, WeldWindow
from buttonhole.weld.spot import window as predict_window
from buttonhole.weld.spot.chance import Curves, chances, least_of_best
from buttonhole.weld.spot.robust import STEP, TIE, part_of, scatter_for
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.simulation import AFTER_HOLD, simulate
from buttonhole.weld.spot.window import weld_once

CURRENTS = 13  # of the map of one way
REACH = (0.65, 1.45)  # -, of the plain current
WORTH = 0.10  # -, by which a window must be wider, or a weak diameter larger, to be worth a change
SOFTER = 0.05  # -, of the hardness; a smaller difference is less than is known; judged, no source
HELD = 500.0  # degC, of the centre when the caps open; hotter is called early; judged, no source

Progress = Callable[[int, int], None]
Compute = Callable[..., WeldWindow]


@dataclass(frozen=True, slots=True)
class WayFigures:
    """What one way gives at the current that is best for it.

    ``diameters`` [m] by interface; ``low``, ``high`` [A]: its window, NaN where there is none;
    ``chance``, ``expulsion`` [-]; ``indentation`` [m], the deeper side; ``hardness`` [HV] of the
    weld as it cools, before any tempering; ``at_release`` [degC]: the hottest faying centre when
    the caps open; ``before_temper``, ``tempered`` [degC]: how hot it was before the last pulse and
    became after; NaN without one.
    """

    set_up: SpotSetUp
    diameters: tuple[float, ...]
    low: float  # A
    high: float  # A
    chance: float  # -
    expulsion: float  # -
    indentation: float  # m
    hardness: float  # HV
    at_release: float  # degC
    before_temper: float  # degC
    tempered: float  # degC

    @property
    def room(self) -> float:
        """Width of the window over its middle [-]; 0 where there is none."""
        found = 2.0 * (self.high - self.low) / (self.high + self.low)
        return found if found > 0.0 else 0.0


@dataclass(frozen=True, slots=True)
class Suggestion:
    """Another way that helps by the figures, beside the plain one."""

    name: str
    trouble: str
    found: WayFigures
    plain: WayFigures
    gains: tuple[str, ...]
    reason: str
    source: str


def suggestions(
    stack: StackUp,
    plain: SpotSetUp,
    required: Sequence[float],
    machine: SpotMachine,
    *,
    arm_pair: str | None = None,
    progress: Progress | None = None,
    compute: Compute = predict_window,
) -> tuple[Suggestion, ...]:
    """Predict other ways to weld beside the plain one, and keep those that help.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    plain : SpotSetUp
        One pulse.
    required : sequence of float
        Smallest acceptable nugget at each interface [m].
    machine : SpotMachine
        What it can do, its scatter and its caps.
    arm_pair : str, optional
        The arms that are mounted.
    progress, compute : callable
        Called with (done, of), may raise to stop; computes a window.

    Returns
    -------
    tuple of Suggestion
        The one with the greatest chance first; empty for plain sheet or where nothing helps.

    Raises
    ------
    BadInput
        No such arms.
    """
    ways = variants(stack, plain, machine, arm_pair)
    if not ways:
        return ()
    task = _Task(stack, tuple(required), machine, machine.current_limit(arm_pair), compute)
    parts = len(ways) + 1
    own = task.figures(plain, part_of(progress, 0, parts), tempers=False)
    kept = []
    for number, way in enumerate(ways, start=1):
        try:
            found = task.figures(way.set_up, part_of(progress, number, parts), tempers=way.tempers)
        except SolverFailed:
            continue  # a way the solver can't follow is no suggestion
        gains = _gains(way, found, own, task)
        if gains:
            kept.append(
                Suggestion(way.name, way.trouble.value, found, own, gains, way.reason, way.source)
            )
    return tuple(sorted(kept, key=lambda one: -one.found.chance))


@dataclass(frozen=True, slots=True)
class _Task:
    """What is the same for all ways."""

    stack: StackUp
    required: tuple[float, ...]  # m
    machine: SpotMachine
    most: float  # A
    compute: Compute

    def figures(self, way: SpotSetUp, progress: Progress | None, *, tempers: bool) -> WayFigures:
        """Map one way over the current, take the best, and solve that in full."""
        main = max(way.pulses, key=lambda pulse: pulse.time)
        top = self.most * main.current / max(pulse.current for pulse in way.pulses)
        # without its temper pulse: that is not there to make the nugget
        welding = replace(way, pulses=way.pulses[:-1]) if tempers else way
        currents = main.current * np.linspace(*REACH, CURRENTS)
        mapped = self.compute(
            self.stack, welding, self.required, currents=currents.tolist(), times=[main.time],
            progress=progress, resolution=COARSE,
        )  # fmt: skip
        first = math.ceil(max(currents[0], self.machine.current_min) / STEP)
        last = math.floor(min(currents[-1], top) / STEP)
        places = STEP * np.arange(first, max(last, first) + 1)
        scatter = scatter_for(self.stack, self.machine.current_spread, self.machine.force_spread)
        curve = Curves(mapped.currents, mapped.nugget[:, 0], mapped.expulsion[0])
        found = chances(places, curve, self.required, scatter)
        at = least_of_best(found.good)
        factor = float(places[at]) / main.current
        pulses = tuple(replace(one, current=factor * one.current) for one in way.pulses)
        return self._solved(
            replace(way, pulses=pulses), mapped, float(found.good[at]), tempers=tempers
        )

    def _solved(
        self, way: SpotSetUp, mapped: WeldWindow, chance: float, *, tempers: bool
    ) -> WayFigures:
        welding = replace(way, pulses=way.pulses[:-1]) if tempers else way
        centres = faying_centres(self.stack)
        weld = weld_once(self.stack, welding, DEFAULT)
        if tempers:
            way = fitted_temper(self.stack, way) or way
        whole = simulate(self.stack, way, DEFAULT, points=centres)
        low, high = float(mapped.lower_limit[0]), float(mapped.upper_limit[0])
        high = min(self.most, float(mapped.currents[-1])) if math.isnan(high) else high
        before, after = tempering(way, whole) if tempers else (math.nan, math.nan)
        cooling = whole.cooling_t85[np.isfinite(whole.cooling_t85)]
        longest = float(cooling.max()) if len(cooling) else AFTER_HOLD
        return WayFigures(
            set_up=way,
            diameters=tuple(float(one) for one in weld.nugget),
            low=low,
            high=high,
            chance=chance,
            expulsion=weld.expulsion,
            indentation=float(whole.sunk.max()),
            hardness=martensite_hardness(governing_steel(self.stack), longest),
            at_release=centre_at(whole, way.weld_time + way.hold_time),
            before_temper=before,
            tempered=after,
        )


def _gains(way: Variant, found: WayFigures, plain: WayFigures, task: _Task) -> tuple[str, ...]:
    """What is better by the figures; nothing where the chance of a good weld gets worse."""
    if found.chance < plain.chance - TIE / 2:
        return ()
    if way.tempers:
        return temper_gain(found.before_temper, found.tempered, task.stack)
    said = []
    if found.chance >= plain.chance + TIE:
        said.append(f"chance of a good weld {share(found.chance)}, plain {share(plain.chance)}")
    if found.room >= plain.room * (1.0 + WORTH) + 1e-3:
        said.append(f"window {_width(found)} wide, plain {_width(plain)}")
    weakest = min(range(len(task.required)), key=lambda i: plain.diameters[i] / task.required[i])
    if found.diameters[weakest] >= plain.diameters[weakest] * (1.0 + WORTH):
        said.append(
            f"interface {weakest + 1} {mm(found.diameters[weakest])}, "
            f"plain {mm(plain.diameters[weakest])}"
        )
    if plain.expulsion - found.expulsion >= TIE:
        said.append(f"splash {share(found.expulsion)}, plain {share(plain.expulsion)}")
    frozen = curves(governing_steel(task.stack)).solidus
    if found.hardness <= plain.hardness * (1.0 - SOFTER) and found.at_release < frozen:
        said.append(f"hardness {found.hardness:.0f} HV, plain {plain.hardness:.0f} HV")
    if plain.at_release > HELD >= found.at_release:
        said.append(
            f"centre {found.at_release:.0f} °C when the caps open, plain {plain.at_release:.0f} °C"
        )
    return tuple(said)


def _width(found: WayFigures) -> str:
    room = found.high - found.low
    return f"{room / 1e3:.1f} kA" if room > 0.0 else "no"
