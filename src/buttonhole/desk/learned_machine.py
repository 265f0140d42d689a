"""What coupons of the record teach about their machine: each as a point of a surrogate.

Coupons of the same sheets and caps share one surrogate as long as their settings lie near each
other. What is known to be different on a coupon (a lead that takes voltage, faces that were
measured to have grown, a gap) moves its point, so that it teaches the machine and not the
difference.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from buttonhole.coupon.criterion import Criterion
from buttonhole.coupon.reading import Reading
from buttonhole.desk.learned_joint import LearnedMachine, spot_joint
from buttonhole.desk.machine_past import PastCoupon
from buttonhole.desk.rules import rule_for
from buttonhole.joint.stack_up import StackUp
from buttonhole.learning.beliefs import SPOT
from buttonhole.learning.evidence import LearningCoupon, evidence_of
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.spot_surrogate import HIGH, INPUTS, LOW, spot_point
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import SpotSetUp

OWN = "this joint"
FACE = INPUTS.index("face")


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of a machine: sheets, set-up and criterion; ``face`` and ``drop`` as there."""

    stack: StackUp
    set_up: SpotSetUp
    criterion: Criterion
    face: float = 0.0  # -
    drop: float = 0.0  # -


def learned_machine(past: Sequence[PastCoupon], asked: Asked | None = None) -> LearnedMachine:
    """Put the coupons of a machine and what is asked of it together.

    Parameters
    ----------
    past : sequence of PastCoupon
        All its coupons, in the order welded.
    asked : Asked, optional
        A joint that is to be decided on.

    Returns
    -------
    LearnedMachine
        Coupons that were not read are no evidence and not among its coupons.

    Raises
    ------
    BadInput
        What is asked hardly melts, or lies outside what the surrogate knows; or there is no coupon.
    """
    families = _Families()
    point: tuple[float, ...] = ()
    name, current = "", 0.0
    if asked is not None:
        home = families.add(OWN, asked.stack, asked.set_up, asked.criterion)
        point = home.point(asked.stack, asked.set_up, asked.face, asked.drop)
        name, current = home.joint.key, _current(asked.set_up, asked.drop)
        if not home.holds(point):
            raise BadInput("set_up", "lies outside what the model knows")
    coupons, left_out = {}, []
    for one in past:
        if not one.coupon.readings:
            continue
        try:
            coupons[one.coupon.id] = families.place(one)
        except BadInput as bad:
            left_out.append(f"{one.name}: {bad.message}")
    joints = [home.joint for home in families.homes]
    return LearnedMachine(
        Model(SPOT, joints), coupons, name or joints[0].key, point, current, tuple(left_out)
    )


@dataclass(frozen=True, slots=True)
class _Home:
    """Sheets and caps that share a surrogate, and the set-up it was fitted round."""

    joint: LearnedJoint
    alike: tuple[object, ...]
    about: SpotSetUp

    def point(
        self, stack: StackUp, set_up: SpotSetUp, face: float, drop: float
    ) -> tuple[float, ...]:
        """A weld as inputs of the surrogate [SI]."""
        found = spot_point(set_up, stack, self.about)
        found[0] += math.log1p(-drop)
        found[FACE] = min(max(face, LOW[FACE]), HIGH[FACE])
        return tuple(float(one) for one in found)

    def holds(self, point: Sequence[float]) -> bool:
        """Whether the surrogate was fitted there."""
        return bool(self.joint.surrogate.inside(np.array(point)))


class _Families:
    """The surrogates that the coupons of a machine need, each fitted once."""

    def __init__(self) -> None:
        self.homes: list[_Home] = []

    def add(self, name: str, stack: StackUp, set_up: SpotSetUp, rule: Criterion | None) -> _Home:
        """Fit one more."""
        taken = sum(home.joint.key.partition(" (")[0] == name for home in self.homes)
        key = f"{name} ({taken + 1})" if taken else name
        joint = spot_joint(key, stack, set_up, rule or rule_for(stack))
        self.homes.append(_Home(joint, _alike(stack, set_up), set_up))
        return self.homes[-1]

    def place(self, one: PastCoupon) -> LearningCoupon:
        """A coupon as it teaches, at the surrogate that fits it."""
        coupon = one.coupon
        stack, set_up = coupon.stack, coupon.set_up
        alike = _alike(stack, set_up)
        where = (stack, set_up, one.face, one.drop)
        fitting = [home for home in self.homes if home.alike == alike]
        home = next((each for each in fitting if each.holds(each.point(*where))), None)
        if home is None:
            home = self.add(_words(stack), stack, set_up, None)
        point = home.point(*where)
        if not home.holds(point):
            self.homes.remove(home)
            raise BadInput("coupon", "lies outside what the model knows")
        evidence = tuple(
            found
            for reading in coupon.readings
            if isinstance(reading, Reading)
            for found in evidence_of(reading)
        )
        current = _current(set_up, one.drop)
        return LearningCoupon(one.name, home.joint.key, point, evidence, current)


def _alike(stack: StackUp, set_up: SpotSetUp) -> tuple[object, ...]:
    """What must be the same for two welds to share a surrogate."""
    pulses = tuple(replace(one, current=1.0, time=1.0, up_slope=0.0) for one in set_up.pulses)
    return (stack.sheets, set_up.cap_a, set_up.cap_b, set_up.current_type, pulses)


def _words(stack: StackUp) -> str:
    return " / ".join(
        f"{one.thickness * 1e3:g} mm {one.steel.designation} {one.coating.value}"
        for one in stack.sheets
    )


def _current(set_up: SpotSetUp, drop: float) -> float:
    """What the longest pulse is set to, less what the lead takes [A]."""
    return max(set_up.pulses, key=lambda pulse: pulse.time).current * (1.0 - drop)
