"""A spot weld at once: the emulator's figures, how far they may be off, and whether to ask it.

What it says is the solver's answer guessed, not the weld's: the solver's own doubt is in the
intervals beside the emulator's error. Outside the ground it was taught on it says so, and its
figures are then not to be used. Widths of intervals are measured here, see ``about.toml``;
what else is a number is judged, no source.
"""

import dataclasses
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.weld.estimate import Z90, Estimate
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.emulator import figures as f
from buttonhole.weld.spot.emulator.ground import (
    current_within,
    time_within,
    why_not_normal,
    why_outside,
)
from buttonhole.weld.spot.emulator.inputs import Views, groups, moved, views_of
from buttonhole.weld.spot.emulator.stored import about, nets
from buttonhole.weld.spot.expulsion import after_expulsion
from buttonhole.weld.spot.prediction import (
    BUTTON_OVER_NUGGET,
    BUTTON_SPREAD,
    COATED_SPREAD,
    LOAD_SPREAD,
    MODEL_SPREAD,
    MODEL_VERSION,
    around,
)
from buttonhole.weld.spot.programme import check_set_up
from buttonhole.weld.spot.result import InterfaceWeld
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.window import WeldWindow, ends_of

Array = NDArray[np.float64]

WELD = 2  # place of the weld asked for among the five that are looked at
NEAR_ONSET = 1.0  # -, number of the warmth within which an interface may or may not have melted
RING_BELOW = 0.5  # -, of the number that says whether the centre melted


@dataclass(frozen=True, slots=True)
class QuickWeld:
    """What the emulator says of one weld. Intervals are 90 %, its own error included."""

    interfaces: tuple[InterfaceWeld, ...]
    emulator_error: tuple[float, ...]  # m, of each nugget against the solver, 90 %
    expulsion_probability: Estimate  # -
    indentation: Estimate  # m, deeper side
    sunk: tuple[float, float]  # m, caps A and B
    haz_diameter: Estimate  # m
    cooling_t85: Estimate  # s, 0 where nothing comes to 800 degC
    heat: Estimate  # J
    inside_ground: bool
    why_outside: str  # empty when inside
    model_version: str


@dataclass(frozen=True, slots=True)
class QuickWindow:
    """A window at once, and where on it the emulator is to be believed.

    There is no robust current in it. That one is sought under the scatter of machine, sheets and
    caps, so it hangs on the tails: on how often a nugget stays under the limit or metal flies. Near
    the onset the emulator's own error is as large as that scatter, and it would be the emulator's
    error that places the current. The solver's window has it.
    """

    window: WeldWindow
    inside_ground: NDArray[np.bool_]  # - (times, currents)
    why_outside: str  # of the first point outside, empty when all are inside


def quick(stack: StackUp, set_up: SpotSetUp, condition: SpotCondition = NORMAL) -> QuickWeld:
    """Say at once what the solver would say of a weld.

    Parameters
    ----------
    stack : StackUp
        Two to four sheets from side A.
    set_up : SpotSetUp
        What is set on the machine; of more than one pulse the longest is looked at, and the weld
        is outside the ground.
    condition : SpotCondition
        What the weld is made in; wear of the caps is looked at, all else is outside the ground.

    Returns
    -------
    QuickWeld
        Figures in SI units, with 90 % intervals.

    Raises
    ------
    BadInput
        When the set-up can't be set.
    """
    check_set_up(set_up)
    known = about()
    spread = _own_spread(stack, known)
    set_up = condition.pressing(set_up)
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    asked, set_up = set_up, dataclasses.replace(set_up, pulses=(main,))
    views = views_of(stack, set_up)
    # the middle one is the weld; the others tell how far a doubt of the current goes
    currents = main.current * (1.0 + spread * Z90 * np.array([-1.0, -0.5, 0.0, 0.5, 1.0]))
    seen = _seen(views, currents, np.full(5, main.time), set_up)
    each = nets().each(seen)
    why = _why_another_solver(known) or why_not_normal(condition)
    why = why or why_outside(stack, asked, views, known["ground"])
    if not why:
        why = _why_apart(each[:, WELD : WELD + 1], seen[WELD], known)
    return _weld(stack, each, spread, known, why)


