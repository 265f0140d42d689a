"""What the condition of a weld costs in diameter and in room before expulsion, and what to do.

Each part of the condition is taken away in turn, on the coarse grid: the difference is what it
costs while the others stay.
"""

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from buttonhole.joint.stack_up import StackUp
from buttonhole.units import show
from buttonhole.weld.spot.condition import NORMAL, SpotCondition
from buttonhole.weld.spot.constants import CONTACT, ContactConstants
from buttonhole.weld.spot.effects import nugget_shape
from buttonhole.weld.spot.expulsion import splash
from buttonhole.weld.spot.pressing import force_at_interface
from buttonhole.weld.spot.result import ConditionCost
from buttonhole.weld.spot.set_up import SpotSetUp
from buttonhole.weld.spot.shunt import Shunt
from buttonhole.weld.spot.simulation import COARSE, Simulation, simulate
from buttonhole.weld.spot.supply import MOST_LEAD_DROP, lead_drop

UNTIL_HOLD_ENDS = dataclasses.replace(COARSE, cooling=False)
WORTH_SAYING = 0.01  # -, of the diameter; common-practice
WORTH_SAYING_GAIN = 0.1e-3  # m; common-practice
ALWAYS = ("tilt", "misalignment")  # what is known of them is rough
WORTH_SAYING_SPLASH = 0.02  # -, of probability; common-practice
ACCEPTED_LOSS = 0.05  # -, of the diameter, to a neighbour; common-practice
FARTHEST = 0.3  # m; a last weld beyond it counts as none; common-practice


@dataclass(frozen=True, slots=True)
class Costs:
    """What each part of a condition costs, and the words for those worth saying."""

    costs: tuple[ConditionCost, ...]

    @property
    def texts(self) -> tuple[str, ...]:
        """Warnings in plain words."""
        return tuple(one.text for one in self.costs if one.text)


def _without(
    stack: StackUp, condition: SpotCondition
) -> Iterator[tuple[str, StackUp, SpotCondition]]:
    """Name of each part that is not as in a normal weld, and the weld without it."""
    if stack.gap > 0.0:
        yield "gap", dataclasses.replace(stack, gap=0.0), condition
    parts = {
        "tilt": ("tilt",),
        "misalignment": ("misalignment",),
        "wear": ("wear",),
        "shunt": ("shunt",),
        "warm_caps": ("cap_temperature", "water_temperature"),
        "supply": ("supply",),
    }
    for name, fields in parts.items():
        normal = {field: getattr(NORMAL, field) for field in fields}
        if any(getattr(condition, field) != value for field, value in normal.items()):
            yield name, stack, dataclasses.replace(condition, **normal)


def condition_costs(
    stack: StackUp,
    set_up: SpotSetUp,
    condition: SpotCondition,
    constants: ContactConstants = CONTACT,
) -> Costs:
    """What each part of a condition costs.

    Parameters
    ----------
    stack : StackUp
        With its gap, which counts as a part.
    set_up : SpotSetUp
        What is set.
    condition : SpotCondition
        What the weld is made in.
    constants : ContactConstants
        The contact model's numbers.

    Returns
    -------
    Costs
        One entry for each part that is not as in a normal weld; diameters in [m].
    """
    parts = list(_without(stack, condition))
    if not parts:
        return Costs(())
    now = simulate(stack, set_up, UNTIL_HOLD_ENDS, constants, condition=condition)
    thrown = splash(now, stack)
    found = []
    for name, other, without in parts:
        weld = simulate(other, set_up, UNTIL_HOLD_ENDS, constants, condition=without)
        lost = weld.nugget - now.nugget
        added = thrown - splash(weld, other)
        share = float((lost / np.maximum(weld.nugget, 0.5e-3)).max())
        text = ""
        if share >= WORTH_SAYING or added >= WORTH_SAYING_SPLASH or name in ALWAYS:
            most = float(lost.max())
            told = _Told(name, stack, set_up, condition, now, share, most, added, thrown)
            text = f"{_TEXTS[name](told)}{_effect(told)}{_ADVICE[name](told)}"
        found.append(ConditionCost(name, tuple(float(one) for one in lost), added, text))
    return Costs(tuple(found))


@dataclass(frozen=True, slots=True)
class _Told:
    name: str
    stack: StackUp
    set_up: SpotSetUp
    condition: SpotCondition
    now: Simulation
    share: float  # -, of the diameter that is lost
    lost: float  # m
    added: float  # -, probability
    thrown: float  # -, probability


def _effect(told: _Told) -> str:
    said = []
    if told.share >= WORTH_SAYING:
        said.append(
            f"the nugget is about {100 * told.share:.0f} % ({1e3 * told.lost:.1f} mm) smaller"
        )
    if told.added >= WORTH_SAYING_SPLASH:
        before, after = 100 * (told.thrown - told.added), 100 * told.thrown
        said.append(f"the chance of expulsion goes from {before:.0f} to {after:.0f} %")
    costs = f" That costs: {' and '.join(said)}." if said else ""
    if told.name in ALWAYS and told.lost <= -WORTH_SAYING_GAIN:
        costs += " Don't count on the larger nugget it seems to give: such contacts are not held."
    return costs


