"""Have a set-up proposed for a joint on a machine, from physics, with its window and reasons."""

from dataclasses import dataclass

from buttonhole.coupon.criterion import Criterion
from buttonhole.desk.desk import Desk, Progress
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.predict_weld import data_digest
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView
from buttonhole.procedure.machine import SpotMachine
from buttonhole.weld.spot.set_up import CurrentType, ElectrodeCap


@dataclass(frozen=True, slots=True)
class ProposeSetUp:
    """For which joint, on which machine.

    `criterion`, `current_type`, `cap` and `arm_pair` left out are the joint's usual rule, the
    machine's first current type, the cap that fits best and no arms in particular.
    """

    joint_id: str
    seen: str | None
    machine: SpotMachine
    criterion: Criterion | None = None
    current_type: CurrentType | None = None
    cap: ElectrodeCap | None = None
    arm_pair: str | None = None


def propose_set_up(
    desk: Desk, command: ProposeSetUp, *, progress: Progress | None = None
) -> JointView:
    """
    Have a set-up proposed. It is a start for coupons, and no release.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : ProposeSetUp
        Joint and machine.
    progress : callable, optional
        Told how far the search is; may raise to stop it, and then nothing is written.

    Returns
    -------
    JointView
        The joint; `proposal` has set-up, window and reasons.

    Raises
    ------
    BadInput
        When the machine cannot weld this stack-up at all; the message says why.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    # The compiled kernels are slow to import, and most steps do not need them.
    from buttonhole.procedure.proposal import propose_with_suggestions
    from buttonhole.weld.spot import MODEL_VERSION

    joint = read_joint(desk, command.joint_id)
    machine = command.machine
    criterion = command.criterion or criterion_of(joint)
    proposal = propose_with_suggestions(
        joint.stack,
        machine,
        criterion,
        current_type=command.current_type,
        cap=command.cap,
        arm_pair=command.arm_pair,
        progress=progress,
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "stack": joint.stack,
        "machine": machine,
        "criterion": criterion,
        "set_up": proposal.set_up,
        "proposal": proposal,
        "model_version": MODEL_VERSION,
        "data_digest": data_digest(),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("set_up_proposed", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)
