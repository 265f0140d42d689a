"""Compare the coupon at the end of some work with the one it began with.

The end coupon is welded like any other, under the conditions of the release. Where the welds have
got smaller, the tips are dressed sooner from then on and the last welds are looked at.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from buttonhole.coupon.difference import Level
from buttonhole.coupon.verdict import Verdict
from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import find_coupon, read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.series_of import SeriesCoupon, series_of
from buttonhole.desk.view import CouponView, JointView, ReleaseView
from buttonhole.desk.watch_machine import COMPARED, shortened
from buttonhole.units import BadInput

if TYPE_CHECKING:
    from buttonhole.learning.wear import Drift


@dataclass(frozen=True, slots=True)
class CompareEndCoupon:
    """Which coupon ends the work; the last one when left out.

    `welds` were made since the start coupon [-]; left out they are those that were ticked on the
    vehicle, else the difference of what was counted since the tips were dressed.
    """

    joint_id: str
    seen: str | None
    coupon_id: str = ""
    welds: int | None = None


def compare_end_coupon(desk: Desk, command: CompareEndCoupon) -> JointView:
    """
    Compare an end coupon with the last start coupon of the release.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : CompareEndCoupon
        Which.

    Returns
    -------
    JointView
        The joint; `end_checks` has the comparison. Under the limit, the release has ended.

    Raises
    ------
    BadInput
        When nothing was released, the coupon is not judged, not later than the release, not like
        the joint or its tips were dressed in between; or nobody knows how many welds were made.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    release, start, end = _pair(desk, joint, command.coupon_id)
    welds = command.welds or _made(joint, release) or _counted(start, end)
    interval = shortened(desk, release.surroundings.machine) or release.release.max_welds or 50
    face, worst, first, last = _worst(start, end, welds, interval)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "release": release.id,
        "coupon": end.id,
        "number": end.number,
        "start_number": start.number,
        "interface": face,
        "start": first.mean_diameter,
        "end": last.mean_diameter,
        "limit": last.limit,
        "welds": welds,
        **{key: getattr(worst, key) for key in ("accepted", "drifts", "fall", "interval")},
        "look_at": worst.look_at,
        "words": worst.words,
    }
    about = about_joint(joint.job_id, joint.id, f"machine/{release.surroundings.machine}")
    save(desk, [desk.draft(COMPARED, about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def _worst(
    start: CouponView, end: CouponView, welds: int, interval: int
) -> "tuple[int, Drift, Verdict, Verdict]":
    """The interface that speaks for the weld: one under its limit, then the one that fell most."""
    from buttonhole.learning.wear import drift

    found = [
        (
            one.interface,
            drift(
                one.verdict.mean_diameter,
                other.verdict.mean_diameter,
                other.verdict.limit,
                uncertainty=0.5 * other.verdict.expanded_uncertainty,
                welds=welds,
                interval=interval,
            ),
            one.verdict,
            other.verdict,
        )
        for one in start.judged
        for other in end.judged
        if one.interface == other.interface and one.verdict.mean_diameter > 0.0
    ]
    if not found:
        raise BadInput("coupon", "has no measured diameter to compare; measure it")
    return max(found, key=lambda each: (not each[1].accepted, each[1].fall))


def may_end(joint: JointView, coupon: CouponView) -> bool:
    """
    Tell whether a coupon can be the end coupon of the last release.

    Parameters
    ----------
    joint : JointView
        The joint.
    coupon : CouponView
        A coupon of it.

    Returns
    -------
    bool
        It was judged, welded after the release with the same set-up, and not compared yet.
    """
    if joint.arc is not None or not joint.releases or not coupon.is_judged:
        return False
    release = joint.releases[-1]
    compared = {one.coupon for one in joint.end_checks}
    same = coupon.made_with == release.release.set_up
    return same and coupon.welded_at > release.at and coupon.id not in compared


def _pair(
    desk: Desk, joint: JointView, coupon_id: str
) -> tuple[ReleaseView, CouponView, CouponView]:
    if not joint.releases:
        raise BadInput("joint", "was never released; an end coupon ends the work of a release")
    if not joint.coupons:
        raise BadInput("coupon", "is missing; weld the end coupon first")
    release = joint.releases[-1]
    end = find_coupon(joint, coupon_id) if coupon_id else joint.coupons[-1]
    if not end.is_judged:
        raise BadInput("coupon", f"{end.number} is not torn and judged yet")
    starts = [one for one in joint.coupons if one.id in release.coupon_ids]
    if not starts or end.welded_at <= release.at:
        raise BadInput(
            "coupon",
            f"{end.number} was welded before the release; weld the end coupon after the work",
        )
    _like(series_of(desk, joint), end)
    return release, starts[-1], end


def _like(series: tuple[SeriesCoupon, ...], end: CouponView) -> None:
    """Refuse a coupon that shares not all with the work it ends."""
    own = next((one for one in series if one.coupon.id == end.id), None)
    if own is None:
        raise BadInput(
            "coupon",
            f"{end.number} is of another set-up, or the tips were dressed in between; it says "
            "nothing about the end of this work",
        )
    red = [one for one in own.differences if one.level is Level.RED]
    if red:
        raise BadInput(
            "coupon",
            f"{end.number} is not the joint ({red[0].item}: {red[0].on_coupon}, on the vehicle "
            f"{red[0].on_joint}); weld the end coupon under the conditions of the release",
        )


def _made(joint: JointView, release: ReleaseView) -> int:
    return sum(one.release == release.id for one in joint.welding.made)


def _counted(start: CouponView, end: CouponView) -> int:
    if start.welds_since_dress is None or end.welds_since_dress is None:
        return 0
    return max(0, end.welds_since_dress - start.welds_since_dress)
