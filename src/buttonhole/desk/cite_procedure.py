"""Say by which authority a joint is welded: the maker's procedure, or a signed deviation."""

from dataclasses import dataclass
from datetime import date

from buttonhole.desk.desk import LONGEST_TEXT, Desk, text
from buttonhole.desk.read_job import read_joint
from buttonhole.desk.saving import about_joint, save
from buttonhole.desk.view import JointView, Rules
from buttonhole.procedure.authority import Authority, Deviation, MakerProcedure
from buttonhole.procedure.joining.method import find_method
from buttonhole.units import BadInput

LARGEST_FACTOR = 5.0
LARGEST_DIAMETER = 20e-3  # m


@dataclass(frozen=True, slots=True)
class CiteProcedure:
    """The maker's page that was read, and the figures it sets.

    `spots_factor` [-]: new spots for each old one; `minimum_diameter` [m], of a lap
    seam its leg, of a brazed one its width; `read_by` is the person
    at the desk when left out; `page_image_hash` is the SHA-256 of a picture of the page; `permits`
    is false when the page forbids this way of welding here. `method` is the way of joining the page
    names, empty for the spot weld at hand.
    """

    joint_id: str
    seen: str | None
    reference: str
    revision: str
    read_on: date
    says: str
    spots_factor: float | None = None
    minimum_diameter: float | None = None
    read_by: str = ""
    page_image_hash: str | None = None
    authority: Authority = Authority.MAKER_PROCEDURE
    permits: bool = True
    method: str = ""


@dataclass(frozen=True, slots=True)
class SignDeviation:
    """Why the maker's procedure is left or there is none, and the two who sign for it."""

    joint_id: str
    seen: str | None
    reason: str
    signed_by: str
    second_signature: str


def cite_procedure(desk: Desk, command: CiteProcedure) -> JointView:
    """
    Cite the vehicle maker's procedure for a joint.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : CiteProcedure
        The page and its figures.

    Returns
    -------
    JointView
        The joint; `required_spots` follows from the factor.

    Raises
    ------
    BadInput
        When a field is missing, a figure is none, or the page was read in the future.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    if command.read_on > desk.shop_time(desk.now()).date():
        raise BadInput("read_on", f"is {command.read_on.isoformat()}, a day that is still to come")
    procedure = MakerProcedure(
        reference=text("reference", command.reference, longest=400),
        revision=text("revision", command.revision),
        read_on=command.read_on,
        read_by=text("read_by", command.read_by or desk.actor),
        says=text("says", command.says, longest=LONGEST_TEXT),
        page_image_hash=command.page_image_hash,
        authority=command.authority,
        permits=command.permits,
        method=find_method(command.method).value if command.method.strip() else "",
    )
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "procedure": procedure,
        "rules": figures(command.spots_factor, command.minimum_diameter),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("procedure_cited", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def sign_deviation(desk: Desk, command: SignDeviation) -> JointView:
    """
    Sign a deviation from the maker's procedure; two people answer for it.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : SignDeviation
        The reason and the two names.

    Returns
    -------
    JointView
        The joint.

    Raises
    ------
    BadInput
        When the reason or a name is missing, or both names are the same.
    Conflict
        When somebody else changed the joint in the meantime.
    """
    joint = read_joint(desk, command.joint_id)
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "deviation": Deviation(
            reason=text("reason", command.reason, longest=LONGEST_TEXT),
            signed_by=text("signed_by", command.signed_by),
            second_signature=text("second_signature", command.second_signature),
        ),
        "rules": Rules(),
    }
    about = about_joint(joint.job_id, joint.id)
    save(desk, [desk.draft("deviation_signed", about, payload)], about[1], command.seen)
    return read_joint(desk, joint.id)


def figures(spots_factor: float | None, minimum_diameter: float | None) -> Rules:
    """
    Check the figures a text of the maker sets.

    Parameters
    ----------
    spots_factor : float or None
        New spots for each old one [-].
    minimum_diameter : float or None
        Least size [m].

    Returns
    -------
    Rules
        The figures.

    Raises
    ------
    BadInput
        When one is none.
    """
    factor, diameter = spots_factor, minimum_diameter
    if factor is not None and not 0 < factor <= LARGEST_FACTOR:
        raise BadInput("spots_factor", f"is {factor:g}; new spots for each old one, 1.3 say")
    if diameter is not None and not 0 < diameter <= LARGEST_DIAMETER:
        raise BadInput("minimum_diameter", f"is {diameter * 1e3:g} mm; give up to 20 mm")
    return Rules(factor, diameter)
