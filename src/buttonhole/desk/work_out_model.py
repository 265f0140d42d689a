"""The models that a joint's decision needs, worked out before it is asked for: plugs take time."""

from collections.abc import Callable

from buttonhole.desk.desk import Desk
from buttonhole.desk.learned_plugs import (
    NotWorkedOut,
    asked_plug,
    kept_plug_surrogate,
    learned_plugs,
    only_kept,
)
from buttonhole.desk.machine_past import past_of
from buttonhole.desk.view import JointView
from buttonhole.learning.surrogate import Surrogate
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug import PlugJoint
from buttonhole.weld.arc.set_up import ArcSetUp

Progress = Callable[[int, int], None]
PARTS = 1000  # of one model, for the progress


def model_to_work_out(desk: Desk, joint: JointView) -> Callable[[Progress], None] | None:
    """
    Tell what must be worked out before a joint can be decided on at once.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    callable or None
        Works it out and says how far it is; None where all is at hand.
    """
    if joint.arc is None or joint.accepted is None:
        return None
    try:
        weld, least = asked_plug(joint)
    except BadInput:
        return None  # another rule decides, at once
    past = past_of(desk, joint.accepted.surroundings.machine, "plug")
    try:
        learned_plugs(past, weld, least, only_kept)
    except NotWorkedOut:
        pass
    except BadInput:
        return None
    else:
        return None

    def work_out(progress: Progress) -> None:
        def fit(plug: PlugJoint, set_up: ArcSetUp) -> Surrogate:
            return kept_plug_surrogate(
                plug, set_up, lambda share: progress(int(PARTS * share), PARTS)
            )

        try:
            learned_plugs(past, weld, least, fit)
        except BadInput:
            return  # said where it is decided

    return work_out
