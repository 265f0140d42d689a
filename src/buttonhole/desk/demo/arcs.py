"""Beside the sill: plugs of the wheel arch and a butt over a backing strip, in the same job.

The first plug is welded with the contact tube too far away; what is seen on its back is computed,
and so is what it says of the inside. The butt is described and set only: its prediction is worked
out when its page is opened.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from buttonhole.desk.accept_arc_set_up import AcceptArcSetUp, accept_arc_set_up
from buttonhole.desk.cite_procedure import CiteProcedure, cite_procedure
from buttonhole.desk.decide_method import TellCircumstances, tell_circumstances
from buttonhole.desk.demo import around
from buttonhole.desk.demo.simulated import seen_on
from buttonhole.desk.describe_arc_joint import DescribeArcJoint, describe_arc_joint
from buttonhole.desk.desk import Desk
from buttonhole.desk.look_at_plug import LookAtPlug, look_at_plug, plug_of
from buttonhole.desk.predict_arc_weld import PredictArcWeld, predict_arc_weld
from buttonhole.desk.view import JobView, JointView

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
MACHINE = "Feeder C"


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
    for distance in (FAR, NEAR):
        table = {**PLUGS["set_up"], "contact_tube_distance": distance}  # type: ignore[dict-item] # a table of texts
        plugs = _accept(technician, plugs, table)
        wait(3)
        looked, said = seen_on(plug_of(plugs), chance)
        plugs = look_at_plug(technician, LookAtPlug(plugs.id, plugs.seen, looked, said))
        wait(2)
    predict_arc_weld(technician, PredictArcWeld(plugs.id))
    butt = describe_arc_joint(
        technician, DescribeArcJoint(job.id, "J3 sill section, butt on a strip", BUTT, "left sill")
    )
    butt = tell_circumstances(technician, TellCircumstances(butt.id, butt.seen, around.SILL_CUT))
    butt = _cite(
        lead, butt, "section 31-2, page 21", "Butt seam over a backing strip, in stitches."
    )
    _accept(technician, butt, BUTT["set_up"])


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
            joint.id, joint.seen, table, MACHINE, "3.1", outlet="W3", lead="none", welder=desk.actor
        ),
    )