def quick_window(
    stack: StackUp,
    set_up: SpotSetUp,
    minimum_diameters: Sequence[float],
    *,
    currents: Sequence[float],
    times: Sequence[float] | None = None,
) -> QuickWindow:
    """Map the weld over current and time at once.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        All that is not varied; one pulse.
    minimum_diameters : sequence of float
        Least nugget diameter at each faying interface [m].
    currents : sequence of float
        Rms currents [A], rising.
    times : sequence of float, optional
        Weld times [s]; else the set one.

    Returns
    -------
    QuickWindow
        Limits in [A].
    """
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    over = np.asarray(currents, float)
    at = np.asarray(times if times is not None else [main.time], float)
    lasts, amps = (one.ravel() for one in np.meshgrid(at, over, indexing="ij"))
    views = views_of(stack, set_up)
    each = nets().each(_seen(views, amps, lasts, set_up))
    found = f.figures_of(each.mean(axis=0), stack)
    shape = (len(at), len(over))
    nugget = found.nugget.T.reshape(-1, *shape)
    expulsion = f.expulsion_of(found, stack).reshape(shape)
    least = tuple(float(d) for d in minimum_diameters)
    ends = [ends_of(over, nugget[:, t], expulsion[t], least) for t in range(len(at))]
    lower, upper = (np.array(column) for column in zip(*ends, strict=True))
    unsought = np.full(len(at), math.nan)
    inside, why = _inside_of_map(stack, set_up, views, each, (amps, lasts))
    window = WeldWindow(over, at, nugget, expulsion, least, lower, upper, unsought)
    return QuickWindow(window, inside.reshape(shape), why)


def _seen(views: Views, currents: Array, times: Array, set_up: SpotSetUp) -> Array:
    main = max(set_up.pulses, key=lambda pulse: pulse.time)
    return moved(views, currents, times, set_up.hold_time, main.up_slope / main.time)


def _inside_of_map(
    stack: StackUp, set_up: SpotSetUp, views: Views, each: Array, points: tuple[Array, Array]
) -> tuple[NDArray[np.bool_], str]:
    """Which of the points (currents [A], times [s]) were taught, and why the first other was not.

    What doesn't move is judged once, at a current and a time that were taught.
    """
    known = about()
    ground = known["ground"]
    pulse = set_up.pulses[0]
    usual = float(np.clip(pulse.time, *ground["time"]))
    usual_current = current_within(views, 1.0, usual, ground)
    share = pulse.up_slope / pulse.time
    still = dataclasses.replace(
        pulse,
        current=math.sqrt(math.prod(usual_current.limits)),
        time=usual,
        up_slope=share * usual,
    )
    pulses = (still, *set_up.pulses[1:])
    fixed = _why_another_solver(known) or why_outside(
        stack, dataclasses.replace(set_up, pulses=pulses), views, ground
    )
    if fixed:
        return np.zeros(len(points[0]), bool), fixed
    inside, reason = np.ones(len(points[0]), bool), ""
    for i, (current, time) in enumerate(zip(*points, strict=True)):
        for within in (
            time_within(float(time), ground),
            current_within(views, float(current), float(time), ground),
        ):
            if not within.holds:
                inside[i], reason = False, reason or within.words
    far = apart_of(each) > float(known["apart"][str(len(stack.sheets))]["limit"])
    if (far & inside).any():
        reason = reason or "few welds like some of these were taught"
    return inside & ~far, reason


def _why_another_solver(known: dict[str, Any]) -> str:
    if known["model_version"] == MODEL_VERSION:
        return ""
    return f"it was taught by model {known['model_version']}, now there is {MODEL_VERSION}"


def _own_spread(stack: StackUp, known: dict[str, Any]) -> float:
    """Relative standard deviation [-] of a nugget that the solver tells of itself."""
    coated = any(face.coated for face in stack.interfaces)
    doubts = float(known["apart"][str(len(stack.sheets))]["doubts"])
    return math.hypot(doubts, COATED_SPREAD if coated else MODEL_SPREAD)


def apart_of(each: Array) -> Array:
    """How far the nets are apart over the nuggets of a weld.

    Parameters
    ----------
    each : Array
        (nets, welds, interfaces, numbers) [-].

    Returns
    -------
    Array
        Of the interface where they are furthest apart, (welds,) [-].
    """
    warmth, size = each[:, :, :, f.WARMTH_AT], each[:, :, :, f.SIZE_AT]
    # the size of a nugget that is not there may be anything
    there = warmth.mean(axis=0) > -NEAR_ONSET
    found: Array = np.hypot(size.std(axis=0) * there, warmth.std(axis=0) / NEAR_ONSET).max(axis=1)
    return found


def _why_apart(each: Array, seen: Array, known: dict[str, Any]) -> str:
    """Why the nets are too far apart to be believed; nothing when they are not."""
    limit = float(known["apart"][str(len(seen) + 1)]["limit"])
    if float(apart_of(each)[0]) <= limit:
        return ""
    trial = []
    for columns in groups().values():
        usual = seen.copy()
        usual[:, columns] = nets().input_middle[columns]
        trial.append(usual)
    calmer = apart_of(nets().each(np.array(trial)))
    most = list(groups())[int(np.argmin(calmer))]
    return f"few welds like this one were taught; what is least usual: {most}"


