"""Read a torn coupon, and judge it by a criterion."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from buttonhole.coupon.arc.criterion import (
    find_arc_criterion,
    maker_arc_criterion,
    usual_arc_criterion,
)
from buttonhole.coupon.arc.judgement import LOOK_AT_BACK
from buttonhole.coupon.arc.piece import ArcForm, ArcPiece
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.arc.verdict import judge_arc, refuse_strangers
from buttonhole.coupon.criterion import Criterion, Limits, maker_criterion
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.test import TestKind
from buttonhole.coupon.verdict import Verdict, judge
from buttonhole.desk.arc_piece import arc_piece, arc_settings
from buttonhole.desk.arc_view import Keys
from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.measured_with import measured_with
from buttonhole.desk.read_job import find_coupon, read_joint
from buttonhole.desk.rules import rule_for
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import CouponView, JointView
from buttonhole.procedure.authority import MakerProcedure
from buttonhole.record.event import Draft
from buttonhole.units import BadInput

BACKING = (TestKind.MACRO, TestKind.TENSILE_SHEAR, TestKind.CROSS_TENSION)
Readings = tuple[Reading, ...] | tuple[ArcReading, ...]


@dataclass(frozen=True, slots=True)
class ReadCoupon:
    """What was measured on a torn coupon: at least one reading for each faying interface.

    A section or a force test beside another reading of the same interface backs that one. Of an
    arc weld one reading at least says what the back shows.
    """

    joint_id: str
    seen: str | None
    coupon_id: str
    readings: Readings
    instrument: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class JudgeCoupon:
    """Judge a coupon; with `readings` it is read and judged in one step.

    `criterion` left out is the maker's least diameter where the cited procedure gives one, else
    the usual rule.
    """

    joint_id: str
    seen: str | None
    coupon_id: str
    criterion: Criterion | None = None
    readings: Readings = ()
    instrument: str = ""
    note: str = ""


def read_coupon(desk: Desk, command: ReadCoupon) -> JointView:
    """
    Write down what was measured on a torn coupon.

    Read anew, the earlier verdict counts no more; both stay in the record.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : ReadCoupon
        The readings.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When an interface was not read, or there is none of that number.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    coupon = find_coupon(joint, command.coupon_id)
    readings, instrument = measured_with(desk, command.readings, command.instrument)
    command = replace(command, readings=readings, instrument=instrument)
    drafts = [_read_draft(desk, joint, coupon, command)]
    save(desk, drafts, f"joint/{joint.id}", command.seen)
    return read_joint(desk, joint.id)


def judge_coupon(desk: Desk, command: JudgeCoupon) -> JointView:
    """
    Judge a coupon, interface by interface.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : JudgeCoupon
        The coupon, the criterion, and the readings if it was not read before.

    Returns
    -------
    JointView
        The joint; the coupon carries its verdicts and the criterion as it is today.

    Raises
    ------
    BadInput
        When the coupon was not read.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    coupon = find_coupon(joint, command.coupon_id)
    drafts: list[Draft] = []
    readings = coupon.readings
    if command.readings:
        readings, instrument = measured_with(desk, command.readings, command.instrument)
        command = replace(command, readings=readings, instrument=instrument)
        drafts.append(_read_draft(desk, joint, coupon, command))
    if not readings:
        raise BadInput("readings", "are missing; tear the coupon and measure each interface")
    criterion = command.criterion or criterion_of(joint)
    payload = {
        **_names(joint, coupon),
        "judged": [
            {
                "interface": one.interface,
                "reading": one,
                "criterion": criterion,
                "verdict": _verdict(coupon, one, criterion, backing),
            }
            for one, backing in _paired(readings)
        ],
    }
    drafts.append(desk.draft("coupon_judged", about_joint(joint.job_id, joint.id), payload))
    save(desk, drafts, f"joint/{joint.id}", command.seen)
    return read_joint(desk, joint.id)


def criterion_of(joint: JointView) -> Criterion:
    """
    Choose the criterion of a joint when the person names none.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    Criterion
        The maker's least diameter where the cited procedure gives one, else the rule the set-up
        was proposed for, else the usual one, the strictest for a stack-up that nobody knows.
    """
    least, document = _makers_least(joint)
    if joint.arc is not None:
        piece = joint.joined
        assert isinstance(piece, ArcPiece)  # noqa: S101 - of an arc
        limited = _makers_quantity(piece)
        if least is not None and limited is not None:
            return maker_arc_criterion(document, limited, least)
        return usual_arc_criterion(piece)
    if least is not None:
        return maker_criterion(document, fixed_diameter=least)
    if joint.proposal is not None:
        return joint.proposal.criterion
    return rule_for(joint.stack)


def _makers_quantity(piece: ArcPiece) -> Limits | None:
    """What the least size of a maker's page is of; of a butt none is asked for."""
    if piece.form is ArcForm.PLUG:
        return Limits.TORN_DIAMETER
    if piece.form is ArcForm.BUTT_BACKED:
        return None
    return Limits.WETTED_WIDTH if piece.brazed else Limits.LEG


