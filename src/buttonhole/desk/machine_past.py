"""All coupons of one machine, over jobs and joints, in the order welded.

Every coupon that was entered counts. One that was withdrawn stays in the record with its reason
and counts no more.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from buttonhole.desk.describe_supply import supply_drop
from buttonhole.desk.desk import Desk
from buttonhole.desk.folding import CORRECTION
from buttonhole.desk.read_job import read_job
from buttonhole.desk.view import CouponView, JointView
from buttonhole.learning.coupon_signs import process_of
from buttonhole.record.event import moment
from buttonhole.weld.spot.set_up import SpotSetUp


@dataclass(frozen=True, slots=True)
class Dress:
    """A tip dress: when, the face before and after [m], the welds since the last one; if said."""

    at: datetime
    face_before: float | None
    face_after: float | None
    welds_before: int | None


@dataclass(frozen=True, slots=True)
class PastCoupon:
    """A coupon of a machine with the joint it was welded for.

    ``face`` [-]: logarithm of how far its faces had grown, by what was measured at the next dress.
    ``drop`` [-]: share of the voltage its lead took. ``dress``: number of dresses before it.
    """

    joint: JointView
    coupon: CouponView
    face: float  # -
    drop: float  # -
    dress: int

    @property
    def name(self) -> str:
        """What it is called among those of other joints."""
        return f"{self.joint.name} no. {self.coupon.number}"


def dresses_of(desk: Desk, machine: str) -> tuple[Dress, ...]:
    """
    List the tip dresses of a machine.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    machine : str
        Its name.

    Returns
    -------
    tuple of Dress
        In the order done; withdrawn ones left out.
    """
    events = desk.store.events(f"machine/{machine}")
    taken_back = {
        one.payload["corrects"]
        for job in {each.payload["job"] for each in events if "job" in each.payload}
        for one in desk.store.events(f"job/{job}")
        if one.type == CORRECTION
    }
    return tuple(
        Dress(
            moment(one.at),
            one.payload.get("face_before"),
            one.payload.get("face_after"),
            one.payload.get("welds_before"),
        )
        for one in events
        if one.type == "tip_dressed" and one.id not in taken_back
    )


def past_of(desk: Desk, machine: str, process: str = "spot") -> tuple[PastCoupon, ...]:
    """
    List the coupons of one process of a machine.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    machine : str
        Its name.
    process : str
        spot, plug, seam, braze or aluminium.

    Returns
    -------
    tuple of PastCoupon
        In the order welded.
    """
    events = desk.store.events(f"machine/{machine}")
    jobs = dict.fromkeys(one.payload["job"] for one in events if "job" in one.payload)
    dresses = dresses_of(desk, machine)
    found = []
    for name in jobs:
        for joint in read_job(desk, name).joints:
            for coupon in joint.coupons:
                if coupon.surroundings.machine != machine or welded_by(coupon) != process:
                    continue
                drop = supply_drop(desk, coupon.surroundings) or 0.0
                before = sum(one.at <= coupon.welded_at for one in dresses)
                face = 0.0 if coupon.weld is not None else _grown(coupon, dresses, before)
                found.append(PastCoupon(joint, coupon, face, drop, before))
    return tuple(sorted(found, key=lambda one: (one.coupon.welded_at, one.coupon.number)))


def welded_by(coupon: CouponView) -> str:
    """Return the process of a coupon: spot, plug, seam, braze or aluminium."""
    return "spot" if coupon.weld is None else process_of(coupon.piece)


def face_now(set_up: SpotSetUp, dresses: Sequence[Dress]) -> float:
    """
    Tell how far the faces are from what the set-up says, right after the last dress.

    Parameters
    ----------
    set_up : SpotSetUp
        Names the face as it should be.
    dresses : sequence of Dress
        Of the machine, in order.

    Returns
    -------
    float
        Logarithm of the ratio [-]; nought where nobody measured.
    """
    after = dresses[-1].face_after if dresses else None
    return _ratio(after, set_up)


def _grown(coupon: CouponView, dresses: Sequence[Dress], before: int) -> float:
    """From the face after the last dress towards the face before the next one, by welds."""
    fresh = face_now(coupon.set_up, dresses[:before])
    following = dresses[before] if before < len(dresses) else None
    if following is None or following.face_before is None or not coupon.welds_since_dress:
        return fresh
    worn = _ratio(following.face_before, coupon.set_up)
    if not following.welds_before:
        return worn
    return fresh + (worn - fresh) * min(1.0, coupon.welds_since_dress / following.welds_before)


def _ratio(face: float | None, set_up: SpotSetUp) -> float:
    due = set_up.cap_a.face_diameter
    return 0.0 if face is None or due is None else math.log(face / due)
