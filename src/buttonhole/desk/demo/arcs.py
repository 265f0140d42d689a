"""Beside the sill: plugs of the wheel arch and a butt over a backing strip, in the same job.

The first plug is welded with the contact tube too far away, the second nearer, the others with less
wire and more voltage for longer; what is seen on their backs is computed, and so is what it says of
the inside and what each coupon tears. The butt is described and set only: its prediction is worked
out when its page is opened.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.decide_method import TellCircumstances, tell_circumstances
from buttonhole.desk.demo import around
from buttonhole.desk.demo.simulated import seen_on, shown_arc, torn_plug
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.desk import Desk
from buttonhole.desk.judge_coupon import JudgeCoupon, judge_coupon
from buttonhole.desk.look_at_plug import LookAtPlug, look_at_plug, plug_of
from buttonhole.desk.predict_arc_weld import PredictArcWeld, predict_arc_weld
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.release_set_up import ReleaseSetUp, release_set_up, what_is_lacking
from buttonhole.desk.view import JobView, JointView
from buttonhole.desk.weld_coupon import WeldCoupon, weld_coupon

FAR, NEAR = "20 mm", "12 mm"  # from contact tube to work: as it was left, as it should be
SET_UP = {
    "wire": "G 3Si1",
    "wire_diameter": "0.8 mm",
    "gas": "M21",
    "wire_feed_speed": "6.4 m/min",
    "arc_voltage": "17.5 V",
    "contact_tube_distance": FAR,
}
PLUGS = {
    "process": "plug",
    "sheet": [
        {"steel": "DC04", "thickness": "0.8 mm", "coating": "GI", "hole_diameter": "8 mm"},
        {"steel": "DC04", "thickness": "1.5 mm", "coating": "GI"},
    ],
    "set_up": {**SET_UP, "arc_time": "1.9 s", "torch_path": "spiral"},
}
BUTT = {
    "process": "seam",
    "joint": "butt_backed",
    "length": "40 mm",
    "root_gap": "1 mm",
    "sheet": [
        {"steel": "DC04", "thickness": "0.8 mm", "coating": "GI"},
        {"steel": "DC04", "thickness": "0.8 mm", "coating": "GI"},
    ],
    "set_up": {
        **SET_UP,
        "wire_feed_speed": "5.6 m/min",
        "contact_tube_distance": NEAR,
        "travel_speed": "8 mm/s",
        "work_angle": "90 deg",
        "travel_angle": "10 deg",
    },
}
MACHINE, OUTLET, LEAD = "Feeder C", "W3", "none"
WARMER = {
    "contact_tube_distance": "10 mm",
    "wire_feed_speed": "5.6 m/min",
    "arc_voltage": "18.5 V",
    "arc_time": "2.3 s",
}
MOST_COUPONS = 5


def add_arc_joints(
    technician: Desk,
    lead: Desk,
    wait: Callable[[float], None],
    chance: np.random.Generator,
    job: JobView,
) -> None:
    """
    Add the plugs and the butt to the job of the sill.

    Parameters
    ----------
    technician, lead : Desk
        Who welds, and who cites the procedure.
    wait : callable
        Lets minutes pass [min].
    chance : numpy.random.Generator
        Scatter of what is seen.
    job : JobView
        The job.
    """
    plugs = describe_arc_joint(
        technician, DescribeArcJoint(job.id, "J2 wheel arch, plugs", PLUGS, "left, rear", 9)
    )
    told = TellCircumstances(plugs.id, plugs.seen, around.WHEEL_ARCH)
    plugs = tell_circumstances(technician, told)
    plugs = _cite(
        lead, plugs, "section 31-2, page 17", "Plug welds in 8 mm holes, one for each old."
    )
    for changes in ({"contact_tube_distance": FAR}, {"contact_tube_distance": NEAR}):
        plugs = _accept(technician, plugs, {**PLUGS["set_up"], **changes})  # type: ignore[dict-item] # a table of texts
        wait(1)
        looked, said = seen_on(plug_of(plugs), chance)
        plugs = look_at_plug(technician, LookAtPlug(plugs.id, plugs.seen, looked, said))
        plugs = _coupon(technician, lead, plugs, wait, chance)
    plugs = _accept(technician, plugs, {**PLUGS["set_up"], **WARMER})  # type: ignore[dict-item] # a table of texts
    predict_arc_weld(technician, PredictArcWeld(plugs.id))
    plugs = read_joint(technician, plugs.id)
    for _ in range(MOST_COUPONS):
        plugs = _coupon(technician, lead, plugs, wait, chance)
        if not what_is_lacking(lead, plugs.id):
            release_set_up(lead, ReleaseSetUp(plugs.id, plugs.seen))
            break
    butt = describe_arc_joint(
        technician, DescribeArcJoint(job.id, "J3 sill section, butt on a strip", BUTT, "left sill")
    )
    butt = tell_circumstances(technician, TellCircumstances(butt.id, butt.seen, around.SILL_CUT))
    butt = _cite(
        lead, butt, "section 31-2, page 21", "Butt seam over a backing strip, in stitches."
    )
    _accept(technician, butt, BUTT["set_up"])


def _coupon(
    technician: Desk,
    lead: Desk,
    joint: JointView,
    wait: Callable[[float], None],
    chance: np.random.Generator,
) -> JointView:
    """Weld, peel, read and judge one plug; the model welds it."""
    plug = plug_of(joint)
    joint = weld_coupon(
        technician,
        WeldCoupon(
            joint.id,
            joint.seen,
            OUTLET,
            LEAD,
            read_back=shown_arc(plug.set_up, chance),
            note="Demo: welded by the model, not in a shop.",
        ),
    )
    wait(1)
    reading = torn_plug(plug, chance)
    coupon = joint.coupons[-1].id
    return judge_coupon(
        lead,
        JudgeCoupon(joint.id, joint.seen, coupon, readings=(reading,), instrument="Calliper 3"),
    )


def _cite(desk: Desk, joint: JointView, page: str, says: str) -> JointView:
    return cite_procedure(
        desk,
        CiteProcedure(
            joint.id,
            joint.seen,
            reference=f"Body repair manual (demo), {page}",
            revision="2025-11",
            read_on=desk.now().date(),
            says=says,
        ),
    )


def _accept(desk: Desk, joint: JointView, table: Any) -> JointView:
    return accept_arc_set_up(
        desk,
        AcceptArcSetUp(
            joint.id, joint.seen, table, MACHINE, "3.1", outlet=OUTLET, lead=LEAD, welder=desk.actor
        ),
    )
