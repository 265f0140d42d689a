"""Arc joints at the desk of a test: keys of each kind of weld, and steps up to a coupon."""

import copy
from datetime import date

from buttonhole.desk import Desk
from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.open_job import OpenJob, open_job
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon

SET_UP = {
    "wire": "G 3Si1",
    "wire_diameter": "0.8 mm",
    "gas": "M21",
    "wire_feed_speed": "6.4 m/min",
    "arc_voltage": "17.5 V",
    "contact_tube_distance": "13 mm",
}
PLUG = {
    "process": "plug",
    "sheet": [
        {"steel": "DC04", "thickness": "0.8 mm", "coating": "GI", "hole_diameter": "8 mm"},
        {"steel": "DC04", "thickness": "1.5 mm", "coating": "GI"},
    ],
    "set_up": {**SET_UP, "arc_time": "1.9 s", "torch_path": "spiral"},
}
LAP = {
    "process": "seam",
    "joint": "lap",
    "length": "40 mm",
    "sheet": [{"steel": "DC04", "thickness": "1 mm", "coating": "bare"}] * 2,
    "set_up": {**SET_UP, "travel_speed": "8 mm/s", "work_angle": "45 deg"},
}
BUTT = {
    **LAP,
    "joint": "butt_backed",
    "root_gap": "1 mm",
    "set_up": {**SET_UP, "travel_speed": "8 mm/s", "work_angle": "90 deg"},
}
BRAZE = {**LAP, "set_up": {**LAP["set_up"], "wire": "S Cu 6560", "gas": "I1"}}
ALUMINIUM = {
    **LAP,
    "sheet": [{"alloy": "EN AW-6082", "thickness": "2 mm"}] * 2,
    "set_up": {**LAP["set_up"], "wire": "S Al 5356", "gas": "I1"},
}
KINDS = {"plug": PLUG, "lap": LAP, "butt": BUTT, "braze": BRAZE, "aluminium": ALUMINIUM}


def changed(keys: dict, **table: str) -> dict:
    """The same weld with other values in its set-up."""
    found = copy.deepcopy(keys)
    found["set_up"] |= table
    return found


def described(desk: Desk, keys: dict, least: float | None = None) -> JointView:
    """A joint of these keys whose procedure is cited."""
    job = open_job(desk, OpenJob("Left sill", "Orvanel H5"))
    joint = describe_arc_joint(desk, DescribeArcJoint(job.id, "J2", keys, "wheel arch"))
    return cite_procedure(
        desk,
        CiteProcedure(
            joint.id,
            joint.seen,
            reference="Body repair manual, section 7.2, page 14",
            revision="2026-01",
            read_on=date(2026, 3, 1),
            says="Weld as before.",
            minimum_diameter=least,
        ),
    )


def accepted(desk: Desk, keys: dict, **more: str) -> JointView:
    """The same with its set-up accepted at outlet W3 over lead L25."""
    joint = described(desk, keys)
    more.setdefault("welder", desk.actor)
    command = AcceptArcSetUp(
        joint.id, joint.seen, None, "Feeder C", "3.1", outlet="W3", lead="L25", **more
    )
    return accept_arc_set_up(desk, command)


def welded(
    desk: Desk, joint: JointView, outlet: str = "W3", lead: str = "L25", **more
) -> JointView:
    """One more coupon of the joint."""
    return weld_coupon(desk, WeldCoupon(joint.id, joint.seen, outlet, lead, **more))
