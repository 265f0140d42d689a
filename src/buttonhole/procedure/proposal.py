"""A set-up to begin with, from published ranges and the predicted window of this machine.

Force and weld time are taken from published ranges, the current from the window that physics
predicts: where the least weld and expulsion are equally far. What the machine can't reach is said;
no other value is stretched to make up for it. A proposal releases nothing: weld and tear a coupon.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.reading import CALLIPER_BUTTON, READER
from buttonhole.coupon.uncertainty import EXPANDED, combined
from buttonhole.coupon.verdict import required_diameter
from buttonhole.joint.coating import Coating
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.joint.steel import Family
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.schedule import SQUEEZE, Schedule, hold_time, schedule_for
from buttonhole.units import BadInput
from buttonhole.weld.spot import WeldWindow
from buttonhole.weld.spot import window as predict_window
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap, Pulse, SpotSetUp

POINTS = 13  # currents on the map
REACH = (0.6, 1.4)  # -, of the published currents, within the machine's range
Compute = Callable[..., WeldWindow]
Progress = Callable[[int, int], None]


class CannotPropose(BadInput):
    """Nothing can be proposed; the message says what is short and what would be right."""


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
    current_type : CurrentType or None
        One the machine has; None takes its first.
    cap : ElectrodeCap or None
        For both sides; None takes the best of the machine's for each side.
    arm_pair : str or None
        Arms that are mounted; they may limit force and current.
    progress : callable or None
        Called with (done, of) while the window is computed.
    compute : callable
        Computes the window; another one may be given to work with a shop's own model.

    Returns
    -------
    Proposal
        A start for coupons.

    Raises
    ------
    CannotPropose
        A sheet is unknown, or the machine's force or current is short; says which and by how much.
    BadInput
        No published range for the thickness, or the machine has no such arms or current type.

    Sources
    -------
    iso-14373, bs-1140 (ranges of force and time)
    rw-practice-notes (current in the middle of the window, squeeze time)
    common-practice (the order of the choices)
    """
    _refuse_unknown(stack)
    schedule = schedule_for(stack)
    kind = _current_type(machine, current_type)
    force, force_why = _force(schedule, machine, arm_pair)
    times = (0.5 * (schedule.time_min + schedule.time_max), schedule.time_max)
    cap_a, cap_b, cap_why = _caps(stack, machine, cap)
    currents = _currents(schedule, machine, arm_pair)
    start = SpotSetUp(
        pulses=(Pulse(float(currents[len(currents) // 2]), times[0]),),
        current_type=kind,
        electrode_force=force,
        cap_a=cap_a,
        cap_b=cap_b,
        squeeze_time=SQUEEZE,
        hold_time=round(hold_time(schedule.thickness), 2),
    )
    needed = [required_diameter(criterion, stack, face) for face in stack.interfaces]
    required = tuple(each.diameter for each in needed)
    guard = EXPANDED.factor * combined((CALLIPER_BUTTON, READER))
    aims = tuple(d + guard for d in required)
    found = compute(stack, start, required, currents=currents, times=times, progress=progress)
    spans = [_span(found, t, required, aims) for t in range(len(times))]
    best = _best(spans, found, required, machine.current_limit(arm_pair), schedule)
    chosen = _at(start, spans[best], times[best], machine)
    return Proposal(
        set_up=chosen,
        window=found,
        margins=_margins(found, spans[best], chosen, required, machine),
        required=required,
        aimed_at=aims if spans[best].guarded else required,
        reasons=(
            *(each.reason for each in dict.fromkeys(needed) if each.reason),
            *force_why,
            _time_why(schedule, times, best),
            *cap_why,
            _current_why(spans[best], chosen),
            f"Squeeze time {_ms(SQUEEZE)}: the least for pneumatic guns. Hold time "
            f"{_ms(chosen.hold_time)}: optimum conditions chart for low-carbon steel.",
        ),
        alternatives=_others(start, spans, times, best, machine),
        cautions=_cautions(stack, spans[best]),
        criterion=criterion.key,
        machine=machine.name,
    )


def _kn(force: float) -> str:
    return f"{force / 1e3:.2f} kN"


def _ka(current: float) -> str:
    return f"{current / 1e3:.1f} kA"


def _ms(time: float) -> str:
    return f"{time * 1e3:.0f} ms"


def _mm(length: float) -> str:
    return f"{length * 1e3:.2f} mm"


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


def _force(
    schedule: Schedule, machine: SpotMachine, arm_pair: str | None
) -> tuple[float, list[str]]:
    """Return the force [N] and why: middle of the range, more for strong steel, never stretched."""
    middle = 0.5 * (schedule.force_min + schedule.force_max)
    wanted = middle * (1.0 + schedule.extra_force)
    least = schedule.force_min * (1.0 + schedule.extra_force)
    limit = machine.force_limit(arm_pair)
    if limit < least * (1 - 1e-9) or machine.force_min > max(wanted, schedule.force_max):
        arms = f" with arms {arm_pair}" if arm_pair else ""
        short = "short" if limit < least else "too high"
        raise CannotPropose(
            "force",
            f"is {short}: {machine.name}{arms} gives {_kn(machine.force_min)} to {_kn(limit)}, "
            f"{schedule.name} asks for {_kn(least)} to {_kn(wanted)} here. Take other arms or "
            "another machine; a longer weld time does not make up for it",
        )
    force = min(max(wanted, machine.force_min), limit)
    force = math.floor(force / 50.0 + 1e-9) * 50.0 if force == limit else round(force, -2)
    why = [
        f"Force {_kn(force)}: {schedule.name} prints {_kn(schedule.force_min)} to "
        f"{_kn(schedule.force_max)} for {_mm(schedule.thickness)}."
    ]
    if schedule.extra_reason:
        why.append(f"Force includes {schedule.extra_reason}.")
    if limit < wanted:
        why.append(f"Force is the most that {machine.name} gives; {_kn(wanted)} would be better.")
    return min(max(force, machine.force_min), limit), why


def _caps(
    stack: StackUp, machine: SpotMachine, cap: ElectrodeCap | None
) -> tuple[ElectrodeCap, ElectrodeCap, list[str]]:
    """Return a cap for each side: the face nearest above 5 sqrt(t) of the sheet it presses on."""
    if cap is not None:
        return cap, cap, ["Caps as given."]
    faced = [c for c in machine.caps if c.face_diameter is not None]
    if not faced:
        only = machine.caps[0]
        return only, only, ["Caps: the machine's dome caps."]
    chosen, why = [], []
    sides = (("A", stack.sheets[0].thickness), ("B", stack.sheets[-1].thickness))
    for side, thickness in sides:
        target = 5e-3 * math.sqrt(thickness * 1e3)

        # A face a little smaller than the rule still passes; a weld does not outgrow its face.
        def badness(c: ElectrodeCap, target: float = target) -> tuple[bool, float]:
            face = c.face_diameter or 0.0
            return face < target - 0.25e-3, abs(face - target)

        best = min(faced, key=badness)
        chosen.append(best)
        face = best.face_diameter or 0.0
        why.append(
            f"Face {_mm(face)} on side {side}: 5 × √t asks for {_mm(target)} on "
            f"{thickness * 1e3:g} mm."
        )
        if face < target - 0.25e-3:
            why.append(f"That is the largest face of {machine.name}; a larger one would be better.")
    return chosen[0], chosen[1], why


def _currents(
    schedule: Schedule, machine: SpotMachine, arm_pair: str | None
) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    """Return the currents to try [A], rising, within what the machine can do."""
    limit = machine.current_limit(arm_pair)
    low = max(machine.current_min, REACH[0] * schedule.current_min)
    high = min(limit, REACH[1] * schedule.current_max)
    if low >= high:
        raise CannotPropose(
            "current",
            f"is short: {machine.name} gives {_ka(machine.current_min)} to {_ka(limit)}, "
            f"{schedule.name} prints {_ka(schedule.current_min)} to {_ka(schedule.current_max)}. "
            "Take another machine; a longer weld time does not make up for it",
        )
    return np.linspace(low, high, POINTS)


@dataclass(frozen=True, slots=True)
class _Span:
    """Currents [A] that do at one weld time; NaN: none does."""

    low: float
    high: float
    splashes: bool
    guarded: bool  # the low end reaches the guard band as well

    @property
    def ratio(self) -> float:
        """Half width over the middle [-]; NaN where there is no window."""
        return (self.high - self.low) / (self.high + self.low)


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


def _span(window: WeldWindow, t: int, required: Sequence[float], aims: Sequence[float]) -> _Span:
    splash = float(window.upper_limit[t])
    high = float(window.currents[-1]) if math.isnan(splash) else splash
    low = _reached(window, t, aims, high)
    if not math.isnan(low):
        return _Span(low, high, not math.isnan(splash), guarded=True)
    return _Span(_reached(window, t, required, high), high, not math.isnan(splash), guarded=False)


def _best(
    spans: Sequence[_Span],
    window: WeldWindow,
    required: Sequence[float],
    limit: float,
    schedule: Schedule,
) -> int:
    """Return which weld time to take: the widest window that reaches the guard band."""
    usable = [i for i, span in enumerate(spans) if not math.isnan(span.low)]
    if usable:
        return max(usable, key=lambda i: (spans[i].guarded, spans[i].ratio))
    last = len(spans) - 1
    splash = float(window.upper_limit[last])
    nuggets = window.nugget[:, last, -1]
    worst = int(np.argmin(nuggets - np.asarray(required)))
    most = (
        f"interface {worst + 1} reaches {_mm(float(nuggets[worst]))} of the "
        f"{_mm(required[worst])} required"
    )
    if not math.isnan(splash):
        raise CannotPropose(
            "force",
            f"leaves no window: it splashes from {_ka(splash)}, before every interface is large "
            "enough. Close gaps, use larger faces or a machine with more force, or ask the maker",
        )
    top = float(window.currents[-1])
    words = "is short" if top >= limit * (1 - 1e-9) else "finds no window"
    raise CannotPropose(
        "current",
        f"{words}: at {_ka(top)} and {_ms(schedule.time_max)}, the longest time printed, {most}. "
        "Take a machine with more current or smaller faces; the time is not stretched beyond "
        f"{schedule.name}",
    )


def _at(start: SpotSetUp, span: _Span, time: float, machine: SpotMachine) -> SpotSetUp:
    middle = 0.5 * (span.low + span.high)
    rounded = round(middle / 100.0) * 100.0
    current = rounded if span.low <= rounded <= span.high else middle
    current = min(max(current, machine.current_min), machine.current_max)
    return replace(start, pulses=(Pulse(current, round(time, 3)),))


def _margins(
    window: WeldWindow,
    span: _Span,
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


def _time_why(schedule: Schedule, times: Sequence[float], best: int) -> str:
    at = "the middle" if best == 0 else "the upper end"
    return (
        f"Weld time {_ms(times[best])}: {at} of what {schedule.name} prints, "
        f"{_ms(schedule.time_min)} to {_ms(schedule.time_max)}; its predicted window is the widest."
    )


def _current_why(span: _Span, set_up: SpotSetUp) -> str:
    end = "expulsion" if span.splashes else "the end of the currents tried, without expulsion"
    aim = (
        "reach the required diameter and its guard band"
        if span.guarded
        else ("reach the required diameter, but not its guard band")
    )
    return (
        f"Current {_ka(set_up.pulses[0].current)}: the middle between {_ka(span.low)}, from where "
        f"all interfaces {aim}, and {_ka(span.high)}, {end} (predicted)."
    )


def _others(
    start: SpotSetUp,
    spans: Sequence[_Span],
    times: Sequence[float],
    best: int,
    machine: SpotMachine,
) -> tuple[Alternative, ...]:
    return tuple(
        Alternative(
            other := _at(start, span, time, machine),
            f"{_ms(time)} at {_ka(other.pulses[0].current)}: window {_ka(span.low)} to "
            f"{_ka(span.high)}",
        )
        for i, (span, time) in enumerate(zip(spans, times, strict=True))
        if i != best and not math.isnan(span.low)
    )


def _cautions(stack: StackUp, span: _Span) -> tuple[str, ...]:
    said = ["The vehicle maker's procedure goes before this proposal. Weld and tear a coupon."]
    if not span.guarded:
        said.append(
            "The predicted weld reaches the required diameter only without its guard band: expect "
            "coupons that are not decided."
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
