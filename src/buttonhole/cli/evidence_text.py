"""Tells the evidence for a weld in plain lines and as one JSON object."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from buttonhole.cli import say
from buttonhole.cli.words import _

if TYPE_CHECKING:
    from buttonhole.desk.evidence_view import Evidence, JointEvidence, Proof


def evidence_json(found: "Evidence") -> dict[str, Any]:
    """Put the evidence into one object; moments are UTC."""
    return {
        "vin": found.vin,
        "asked_at": found.asked_at.isoformat() if found.asked_at else None,
        "entries": found.entries,
        "altered": list(found.altered),
        "signed_heads": found.signed_heads,
        "entries_under_a_signed_head": found.covered,
        "jobs": [
            {
                "job": job.job_id,
                "title": job.title,
                "vehicle": job.vehicle,
                "area": job.area,
                "opened_at": job.opened_at.isoformat(),
                "opened_by": job.opened_by,
                "demo": job.demo,
                "sites": list(job.sites),
                "conflicts": [
                    {"joint": one.joint, "ours": one.ours, "theirs": one.theirs}
                    for one in job.conflicts
                ],
                "joints": [_joint_json(joint) for joint in job.joints],
            }
            for job in found.jobs
        ],
    }


def _joint_json(joint: "JointEvidence") -> dict[str, Any]:
    weld = joint.weld
    return {
        "joint": joint.joint_id,
        "name": joint.name,
        "location": joint.location,
        "state": joint.state,
        "weld": None if weld is None else weld.number,
        "welded_at": None if weld is None else weld.at.isoformat(),
        "welded_by": None if weld is None else weld.by,
        "release_held": joint.held,
        "release": joint.held_words,
        "completeness": joint.score,
        "there": joint.there,
        "due": joint.due,
        "lacking": list(joint.lacking),
        "primary": [_proof_json(one) for one in joint.primary],
        "secondary": [_proof_json(one) for one in joint.secondary],
    }


def _proof_json(proof: "Proof") -> dict[str, Any]:
    return {
        "key": proof.key,
        "title": proof.title,
        "found": proof.found,
        "due": proof.due,
        "words": list(proof.words),
        "who": proof.who,
        "at": None if proof.at is None else proof.at.isoformat(),
        "entries": list(proof.event_ids),
        "missing": proof.missing,
    }


def evidence_lines(found: "Evidence") -> Iterator[str]:
    """Tell it line by line."""
    yield _("{}: {} entries, {} altered").format(
        found.vin or _("Vehicle without a VIN"), found.entries, len(found.altered)
    )
    for one in found.altered:
        yield _("  ALTERED: entry {}").format(one)
    for job in found.jobs:
        yield f"{job.title}: {job.vehicle}" + (_(" (DEMO)") if job.demo else "")
        for conflict in job.conflicts:
            words = _("  RELEASED TWICE, {}: {} / {}")
            yield words.format(conflict.joint, conflict.ours, conflict.theirs)
        for joint in job.joints:
            yield from _joint_lines(joint)


def _joint_lines(joint: "JointEvidence") -> Iterator[str]:
    yield ""
    weld = _(", weld {}").format(joint.weld.number) if joint.weld else ""
    yield _("{}{}: {} of {} kept ({:.0%})").format(
        joint.name, weld, joint.there, joint.due, joint.score
    )
    yield from say.wrapped(joint.held_words, first="  ")
    for title, branch in (
        (_("Seen on the vehicle and in documents"), joint.primary),
        (_("People and machines behind it"), joint.secondary),
    ):
        yield f"  {title}"
        for one in branch:
            yield from _proof_lines(one)


def _proof_lines(proof: "Proof") -> Iterator[str]:
    mark = "+" if proof.found else "-" if proof.due else " "
    words = "; ".join(proof.words) if proof.found else proof.missing
    when = "" if proof.at is None else f" ({proof.who} {proof.at:%Y-%m-%d %H:%M} UTC)"
    when = when.replace("( ", "(")
    yield from say.wrapped(f"{proof.title}: {words}{when}", first=f"  {mark} ", rest="      ")
