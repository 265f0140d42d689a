"""A coupon that is welded, with the number of the label that is on it."""

from buttonhole.desk import Desk
from buttonhole.desk.labels import free_label, tie_label
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon


def weld_labelled(desk: Desk, command: WeldCoupon, label: str) -> JointView:
    """Note a welded coupon and tie its label to it; an empty ``label`` is none.

    Raises
    ------
    BadInput
        What ``weld_coupon`` refuses, or a label that is on another coupon: then nothing is saved.
    """
    if label:  # before anything is written: a label of another coupon stops it
        free_label(desk, label, command.joint_id)
    saved = weld_coupon(desk, command)
    if label:
        tie_label(desk, label, command.joint_id, saved.coupons[-1].id)
    return saved
