"""Accept a set-up of an arc for a joint: the proposed one or one's own."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from buttonhole.coupon.difference import Surroundings
from buttonhole.desk.arc_view import ArcView, Keys, way_of
from buttonhole.desk.decide_method import allowed_or_marked
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.predict_arc import refuse_metals
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import arc_weld_file_from
from buttonhole.units import BadInput

AROUND = ("torch", "liner", "wire_batch", "gas_batch", "coating_state", "between")


@dataclass(frozen=True, slots=True)
class AcceptArcSetUp:
    """What is set on the machine; `set_up` left out is the proposed one, else as described.

    `set_up` is the table of a weld file, texts with their units. Outlet and lead are those at the
    vehicle; `wire_batch` and `gas_batch` the numbers of spool and cylinder; `coating_state` what is
    on the faces there, `between` the sealer or adhesive.
    """

    joint_id: str
    seen: str | None
    set_up: Mapping[str, Any] | None = None
    machine: str = ""
    program_version: str = ""
    outlet: str = ""
    lead: str = ""
    welder: str = ""
    torch: str = ""
    liner: str = ""
    wire_batch: str = ""
    gas_batch: str = ""
    coating_state: str = ""
    between: str = ""


def arc_of(joint: JointView) -> ArcView:
    """
    The arc weld of a joint.

    Raises
    ------
    BadInput
        When it is spot welded.
    """
    if joint.arc is None:
        raise BadInput("joint", "is spot welded; this step is for arc welds")
    return joint.arc


def with_set_up(keys: Keys, set_up: Mapping[str, Any] | None) -> dict[str, Any]:
    """
    Put another set-up into the keys of a weld.

    Parameters
    ----------
    keys : mapping
        Of a weld file.
    set_up : mapping or None
        Its table `set_up`; None leaves it as it is.

    Returns
    -------
    dict
        Keys of a weld file.
    """
    return {**keys, "set_up": dict(keys["set_up"] if set_up is None else set_up)}


def accept_arc_set_up(desk: Desk, command: AcceptArcSetUp) -> JointView:
    """
    Accept a set-up. A release of the joint ends: it was for the set-up before.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : AcceptArcSetUp
        The set-up and its surroundings.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When a value is wrong, the metals don't go together, no machine is named, or the maker's
        text is against this way and no deviation is signed.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    arc = arc_of(joint)
    proposed = arc.proposal.keys if arc.proposal else None
    start = proposed or arc.keys
    weld = with_set_up(start, command.set_up)
    described = arc_weld_file_from(weld)
    refuse_metals(described)
    standing = allowed_or_marked(desk, joint, (way_of(described),))
    surroundings = Surroundings(
        machine=text("machine", command.machine),
        program_version=text("program_version", command.program_version, need=False),
        outlet=text("outlet", command.outlet, need=False),
        lead=text("lead", command.lead, need=False),
        position=described.set_up.position.value,
        welder=text("welder", command.welder, need=False),
        **{name: text(name, getattr(command, name), need=False) for name in AROUND},
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "weld": weld,
        "surroundings": surroundings,
        "own": weld != proposed,
        "proposal": arc.proposal.event_id if arc.proposal else None,
        "mark": standing.mark,
        "rule_names": [one.name for one in standing.reasons],
    }
    about = about_joint(joint.job_id, joint.id, f"machine/{surroundings.machine}")
    save(desk, [desk.draft("arc_set_up_accepted", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)
