"""The coupons of a set-up that count for its release: all since the last change."""

from dataclasses import dataclass

from buttonhole.coupon.comparison import compare
from buttonhole.coupon.difference import Difference, Level
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.desk import Desk
from buttonhole.desk.view import CouponView, JointView

_WORST = (
    Outcome.REJECT,
    Outcome.INVALID,
    Outcome.UNDECIDED,
    Outcome.ACCEPT_NOTE,
    Outcome.ACCEPT,
)


@dataclass(frozen=True, slots=True)
class SeriesCoupon:
    """A coupon of the series with what is different on the joint as it stands now."""

    coupon: CouponView
    differences: tuple[Difference, ...]

    @property
    def like_the_joint(self) -> bool:
        """Nothing that matters is different."""
        return not any(one.level is Level.RED for one in self.differences)

    @property
    def outcome(self) -> Outcome:
        """The worst of its interfaces; a splashed one is not accepted."""
        if any(isinstance(one, Reading) and one.expulsion for one in self.coupon.readings):
            return Outcome.REJECT
        found = [one.verdict.outcome for one in self.coupon.judged] or [Outcome.INVALID]
        return min(found, key=_WORST.index)


def order_at(desk: Desk, joint: JointView, machine: str) -> dict[str, int]:
    """
    Number what happened at a gun; tips dressed are marked, also those at other joints.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        Whose withdrawn entries are left out.
    machine : str
        The gun.

    Returns
    -------
    dict
        By the name of the entry, ``tip`` before that of a dress; from 1 [-].
    """
    withdrawn = {one.event_id for one in joint.history if one.withdrawn}
    events = desk.store.events(f"machine/{machine}")
    return {
        f"tip {one.id}" if one.type == "tip_dressed" else one.id: place
        for place, one in enumerate(events, 1)
        if one.id not in withdrawn
    }


def last_change(joint: JointView, order: dict[str, int]) -> int:
    """
    Tell when set-up or tips were last changed.

    Parameters
    ----------
    joint : JointView
        The joint.
    order : dict
        As of ``order_at``.

    Returns
    -------
    int
        Place in the order; 0 before anything [-].
    """
    own = order[joint.accepted.event_id] if joint.accepted else 0
    return max(own, *(place for name, place in order.items() if name.startswith("tip ")), 0)


def series_of(desk: Desk, joint: JointView) -> tuple[SeriesCoupon, ...]:
    """
    List the coupons of the accepted set-up since the last change.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    tuple of SeriesCoupon
        In the order welded, those that are not like the joint too; empty without a set-up.
    """
    set_up = joint.made_with
    if joint.accepted is None or set_up is None:
        return ()
    there = joint.accepted.surroundings
    order = order_at(desk, joint, there.machine)
    since = last_change(joint, order)
    asked = (joint.joined, set_up, there)
    return tuple(
        SeriesCoupon(
            one,
            compare(asked, (one.joined, one.made_with, one.surroundings), one.read_back),
        )
        for one in joint.coupons
        if order.get(one.event_ids[0], 0) > since and one.made_with == set_up
    )
