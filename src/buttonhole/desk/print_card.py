"""Print the bay card of a release: A6, hung at the gun, with the moment it ends."""

from dataclasses import dataclass
from typing import Any

from buttonhole.desk.desk import Desk
from buttonhole.desk.drawn import authority_words, drawn_stack, set_values
from buttonhole.desk.drawn_arc import arc_set_values, drawn_arc_joint
from buttonhole.desk.print_coupon_sheet import Printed
from buttonhole.desk.read_job import find_coupon, read_job, read_joint
from buttonhole.desk.said_paper import printed
from buttonhole.desk.view import JobView, JointView, JudgedView, ReleaseView
from buttonhole.desk.weld_file.process import process_number
from buttonhole.joint.stack_up import StackUp
from buttonhole.language import ENGLISH, Display
from buttonhole.paper import card as paper
from buttonhole.procedure.validity import EndCondition
from buttonhole.units import BadInput
from buttonhole.weld.spot.set_up import SpotSetUp

METHOD = "SPOT WELD"
# What the card says by itself: its moment, its number of welds, "until anything here changes".
SHOWN = (EndCondition.TIME_OVER, EndCondition.WELDS_DONE, EndCondition.SET_UP_CHANGED)


@dataclass(frozen=True, slots=True)
class PrintCard:
    """Which joint, whose valid release is printed; `group` is the letter of the set-up group."""

    joint_id: str
    group: str = "A"
    display: Display = ENGLISH


def print_card(desk: Desk, command: PrintCard) -> Printed:
    """
    Print the bay card of the release that holds. Printed again it is the same to the byte.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PrintCard
        Which joint.

    Returns
    -------
    Printed
        The PDF and its hash, which stands in the record.

    Raises
    ------
    BadInput
        When no release holds.
    """
    joint = read_joint(desk, command.joint_id)
    release = joint.release
    if release is None:
        raise BadInput("release", "there is none that holds; release the set-up first")
    event = desk.store.event(release.event_id)
    assert event is not None  # noqa: S101 - the release was folded from it
    card = _card(desk, read_job(desk, joint.job_id), joint, release, event.hash, command.group)
    pdf = printed(paper.bay_card, card, command.display)
    digest = desk.store.files.keep(pdf, "application/pdf")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "serves": release.id,
        "sha256": digest,
        "bytes": len(pdf),
    }
    # About the job only: a card printed by one person holds up nobody else at the joint.
    desk.store.append([desk.draft("card_printed", [f"job/{joint.job_id}"], payload)])
    return Printed(pdf, digest, read_joint(desk, joint.id))


def _card(
    desk: Desk, job: JobView, joint: JointView, release: ReleaseView, witness: str, group: str
) -> paper.BayCard:
    granted, there = release.release, release.surroundings
    if joint.procedure is None:
        raise BadInput("procedure", "was withdrawn; a card without it can be used wrongly")
    machine = there.machine
    machine += f" · program {there.program_version}" if there.program_version else ""
    machine += f" · arms {there.arm_pair}" if there.arm_pair else ""
    spots = f" · {joint.required_spots} spots" if joint.required_spots else ""
    return paper.BayCard(
        card_id=release.id,
        group=group,
        subject=f"{joint.name}{spots} · {job.title} · {job.vehicle}",
        **_welded(joint, release),
        machine=machine,
        outlet=there.outlet or "outlet as at the coupon",
        lead=there.lead or "no lead",
        dress_after=granted.max_welds,
        valid_until=desk.shop_time(granted.valid_until),
        max_welds=granted.max_welds,
        procedure=authority_words(joint.procedure),
        released_by=granted.released_by,
        issued=desk.shop_time(release.at),
        # The hash is a witness: a record in which it is not found was cut or written anew.
        qr=f"buttonhole release {release.id} {witness}",
        ends_when=tuple(one.words for one in granted.end_conditions if one not in SHOWN),
        demo=job.demo,
    )


def _welded(joint: JointView, release: ReleaseView) -> dict[str, Any]:
    """What is welded and set: method, drawing, numbers to set, what to do and not to do."""
    granted = release.release
    coupon = find_coupon(joint, release.coupon_ids[-1])
    if isinstance(granted.stack, StackUp) and isinstance(granted.set_up, SpotSetUp):
        values = set_values(granted.set_up)
        return {
            "method": METHOD,
            "stack": drawn_stack(granted.stack, granted.set_up, coupon.judged[0].criterion),
            "settings": tuple(paper.Setting(*row) for row in values),
        }
    assert joint.arc is not None  # noqa: S101 - a release of an arc weld is of such a joint
    keys = coupon.weld or joint.arc.chosen
    number = process_number(joint.arc.weld.set_up.wire, joint.arc.weld.set_up.gas)
    return {
        "method": f"{joint.arc.kind.words.upper()} ({number})",
        "stack": drawn_arc_joint(keys),
        "settings": tuple(paper.Setting(*row) for row in arc_set_values(keys)),
        "advice": ("torch_as_set", "sheets_tight", "no_other_supply"),
        "limits": tuple(dict.fromkeys(_limit_words(one) for one in coupon.judged)),
    }


def _limit_words(one: JudgedView) -> str:
    return f"{one.verdict.quantity.value} at least {one.verdict.limit * 1e3:.2f} mm"
