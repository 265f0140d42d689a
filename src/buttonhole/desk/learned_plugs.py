"""What plugs of the record teach about their feeder: each as a point of a surrogate.

A surrogate of plugs takes some seconds to fit, by runs of the solver. One that was fitted is kept;
so is the word of the model where none can be. Plugs of the same sheets and holes share one as long
as their set-ups lie near each other. What is known to be different on a coupon (its gap) moves its
point. The machine holds its voltage by itself, so a lead that takes some moves none; that it is
different stands on the coupon.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from buttonhole.coupon.arc.criterion import smallest
from buttonhole.coupon.arc.piece import ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Limits
from buttonhole.desk.judge_coupon import criterion_of
from buttonhole.desk.learned_joint import MOST_KEPT, LearnedMachine, plug_joint
from buttonhole.desk.machine_past import PastCoupon
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import PlugWeldFile, arc_weld_file_from
from buttonhole.learning.beliefs import PLUG
from buttonhole.learning.coupon_signs import plug_evidence_of
from buttonhole.learning.evidence import LearningCoupon
from buttonhole.learning.model import LearnedJoint, Model
from buttonhole.learning.plug_surrogate import plug_point, plug_surrogate
from buttonhole.learning.surrogate import Surrogate
from buttonhole.units import BadInput
from buttonhole.weld.arc.plug import PlugJoint
from buttonhole.weld.arc.set_up import ArcSetUp

OWN = "this joint"
MOST_MODELS = 4  # of one feeder at once, the newest coupons first; numerical, no source
Fit = Callable[[PlugJoint, ArcSetUp], Surrogate]
_KEPT: dict[tuple[PlugJoint, ArcSetUp], Surrogate | BadInput] = {}


def learned_plugs(
    past: Sequence[PastCoupon], weld: PlugWeldFile, least: Sequence[float], fit: Fit | None = None
) -> LearnedMachine:
    """Put the plugs of a feeder and what is asked of it together.

    Parameters
    ----------
    past : sequence of PastCoupon
        All its plugs, in the order welded.
    weld : PlugWeldFile
        What is asked.
    least : sequence of float
        Smallest torn diameter that is good, by interface [m].
    fit : callable, optional
        Gives a surrogate of a weld; ``kept_plug_surrogate`` without it.

    Returns
    -------
    LearnedMachine
        Coupons that were not read are no evidence and not among its coupons.

    Raises
    ------
    BadInput
        Nothing round the set-up fuses.
    """
    fit = fit or kept_plug_surrogate
    homes = [_home(OWN, weld, least, fit)]
    coupons: dict[str, LearningCoupon] = {}
    left_out = []
    for one in reversed(past):  # the newest first: they say most of the machine as it is
        if not one.coupon.readings:
            continue
        try:
            coupons[one.coupon.id] = _placed(one, homes, fit)
        except BadInput as bad:
            left_out.append(f"{one.name}: {bad.message}")
    in_order = {one.coupon.id: coupons[one.coupon.id] for one in past if one.coupon.id in coupons}
    point = homes[0].point(weld)
    model = Model(PLUG, [home.joint for home in homes])
    return LearnedMachine(model, in_order, OWN, point, 0.0, tuple(reversed(left_out)))


def asked_plug(joint: JointView) -> tuple[PlugWeldFile, tuple[float, ...]]:
    """Say what is asked of a plug: the weld as it is set, and the torn diameter at least.

    Parameters
    ----------
    joint : JointView
        A plug.

    Returns
    -------
    PlugWeldFile
        The weld.
    tuple of float
        By interface [m].

    Raises
    ------
    BadInput
        No torn diameter is asked for, or none can be given without a hole.
    """
    piece, rule = joint.joined, criterion_of(joint)
    assert joint.arc is not None  # noqa: S101 - a plug
    weld = joint.arc.weld
    if not isinstance(piece, ArcPiece) or not isinstance(weld, PlugWeldFile):
        raise BadInput("joint", "is no plug")
    if rule.quantity is not Limits.TORN_DIAMETER:
        raise BadInput("criterion", f"{rule.name} asks for no torn diameter")
    return weld, tuple(smallest(rule, face) for face in piece.interfaces)


class NotWorkedOut(Exception):
    """A model of plugs is not fitted yet; it takes some seconds."""


def models_kept() -> int:
    """Count the models of plugs that are at hand."""
    return len(_KEPT)


def only_kept(joint: PlugJoint, set_up: ArcSetUp) -> Surrogate:
    """Take a surrogate that was fitted before.

    Raises
    ------
    NotWorkedOut
        There is none yet.
    BadInput
        Nothing round the set-up fuses.
    """
    if (_closed(joint), set_up) not in _KEPT:
        raise NotWorkedOut
    return kept_plug_surrogate(joint, set_up)


def kept_plug_surrogate(
    joint: PlugJoint, set_up: ArcSetUp, progress: Callable[[float], None] | None = None
) -> Surrogate:
    """Fit a surrogate of plugs, or take the one that was fitted before.

    Parameters
    ----------
    joint : PlugJoint
        Sheets and holes; the gap is an input.
    set_up : ArcSetUp
        What it is fitted round.
    progress : callable, optional
        Told the share done [-].

    Returns
    -------
    Surrogate
        As of ``plug_surrogate``.

    Raises
    ------
    BadInput
        Nothing round the set-up fuses; also that is kept.
    """
    key = (_closed(joint), set_up)
    found = _KEPT.get(key)
    if found is None:
        try:
            found = plug_surrogate(*key, progress=progress)
        except BadInput as bad:
            found = bad
        while len(_KEPT) >= MOST_KEPT:
            _KEPT.pop(next(iter(_KEPT)), None)
        _KEPT[key] = found
    if isinstance(found, BadInput):
        raise BadInput(found.key, found.message)
    return found


@dataclass(frozen=True, slots=True)
class _Home:
    """Plugs that share a surrogate, and the weld it was fitted round."""

    joint: LearnedJoint
    about: PlugWeldFile

    def point(self, weld: PlugWeldFile) -> tuple[float, ...]:
        """A weld as inputs of the surrogate [SI]."""
        found = plug_point(weld.joint, weld.set_up, self.about.set_up)
        return tuple(float(one) for one in found)

    def fits(self, weld: PlugWeldFile) -> bool:
        """Whether a weld is of these sheets and near this set-up."""
        if _alike(weld) != _alike(self.about):
            return False
        return bool(self.joint.surrogate.inside(np.array(self.point(weld))))


def _home(key: str, weld: PlugWeldFile, least: Sequence[float], fit: Fit) -> _Home:
    surrogate = fit(weld.joint, weld.set_up)
    home = _Home(plug_joint(key, weld.joint, surrogate, least), weld)
    if not home.fits(weld):
        raise BadInput("gap", "lies outside what the model knows")
    return home


def _placed(one: PastCoupon, homes: list[_Home], fit: Fit) -> LearningCoupon:
    """A plug as it teaches, at the surrogate that fits it; one more is added to ``homes``."""
    assert one.coupon.weld is not None  # noqa: S101 - plugs are welded by an arc
    weld = arc_weld_file_from(one.coupon.weld)
    assert isinstance(weld, PlugWeldFile)  # noqa: S101 - asked for by its process
    home = next((each for each in homes if each.fits(weld)), None)
    if home is None:
        if len(homes) >= MOST_MODELS:
            raise BadInput("coupon", "is of a weld too unlike the others to be learned with them")
        limits = [each.verdict.limit for each in one.coupon.judged]
        count = len(weld.joint.stack.sheets) - 1
        if len(limits) != count:
            raise BadInput("coupon", "is not judged")
        home = _home(f"{one.name} ({len(homes)})", weld, limits, fit)
        homes.append(home)
    faces = one.coupon.piece.interfaces
    evidence = tuple(
        found
        for reading in one.coupon.readings
        if isinstance(reading, ArcReading)
        for found in plug_evidence_of(reading, faces[reading.interface])
    )
    return LearningCoupon(one.name, home.joint.key, home.point(weld), evidence)


def _closed(joint: PlugJoint) -> PlugJoint:
    return replace(joint, stack=replace(joint.stack, gap=0.0))


def _alike(weld: PlugWeldFile) -> tuple[PlugJoint, ArcSetUp]:
    """What must be the same for two plugs to share a surrogate: all that is none of its inputs."""
    one = replace(
        weld.set_up, wire_feed_speed=0.1, arc_voltage=20.0, arc_time=1.0, contact_tube_distance=0.01
    )
    return _closed(weld.joint), one
