"""What to try first on a machine: force, caps and currents out of published ranges.

What the machine can't reach is said; no other value is stretched to make up for it.
"""

import math
from dataclasses import dataclass

import numpy as np

from buttonhole.joint.stack_up import StackUp
from buttonhole.procedure.machine import SpotMachine
from buttonhole.procedure.saying import ka, kn, mm
from buttonhole.procedure.schedule import Schedule
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import ElectrodeCap

POINTS = 13  # currents on the map
FACE_SLACK = 0.5e-3  # m, by which the faces that ISO 14373 prints lie under 5 sqrt(t)
REACH = (0.6, 1.4)  # -, of the published currents, within the machine's range


class CannotPropose(BadInput):
    """Nothing can be proposed; the message says what is short and what would be right."""


@dataclass(frozen=True, slots=True)
class Option:
    """``force`` [N] and caps to try, and why."""

    force: float
    cap_a: ElectrodeCap
    cap_b: ElectrodeCap
    reasons: tuple[str, ...]


def options(
    stack: StackUp,
    machine: SpotMachine,
    schedule: Schedule,
    cap: ElectrodeCap | None,
    arm_pair: str | None,
) -> list[Option]:
    """Return what to try, the plain choice first; the others only when its window is narrow."""
    force, force_why = _force(schedule, machine, arm_pair)
    cap_a, cap_b, cap_why = _caps(stack, machine, cap)
    found = [Option(force, cap_a, cap_b, (*force_why, *cap_why))]
    wide_a, wide_b = _wider(cap_a, machine), _wider(cap_b, machine)
    smaller_a = (cap_a.face_diameter or 0.0) <= (cap_b.face_diameter or 0.0)
    smaller_b = (cap_b.face_diameter or 0.0) <= (cap_a.face_diameter or 0.0)
    pair = (wide_a if smaller_a else cap_a, wide_b if smaller_b else cap_b)
    if cap is None and pair != (cap_a, cap_b):
        faces = " and ".join(mm(each.face_diameter or 0.0) for each in pair)
        why = f"Faces {faces}: the plain choice of 5 × √t left a narrower window (predicted)."
        found.append(Option(force, *pair, (*force_why, why)))
    most = schedule.force_max * (1.0 + schedule.extra_force)
    high = math.floor(min(most, machine.force_limit(arm_pair)) / 50.0 + 1e-9) * 50.0
    if high > force * 1.05:
        why = (
            f"Force {kn(high)}: the upper end of {schedule.name} or of the machine; the middle "
            "left a narrower window (predicted)."
        )
        more = (schedule.extra_reason,) if schedule.extra_reason else ()
        last = found[-1]
        caps_said = cap_why if len(found) == 1 else list(last.reasons[-1:])
        found.append(Option(high, last.cap_a, last.cap_b, (why, *more, *caps_said)))
    return found


def _wider(cap: ElectrodeCap, machine: SpotMachine) -> ElectrodeCap:
    """Return the machine's cap with the next larger face, or the same one."""
    face = cap.face_diameter
    larger = [c for c in machine.caps if face and (c.face_diameter or 0.0) > face + 1e-6]
    return min(larger, key=lambda c: c.face_diameter or 0.0, default=cap)


def _force(
    schedule: Schedule, machine: SpotMachine, arm_pair: str | None
) -> tuple[float, list[str]]:
    """Return the force [N] and why: middle of the range, more for strong steel, never stretched.

    Only the printed range refuses: what is added for strong steel is in no standard.
    """
    middle = 0.5 * (schedule.force_min + schedule.force_max)
    wanted = middle * (1.0 + schedule.extra_force)
    least = schedule.force_min
    limit = machine.force_limit(arm_pair)
    if limit < least * (1 - 1e-9) or machine.force_min > max(wanted, schedule.force_max):
        arms = f" with arms {arm_pair}" if arm_pair else ""
        short = "short" if limit < least else "too high"
        raise CannotPropose(
            "force",
            f"is {short}: {machine.name}{arms} gives {kn(machine.force_min)} to {kn(limit)}, "
            f"{schedule.name} prints {kn(least)} to {kn(schedule.force_max)} for "
            f"{mm(schedule.thickness)}. Take other arms or another machine; a longer weld time "
            "does not make up for it",
        )
    force = min(max(wanted, machine.force_min), limit)
    force = math.floor(force / 50.0 + 1e-9) * 50.0 if force == limit else round(force, -2)
    why = [
        f"Force {kn(force)}: {schedule.name} prints {kn(schedule.force_min)} to "
        f"{kn(schedule.force_max)} for {mm(schedule.thickness)}."
    ]
    if schedule.extra_reason and limit >= wanted:
        why.append(f"Force includes {schedule.extra_reason}.")
    elif schedule.extra_reason:
        why.append(f"Advised is {schedule.extra_reason}.")
    if limit < wanted:
        why.append(f"Force is the most that {machine.name} gives; {kn(wanted)} would be better.")
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

        def badness(c: ElectrodeCap, target: float = target) -> tuple[bool, float]:
            face = c.face_diameter or 0.0
            return face < target - FACE_SLACK, abs(face - target)

        best = min(faced, key=badness)
        chosen.append(best)
        face = best.face_diameter or 0.0
        why.append(
            f"Face {mm(face)} on side {side}: 5 × √t asks for {mm(target)} on "
            f"{thickness * 1e3:g} mm."
        )
        if face < target - FACE_SLACK:
            why.append(f"That is the largest face of {machine.name}; a larger one would be better.")
    return chosen[0], chosen[1], why


def currents_to_try(
    schedule: Schedule, machine: SpotMachine, arm_pair: str | None
) -> "np.ndarray[tuple[int], np.dtype[np.float64]]":
    """Return the currents to try [A], rising, within what the machine can do."""
    limit = machine.current_limit(arm_pair)
    low = max(machine.current_min, REACH[0] * schedule.current_min)
    high = min(limit, REACH[1] * schedule.current_max)
    if low >= high:
        raise CannotPropose(
            "current",
            f"is short: {machine.name} gives {ka(machine.current_min)} to {ka(limit)}, "
            f"{schedule.name} prints {ka(schedule.current_min)} to {ka(schedule.current_max)}. "
            "Take another machine; a longer weld time does not make up for it",
        )
    return np.linspace(low, high, POINTS)