def _makers_least(joint: JointView) -> tuple[float | None, str]:
    """The least diameter [m] of the maker's page, and its name."""
    procedure = joint.procedure
    if procedure is None or procedure.rules.minimum_diameter is None:
        return None, ""
    authority = procedure.authority
    assert isinstance(authority, MakerProcedure)  # noqa: S101 - deviations set no figures
    return (
        procedure.rules.minimum_diameter,
        f"{authority.reference}, revision {authority.revision}",
    )


def _verdict(
    coupon: CouponView,
    reading: Reading | ArcReading,
    criterion: Criterion,
    backing: tuple[Reading | ArcReading, ...],
) -> Verdict:
    if isinstance(reading, ArcReading):
        assert coupon.weld is not None  # noqa: S101 - checked when it was read
        wire = arc_settings(coupon.weld).wire_diameter
        others = _arcs(backing)
        return judge_arc(reading, criterion, coupon.piece, backing=others, wire_diameter=wire)
    spots = [one for one in backing if isinstance(one, Reading)]
    return judge(reading, criterion, coupon.stack, backing=spots)


def judge_arc_readings(
    keys: Keys, given: Callable[[ArcPiece], tuple[ArcReading, ...]], rule: str | None = None
) -> tuple[tuple[ArcReading, Verdict, Criterion], ...]:
    """
    Judge readings of an arc weld without a record.

    Parameters
    ----------
    keys : mapping
        Of its weld file.
    given : callable
        Gives the readings, once it is told what was joined.
    rule : str or None
        Key of the criterion; the usual one unless said.

    Returns
    -------
    tuple of ArcReading, Verdict and Criterion
        For each reading that is judged; sections beside it back it.

    Raises
    ------
    BadInput
        Whatever is no weld, no reading or no criterion.
    """
    piece = arc_piece(keys)
    wire = arc_settings(keys).wire_diameter
    criterion = arc_rule(piece, rule)
    judged = []
    for one, others in _paired(given(piece)):
        if isinstance(one, ArcReading):
            backing = _arcs(others)
            verdict = judge_arc(one, criterion, piece, backing=backing, wire_diameter=wire)
            judged.append((one, verdict, criterion))
    return tuple(judged)


def arc_rule(piece: ArcPiece, key: str | None = None) -> Criterion:
    """
    Choose the criterion of an arc weld.

    Raises
    ------
    BadInput
        No rule of this key for such a weld; the message lists those there are.
    """
    return usual_arc_criterion(piece) if key is None else find_arc_criterion(key, piece)


def _arcs(readings: tuple[Reading | ArcReading, ...]) -> list[ArcReading]:
    return [one for one in readings if isinstance(one, ArcReading)]


def _names(joint: JointView, coupon: CouponView) -> dict[str, Any]:
    return {
        "job": joint.job_id,
        "joint": joint.id,
        "coupon": coupon.id,
        "number": coupon.number,
    }


def _paired(
    readings: Readings,
) -> list[tuple[Reading | ArcReading, tuple[Reading | ArcReading, ...]]]:
    """Pair each reading that is judged with the sections and force tests that back it.

    The back of an arc weld is seen once for all its interfaces, so all others go with each.
    """
    found: list[tuple[Reading | ArcReading, tuple[Reading | ArcReading, ...]]] = []
    for interface in sorted({one.interface for one in readings}):
        here = [one for one in readings if one.interface == interface]
        torn = [one for one in here if one.test not in BACKING]
        judged = torn or here[:1]
        for one in judged:
            if isinstance(one, ArcReading):
                found.append((one, tuple(each for each in readings if each is not one)))
            else:
                backing = (each for each in here if each.test in BACKING and each not in judged)
                found.append((one, tuple(backing)))
    return found


def _read_draft(
    desk: Desk, joint: JointView, coupon: CouponView, command: ReadCoupon | JudgeCoupon
) -> Draft:
    _check(coupon, command.readings)
    due = set(range(len(coupon.joined.interfaces)))
    found = {one.interface for one in command.readings}
    if found != due:
        raise BadInput(
            "readings",
            f"are of interfaces {', '.join(str(i + 1) for i in sorted(found)) or 'none'}; "
            f"read each of {', '.join(str(i + 1) for i in sorted(due))}",
        )
    payload = {
        **_names(joint, coupon),
        "readings": command.readings,
        "instrument": text("instrument", command.instrument, need=False),
        "note": text("note", command.note, need=False, longest=LONGEST_TEXT),
    }
    return desk.draft("coupon_read", about_joint(joint.job_id, joint.id), payload)


def _check(coupon: CouponView, readings: Readings) -> None:
    """Refuse readings of another process, and of an arc weld whose back nobody looked at."""
    kind = Reading if coupon.weld is None else ArcReading
    if not all(isinstance(one, kind) for one in readings):
        raise BadInput("readings", "are of another process than the coupon; read it as it is")
    arcs = _arcs(readings)
    for one in arcs:
        refuse_strangers(one, coupon.piece)
    if arcs and all(one.back is None for one in arcs):
        raise BadInput("back", f"is missing. {LOOK_AT_BACK}")
