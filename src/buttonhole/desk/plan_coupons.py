"""Plan the coupons of a joint, give each a label, and print plan and labels before welding."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from buttonhole.coupon.plan import (
    KNOWN_FROM,
    PITCH,
    CouponPlan,
    Occasion,
    Process,
    plan_coupons,
)
from buttonhole.desk.conflict import NotThere
from buttonhole.desk.desk import Desk
from buttonhole.desk.labels import LabelView, issue_labels, views_of
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.view import JointView
from buttonhole.desk.weld_file import PlugWeldFile
from buttonhole.desk.written import read
from buttonhole.paper.labels import CutRow, Label, LabelSheet, label_sheet
from buttonhole.record.event import Event, moment
from buttonhole.weld.arc.seam.joint import JointKind


@dataclass(frozen=True, slots=True)
class PlanCoupons:
    """Coupons for a joint: why, how many for a second round [-], pitch of its spots [m]."""

    joint_id: str
    occasion: Occasion | None = None
    spares: int = 1
    pitch: float = PITCH


@dataclass(frozen=True, slots=True)
class PlanView:
    """A plan whose labels were given out."""

    id: str
    at: datetime
    by: str
    plan: CouponPlan
    labels: tuple[LabelView, ...]


@dataclass(frozen=True, slots=True)
class PrintedLabels:
    """A PDF and its SHA-256."""

    pdf: bytes
    sha256: str


def usual_occasion(joint: JointView) -> Occasion:
    """
    Say why coupons are welded now, as far as the record shows.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    Occasion
        New without a judged coupon; known with many good ones; changed when the tips were dressed
        after the last one; else another shift.
    """
    judged = [one for one in joint.coupons if one.is_judged]
    if not judged:
        return Occasion.NEW
    if joint.tips_dressed and joint.tips_dressed[-1].at > judged[-1].welded_at:
        return Occasion.CHANGED
    good = sum(one.accepted for one in judged)
    return Occasion.KNOWN if good >= KNOWN_FROM else Occasion.SHIFT


def planned(desk: Desk, command: PlanCoupons) -> CouponPlan:
    """
    Work a plan out. Nothing is written.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PlanCoupons
        Which joint, and what is known.

    Returns
    -------
    CouponPlan
        The plan.

    Raises
    ------
    BadInput
        When a value is none.
    """
    joint = read_joint(desk, command.joint_id)
    process, thicknesses, hole = _welded_how(joint)
    return plan_coupons(
        process,
        thicknesses,
        command.occasion or usual_occasion(joint),
        stack=joint.spot_stack if joint.arc is None else None,
        spares=command.spares,
        pitch=command.pitch,
        hole=hole,
    )


def issue_plan(desk: Desk, command: PlanCoupons) -> PlanView:
    """
    Give each coupon of a plan its label. A plan is never given out twice: it gets other labels.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PlanCoupons
        Which joint, and what is known.

    Returns
    -------
    PlanView
        The plan with its labels.

    Raises
    ------
    BadInput
        When a value is none.
    SentTwice
        When this very form was saved before.
    """
    plan = planned(desk, command)
    joint = read_joint(desk, command.joint_id)
    name = desk.new_id()
    payload = {"job": joint.job_id, "joint": joint.id, "plan": name, "details": plan}
    pieces = [{"order": one.order, "purpose": one.purpose.value} for one in plan.coupons]
    issue_labels(desk, "labels_issued", [f"job/{joint.job_id}"], payload, pieces)
    return find_plan(desk, joint, name)


def read_plans(desk: Desk, joint: JointView) -> tuple[PlanView, ...]:
    """
    Read the plans of a joint, the newest first.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.

    Returns
    -------
    tuple of PlanView
        Empty when none was given out.
    """
    events = desk.store.events(f"job/{joint.job_id}")
    return tuple(
        _view(desk, one)
        for one in reversed(events)
        if one.type == "labels_issued" and one.payload["joint"] == joint.id
    )


def find_plan(desk: Desk, joint: JointView, name: str) -> PlanView:
    """
    Find a plan of a joint.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint : JointView
        The joint.
    name : str
        The plan.

    Returns
    -------
    PlanView
        With what its labels are on now.

    Raises
    ------
    NotThere
        When the joint has no such plan.
    """
    for one in read_plans(desk, joint):
        if one.id == name:
            return one
    raise NotThere("coupon plan", name)


def print_labels(
    desk: Desk, joint_id: str, plan_id: str, *, address: str = "", roll: bool = False
) -> PrintedLabels:
    """
    Print a plan with its labels, or the labels alone for a roll. They may be printed again.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    joint_id, plan_id : str
        The plan.
    address : str
        Where this server answers, for the square code; without it the code holds the label only.
    roll : bool
        One label a page, 50 x 25 mm.

    Returns
    -------
    PrintedLabels
        The PDF and its hash, which stands in the record.

    Raises
    ------
    NotThere
        When the joint has no such plan.
    """
    joint = read_joint(desk, joint_id)
    view = find_plan(desk, joint, plan_id)
    pdf = label_sheet(_sheet(desk, joint, view, address, roll))
    digest = hashlib.sha256(pdf).hexdigest()
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "serves": view.id,
        "sha256": digest,
        "bytes": len(pdf),
    }
    desk.store.append([desk.draft("labels_printed", [f"job/{joint.job_id}"], payload)])
    return PrintedLabels(pdf, digest)


def _sheet(desk: Desk, joint: JointView, view: PlanView, address: str, roll: bool) -> LabelSheet:
    job, rows, total = read_job(desk, joint.job_id), sheet_words(joint), len(view.plan.coupons)
    return LabelSheet(
        title=f"Coupons of {joint.name}",
        subject=f"{job.title} · {job.vehicle} · {view.plan.occasion.words}",
        labels=tuple(
            Label(
                code=one.code,
                first=f"Coupon {coupon.order} of {total}, {coupon.purpose.words}",
                second=joint.name,
                third=f"{job.title} · {job.vehicle}",
                fourth=" / ".join(rows),
                qr=scanned(address, one.code),
            )
            for one, coupon in zip(view.labels, view.plan.coupons, strict=True)
        ),
        cuts=cut_rows(view.plan, rows),
        tests=view.plan.tests,
        notes=view.plan.notes,
        issued=desk.shop_time(view.at),
        roll=roll,
        demo=job.demo,
    )


def scanned(address: str, code: str) -> str:
    """Say what the square code of a label holds: the page of its coupon."""
    return f"{address.rstrip('/')}/l/{code}" if address else f"buttonhole label {code}"


def sheet_words(joint: JointView) -> tuple[str, ...]:
    """
    Name the sheets of a joint, from side A.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    tuple of str
        For example "0.8 mm DC04 GI".
    """
    if joint.arc is None:
        return tuple(
            f"{one.thickness * 1e3:g} mm {one.steel.designation} {one.coating.value}"
            for one in joint.stack.sheets
        )
    keys = ("thickness", "steel", "alloy", "coating")
    return tuple(
        " ".join(str(one[key]) for key in keys if key in one) for one in joint.arc.keys["sheet"]
    )


def cut_rows(plan: CouponPlan, sheets: tuple[str, ...]) -> tuple[CutRow, ...]:
    """
    Say what to cut, sheet by sheet.

    Parameters
    ----------
    plan : CouponPlan
        The plan.
    sheets : tuple of str
        The sheets by their names, from side A.

    Returns
    -------
    tuple of CutRow
        In the order of the sheets.
    """
    return tuple(
        CutRow(
            sheet=f"{one.sheet + 1}: {sheets[one.sheet]}",
            pieces=f"{one.count} x {one.length * 1e3:.0f} x {one.width * 1e3:.0f} mm",
            strip=f"{plan.strip_length(one.sheet) * 1e3:.0f} mm",
            note=one.note,
        )
        for one in plan.strips
    )


def _welded_how(joint: JointView) -> tuple[Process, list[float], float | None]:
    if joint.arc is None:
        return Process.SPOT, [one.thickness for one in joint.stack.sheets], None
    weld = joint.arc.weld
    if isinstance(weld, PlugWeldFile):
        return Process.PLUG, list(weld.joint.thicknesses), weld.joint.hole_diameters[0]
    seam = weld.joint
    process = Process.LAP_SEAM if seam.kind is JointKind.LAP else Process.BUTT_SEAM
    count = len(joint.arc.keys["sheet"])
    edges = [seam.upper, seam.right or seam.upper, seam.lower] if count == 3 else None
    return process, [one.thickness for one in edges or (seam.upper, seam.lower)], None


def _view(desk: Desk, event: Event) -> PlanView:
    payload: Mapping[str, Any] = event.payload
    return PlanView(
        payload["plan"],
        moment(event.at),
        event.actor,
        read(CouponPlan, payload["details"]),
        views_of(desk, event),
    )
