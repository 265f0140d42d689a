"""Draft the letter to the vehicle maker about a joint the rules can't decide."""

import hashlib
from dataclasses import dataclass
from datetime import date, datetime

from buttonhole.desk.decide_method import joint_decision
from buttonhole.desk.desk import Desk, text
from buttonhole.desk.print_coupon_sheet import Printed
from buttonhole.desk.read_job import read_job, read_joint
from buttonhole.desk.rule_book import filed_rules
from buttonhole.joint.coating import Coating
from buttonhole.paper import letter as paper
from buttonhole.paper.figure.stack import DrawnSheet, DrawnStack
from buttonhole.procedure.joining.circumstances import Circumstances, JoinedSheet, JointToJoin, Near
from buttonhole.procedure.joining.decision import Decision, MethodStanding, Standing
from buttonhole.procedure.joining.facts import FACTS
from buttonhole.procedure.joining.rule import Rule
from buttonhole.sources import bibliography

NOT_TOLD = "not known"
_STANDS = {
    Standing.ALLOWED: "allowed",
    Standing.ASK: "only with your word",
    Standing.TELL: "not decided yet",
    Standing.REJECTED: "rejected",
}


@dataclass(frozen=True, slots=True)
class PrintLetter:
    """Which joint; `sender` is the person at the desk when left out."""

    joint_id: str
    sender: str = ""
    means: str = ""
    needed_by: date | None = None


@dataclass(frozen=True, slots=True)
class Addressed:
    """What a letter says besides the decision."""

    letter_id: str
    vehicle: str
    vin: str
    joint: str
    sender: str
    issued: datetime
    means: str = ""
    needed_by: date | None = None
    demo: bool = False


@dataclass(frozen=True, slots=True)
class Letter:
    """A letter that is in no record: the PDF and its SHA-256."""

    pdf: bytes
    sha256: str


def letter_for(decision: Decision, addressed: Addressed) -> Letter:
    """
    Print the letter of a decision that is in no record.

    Parameters
    ----------
    decision : Decision
        What to ask.
    addressed : Addressed
        About which vehicle, from whom.

    Returns
    -------
    Letter
        The same decision and address give the same bytes.

    Raises
    ------
    BadInput
        When there is nothing to ask.
    """
    pdf = paper.maker_letter(letter_of(decision, addressed))
    return Letter(pdf, hashlib.sha256(pdf).hexdigest())


def print_letter(desk: Desk, command: PrintLetter) -> Printed:
    """
    Print the letter about a joint. While nothing changes on a day it is the same to the byte.

    Parameters
    ----------
    desk : Desk
        Where the person works.
    command : PrintLetter
        Which joint.

    Returns
    -------
    Printed
        The PDF and its hash, which stands in the record.

    Raises
    ------
    BadInput
        When there is nothing to ask.
    """
    joint = read_joint(desk, command.joint_id)
    job = read_job(desk, joint.job_id)
    decision = joint_decision(desk, joint)
    today = desk.shop_time(desk.now()).replace(hour=0, minute=0, second=0, microsecond=0)
    addressed = Addressed(
        letter_id=f"Q-{joint.id[-8:]}-{today:%Y%m%d}",
        vehicle=job.vehicle,
        vin=job.vin,
        joint=f"{joint.name}, {joint.location}" if joint.location else joint.name,
        sender=text("sender", command.sender or desk.actor),
        issued=today,
        means=text("means", command.means, need=False, longest=400),
        needed_by=command.needed_by,
        demo=job.demo,
    )
    filed = [one for one in filed_rules(desk) if one.scope == f"joint/{joint.id}"]
    pdf = paper.maker_letter(letter_of(decision, addressed, filed))
    digest = desk.store.files.keep(pdf, "application/pdf")
    payload = {
        "job": joint.job_id,
        "joint": joint.id,
        "serves": addressed.letter_id,
        "sha256": digest,
        "bytes": len(pdf),
        "questions": len(decision.questions),
        "asked": [one.text for one in decision.questions],
    }
    # About the job only: a letter printed by one person holds up nobody else at the joint.
    desk.store.append([desk.draft("letter_printed", [f"job/{joint.job_id}"], payload)])
    return Printed(pdf, digest, read_joint(desk, joint.id))


