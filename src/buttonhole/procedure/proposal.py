"""A set-up to begin with, from published ranges and the predicted window of this machine.

Force and weld time are taken from published ranges, the current from the window that physics
predicts: where the weld is most likely good under the machine's scatter. What the machine can't
reach is said; no other value is stretched to make up for it. A proposal releases nothing: weld and
tear a coupon.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import NoReturn

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.joint.steel import Family
from buttonhole.procedure.choice import CannotPropose, Option, currents_to_try, options
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.saying import ka, mm, ms, share
from buttonhole.procedure.schedule import SQUEEZE, Schedule, schedule_for
from buttonhole.procedure.search import Compute, Progress, Span, Task, Tried, search
from buttonhole.procedure.suggestion import Suggestion, suggestions
from buttonhole.units import BadInput
from buttonhole.weld.spot import WeldWindow
from buttonhole.weld.spot import window as predict_window
from buttonhole.weld.spot.robust import TIE, RobustSetUp, part_of
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp


@dataclass(frozen=True, slots=True)
class Margins:
    """How far the proposed point lies from its limits.

    ``current_low``, ``current_high`` [A]: the window; ``ends_in_splash``: expulsion ends it, not
    the machine. ``diameters`` [m]: predicted nugget over the required diameter, by interface.
    ``expulsion_probability`` [-]. ``spreads_to_low``, ``spreads_to_high`` [-]: distance in standard
    deviations of the machine's current.
    """

    current_low: float
    current_high: float
    ends_in_splash: bool
    diameters: tuple[float, ...]
    expulsion_probability: float
    spreads_to_low: float
    spreads_to_high: float


@dataclass(frozen=True, slots=True)
class Alternative:
    """Another set-up that would do, and how it differs."""

    set_up: SpotSetUp
    words: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """A set-up with its window and margins, why each value, what else would do, what to mind.

    ``required`` [m]: smallest acceptable diameter by interface; ``aimed_at`` [m]: what the nugget
    should reach so that a coupon reads over its guard band.
    """

    set_up: SpotSetUp
    window: WeldWindow
    margins: Margins
    required: tuple[float, ...]
    aimed_at: tuple[float, ...]
    reasons: tuple[str, ...]
    alternatives: tuple[Alternative, ...]
    cautions: tuple[str, ...]
    criterion: str
    machine: str
    robust: RobustSetUp | None = None
    suggestions: tuple[Suggestion, ...] = ()


def propose(
    stack: StackUp,
    machine: SpotMachine,
    criterion: Criterion,
    *,
    current_type: CurrentType | None = None,
    cap: ElectrodeCap | None = None,
    arm_pair: str | None = None,
    progress: Progress | None = None,
    compute: Compute = predict_window,
) -> Proposal:
    """Propose a set-up for a stack-up on a machine.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    machine : SpotMachine
        What it can do.
    criterion : Criterion
        One that limits a diameter.
    current_type, cap, arm_pair : CurrentType, ElectrodeCap, str
        What is mounted; left out: the machine's first current type, the best cap for each side.
    progress, compute : callable
        Called with (done, of); computes a window.

    Returns
    -------
    Proposal
        A start for coupons.

    Raises
    ------
    CannotPropose
        A sheet is unknown, or force or current is short: says which and by how much.
    BadInput
        No published range for the thickness; no such arms or current type.

    Sources
    -------
    iso-14373, bs-1140 (ranges of force and time)
    rw-practice-notes (squeeze time); order of the choices: common-practice
    """
    _refuse_unknown(stack)
    schedule = schedule_for(stack)
    currents, choices = _reachable(stack, machine, schedule, cap, arm_pair)
    task = Task(
        stack,
        machine,
        schedule,
        tuple(required_diameter(criterion, stack, face) for face in stack.interfaces),
        (0.5 * (schedule.time_min + schedule.time_max), schedule.time_max),
        currents,
        _current_type(machine, current_type),
    )
    taken = search(task, choices, compute, progress)
    if taken.robust is None:
        _refuse(taken.window, task.required, machine.current_limit(arm_pair), schedule)
    return _proposal(taken, taken.robust, task, criterion)


def propose_with_suggestions(
    stack: StackUp,
    machine: SpotMachine,
    criterion: Criterion,
    *,
    current_type: CurrentType | None = None,
    cap: ElectrodeCap | None = None,
    arm_pair: str | None = None,
    progress: Progress | None = None,
) -> Proposal:
    """Propose a set-up, and predict beside it what pulses, slopes, hold, force or caps would bring.

    Parameters
    ----------
    stack, machine, criterion : StackUp, SpotMachine, Criterion
        As for ``propose``.
    current_type, cap, arm_pair : CurrentType, ElectrodeCap, str
        What is mounted, as for ``propose``.
    progress : callable
        Called with (done, of).

    Returns
    -------
    Proposal
        With the suggestions that help by the figures.

    Raises
    ------
    CannotPropose, BadInput
        As ``propose``.
    """
    found = propose(
        stack, machine, criterion, current_type=current_type, cap=cap, arm_pair=arm_pair,
        progress=part_of(progress, 0, 2),
    )  # fmt: skip
    others = suggestions(
        stack, found.set_up, found.required, machine,
        arm_pair=arm_pair, progress=part_of(progress, 1, 2),
    )  # fmt: skip
    return replace(found, suggestions=others)


def _reachable(
    stack: StackUp,
    machine: SpotMachine,
    schedule: Schedule,
    cap: ElectrodeCap | None,
    arm_pair: str | None,
) -> tuple[tuple[float, ...], list[Option]]:
    """Return currents [A] and options to try; what is short is said together."""
    short: list[CannotPropose] = []
    currents: tuple[float, ...] = ()
    choices: list[Option] = []
    try:
        choices = options(stack, machine, schedule, cap, arm_pair)
    except CannotPropose as force:
        short.append(force)
    try:
        currents = tuple(currents_to_try(schedule, machine, arm_pair).tolist())
    except CannotPropose as current:
        short.append(current)
    if len(short) == 2:
        raise CannotPropose("force", f"{short[0].message}; current {short[1].message}")
    if short:
        raise short[0]
    return currents, choices


def _proposal(taken: Tried, best: RobustSetUp, task: Task, criterion: Criterion) -> Proposal:
    machine, t = task.machine, taken.best
    span = taken.spans[t]
    current = min(max(best.current, machine.current_min), machine.current_max)
    chosen = replace(taken.start, pulses=(Pulse(current, round(best.time, 3)),))
    return Proposal(
        set_up=chosen,
        window=taken.window,
        margins=_margins(taken.window, span, chosen, task.required, machine),
        required=task.required,
        aimed_at=task.aims if span.guarded else task.required,
        reasons=(
            *(each.reason for each in dict.fromkeys(task.needed) if each.reason),
            *taken.option.reasons,
            _time_why(task.schedule, best),
            _current_why(span, chosen),
            _chance_why(best),
            f"Squeeze time {ms(SQUEEZE)}: the least for pneumatic guns. Hold time "
            f"{ms(chosen.hold_time)}: optimum conditions chart for low-carbon steel.",
        ),
        alternatives=_others(taken.start, taken.spans, task.times, t, machine),
        cautions=_cautions(task.stack, span, best, chosen, machine),
        criterion=criterion.key,
        machine=machine.name,
        robust=best,
    )


def _refuse_unknown(stack: StackUp) -> None:
    if stack.has_unknown:
        raise CannotPropose(
            "sheet",
            "a steel or coating is not known, so nothing is proposed. Find it in the maker's "
            "material map, measure what can be measured, or ask the maker",
        )


def _current_type(machine: SpotMachine, wanted: CurrentType | None) -> CurrentType:
    if wanted is None:
        return machine.current_types[0]
    if wanted not in machine.current_types:
        raise BadInput(
            "current_type",
            f"{machine.name} has no {wanted}; it has {', '.join(machine.current_types)}",
        )
    return wanted


def _refuse(
    window: WeldWindow, required: Sequence[float], limit: float, schedule: Schedule
) -> NoReturn:
    """Say what is short when no current of any option does."""
    last = len(window.times) - 1
    splash = float(window.upper_limit[last])
    nuggets = window.nugget[:, last, -1]
    worst = int(np.argmin(nuggets - np.asarray(required)))
    most = (
        f"interface {worst + 1} reaches {mm(float(nuggets[worst]))} of the "
        f"{mm(required[worst])} required"
    )
    if not math.isnan(splash):
        raise CannotPropose(
            "force",
            f"leaves no window: it splashes from {ka(splash)}, before every interface is large "
            "enough. Close gaps, use larger faces or a machine with more force, or ask the maker",
        )
    top = float(window.currents[-1])
    words = "is short" if top >= limit * (1 - 1e-9) else "finds no window"
    raise CannotPropose(
        "current",
        f"{words}: at {ka(top)} and {ms(schedule.time_max)}, the longest time printed, {most}. "
        "Take a machine with more current or smaller faces; the time is not stretched beyond "
        f"{schedule.name}",
    )


def _at(start: SpotSetUp, span: Span, time: float, machine: SpotMachine) -> SpotSetUp:
    middle = 0.5 * (span.low + span.high)
    rounded = round(middle / 100.0) * 100.0
    current = rounded if span.low <= rounded <= span.high else middle
    current = min(max(current, machine.current_min), machine.current_max)
    return replace(start, pulses=(Pulse(current, round(time, 3)),))


def _margins(
    window: WeldWindow,
    span: Span,
    set_up: SpotSetUp,
    required: Sequence[float],
    machine: SpotMachine,
) -> Margins:
    pulse = set_up.pulses[0]
    t = int(np.argmin(np.abs(window.times - pulse.time)))
    spread = max(machine.current_spread, 1e-6) * pulse.current
    nuggets = [float(np.interp(pulse.current, window.currents, row[t])) for row in window.nugget]
    return Margins(
        current_low=span.low,
        current_high=span.high,
        ends_in_splash=span.splashes,
        diameters=tuple(d - r for d, r in zip(nuggets, required, strict=True)),
        expulsion_probability=float(np.interp(pulse.current, window.currents, window.expulsion[t])),
        spreads_to_low=(pulse.current - span.low) / spread,
        spreads_to_high=(span.high - pulse.current) / spread,
    )


def _time_why(schedule: Schedule, best: RobustSetUp) -> str:
    printed = f"{schedule.name} prints {ms(schedule.time_min)} to {ms(schedule.time_max)}"
    looked = " and ".join(
        f"{share(chance)} at {ms(time)}"
        for time, chance in zip(best.times, best.chances, strict=True)
    )
    if len(best.times) == 1:
        return f"Weld time {ms(best.time)}: {printed}; only this one of those looked at does."
    return (
        f"Weld time {ms(best.time)}: {printed}. Predicted chance of a good weld {looked}; of weld "
        f"times within {TIE * 100:.0f} % of the best the shortest is taken: it brings the least "
        "heat into sheets and caps."
    )


def _current_why(span: Span, set_up: SpotSetUp) -> str:
    end = "expulsion" if span.splashes else "the end of the currents tried, without expulsion"
    aim = (
        "reach the required diameter and its guard band"
        if span.guarded
        else ("reach the required diameter, but not its guard band")
    )
    return (
        f"Current {ka(set_up.pulses[0].current)}: the least within 1 % of the greatest chance, "
        f"between {ka(span.low)}, "
        f"from where all interfaces {aim}, and {ka(span.high)}, {end} (predicted)."
    )


def _chance_why(best: RobustSetUp) -> str:
    first = best.binding_interface
    what = "expulsion" if first is None else f"interface {first + 1} staying too small"
    chance = best.chance
    return (
        f"Chance of a good weld {share(chance.value)} ({share(chance.low)} to "
        f"{share(chance.high)}, as the model's doubt goes); by the scatter of the machine alone "
        f"{share(best.known)}. What spoils most is {what}."
    )


def _others(
    start: SpotSetUp,
    spans: Sequence[Span],
    times: Sequence[float],
    best: int,
    machine: SpotMachine,
) -> tuple[Alternative, ...]:
    return tuple(
        Alternative(
            other := _at(start, span, time, machine),
            f"{ms(time)} at {ka(other.pulses[0].current)}: window {ka(span.low)} to "
            f"{ka(span.high)}",
        )
        for i, (span, time) in enumerate(zip(spans, times, strict=True))
        # NaN is no window; one narrower than the scatter of the machine is no way out
        if i != best and span.ratio > machine.current_spread
    )


def _cautions(
    stack: StackUp, span: Span, best: RobustSetUp, set_up: SpotSetUp, machine: SpotMachine
) -> tuple[str, ...]:
    said = ["The vehicle maker's procedure goes before this proposal. Weld and tear a coupon."]
    if not best.is_robust:
        said.append(
            f"NO ROBUST WINDOW on this machine: even if the prediction is right, its scatter "
            f"leaves {share(best.known)} good welds. Change force, time, caps or the method."
        )
    if not span.guarded:
        said.append(
            "The predicted weld reaches the required diameter only without its guard band: expect "
            "coupons that are not decided."
        )
    room = min(set_up.pulses[0].current - span.low, span.high - set_up.pulses[0].current)
    if room < 2.0 * machine.current_spread * set_up.pulses[0].current:
        said.append(
            "The predicted window is narrower than the scatter of the machine asks for: check the "
            "weld size more often, and look for more force or other faces."
        )
    families = {sheet.steel.family for sheet in stack.sheets}
    if Family.PHS in families:
        said.append(
            "Hot-stamped steel: no second pulse is proposed, because a hot one can weaken the "
            "weld. Section one coupon."
        )
    if any(sheet.coating is Coating.ALSI for sheet in stack.sheets):
        said.append(
            "No published range for aluminium-silicon was read: the search began from zinc "
            "or uncoated sheet."
        )
    said.extend(each.text for each in cautions(stack))
    return tuple(dict.fromkeys(said))
