"""Joints, coupons and verdicts in plain words, for a terminal."""

from collections.abc import Sequence

from buttonhole.cli import say
from buttonhole.cli.arc_coupon_text import arc_reading_lines, arc_size_line
from buttonhole.cli.words import _
from buttonhole.coupon.arc.reading import ArcReading
from buttonhole.coupon.criterion import Criterion, minimum_diameter
from buttonhole.coupon.difference import Level
from buttonhole.coupon.reading import Reading
from buttonhole.coupon.verdict import Verdict
from buttonhole.desk.arc_view import ArcView
from buttonhole.desk.rules import listed_rules
from buttonhole.desk.view import CouponView, Entry, JointView, ReleaseView
from buttonhole.joint.stack_up import StackUp, cautions
from buttonhole.procedure.authority import Authority, Deviation
from buttonhole.weld.spot.set_up import ElectrodeCap, SpotSetUp

_MAKERS = {
    Authority.MAKER_PROCEDURE: _("Maker's procedure"),
    Authority.MAKER_GENERAL: _("Maker's general section"),
    Authority.MAKER_ANSWER: _("Maker's written answer"),
}
LATEST = 12  # entries of the history that are shown


def joint_lines(joint: JointView) -> list[str]:
    """Everything about a joint.

    Parameters
    ----------
    joint : JointView
        The joint.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    head = joint.name + (f", {joint.location}" if joint.location else "")
    lines = [f"{head}: {joint.state.value.upper()}"]
    if joint.demo:
        lines.append(_("DEMO: no paper of this joint is valid"))
    if joint.arc is not None:
        lines += ["", *_arc_lines(joint.arc)]
    else:
        lines += ["", *sheet_lines(joint.stack), *caution_lines(joint.stack)]
    if joint.required_spots is not None:
        lines.append(
            _("  {} new spots, {} old ones counted").format(joint.required_spots, joint.old_spots)
        )
    lines += ["", *_way(joint), *_authority(joint)]
    if joint.arc is None:
        lines += ["", *_set_up(joint)]
    for one in joint.coupons:
        lines += ["", *_coupon(one)]
    for release in joint.releases:
        lines += ["", *_release(release)]
    return [*lines, "", *history_lines(joint.history)]


def _arc_lines(arc: ArcView) -> list[str]:
    """An arc weld as its file says it, and what was seen on it."""
    keys = arc.chosen
    lines = [f"  {arc.kind.words}"]
    for number, sheet in enumerate(keys["sheet"], start=1):
        what = ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in sheet.items())
        lines.append(_("  sheet {}  {}").format(number, what))
    state = _("accepted") if arc.set_up else _("proposed") if arc.proposal else _("as described")
    lines += ["", _("Set-up, {}").format(state)]
    lines += [f"  {key.replace('_', ' ')}  {value}" for key, value in keys["set_up"].items()]
    for look in arc.looks:
        seen = ", ".join(f"{key.replace('_', ' ')} {one}" for key, one in look.looked.items())
        lines += ["", _("Seen by {}: {}").format(look.seen_by, seen)]
        for one in look.answer.get("sheets", ()):
            low, high = one["penetration_interval_mm"]
            text = _("  melted {:.2f} mm deep, {} ({:.2f} to {:.2f})")
            lines.append(text.format(one["penetration_mm"], one["name"], low, high))
        for one in look.answer.get("interfaces", ()):
            low, high = one["fused_interval_mm"]
            text = _("  fused {:.1f} mm ({:.1f} to {:.1f}), wanted {:.1f} mm")
            lines.append(
                text.format(one["fused_diameter_mm"], low, high, one["wanted_diameter_mm"])
            )
        lines += [f"  {alarm}" for alarm in look.answer["alarms"]]
    return lines


def _way(joint: JointView) -> list[str]:
    if joint.decision is None:
        return []
    way = _("Way of joining: {}, chosen by {}").format(
        joint.decision.method.words, joint.decision.decided_by
    )
    return say.wrapped(f"{way}. {joint.decision.mark}".strip())


def sheet_lines(stack: StackUp) -> list[str]:
    """The sheets from side A, with the limits of each interface between them."""
    lines = []
    for number, sheet in enumerate(stack.sheets, start=1):
        what = f"{sheet.steel.designation}, {sheet.thickness * 1e3:g} mm, {sheet.coating.value}"
        lines.append(_("  sheet {}  {}").format(number, what))
        if number <= len(stack.interfaces):
            limits = "; ".join(
                f"{one.name} = {minimum_diameter(one, stack, number - 1) * 1e3:.2f} mm"
                for one in listed_rules()
            )
            lines.append(_("    interface {}: {}").format(number, limits))
    if stack.gap:
        lines.append(_("  gap {:g} mm").format(stack.gap * 1e3))
    return lines


def caution_lines(stack: StackUp) -> list[str]:
    """What to mind about the sheets."""
    lines = []
    for one in cautions(stack):
        lines += say.wrapped(one.text, first="  ! ")
    return lines


def set_up_words(set_up: SpotSetUp) -> str:
    """A set-up in one sentence."""
    pulses = _(", then ").join(
        _("{:.4g} kA for {:.4g} ms").format(one.current / 1e3, one.time * 1e3)
        + (_(" and {:.4g} ms cool").format(one.cool_time * 1e3) if one.cool_time else "")
        for one in set_up.pulses
    )
    caps = _cap_words(set_up.cap_a)
    if set_up.cap_b != set_up.cap_a:
        caps += _(" on side A, {} on side B").format(_cap_words(set_up.cap_b))
    return _("{}, {}; {:.3g} kN; {}; squeeze {:.4g} ms, hold {:.4g} ms").format(
        pulses,
        set_up.current_type.value,
        set_up.electrode_force / 1e3,
        caps,
        set_up.squeeze_time * 1e3,
        set_up.hold_time * 1e3,
    )


def _cap_words(cap: ElectrodeCap) -> str:
    face = "" if cap.face_diameter is None else _("face {:g} mm").format(cap.face_diameter * 1e3)
    radius = "" if cap.radius is None else _("radius {:g} mm").format(cap.radius * 1e3)
    return ", ".join(part for part in (face, radius) if part)


def _authority(joint: JointView) -> list[str]:
    if joint.procedure is None:
        return say.wrapped(
            _("No authority yet: cite the vehicle maker's procedure with `procedure cite`."),
            first="  ! ",
        )
    one = joint.procedure.authority
    if isinstance(one, Deviation):
        text = _("Deviation, signed by {} and {}: {}").format(
            one.signed_by, one.second_signature, one.reason
        )
    else:
        text = _("{}: {}, revision {}, read on {} by {}: {}").format(
            _MAKERS[one.authority],
            one.reference,
            one.revision,
            one.read_on.isoformat(),
            one.read_by,
            one.says,
        )
    return say.wrapped(text, first="  ", rest="    ")


def _set_up(joint: JointView) -> list[str]:
    if joint.set_up is not None:
        there = joint.set_up.surroundings
        lead = _("Set-up: ")
        supply = ", ".join(part for part in (there.machine, there.outlet, there.lead) if part)
        text = f"{set_up_words(joint.set_up.set_up)}; {supply}"
    elif joint.proposal is not None:
        lead = _("Proposed for {}: ").format(joint.proposal.machine)
        text = set_up_words(joint.proposal.set_up)
    else:
        return ["  " + _("No set-up yet: `set-up propose`, or `set-up accept --file FILE`")]
    lines = say.wrapped(text, first=f"  {lead}", rest="    ")
    if joint.set_up is not None and joint.set_up.mark:
        lines += say.wrapped(joint.set_up.mark, first="    ! ")
    if joint.proposal is not None and joint.set_up is None:
        for reason in joint.proposal.reasons:
            lines += say.wrapped(reason, first="    - ")
    return lines


def _coupon(coupon: CouponView) -> list[str]:
    lines = [
        _("Coupon {}, welded by {}").format(coupon.number, coupon.welded_by)
        + (
            ""
            if coupon.welds_since_dress is None
            else _(", {} welds since dressing").format(coupon.welds_since_dress)
        )
    ]
    for one in coupon.differences:
        if one.level is not Level.GREEN:
            text = _("{}: joint {}, coupon {}. {}").format(
                one.item, one.on_joint, one.on_coupon, one.advice
            )
            lines += say.wrapped(text, first=f"  {one.level.word.upper()}: ", rest="    ")
    for judged in coupon.judged:
        lines += verdict_lines(judged.reading, judged.verdict, judged.criterion)
    if not coupon.judged:
        lines.append("  " + _("not read yet: tear it, measure it, `coupon read`"))
    return lines


def verdict_lines(
    reading: Reading | ArcReading, verdict: Verdict, criterion: Criterion
) -> list[str]:
    """One judged reading.

    Parameters
    ----------
    reading : Reading or ArcReading
        What was measured.
    verdict : Verdict
        What it means.
    criterion : Criterion
        The rule that was used.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = [_("  Interface {}: {}").format(verdict.interface + 1, verdict.outcome.words.upper())]
    if isinstance(reading, ArcReading):
        lines += [*arc_reading_lines(reading), arc_size_line(verdict)]
    else:
        lines += _spot_lines(reading, verdict)
    lines.append(
        _("    rule {} ({}, {}){}").format(
            criterion.name,
            criterion.source,
            criterion.status.value,
            f"; {criterion.mark}" if criterion.mark else "",
        )
    )
    for reason in verdict.reasons:
        lines += say.wrapped(reason, first="    - ")
    for caution in verdict.cautions:
        lines += say.wrapped(caution, first="    ! ")
    if verdict.next_action:
        lines += say.wrapped(verdict.next_action, first="    => ")
    return lines