def _gap_text(told: _Told) -> str:
    left = force_at_interface(told.stack, told.set_up.electrode_force)[0]
    taken = told.set_up.electrode_force - left
    return (
        f"Closing the gap of {show(told.stack.gap, 'length')} takes about {show(taken, 'force')} "
        "of the force."
    )


def _tilt_text(told: _Told) -> str:
    return (
        f"The electrodes stand {math.degrees(told.condition.tilt):.3g}° askew to the sheets"
        f"{_beside(told)}."
    )


def _misalignment_text(told: _Told) -> str:
    return f"The caps are {show(told.condition.misalignment, 'length')} out of line{_beside(told)}."


def _beside(told: _Told) -> str:
    offset, oval = nugget_shape(told.now.sunk, told.stack, told.set_up, told.condition)
    if offset < 0.05e-3:
        return ""
    return f": the nugget lies {1e3 * offset:.1f} mm beside either mark, oval as {oval:.2f} to 1"


def _wear_text(told: _Told) -> str:
    widest = max(told.condition.wear)
    return f"The caps are worn: a face has grown by {show(widest, 'length')}."


def _shunt_text(told: _Told) -> str:
    shunt = told.condition.shunt
    distance = shunt.distance if shunt is not None else math.inf
    return (
        f"The weld {show(distance, 'length')} away takes about "
        f"{100 * (1.0 - told.now.passed):.0f} % of the current."
    )


def _warm_text(told: _Told) -> str:
    hottest = max(told.condition.cap_temperature)
    water = "" if told.condition.water_temperature is not None else ", without water,"
    return f"The caps{water} start at {show(hottest, 'temperature')}."


def _supply_text(told: _Told) -> str:
    wanted = max(pulse.current for pulse in told.set_up.pulses)
    return (
        f"The machine gives about {show(wanted * told.now.given, 'current')} of the "
        f"{show(wanted, 'current')} set."
    )


def _shunt_advice(told: _Told) -> str:
    more = 100.0 * (1.0 / told.now.passed - 1.0)
    pitch = pitch_for_loss(told.stack, told.set_up, told.condition)
    near = told.condition.shunt is not None and told.condition.shunt.distance < pitch < FARTHEST
    move = f" or keep {show(pitch, 'length', digits=2)} between welds" if near else ""
    return f" Give about {more:.0f} % more current beside a weld{move}."


def _supply_advice(told: _Told) -> str:
    supply = told.condition.supply
    if supply is None:
        return ""
    line = supply.line_current(told.now.given * max(pulse.current for pulse in told.set_up.pulses))
    drop = lead_drop(line, supply.lead_length, supply.lead_area, three_phase=supply.three_phase)
    share = drop / supply.mains_voltage
    if share > MOST_LEAD_DROP:
        return (
            f" The lead loses about {drop:.0f} V ({100 * share:.0f} %): unroll it, take a shorter "
            "or a thicker one."
        )
    return " Check the voltage at the outlet, the cables and the arms, or set what it can give."


_TEXTS = {
    "gap": _gap_text,
    "tilt": _tilt_text,
    "misalignment": _misalignment_text,
    "wear": _wear_text,
    "shunt": _shunt_text,
    "warm_caps": _warm_text,
    "supply": _supply_text,
}
_ADVICE = {
    "gap": lambda _told: " Clamp the sheets together before you weld.",
    "tilt": lambda _told: " Hold the gun square to the sheets.",
    "misalignment": lambda _told: " Line the arms up.",
    "wear": lambda _told: " Dress the caps, or find the current that worn ones need.",
    "shunt": _shunt_advice,
    "warm_caps": lambda _told: " Let them cool, or check the water.",
    "supply": _supply_advice,
}


def pitch_for_loss(
    stack: StackUp,
    set_up: SpotSetUp,
    condition: SpotCondition = NORMAL,
    loss: float = ACCEPTED_LOSS,
) -> float:
    """Distance from the last weld at which the nugget is smaller by a given share.

    Parameters
    ----------
    stack : StackUp
        The sheets.
    set_up : SpotSetUp
        What is set.
    condition : SpotCondition
        The rest of it; the last weld's diameter and the flange's width are taken from its shunt.
    loss : float
        Share of the diameter [-] at the interface that loses most.

    Returns
    -------
    float
        Distance between centres [m], to 1 %; infinite when 300 mm are not enough.
    """
    shunt = condition.shunt or Shunt(FARTHEST)

    def nuggets(last: Shunt | None) -> NDArray[np.float64]:
        beside = dataclasses.replace(condition, shunt=last)
        return simulate(stack, set_up, UNTIL_HOLD_ENDS, condition=beside).nugget

    def smaller(distance: float) -> float:
        beside = nuggets(dataclasses.replace(shunt, distance=distance))
        return float((1.0 - beside / np.maximum(alone, 1e-9))[alone > 0.0].max(initial=0.0))

    alone = nuggets(None)
    near, far = 5e-3, FARTHEST
    if smaller(far) > loss:
        return math.inf
    if smaller(near) <= loss:
        return near
    while far / near > 1.01:
        middle = math.sqrt(near * far)
        if smaller(middle) > loss:
            near = middle
        else:
            far = middle
    return far
