"""Predict the weld of a joint, and write down what went in, what came out and by which model."""

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from buttonhole import sources
from buttonhole.desk.desk import Desk
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.spot_weld import predict_spot
from buttonhole.desk.view import JointView
from buttonhole.desk.written import written
from buttonhole.units import BadInput
from buttonhole.weld.spot.result import SpotWeld
from buttonhole.weld.spot.set_up import SpotSetUp

if TYPE_CHECKING:
    from buttonhole.weld.hardness.of_spot import SpotMetal

FIGURES = ("indentation", "haz_diameter", "cooling_t85", "heat", "peak_hardness")


@dataclass(frozen=True, slots=True)
class PredictWeld:
    """Which joint; `set_up` left out is the accepted one, else the proposed one."""

    joint_id: str
    set_up: SpotSetUp | None = None


@dataclass(frozen=True, slots=True)
class Predicted:
    """The joint with the prediction written down, the weld with its pictures, and its metal."""

    joint: JointView
    weld: SpotWeld
    metal: "SpotMetal"
    set_up: SpotSetUp


def predict_weld(desk: Desk, command: PredictWeld) -> Predicted:
    """
    Predict a weld.

    A prediction changes nothing at the joint, so nobody's work is held up by it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PredictWeld
        Which joint and set-up.

    Returns
    -------
    Predicted
        What the model says.

    Raises
    ------
    BadInput
        When there is no set-up to predict from.
    """
    joint = read_joint(desk, command.joint_id)
    set_up = command.set_up
    if set_up is None:
        chosen = joint.set_up or joint.proposal
        if chosen is None:
            raise BadInput("set_up", "is missing; have one proposed, or give your own values")
        set_up = chosen.set_up
    weld, metal = predict_spot(joint.stack, set_up)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "stack": joint.stack,
        "set_up": set_up,
        "prediction": prediction_payload(weld),
        "model_version": weld.model_version,
        "data_digest": data_digest(),
    }
    desk.store.append([desk.draft("weld_predicted", [f"job/{joint.job_id}"], payload)])
    return Predicted(read_joint(desk, joint.id), weld, metal, set_up)


def prediction_payload(weld: SpotWeld) -> dict[str, Any]:
    """
    Pick the figures of a prediction that are written down.

    The fields over the section and the course over time are left out: the same model makes them
    again from what went in. So are the seconds it took: they are of the computer, not of the weld.

    Parameters
    ----------
    weld : SpotWeld
        What the model says.

    Returns
    -------
    dict
        Figures [SI], each with its 90 % interval.
    """
    return {
        "interfaces": written(weld.interfaces),
        "expulsion_probability": written(weld.expulsion_probability),
        **{name: written(getattr(weld, name)) for name in FIGURES},
        "warnings": list(weld.warnings),
    }


def data_digest() -> str:
    """Give the SHA-256 of the list of all data files, which holds theirs: one hash for all data."""
    listed = Path(sources.__file__).parent / "data" / "MANIFEST"
    return hashlib.sha256(listed.read_bytes().replace(b"\r\n", b"\n")).hexdigest()