def _spot_lines(reading: Reading, verdict: Verdict) -> list[str]:
    mode = "" if reading.mode is None else f", {reading.mode.words.name.lower()}"
    return [
        _("    {}{}: {:.2f} x {:.2f} mm, mean {:.2f} mm (U = {:.2f} mm)").format(
            reading.test.value.replace("_", " "),
            mode,
            reading.d_max * 1e3,
            reading.d_min * 1e3,
            verdict.mean_diameter * 1e3,
            verdict.expanded_uncertainty * 1e3,
        ),
        _("    limit {:.2f} mm, with guard band {:.2f} mm, margin {:+.2f} mm").format(
            verdict.limit * 1e3, verdict.guarded_limit * 1e3, verdict.margin * 1e3
        ),
    ]


def _release(release: ReleaseView) -> list[str]:
    one = release.release
    until = one.valid_until.astimezone()
    if release.valid:
        head = _("RELEASED by {} until {:%Y-%m-%d %H:%M}").format(release.released_by, until)
        if one.max_welds is not None:
            head += _(" or {} welds").format(one.max_welds)
        lines = [head, _("  It ends sooner when:")]
        for reason in one.ends_when:
            lines += say.wrapped(reason, first="  - ")
        return lines
    lines = [
        _("Release of {} by {} has ENDED").format(f"{release.at:%Y-%m-%d}", release.released_by)
    ]
    for reason in release.ended:
        lines += say.wrapped(reason, first="  - ")
    return lines


def history_lines(history: Sequence[Entry]) -> list[str]:
    """The latest entries, one line each.

    Parameters
    ----------
    history : sequence of Entry
        The oldest first.

    Returns
    -------
    list of str
        Lines for the terminal.
    """
    lines = [_("What happened")]
    if len(history) > LATEST:
        lines.append(_("  ... {} earlier; see `record show`").format(len(history) - LATEST))
    for one in history[-LATEST:]:
        text = one.what + (_(" (taken back: {})").format(one.withdrawn) if one.withdrawn else "")
        lead = f"  {one.at.astimezone():%Y-%m-%d %H:%M}  {one.actor}: "
        lines += say.wrapped(text, first=lead, rest=" " * 20)
    return lines
