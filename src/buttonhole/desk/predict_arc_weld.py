"""Predict the arc weld of a joint; write down what went in, what came out and by which model."""

from dataclasses import dataclass
from typing import Any

from buttonhole.desk.accept_arc_set_up import arc_of
from buttonhole.desk.desk import Desk
from buttonhole.desk.plain_answer import plain_answer
from buttonhole.desk.predict_arc import predict_arc
from buttonhole.desk.predict_weld import data_digest
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.view import JointView

# Of the computer, or made again from what went in by the same model.
NOT_KEPT = frozenset({"solver_seconds", "along"})


@dataclass(frozen=True, slots=True)
class PredictArcWeld:
    """Which joint; with the set-up that is accepted, else proposed, else described.

    `answer` is what was predicted for just that weld a moment ago, if it was.
    """

    joint_id: str
    answer: dict[str, Any] | None = None


def predict_arc_weld(desk: Desk, command: PredictArcWeld) -> JointView:
    """
    Predict a weld. It changes nothing at the joint, so nobody's work is held up by it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PredictArcWeld
        Which joint.

    Returns
    -------
    JointView
        The joint; the prediction is the last one of `arc.predictions`.

    Raises
    ------
    BadInput
        When the joint is spot welded, or the weld can't be computed.
    """
    joint = read_joint(desk, command.joint_id)
    arc = arc_of(joint)
    answer = plain_answer(command.answer or predict_arc(arc.weld))
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "weld": arc.chosen,
        "prediction": {key: value for key, value in answer.items() if key not in NOT_KEPT},
        "model_version": answer["model_version"],
        "data_digest": data_digest(),
    }
    desk.store.append([desk.draft("arc_weld_predicted", [f"job/{joint.job_id}"], payload)])
    return read_joint(desk, joint.id)