def letter_of(
    decision: Decision, addressed: Addressed, filed: list[Rule] | None = None
) -> paper.MakerLetter:
    """
    Make the letter of a decision.

    Parameters
    ----------
    decision : Decision
        What is known, what conflicts and what to ask.
    addressed : Addressed
        About which vehicle, from whom.
    filed : list of Rule or None
        Figures of the maker that were filed for the joint and decide nothing about methods.

    Returns
    -------
    MakerLetter
        For the print.
    """
    makers = {one.name: one for one in (*decision.rules, *(filed or ())) if one.is_makers}
    return paper.MakerLetter(
        letter_id=addressed.letter_id,
        vehicle=addressed.vehicle,
        vin=addressed.vin,
        joint=addressed.joint,
        stack=drawn_joint(decision.joint),
        known=tuple(
            paper.Line(name, value) for name, value in known(decision.joint, decision.hints)
        ),
        texts=tuple(_statement(one) for one in makers.values()),
        conflicts=tuple(
            paper.Differing(
                one.topic,
                tuple(
                    _statement(each) if each.is_makers else paper.Statement(each.reason, each.whose)
                    for each in one.rules
                ),
            )
            for one in decision.conflicts
        ),
        questions=tuple(
            paper.Asked(one.text, one.figures, one.is_open) for one in decision.questions
        ),
        sender=addressed.sender,
        issued=addressed.issued,
        generic=tuple(_stands(one) for one in decision.methods if not one.is_makers),
        means=addressed.means,
        needed_by=addressed.needed_by,
        demo=addressed.demo,
    )


def _stands(one: MethodStanding) -> paper.Line:
    why = one.why[0] if one.standing is Standing.REJECTED else " ".join(one.why)
    return paper.Line(one.method.words, f"{_STANDS[one.standing]}: {why}")


def _statement(rule: Rule) -> paper.Statement:
    entry = bibliography().get(rule.source)
    read = f", read {rule.read_on.isoformat()} by {rule.filed_by}" if rule.read_on else ""
    revision = f", revision {rule.revision}" if rule.revision else ""
    where = f"{entry.title if entry else rule.source}{revision}{read}"
    said = f"{rule.value} {rule.unit}: {rule.reason}" if rule.value and not entry else rule.reason
    return paper.Statement(said, rule.whose or rule.rank.words, where)


def drawn_joint(joint: JointToJoin) -> DrawnStack:
    """
    Give a joint's sheets to the drawing.

    Parameters
    ----------
    joint : JointToJoin
        The sheets; no caps and no limits are drawn, nothing is decided yet.

    Returns
    -------
    DrawnStack
        For papers and pictures.
    """
    return DrawnStack(
        sheets=tuple(
            DrawnSheet(one.thickness, one.name, "" if one.is_aluminium else one.coating.value)
            for one in joint.sheets
        ),
        gap=joint.gap,
    )


def known(joint: JointToJoin, hints: tuple[str, ...] = ()) -> tuple[tuple[str, str], ...]:
    """
    List what is known of a joint and what is not.

    Parameters
    ----------
    joint : JointToJoin
        The joint.
    hints : tuple of str
        What was measured of steels nobody knows.

    Returns
    -------
    tuple of (str, str)
        Name and value; "not known" where nobody told.
    """
    told = joint.circumstances
    rows = [(f"sheet {place}", _sheet(one)) for place, one in enumerate(joint.sheets, start=1)]
    rows += [("measured", one) for one in hints]
    rows += [
        ("access", _word(told.access)),
        ("flange width", _length(told.flange_width)),
        ("way from the edge to the weld", _length(told.reach_needed)),
        ("adhesive", _word(told.adhesive)),
        ("gap", _length(joint.gap) if joint.gap else "none"),
        ("zone", _word(told.zone)),
        ("visible", "yes" if told.visible else "no"),
        ("a cut where the factory had no seam", "yes" if told.sectioning else "no"),
        ("joined by the factory by", _word(told.original_joining)),
        ("welds the factory made", _count(told)),
        ("the flange that stays", _word(told.remaining_flange)),
        ("an earlier repair", "yes" if told.earlier_repair else "none known"),
    ]
    if told.model_year is not None:
        rows.append(("model year", str(told.model_year)))
    rows += [(FACTS[f"near_{one.value}"].words, "yes") for one in Near if one in told.near]
    return tuple(rows)


def _sheet(one: JoinedSheet) -> str:
    coating = "coating unknown" if one.coating is Coating.UNKNOWN else one.coating.value
    return f"{one.thickness * 1e3:g} mm {one.name}" + ("" if one.is_aluminium else f" {coating}")


def _word(value: object) -> str:
    return NOT_TOLD if value is None else str(value).replace("_", " ")


def _length(value: float | None) -> str:
    return NOT_TOLD if value is None else f"{value * 1e3:g} mm"


def _count(told: Circumstances) -> str:
    return NOT_TOLD if told.original_count is None else str(told.original_count)
