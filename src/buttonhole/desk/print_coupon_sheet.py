"""Print the sheet of a coupon: A5, for the file and for the bill."""

from dataclasses import dataclass

from buttonhole.coupon.difference import Difference, Level
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import Outcome
from buttonhole.desk.desk import Desk
from buttonhole.desk.drawn import drawn_stack, set_values
from buttonhole.desk.read_job import find_coupon, read_job, read_joint
from buttonhole.desk.said_paper import printed
from buttonhole.desk.view import CouponView, JobView, JointView, JudgedView
from buttonhole.language import ENGLISH, Display
from buttonhole.paper import coupon_sheet as paper
from buttonhole.units import BadInput

MOST_DIFFERENCES = paper.MOST_DIFFERENCES
SHORT = {
    Outcome.ACCEPT: "accepted",
    Outcome.ACCEPT_NOTE: "with a note",
    Outcome.UNDECIDED: "not decided",
    Outcome.REJECT: "not accepted",
    Outcome.INVALID: "says nothing",
}


@dataclass(frozen=True, slots=True)
class PrintCouponSheet:
    """Which coupon of which joint."""

    joint_id: str
    coupon_id: str
    display: Display = ENGLISH


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF, the SHA-256 the record keeps of it, and the joint as it is now."""

    pdf: bytes
    sha256: str
    joint: JointView


def print_coupon_sheet(desk: Desk, command: PrintCouponSheet) -> Printed:
    """
    Print the sheet of a judged coupon. Printed again it is the same to the byte.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PrintCouponSheet
        Which coupon.

    Returns
    -------
    Printed
        The PDF and its hash, which stands in the record.

    Raises
    ------
    BadInput
        When the coupon was not judged yet.
    """
    joint = read_joint(desk, command.joint_id)
    coupon = find_coupon(joint, command.coupon_id)
    if not coupon.is_judged or coupon.judged_at is None:
        raise BadInput("coupon", f"{coupon.number} was not judged yet; there is nothing to print")
    if coupon.weld is not None:
        raise BadInput("coupon", "is of an arc weld; the sheet is for spot welds so far")
    sheet = _sheet(desk, read_job(desk, joint.job_id), joint, coupon)
    pdf = printed(paper.coupon_sheet, sheet, command.display)
    digest = desk.store.files.keep(pdf, "application/pdf")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "serves": coupon.id,
        "number": coupon.number,
        "sha256": digest,
        "bytes": len(pdf),
    }
    # About the job only: a sheet printed by one person holds up nobody else at the joint.
    about = [f"job/{joint.job_id}"]
    desk.store.append([desk.draft("coupon_sheet_printed", about, payload)])
    return Printed(pdf, digest, read_joint(desk, joint.id))


def _sheet(desk: Desk, job: JobView, joint: JointView, coupon: CouponView) -> paper.CouponSheet:
    assert coupon.judged_at is not None  # noqa: S101 - asked for before
    first = coupon.judged[0]
    there = coupon.surroundings
    vehicle = " · ".join(part for part in (job.title, job.vehicle, job.vin) if part)
    welded = desk.shop_time(coupon.welded_at)
    tested = desk.shop_time(coupon.read_at or coupon.judged_at)
    supply = ", ".join(part for part in (there.outlet, there.lead) if part)
    tip = f", tips {coupon.tip_state}" if coupon.tip_state else ""
    return paper.CouponSheet(
        coupon_id=coupon.id,
        subject=f"Coupon {coupon.number} of {joint.name} · {vehicle}",
        stack=drawn_stack(coupon.stack, coupon.set_up, first.criterion),
        settings=_settings(coupon),
        readings=tuple(_reading(one) for one in coupon.judged),
        qr=f"buttonhole coupon {coupon.id} {_witness(desk, coupon)}",
        issued=desk.shop_time(coupon.judged_at),
        made=f"{welded:%Y-%m-%d %H:%M}, {coupon.welded_by}",
        tested=f"{tested:%Y-%m-%d %H:%M}, {coupon.read_by}",
        machine=there.machine
        + (f", arms {there.arm_pair}" if there.arm_pair else "")
        + f", {coupon.welds_since_dress} welds since dressing{tip}",
        supply=supply,
        differences=_differences(coupon.differences),
        criterion=f"{first.criterion.name} ({first.criterion.source}, "
        f"{first.criterion.status.value})"
        + (f"; {first.criterion.mark}" if first.criterion.mark else ""),
        verdict=_verdict(coupon),
        counting=joint.counting(coupon),
        reason=" ".join(dict.fromkeys(word for one in coupon.judged for word in _reasons(one))),
        next_step=_next_step(coupon),
        signatures=(
            paper.Signature("welder", coupon.welded_by),
            paper.Signature("examiner", coupon.judged_by),
        ),
        demo=job.demo,
    )


def _witness(desk: Desk, coupon: CouponView) -> str:
    event = desk.store.event(coupon.event_ids[-1])
    assert event is not None  # noqa: S101 - the coupon was folded from it
    return event.hash


def _settings(coupon: CouponView) -> tuple[paper.SetAndRead, ...]:
    shown = coupon.read_back
    back = {
        "Welding current": f"{shown.current / 1e3:.2f} kA" if shown.current else "",
        "Electrode force": f"{shown.force / 1e3:.2f} kN" if shown.force else "",
        "Weld time": f"{shown.weld_time * 1e3:.0f} ms" if shown.weld_time else "",
    }
    return tuple(
        paper.SetAndRead(name, value, back.get(name, ""))
        for name, value, _ in set_values(coupon.set_up)
    )


def _reasons(one: JudgedView) -> tuple[str, ...]:
    return tuple(f"{_place(one)}: {reason}" for reason in one.verdict.reasons)


def _place(one: JudgedView) -> str:
    return f"{one.interface + 1}-{one.interface + 2}"


def _next_step(coupon: CouponView) -> str:
    """While one interface is not accepted, the good ones ask for nothing."""
    bad = [one for one in coupon.judged if not one.verdict.outcome.accepted]
    told = bad or list(coupon.judged)
    actions = dict.fromkeys(one.verdict.next_action for one in told)
    if len(actions) == 1 and len(told) == len(coupon.judged):
        return next(iter(actions))
    return " ".join(f"{_place(one)}: {one.verdict.next_action}" for one in told)


def _reading(one: JudgedView) -> paper.SheetReading:
    reading, verdict = one.reading, one.verdict
    assert isinstance(reading, Reading)  # noqa: S101 - coupons of an arc are refused before
    return paper.SheetReading(
        interface=_place(one),
        test=reading.test.value.replace("_", " "),
        mode=reading.mode.words.name if reading.mode else "",
        d_max=reading.d_max,
        d_min=reading.d_min,
        limit=verdict.limit,
        uncertainty=verdict.expanded_uncertainty,
        guard_band=verdict.guard_band,
        verdict=SHORT[verdict.outcome],
        note="expulsion" if reading.expulsion else "",
    )


def _verdict(coupon: CouponView) -> str:
    words = [f"{_place(one)} {one.verdict.outcome.words.lower()}" for one in coupon.judged]
    red = [one.item for one in coupon.differences if one.level is Level.RED]
    if red:
        words.append(f"not the joint: {', '.join(red)}")
    return "; ".join(words)


def _differences(found: tuple[Difference, ...]) -> tuple[paper.Difference, ...]:
    """The worst first, what is the same in one row; what has no room stands in the record."""
    others = [one for one in found if one.level is not Level.GREEN]
    rows = [
        paper.Difference(
            what=one.item,
            coupon=one.on_coupon,
            vehicle=one.on_joint,
            same=None if _unsaid(one) else False,
        )
        for one in others
    ]
    same = len(found) - len(others)
    room = MOST_DIFFERENCES - (same > 0)
    if len(rows) > room:
        left = len(rows) - room + 1
        rows = [*rows[: room - 1], paper.Difference(f"{left} more", "see the record", "–", None)]
    if same:
        rows.append(paper.Difference(f"{same} others", "as on the vehicle", "–", True))
    return tuple(rows)


def _unsaid(one: Difference) -> bool:
    return "not said" in (one.on_joint, one.on_coupon)
