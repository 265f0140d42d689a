"""What is different on the joint as it stands now from the coupon that speaks for it.

While a release holds the coupon is the last one it rests on, else the last one of the set-up. Where
the supply is another one, what the lead takes is worked out, and what it does to the weld.
"""

import math
from dataclasses import dataclass, replace

from buttonhole.coupon.comparison import compare
from buttonhole.coupon.difference import Difference, Level, Surroundings
from buttonhole.desk.decide_release import joint_case, learned
from buttonhole.desk.describe_supply import supply_drop, supply_of
from buttonhole.desk.desk import Desk
from buttonhole.desk.view import CouponView, JointView
from buttonhole.procedure.supply import heat_lost
from buttonhole.weld.estimate import Estimate

SUPPLY = frozenset({"outlet", "lead"})


@dataclass(frozen=True, slots=True)
class SupplyEffect:
    """What another supply does: ``drop_coupon``, ``drop_joint`` [-] of the voltage, ``heat`` [-]
    that is lost at the joint, ``before`` and ``after`` [m] by interface; empty where no model says.
    """

    drop_coupon: float  # -
    drop_joint: float  # -
    heat: float  # -
    before: tuple[Estimate, ...]  # m
    after: tuple[Estimate, ...]  # m
    words: str


@dataclass(frozen=True, slots=True)
class DifferencesNow:
    """All rows, red ones first, of which coupon, and what the supply does; None where alike."""

    coupon: CouponView
    rows: tuple[Difference, ...]
    supply: SupplyEffect | None
    advice: str

    @property
    def worst(self) -> Level:
        """The level of the whole list."""
        return self.rows[0].level if self.rows else Level.GREEN


def differences_now(
    desk: Desk, joint: JointView, at: Surroundings | None = None
) -> DifferencesNow | None:
    """
    Compare the joint as it stands with the coupon that speaks for it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    at : Surroundings, optional
        Where and with what it is to be welded; as accepted when left out. Empty fields are as
        accepted.

    Returns
    -------
    DifferencesNow or None
        None while there is no coupon or no set-up.
    """
    set_up, coupon = joint.made_with, _speaking(joint)
    if joint.accepted is None or set_up is None or coupon is None:
        return None
    there = _filled(at, joint.accepted.surroundings)
    rows = compare(
        (joint.joined, set_up, there),
        (coupon.joined, coupon.made_with, coupon.surroundings),
        coupon.read_back,
    )
    other = [one for one in rows if one.item in SUPPLY and one.level is not Level.GREEN]
    supply = _effect(desk, joint, coupon, there) if other else None
    advice = ""
    if any(one.level is Level.RED for one in rows):
        advice = "This coupon does not speak for the joint: weld a new one as the vehicle stands."
    return DifferencesNow(coupon, rows, supply, advice)


def _speaking(joint: JointView) -> CouponView | None:
    ids = joint.release.coupon_ids if joint.release else ()
    released = [one for one in joint.coupons if one.id in ids]
    torn = [one for one in joint.coupons if one.made_with == joint.made_with]
    speaking = released or torn or list(joint.coupons)
    return speaking[-1] if speaking else None


def _filled(at: Surroundings | None, usual: Surroundings) -> Surroundings:
    if at is None:
        return usual
    given = {key: value for key in Surroundings.__slots__ if (value := getattr(at, key))}
    return replace(usual, **given)


def _effect(
    desk: Desk, joint: JointView, coupon: CouponView, there: Surroundings
) -> SupplyEffect | None:
    here, now = supply_drop(desk, coupon.surroundings), supply_drop(desk, there)
    if here is None and now is None:
        return None
    drops = (here or 0.0, now or 0.0)
    # what is lost beyond what the coupon lost already
    beyond = 1.0 - (1.0 - drops[1]) / (1.0 - drops[0])
    heat = heat_lost(beyond)
    before, after = _sizes(desk, joint, drops)
    named = (supply_of(desk, there.outlet), supply_of(desk, there.lead))
    told = [one.words for one in named if one]
    if beyond > 0.0:
        told.append(
            f"Against the coupon {100.0 * beyond:.1f} % of the voltage and {100.0 * heat:.0f} % of "
            "the heat are lost where the gun does not hold its current."
        )
    for face, (one, other) in enumerate(zip(before, after, strict=True), start=1):
        told.append(
            f"Sheet {face} to {face + 1}: predicted {one.value * 1e3:.1f} mm at the coupon's "
            f"supply, {other.value * 1e3:.1f} mm at the vehicle's."
        )
    return SupplyEffect(*drops, heat, before, after, " ".join(told))


def _sizes(
    desk: Desk, joint: JointView, drops: tuple[float, float]
) -> tuple[tuple[Estimate, ...], tuple[Estimate, ...]]:
    """Sizes of the next weld at the coupon's and at the joint's supply [m]."""
    from buttonhole.learning.posterior import outlook

    case = None if joint.arc is not None else joint_case(desk, joint)
    if case is None or case.case is None or joint.set_up is None:
        return (), ()
    posterior, asked = learned(case), case.case
    own = supply_drop(desk, joint.set_up.surroundings) or 0.0
    found = []
    for drop in drops:
        shift = math.log1p(-drop) - math.log1p(-own)
        point = (asked.point[0] + shift, *asked.point[1:])
        current = asked.current * math.exp(shift)
        seen = outlook(posterior, asked.model.setting(asked.joint, point, current))
        found.append(seen.size)
    return found[0], found[1]