def guessed(each: Array, root: Array, known: dict[str, Any]) -> tuple[Array, Array]:
    """Between what the solver's nuggets lie nine times in ten.

    Parameters
    ----------
    each : Array
        Of one weld, (nets, interfaces, numbers) [-].
    root : Array
        Of the thickness (interfaces,) [m^0.5].
    known : dict
        What was found on held-out welds.

    Returns
    -------
    tuple of Array
        Lowest and highest diameter (interfaces,) [m].
    """
    own = known["apart"][str(len(root) + 1)]
    ends = []
    for sign in (-Z90, Z90):
        number = []
        for name, place in (("size", f.SIZE_AT), ("warmth", f.WARMTH_AT)):
            apart = np.hypot(each[:, :, place].std(axis=0), float(own[f"{name}_floor"]))
            number.append(
                each[:, :, place].mean(axis=0) + sign * float(own[f"{name}_factor"]) * apart
            )
        ends.append(f.diameter(number[0], number[1], root))
    return ends[0], ends[1]


def _weld(stack: StackUp, each: Array, spread: float, known: dict[str, Any], why: str) -> QuickWeld:
    found = f.figures_of(each.mean(axis=0), stack)
    low, high = guessed(each[:, WELD], f.roots(stack), known)
    welds = tuple(
        _interface(found, i, (float(low[i]), float(high[i])), spread)
        for i in range(len(stack.interfaces))
    )
    nugget = found.nugget[WELD]
    weld_error = known["error"][str(len(stack.sheets))]
    sunk = float(found.sunk[WELD].max())
    widest = max(float(found.haz_diameter[WELD]), 0.0)
    haz = math.hypot(spread, float(weld_error["haz_diameter"]) / max(widest, 1e-3))
    return QuickWeld(
        interfaces=welds,
        emulator_error=tuple(np.maximum(high - nugget, nugget - low).tolist()),
        expulsion_probability=_expulsion(found, each, stack, weld_error),
        indentation=around(sunk, math.hypot(0.5, float(weld_error["indentation"]))),
        sunk=(float(found.sunk[WELD, 0]), float(found.sunk[WELD, 1])),
        haz_diameter=around(widest, haz),
        cooling_t85=around(
            float(found.cooling_t85[WELD]) if widest > 0.0 else 0.0,
            math.hypot(0.2, float(weld_error["cooling_t85"])),
        ),
        heat=around(float(found.heat[WELD]), math.hypot(0.08, float(weld_error["heat"]))),
        inside_ground=not why,
        why_outside=why,
        model_version=f"{MODEL_VERSION} quick",
    )


def _interface(
    found: f.Figures, index: int, guessed: tuple[float, float], spread: float
) -> InterfaceWeld:
    """One interface: the solver's doubt and the emulator's error together."""
    nugget = float(found.nugget[WELD, index])
    reach = (float(found.nugget[0, index]), float(found.nugget[4, index]))
    down = max(nugget - reach[0], Z90 * spread * nugget)
    up = max(reach[1] - nugget, Z90 * spread * nugget)
    low = max(0.0, nugget - math.hypot(down, nugget - guessed[0]))
    high = nugget + math.hypot(up, guessed[1] - nugget)
    share = Z90 * BUTTON_SPREAD * nugget
    button = Estimate(
        BUTTON_OVER_NUGGET * nugget,
        max(0.0, BUTTON_OVER_NUGGET * (nugget - math.hypot(nugget - low, share))),
        BUTTON_OVER_NUGGET * (nugget + math.hypot(high - nugget, share)),
    )
    return InterfaceWeld(
        index=index,
        nugget_diameter=Estimate(nugget, low, high),
        button_diameter=button,
        penetration_a=float(found.penetration[WELD, index, 0]),
        penetration_b=float(found.penetration[WELD, index, 1]),
        ring=nugget > 0.0 and float(found.centre[WELD, index]) < RING_BELOW,
        after_expulsion=after_expulsion(nugget, float(found.diameter_at_limit[WELD, index])),
    )


def _expulsion(
    found: f.Figures, each: Array, stack: StackUp, weld_error: dict[str, Any]
) -> Estimate:
    """The chance, and what it is half the doubt of the current away and within the error."""
    apart = float(each[:, WELD, :, f.LOAD_AT].std(axis=0).max())
    over = math.exp(Z90 * math.hypot(apart, float(weld_error["load"]), LOAD_SPREAD))
    low, value, high = (f.expulsion_of(found, stack, share) for share in (1.0 / over, 1.0, over))
    return Estimate(
        float(value[WELD]),
        float(min(low[WELD], value[WELD - 1], value[WELD])),
        float(max(high[WELD], value[WELD + 1], value[WELD])),
    )
