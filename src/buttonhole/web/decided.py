"""What was learned from coupons, kept for the next look: the same record says the same.

The hash of the record's last entry names all that is in it.
"""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar, cast

from buttonhole.desk.decide_release import Decided
from buttonhole.desk.desk import Desk
from buttonhole.desk.diagnose_coupon import diagnose_coupon
from buttonhole.desk.differences_now import DifferencesNow, differences_now
from buttonhole.desk.learned_plugs import models_kept
from buttonhole.desk.release_set_up import decide_now
from buttonhole.desk.view import CouponView, JointView
from buttonhole.desk.watch_machine import MachineWatch, watch_machine
from buttonhole.web.kept import Kept

_KEPT = Kept()
T = TypeVar("T")


def _kept(desk: Desk, what: Sequence[object], ask: Callable[[], T]) -> T:
    of = [desk.store.head()[1], *what]
    found = _KEPT.get(of)
    if found is None:
        found = (ask(),)
        _KEPT.put(of, found)
    return cast("T", found[0])


def kept_decision(desk: Desk, joint: JointView, welds: int) -> Decided:
    """Decide on a joint for a release now, or take what was decided on the same record."""
    return _kept(desk, ["decide", joint.id, welds], lambda: decide_now(desk, joint, welds))


def kept_differences(desk: Desk, joint: JointView) -> DifferencesNow | None:
    """Compare a joint with the coupon that speaks for it."""
    return _kept(desk, ["differences", joint.id], lambda: differences_now(desk, joint))


def kept_watch(desk: Desk, machine: str, joint: JointView) -> MachineWatch:
    """Look at a machine over time."""
    return _kept(desk, ["watch", machine, joint.id], lambda: watch_machine(desk, machine, joint))


def kept_diagnosis(
    desk: Desk, joint: JointView, coupon: CouponView, checked: Sequence[str]
) -> dict[str, Any] | None:
    """Find why a coupon is not accepted; by what is seen alone while a model is not at hand."""
    return _kept(
        desk,
        ["why", coupon.id, models_kept(), *checked],
        lambda: diagnose_coupon(desk, joint, coupon, checked, at_once=True),
    )
